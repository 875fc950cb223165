/* doubt-sentences.h - what could not be told of a take, in sentences. Strings are the caller's to free unless said to
 * be static.
 */
#ifndef WORDS_DOUBT_SENTENCES_H
#define WORDS_DOUBT_SENTENCES_H

#include "result/doubts.h"

/* "the vowel may be ɛ “eh” (bed) or æ “a” (bad)." */
char *words_doubt(const result_doubt *doubt);
/* What is said instead where a part has too many; static. */
const char *words_doubts_in_general(result_doubts_part part);
const char *words_doubts_heading(result_doubts_part part); /* static */
/* "Notes 1-3 and 9: SENTENCE"; many notes (const aperta_sung_note *, in order of time) are only counted. */
char *words_doubt_line(const GPtrArray *notes, const char *sentence);
/* How many of the vowels told (at least one) were heard so. */
char *words_told_vowels(guint n_told, guint n_alike);
/* That sounds were corrected away (at least one). */
char *words_removed(guint n_removed);

#endif
