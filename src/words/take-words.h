/* take-words.h - what the text report of a take says around its notes. Strings are the caller's to free unless said to
 * be static. */
#ifndef WORDS_TAKE_WORDS_H
#define WORDS_TAKE_WORDS_H

#include "words/words.h"

/* ---- above the notes (take-facts.c) ------------------------------------------------------------------------------ */

/* "Take: ferry-bell.wav" */
char *words_take_title(const aperta_result *result);
/* "woman (guessed between woman and man; say it with --voice)" */
char *words_take_voice(const aperta_result *result);
/* Length, voice, vowels, singer, style, tuning, and what a tired singer wants to know first: an array of words_fact. */
GArray *words_take_facts(const aperta_result *result);

typedef enum {
    WORDS_TAKE_NOTES,
    WORDS_TAKE_NOTHING,     /* instead: nothing was sung, */
    WORDS_TAKE_ALL_REMOVED, /* or corrections left nothing of it */
    WORDS_TAKE_ADVICE,
    WORDS_TAKE_NO_ADVICE,
    WORDS_TAKE_REASONS,
    WORDS_TAKE_EXPLANATIONS,
    WORDS_TAKE_WARNINGS,
    WORDS_TAKE_TABLE, /* warnings about it */
    WORDS_TAKE_CARE,
} words_take_part;
const char *words_take_heading(words_take_part part); /* static */

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

/* ---- advice (take-advice.c) -------------------------------------------------------------------------------------- */

/* Of notes (const aperta_sung_note *, in order of time) that are told the same, each with its finding: "Notes 4 and 9
 * (C5): i “ee” (see) → ɛ “eh, jaw wide” (bed), F1 about 850 Hz". */
char *words_group_headline(const GPtrArray *notes, const GPtrArray *findings);
/* Of notes on one vowel: "i “ee” (see): Notes 4 and 9 (C5 to E5)". */
char *words_vowel_places(const GPtrArray *notes);

/* ---- notes without advice (no-advice.c) -------------------------------------------------------------------------- */

/* Behind "Notes 3 and 5: "; reach_midi: as in aperta_sung_note. */
char *words_silence(aperta_silence silence, int reach_midi, const aperta_key *key);
const char *words_fine(void); /* of notes that a rule calls fine; static */

/* ---- why rules spoke (explanation.c) ----------------------------------------------------------------------------- */

typedef struct {
    gboolean spoke;
    char *text; /* "belt-open, belt-limit spoke: pitch C5 is ..." */
} words_explanation;
/* Rules that gave the same answer for the same reason share a line: an array of words_explanation, freed with it. */
GPtrArray *words_explanations(const GPtrArray *explanations);
/* "Note 3 (C5), i “ee” (see)" */
char *words_explained_note(const aperta_sung_note *note);

#endif
