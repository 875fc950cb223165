/* lyric-text-private.h - what the files of the reader of lyric texts share. */
#ifndef LYRIC_TEXT_PRIVATE_H
#define LYRIC_TEXT_PRIVATE_H

#include "score/score-private.h"
#include "score/score-tuning.h"

#define SCORE_TEXT_MANUAL "see aperta-score-text(5)"

typedef struct {
    guint line;
    guint column; /* in signs, from 1 */
    char *text;
} text_token;

typedef struct {
    score_draft *draft;
    score_part *part;
    GError **error;
    guint line;
    GPtrArray *verses;  /* of GArray of text_token: the lines of words whose pitches are still to come */
    guint verses_line;  /* the first of them */
    GArray *verse_open; /* gboolean, for each verse: the last word goes on */
    gboolean has_bars;  /* bars are drawn in the text */
    guint bar;
    double cursor; /* quarters in the bar */
    double usual_length;
    int octave; /* of the pitch before; -1: none in this line */
    int fifths;
    gboolean started; /* notes have been read */
    char *language;
} text_reading;

/* ---- lyric-text-tokens.c ----------------------------------------------------------------------------------------- */

/* FALSE always. */
gboolean score_text_fail(const text_reading *in, guint line, guint column, const char *format, ...) G_GNUC_PRINTF(4, 5);
/* The words of a line between blanks, with their places: text_token. */
GArray *score_text_split(const char *line, guint number);
/* "1.5" or "1/3" quarters, above 0. */
gboolean score_text_length(const char *text, double *quarters);
/* Of the accidental that text begins with; 0: none. */
gsize score_text_accidental_bytes(const char *text);
gboolean score_text_is_rest(const char *token);
gboolean score_text_is_bar_line(const char *token);
/* One pitch makes a line of pitches; so do rests and bar lines alone. */
gboolean score_text_is_pitches(const GArray *tokens);

/* ---- lyric-text-notes.c ------------------------------------------------------------------------------------------ */

/* Begins a new bar if the current one holds something. */
void score_text_next_bar(text_reading *in);
/* FALSE always: the token is the first pitch of its line. */
gboolean score_text_fail_without_octave(const text_reading *in, const text_token *token);
/* One token of a line of pitches; *taken: it is a note, and event is filled. */
gboolean score_text_note(text_reading *in, const text_token *token, score_event *event, gboolean *taken);

/* ---- lyric-text-headings.c --------------------------------------------------------------------------------------- */

gboolean score_text_is_heading(const text_reading *in, const char *line);
gboolean score_text_heading(text_reading *in, const char *line);

#endif
