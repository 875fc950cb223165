/* svg.h - a small writer of SVG: real text, titles for screen readers and for hovering, classes, light and dark. */
#ifndef REPORT_SVG_H
#define REPORT_SVG_H

#include <aperta/advice.h>

typedef struct {
    double x, y, width, height; /* px; x, y: top left */
} svg_box;

typedef struct {
    double x1, y1, x2, y2; /* px */
} svg_line;

typedef struct {
    GString *out;
    GArray *boxes; /* of svg_box: where text or marks stand already */
    GArray *lines; /* of svg_line: that text should not cover */
    svg_box frame; /* that labels stay in; no width: none */
} svg_picture;

typedef enum { SVG_START, SVG_MIDDLE, SVG_END } svg_anchor;

/* Opens a picture of width x height px; title and description are what a screen reader says. */
svg_picture svg_begin(double width, double height, const char *title, const char *description);
/* The same to stand inside an HTML page, which holds svg_style() once for all its pictures. */
svg_picture svg_begin_inside(double width, double height, const char *title, const char *description);
const char *svg_style(void); /* static */
/* Text as it may stand in SVG and HTML. */
void svg_append_escaped(GString *out, const char *text);
/* Closes it; the caller frees the string. */
char *svg_end(svg_picture *picture);

/* One element with numbers as attributes: svg_shape(&p, "line", "ap-grid", "x1", 0.0, "y1", 5.0, ..., NULL). */
void svg_shape(svg_picture *picture, const char *element, const char *css_class, ...) G_GNUC_NULL_TERMINATED;
/* A path; points are pairs, the letters of commands ("MLLZ") one a point, Z without a point. */
void svg_path(svg_picture *picture, const char *css_class, const char *commands, const double *points);
/* title may be NULL. */
void svg_open_group(svg_picture *picture, const char *css_class, const char *title);
void svg_close_group(svg_picture *picture);
/* The frame of a plot: later groups may be clipped to it with svg_open_clipped, and labels stay inside. */
void svg_define_clip(svg_picture *picture, svg_box box);
void svg_open_clipped(svg_picture *picture, const char *css_class);
void svg_text(svg_picture *picture, const char *css_class, double x, double y, double size, svg_anchor anchor,
              const char *text);
/* Wraps at blanks to width; returns the y below the last line. picture NULL: only measures. */
double svg_paragraph(svg_picture *picture, const char *css_class, double x, double y, double size, double width,
                     const char *text);
/* What a mark says of a note: no rule spoke, or the level of its advice. */
typedef enum { SVG_SILENT, SVG_FINE, SVG_WATCH, SVG_CHANGE } svg_mark;
/* Dot, circle, square or triangle round x, y: each has its own shape and its own colour; hollow: only the outline. */
void svg_marker(svg_picture *picture, svg_mark mark, gboolean hollow, double x, double y, double size);
/* A short two-stroke tip at (x, y) of a line that comes from (from_x, from_y). */
void svg_tip(svg_picture *picture, const char *css_class, double from_x, double from_y, double x, double y);

/* Width that a line of text takes in px, as this machine sets it (text-width.h). */
double svg_text_width(const char *css_class, const char *text, double size);
/* Where a label may stand: beside a thing, or inside its edge (at the top first). */
typedef enum { SVG_BESIDE, SVG_INSIDE } svg_side;
/* Text at the best place around (x, y), the thing there reaching reach_x and reach_y px to each side: on no other text
 * or mark, over few lines, and near; from farther off a thin line leads to it. FALSE when every place is taken: nothing
 * is drawn, or with force the text stands at the least bad place. Keeps the place. */
gboolean svg_place_text(svg_picture *picture, const char *css_class, double x, double y, double reach_x, double reach_y,
                        svg_side side, double size, gboolean force, const char *text);
void svg_keep_free(svg_picture *picture, svg_box box);
/* A line that labels should not cover if they can help it. */
void svg_keep_line(svg_picture *picture, double x1, double y1, double x2, double y2);

#endif
