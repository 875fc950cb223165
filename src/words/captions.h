/* captions.h - what the pictures of a take say, and what all vowel charts say: captions, legends, and the words for
 * those who hear a picture or hover over it. Strings are the caller's to free unless said to be static.
 *
 *   plane-captions.c      the ground of every vowel chart
 *   chart-captions.c      a take's vowel chart
 *   harmonics-captions.c  the harmonics of its flagged notes
 */
#ifndef WORDS_CAPTIONS_H
#define WORDS_CAPTIONS_H

#include <aperta/result.h>

/* ---- every vowel chart (plane-captions.c) ------------------------------------------------------------------------ */

typedef enum {
    WORDS_PLANE_F1,
    WORDS_PLANE_F2,
    WORDS_PLANE_FORWARD, /* the ends of the axis of F2 */
    WORDS_PLANE_BACK,
} words_plane_label;
const char *words_plane_caption(words_plane_label label); /* static */
/* Of the ellipse of a spoken vowel. */
char *words_plane_vowel_hover(const aperta_vowel_row *row);
/* Its name in the chart: "ɛ eh". */
char *words_plane_vowel_name(const aperta_vowel *vowel);

/* ---- a take's vowel chart (chart-captions.c) --------------------------------------------------------------------- */

typedef enum {
    WORDS_CHART_HOW,    /* above the legend */
    WORDS_CHART_SILENT, /* the marks of notes, in order of the levels */
    WORDS_CHART_FINE,
    WORDS_CHART_WATCH,
    WORDS_CHART_CHANGE,
    WORDS_CHART_INTERVAL,
    WORDS_CHART_LIMIT,
    WORDS_CHART_SHAPE,
    WORDS_CHART_GLIDE,
    WORDS_CHART_SPOKEN,             /* the ellipse of a vowel */
    WORDS_CHART_SPOKEN_PARTLY_OURS, /* where some spreads are no publication's */
} words_chart_label;
const char *words_chart_caption(words_chart_label label); /* static */

char *words_chart_title(const aperta_result *result);
/* Style and voice. */
char *words_chart_settings(const aperta_result *result);
char *words_chart_description(const aperta_result *result);
char *words_chart_note_hover(const aperta_sung_note *note);
/* Where the ellipses are from, and what the numbers are; all_numbered: no note is without. result has a table. */
char *words_chart_source(const aperta_result *result, gboolean all_numbered);
/* How far the take is to be trusted. */
char *words_chart_trust(const aperta_result *result);
/* Which notes the chart lacks: const aperta_sung_note *, at least one. */
char *words_chart_absent(const GPtrArray *notes);

/* ---- harmonics (harmonics-captions.c) ---------------------------------------------------------------------------- */

char *words_harmonics_title(const aperta_result *result);
const char *words_harmonics_description(void); /* static */
const char *words_harmonics_legend(void);      /* static */
char *words_harmonics_more(guint n_left_out);
char *words_harmonics_hover(const aperta_sung_note *note);
/* Above a panel: number, pitch, vowel and level; and what to try. */
char *words_harmonics_note(const aperta_sung_note *note);
char *words_harmonics_advice(const aperta_sung_note *note);
/* "2f0 1046" */
char *words_harmonics_second(const aperta_sung_note *note);

/* At the line of a resonance, index 0..: of which only a limit is known: "F1 below 620"; somewhere in an interval:
 * "F1 300–900". */
char *words_place_limit(int index, const aperta_resonance *resonance);
char *words_place_range(int index, const aperta_resonance *resonance);
/* At one of the places: "F1 612 or 740 (30 %)"; where none stands out with all shares: "F1 500 (40 %), 612 (35 %) or
 * 740 (25 %)". */
char *words_places(int index, const aperta_alternative *places, guint n, gboolean stands_out);

#endif
