/* take-words.h - what the text report of a take says around its notes. Strings are the caller's to free unless said to
 * be static. */
#ifndef WORDS_TAKE_WORDS_H
#define WORDS_TAKE_WORDS_H

#include "words/words.h"

/* ---- above the notes (take-facts.c) ------------------------------------------------------------------------------ */

/* "Take: ferry-bell.wav" */
char *words_take_title(const aperta_result *result);
/* Length, voice, vowels, singer, style, tuning, and what a tired singer wants to know first: an array of words_fact. */
GArray *words_take_facts(const aperta_result *result);

/* ---- the table of notes (table-legend.c) ------------------------------------------------------------------------- */

/* What a table for a narrow page leaves out. */
typedef struct {
    gboolean lengths, vibrato, movements, intervals, confidence;
} words_left_out;
/* One sentence; columns: of the page on which the table has it all. NULL: nothing is left out. */
char *words_table_left_out(const words_left_out *what, int columns);

typedef enum {
    WORDS_TABLE_INTERVALS,
    WORDS_TABLE_DISTANCE,
    WORDS_TABLE_MOVES,
    WORDS_TABLE_TOLD,
} words_table_note;
const char *words_table_legend(words_table_note note); /* static */

#endif
