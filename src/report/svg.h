/* svg.h - a small writer of SVG: real text, titles for screen readers and for hovering, classes, light and dark. */
#ifndef REPORT_SVG_H
#define REPORT_SVG_H

#include <aperta/advice.h>

typedef struct {
    GString *out;
    GArray *boxes; /* of svg_box: where text stands already */
} svg_picture;

typedef struct {
    double x, y, width, height; /* px; x, y: top left */
} svg_box;

typedef enum { SVG_START, SVG_MIDDLE, SVG_END } svg_anchor;

/* Opens a picture of width x height px; title and description are what a screen reader says. */
svg_picture svg_begin(double width, double height, const char *title, const char *description);
/* Closes it; the caller frees the string. */
char *svg_end(svg_picture *picture);

/* One element with numbers as attributes: svg_shape(&p, "line", "ap-grid", "x1", 0.0, "y1", 5.0, ..., NULL). */
void svg_shape(svg_picture *picture, const char *element, const char *css_class, ...) G_GNUC_NULL_TERMINATED;
/* A path; points are pairs, the letters of commands ("MLLZ") one a point, Z without a point. */
void svg_path(svg_picture *picture, const char *css_class, const char *commands, const double *points);
/* title may be NULL. */
void svg_open_group(svg_picture *picture, const char *css_class, const char *title);
void svg_close_group(svg_picture *picture);
/* A rectangle that later groups of class may be clipped to with svg_open_clipped. */
void svg_define_clip(svg_picture *picture, svg_box box);
void svg_open_clipped(svg_picture *picture, const char *css_class);
void svg_text(svg_picture *picture, const char *css_class, double x, double y, double size, svg_anchor anchor,
              const char *text);
/* Wraps at blanks to width; returns the y below the last line. */
double svg_paragraph(svg_picture *picture, const char *css_class, double x, double y, double size, double width,
                     const char *text);
/* Circle, square or triangle round x, y: each level has its own shape and its own colour; hollow: only the outline. */
void svg_marker(svg_picture *picture, aperta_level level, gboolean hollow, double x, double y, double size);
/* A short two-stroke tip at (x, y) of a line that comes from (from_x, from_y). */
void svg_tip(svg_picture *picture, const char *css_class, double from_x, double from_y, double x, double y);

/* Width that a line of text will take, about: the font is the reader's. */
double svg_text_width(const char *css_class, const char *text, double size);
/* Where a label may stand around a thing: beside it (right first, or below first), or inside its edge (at the top
 * first).
 */
typedef enum { SVG_BESIDE, SVG_BELOW, SVG_INSIDE } svg_side;
/* Text at the first free place around (x, y), the thing there reaching reach_x and reach_y px to each side. FALSE when
 * every place is taken: nothing is drawn, or with force the text stands at the first place anyway. Keeps the place. */
gboolean svg_place_text(svg_picture *picture, const char *css_class, double x, double y, double reach_x, double reach_y,
                        svg_side side, double size, gboolean force, const char *text);
void svg_keep_free(svg_picture *picture, svg_box box);

#endif
