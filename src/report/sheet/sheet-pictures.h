/* sheet-pictures.h - the drawings of a score's sheet, for its page and its PDF alike. */
#ifndef REPORT_SHEET_PICTURES_H
#define REPORT_SHEET_PICTURES_H

#include "words/first-words.h"
#include "words/sheet-words.h"

#define SHEET_PICTURE_WIDTH 720.0 /* px, of all of them */
#define SHEET_NARROW_WIDTH  372.0 /* px, of rows for the screen of a phone */

/* One row of the song: its melody as a strip, with words, sounds and shapes below. */
typedef struct {
    char *svg;
    double height; /* px */
    char *spoken;  /* what a screen reader says instead of the picture */
    guint verse;   /* index in sheet->verses */
    gboolean verse_begins;
} sheet_row;

/* All rows of all verses, so wide in px: an array of sheet_row, freed with it. inside: for an HTML page
 * (svg_begin_inside). */
GArray *sheet_rows(const aperta_sheet *sheet, double width, gboolean inside);

/* The keys that were tried, as bars; NULL: none were. *height in px. The caller frees. */
char *sheet_keys_svg(const aperta_sheet *sheet, gboolean inside, double *height);
/* The vowels of the song over the table; NULL: there are none. */
char *sheet_chart_svg(const aperta_sheet *sheet, gboolean inside, double *height);

#endif
