/* diction-tuning.h - every chosen number of the diction folder: unit, reason, source. */
#ifndef DICTION_TUNING_H
#define DICTION_TUNING_H

/* How espeak_TextToPhonemes is asked: IPA, with this character between phonemes. */
#define ENGINE_IPA       2
#define ENGINE_SEPARATOR '|'
/* Clauses of one word at most ("a.b.c." makes some); a word has no more. Chosen. */
#define ENGINE_PARTS_MAX 8
/* Words kept at once, about 100 bytes each: a folder of songs repeats a few thousand. Chosen. */
#define ENGINE_SAID_MAX 50000
/* Megabytes (2^20) of a list of words: 200 000 words with their sounds have about 5. Chosen. */
#define WORDS_FILE_MB_MAX 16
/* A word longer than this is none; characters. Chosen. */
#define WORD_MAX 100

/* Costs of laying phones onto letters; no unit, only their order matters. Chosen on the words of the unit tests. */
#define COST_OTHER_LETTER    1.0  /* a phone beside a letter that does not usually spell it */
#define COST_UNLIKELY_VOWEL  0.2  /* a vowel beside a vowel letter that seldom spells it: o beside "i" */
#define COST_SILENT_VOWEL    0.3  /* a letter without a phone of its own: "e" of "love", "a" of "read" */
#define COST_SILENT_LETTER   0.4  /* "gh" of "night" */
#define COST_DOUBLE_LETTER   0.1  /* the second letter of a pair that spells one phone: "tt", "sh", "ng" */
#define COST_DOUBLE_BEFORE   0.12 /* the first letter of such a pair */
#define COST_UNWRITTEN       1.0  /* a consonant without a letter */
#define COST_UNWRITTEN_VOWEL 0.8  /* a vowel without a letter: the schwa of "rhythm" */
#define COST_CLOSED          0.05 /* a consonant at the end of a syllable: between two vowels it opens the next one */
#define COST_NO_VOWEL        3.0  /* a syllable without a vowel */
#define COST_NO_LAST_VOWEL   2.5  /* the same at the end of a word, where silent vowels are commonest */
#define COST_SECOND_VOWEL    2.0  /* a second vowel in a syllable */
#define COST_JOINED_VOWEL    0.25 /* the same, where two vowels may share a note */

/* Guess of a language: weight of the letter groups against the share of short words; as if half of the words were short
 * words of that language. Chosen on the lines of the unit tests. */
#define GUESS_LETTERS_VOTE 0.5
/* Letters after which a guess is two thirds sure, if nothing speaks against it: half a line of verse. Chosen. */
#define GUESS_LETTERS 15.0

#endif
