/* diction-private.h - what the files of this folder share.
 *
 *   engine.c       espeak-ng behind a lock: a word → IPA, phoneme by phoneme
 *   latin.c        the same for church Latin, from a table of letters
 *   phones.c       that IPA → phones: which of them can carry a note
 *   sung-sounds.c  what singing does differently from speech; which reference vowel stands for a vowel
 *   word-list.c    words whose sound is written down, ours and the user's
 *   liaison.c      words linked by a consonant
 *   other-word.c   common words by their sound
 *   layout.c       phones laid onto the syllables of the score
 *   table-rows.c   lines of fields, of which all tables here are made
 *   diction.c      a verse, word by word, with a cache
 */
#ifndef DICTION_PRIVATE_H
#define DICTION_PRIVATE_H

#include <aperta/diction.h>

#include <string.h>

/* ---- languages --------------------------------------------------------------------------------------------------- */

typedef struct {
    const char *tag;          /* "en-US" */
    const char *name;         /* "American English" */
    const char *voice;        /* of espeak-ng; NULL: spoken by a table of letters */
    const char *words;        /* words of ours, "words-en.tsv"; NULL: none; so the next three */
    const char *region_words; /* read after them: what a region says otherwise */
    const char *liaison;      /* which words are linked */
    const char *other_words;  /* index of common words by sound */
    guint other_column;       /* of that file: the keys of this accent */
} diction_language;

const diction_language *diction_language_find(const char *tag); /* exact tag; NULL: none */

/* ---- phones ------------------------------------------------------------------------------------------------------ */

#define PHONE_MAX 16

/* aperta_sound_remark of a phone or a word. */
typedef struct {
    aperta_sound_remark_kind kind;
    const char *text; /* owned by the rules or the list; NULL where the kind names none */
} diction_remark;

typedef enum { STRESS_NONE, STRESS_SECOND, STRESS_MAIN } phone_stress;

typedef struct {
    char text[PHONE_MAX];      /* IPA, no stress, no length */
    char off_glide[PHONE_MAX]; /* "" : none */
    gboolean vowel;            /* carries a note */
    gboolean is_long;          /* as spoken */
    gboolean joined;           /* may share its note with the vowel before or after it: "fire", "mio" */
    gboolean added;            /* stands in no pronunciation: the score has a syllable there */
    phone_stress stress;
    guint syllable; /* of the score; set by the layout */
    diction_remark remark;
} diction_phone;

/* Phones (element type diction_phone) of IPA whose phonemes stand between '|' or blanks. */
GArray *diction_phones_read(const char *ipa);
/* TRUE: the first letter of text is a vowel of the phonetic alphabet. */
gboolean diction_is_vowel(const char *text);
/* "j" of "i", "w" of "u" and so on; NULL: the vowel has no glide. */
const char *diction_glide_of(const char *vowel);
const char *diction_vowel_of_glide(const char *glide);
/* 0 close ... 3 open; of any vowel. */
int diction_openness(const char *vowel);

/* ---- pronunciation ----------------------------------------------------------------------------------------------- */

/* Starts espeak-ng (once a process) and checks its voice. Errors: NOT_FOUND, what to install. */
gboolean diction_engine_open(const char *voice, GError **error);
/* IPA of a word; "" when there is none. From any thread; the caller frees. */
char *diction_engine_say(const char *voice, const char *word);

typedef struct diction_letters diction_letters;
diction_letters *diction_letters_read(GError **error);
void diction_letters_free(diction_letters *letters);
char *diction_letters_say(const diction_letters *letters, const char *word);

/* Letters of a word, joined and without punctuation. The caller frees. */
char *diction_word_letters(const aperta_diction_word *word);
/* The same with ü for ue where a German word means that; the caller frees. */
char *diction_umlauts(const char *letters, const aperta_diction_word *word);

/* ---- tables ------------------------------------------------------------------------------------------------------ */

/* Calls row for each line of fields; lines that are empty or begin with '#' are left out. FALSE stops. */
typedef gboolean (*diction_row_func)(char **fields, guint n_fields, const char *place, gpointer data, GError **error);
gboolean diction_table_read(const char *path, diction_row_func row, gpointer data, GError **error);
char *diction_refdata_path(const char *name);

typedef struct diction_rules diction_rules;
diction_rules *diction_rules_read(const char *language, GError **error);
void diction_rules_free(diction_rules *rules);
/* Changes spoken phones to sung ones. */
void diction_rules_apply(const diction_rules *rules, GArray *phones);
/* The vowel a note is sung on where the score has a syllable and speech has none; NULL: no rule. */
const char *diction_rules_added(const diction_rules *rules, const char *letters, diction_remark *remark);
/* What a table remarks; NULL gives none. */
diction_remark diction_listed_remark(const char *text);
/* The reference vowel a sung vowel is judged as, which may hang on its off-glide ("" : none); NULL: none. */
const char *diction_rules_judged_as(const diction_rules *rules, const char *vowel, const char *off_glide);

typedef struct {
    char *sounds; /* "ˈwɔ.tɚ"; NULL: as the engine says it */
    char *remark; /* NULL: none */
    gboolean own; /* from the user's list */
} diction_entry;

typedef struct diction_words diction_words;
diction_words *diction_words_new(void);
void diction_words_free(diction_words *words);
/* Adds the entries of a file; later files win. */
gboolean diction_words_read(diction_words *words, const char *path, gboolean own, const diction_rules *rules,
                            GError **error);
/* What stands before the second part of a compound whose sounds are listed; NULL: none is. The caller frees. */
char *diction_words_first_part(const diction_words *words, const char *word, const char **second_sounds);
void diction_words_apply_endings(const diction_words *words, const char *word, GArray *phones);
const diction_entry *diction_words_find(const diction_words *words, const char *word, gboolean vowel_follows);

typedef struct diction_liaison diction_liaison;
diction_liaison *diction_liaison_read(const char *name, GError **error);
void diction_liaison_free(diction_liaison *liaison);
/* The consonant that links two words, the second of which is sung as next_ipa; NULL: none. */
const char *diction_liaison_between(const diction_liaison *liaison, const char *word, const char *next,
                                    const char *next_ipa);

/* Common words by their sound; read when it is first asked. */
typedef struct diction_other_words diction_other_words;
diction_other_words *diction_other_words_new(const char *name, guint column);
void diction_other_words_free(diction_other_words *others);
/* The commonest word of a key; NULL: none. Static. */
const char *diction_other_words_find(diction_other_words *others, const char *key);
/* How a word sounds, reduced to what tells it from others; held: a vowel to be taken as judged_as, G_MAXUINT: none.
 * The caller frees. */
char *diction_sound_key(const diction_rules *rules, const GArray *phones, guint held, const char *judged_as);
/* The same for a written word; vowel counts its vowels from 0. */
char *diction_word_key(const aperta_diction *diction, const char *word, guint vowel, const char *judged_as);
guint diction_word_vowels(const aperta_diction *diction, const char *word);

/* ---- layout ------------------------------------------------------------------------------------------------------ */

/* Sets the syllable of each phone, and adds vowels where a syllable has none. TRUE: the counts matched. */
gboolean diction_lay_out(const diction_rules *rules, GArray *phones, const char *const *syllables, guint n_syllables);

/* Lower case, accents and ligatures opened, only a..z left: what the layout compares with phones. */
char *diction_plain_letters(const char *text);

#endif
