/* align-private.h - what the files of this folder share. */
#ifndef ALIGN_PRIVATE_H
#define ALIGN_PRIVATE_H

#include <aperta/align.h>

/* ---- printed-text.c ---------------------------------------------------------------------------------------------- */

typedef enum { ALIGN_GOES_ON, ALIGN_COMMA, ALIGN_STOP } align_ending;

/* What a printed syllable closes with: a comma or dash, or a full stop and its like. */
align_ending align_text_ending(const char *text);
gboolean align_has_letters(const char *text);
/* Adds to parts (char *, owned) those that one printed text under a note holds: "1. Si" is "Si", "te‿a" is "te" and
 * "a". At least one. */
void align_text_parts(const char *text, GPtrArray *parts);
/* The word without the punctuation around it; text itself if there is nothing else. The caller frees. */
char *align_bare_word(const char *text);

/* ---- lyric-lines.c ----------------------------------------------------------------------------------------------- */

/* Fills in the lines, and where the words of diction end one. */
void align_lines(aperta_underlay *underlay, const aperta_score *score);

/* Rest before note i (> 0), quarters. */
double align_rest_before(const aperta_score *score, guint i);

/* ---- sustain.c --------------------------------------------------------------------------------------------------- */

/* Decides what notes with several syllables are sung on, and the melismas behind them. */
void align_choose_sustained(aperta_underlay *underlay);

#endif
