/* brief-words.h - a short report of a take. Strings are the caller's to free unless said to be static. */
#ifndef WORDS_BRIEF_WORDS_H
#define WORDS_BRIEF_WORDS_H

#include "words/first-words.h"

/* "Take: ferry-bell.wav (0:39.6)" */
char *words_brief_title(const aperta_result *result);
typedef enum {
    WORDS_BRIEF_VOICE,
    WORDS_BRIEF_STYLE,
    WORDS_BRIEF_TRUST,
    WORDS_BRIEF_WORKS,
    WORDS_BRIEF_ORDER,
    WORDS_BRIEF_CARE,
    WORDS_BRIEF_MORE,
} words_brief_line;
const char *words_brief_label(words_brief_line line); /* static */

/* One thing to try in one line: "“ee” on C5: notes 4 and 9, first at 0:03.2. Try this: “eh” with the jaw wide." */
char *words_brief_first(const aperta_result *result, guint index, const words_first *first);
/* How many notes need nothing, and of how many that is not known; NULL: every note is asked something. */
char *words_brief_works(const aperta_result *result);
/* "C5 ee [1]", "A4 ah", "B4 oh (watch)"; the number is that of the thing to try. */
char *words_brief_note(const aperta_result *result, const aperta_sung_note *note);
const char *words_brief_legend(const aperta_result *result); /* of those; static */
const char *words_brief_care(void);                          /* the cautions in short; static */
const char *words_brief_more(void);                          /* where all the rest is told; static */

#endif
