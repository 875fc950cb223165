/* picture.h - SVG drawn with cairo, for pictures and for pages that hold some. */
#ifndef REPORT_PICTURE_H
#define REPORT_PICTURE_H

#include "report/draw/svg.h"

#include <cairo.h>

/* For cairo's streams: appends to the GByteArray that closure is. */
cairo_status_t picture_collect(void *closure, const unsigned char *data, unsigned int length);
/* A PDF that is collected in bytes; sizes in points. Its date is that of SOURCE_DATE_EPOCH, where it is set to one
 * (reproducible-builds.org, version 1.1), else today's: with it equal input gives equal bytes. */
cairo_surface_t *picture_pdf_new(GByteArray *bytes, double width, double height);
/* Draws a whole SVG into a box. Error: FORMAT. */
gboolean picture_draw(const char *svg, cairo_t *cairo, svg_box box, GError **error);
/* FALSE and an error FORMAT where cairo has failed. */
gboolean picture_check(cairo_status_t status, GError **error);

#endif
