/* text-width.h - how much room text takes in a picture. */
#ifndef REPORT_TEXT_WIDTH_H
#define REPORT_TEXT_WIDTH_H

#include <glib.h>

/* The faces of all pictures and pages, as pango names them; the first that is there and has the letter. */
#define TEXT_FAMILY "DejaVu Sans, Noto Sans, sans-serif"

/* Width of a line of text in units of its font size, as the faces of this machine set it, unhinted. Who reads an SVG
 * elsewhere may have other faces. */
double text_width_em(const char *text, gboolean bold);

#endif
