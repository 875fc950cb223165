/* svg.c - a small writer of SVG.
 *
 * Colours are those of Okabe & Ito (2008, "Color Universal Design"), chosen to be told apart with any colour vision;
 * wherever one says something, a shape or a word says it too. Text has generic families and stays text. */
#include "report/draw/svg.h"
#include "report/draw/text-width.h"
#include "words/words.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define LINE_HEIGHT 1.35 /* of the font size */

static const char style[] =
    "text{font-family:'DejaVu Sans','Noto Sans',sans-serif;fill:#1b1b1b}\n"
    ".ap-ground{fill:#ffffff}\n"
    ".ap-halo{paint-order:stroke;stroke:#ffffff;stroke-width:3;stroke-linejoin:round}\n"
    ".ap-moves{fill:#0072b2}\n"
    ".ap-under{fill:#ffffff;fill-opacity:.6}\n"
    ".ap-quiet{fill:#555555}\n"
    ".ap-strong{font-weight:bold}\n"
    ".ap-grid{stroke:#e3e3e3;stroke-width:1;fill:none}\n"
    ".ap-frame{stroke:#777777;stroke-width:1;fill:none}\n"
    ".ap-spread{fill:#8a8a8a;fill-opacity:.13;stroke:#8a8a8a;stroke-opacity:.6;stroke-width:1}\n"
    ".ap-table{fill:#666666}\n"
    ".ap-bar{stroke:#555555;stroke-width:1.1;stroke-opacity:.5;fill:none}\n"
    ".ap-leader{stroke:#555555;stroke-width:.7;fill:none}\n"
    ".ap-many .ap-bar{stroke-width:.7;stroke-opacity:.22}\n"
    ".ap-many .ap-silent,.ap-many .ap-fine,.ap-many .ap-watch{fill-opacity:.4;stroke-opacity:.45}\n"
    ".ap-glide{stroke:#0072b2;stroke-width:1.8;fill:none}\n"
    ".ap-many .ap-glide{stroke-width:1;stroke-opacity:.5}\n"
    ".ap-arrow{stroke:#1b1b1b;stroke-width:1.3;stroke-dasharray:5 3;fill:none}\n"
    ".ap-many .ap-arrow{stroke-width:.8;stroke-opacity:.35}\n"
    ".ap-arrow-tip{stroke:#1b1b1b;stroke-width:1.3;fill:none}\n"
    ".ap-many .ap-arrow-tip{stroke-opacity:.5}\n"
    ".ap-aim{fill:none;stroke:#1b1b1b;stroke-width:1.5}\n"
    ".ap-many .ap-aim{stroke-opacity:.5}\n"
    ".ap-silent{fill:#9a9a9a;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-fine{fill:#009e73;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-watch{fill:#e69f00;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-change{fill:#d55e00;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-hollow{stroke-width:2}\n"
    ".ap-hollow.ap-silent{fill:#ffffff;stroke:#8a8a8a}\n"
    ".ap-hollow.ap-fine{fill:#ffffff;stroke:#009e73}\n"
    ".ap-hollow.ap-watch{fill:#ffffff;stroke:#b87f00}\n"
    ".ap-hollow.ap-change{fill:#ffffff;stroke:#d55e00}\n"
    ".ap-stem{stroke:#1b1b1b;stroke-width:2;fill:none}\n"
    ".ap-second{stroke:#d55e00;stroke-width:3;fill:none}\n"
    ".ap-second-mark{stroke:#d55e00;stroke-width:1.2;stroke-dasharray:2 3;fill:none}\n"
    ".ap-f1{stroke:#0072b2;stroke-width:1.6;fill:none}\n"
    ".ap-f1-band{fill:#0072b2;fill-opacity:.18}\n"
    ".ap-f2{stroke:#8f4a78;stroke-width:1.6;stroke-dasharray:7 2;fill:none}\n"
    ".ap-f2-band{fill:#cc79a7;fill-opacity:.25}\n"
    ".ap-bound{fill-opacity:.08}\n"
    ".ap-other{stroke-width:.8}\n"
    ".ap-limit{stroke-width:1.1;stroke-dasharray:1 3}\n"
    ".ap-sung{fill:#8a8a8a}\n"
    ".ap-held{stroke:#8a8a8a;stroke-width:1.2;fill:none}\n"
    ".ap-part{fill:#e69f00;fill-opacity:.55;stroke:#1b1b1b;stroke-width:.8;stroke-dasharray:3 2}\n"
    "@media (prefers-color-scheme:dark){\n"
    "text{fill:#ececec}\n"
    ".ap-ground{fill:#16181b}\n"
    ".ap-halo{stroke:#16181b}\n"
    ".ap-moves{fill:#56b4e9}\n"
    ".ap-under{fill:#16181b}\n"
    ".ap-quiet{fill:#b4b4b4}\n"
    ".ap-grid{stroke:#2e3136}\n"
    ".ap-frame{stroke:#8a8a8a}\n"
    ".ap-spread{fill:#a0a0a0;stroke:#a0a0a0}\n"
    ".ap-table{fill:#b0b0b0}\n"
    ".ap-bar,.ap-leader{stroke:#c8c8c8}\n"
    ".ap-glide{stroke:#56b4e9}\n"
    ".ap-arrow,.ap-arrow-tip,.ap-aim{stroke:#ececec}\n"
    ".ap-silent,.ap-fine,.ap-watch,.ap-change{stroke:#ececec}\n"
    ".ap-hollow.ap-silent{fill:#16181b;stroke:#b0b0b0}\n"
    ".ap-hollow.ap-fine{fill:#16181b;stroke:#2fc79b}\n"
    ".ap-hollow.ap-watch{fill:#16181b;stroke:#e69f00}\n"
    ".ap-hollow.ap-change{fill:#16181b;stroke:#ff7a1a}\n"
    ".ap-stem{stroke:#ececec}\n"
    ".ap-second,.ap-second-mark{stroke:#ff9a4d}\n"
    ".ap-held{stroke:#a0a0a0}\n"
    ".ap-part{stroke:#ececec}\n"
    ".ap-f1{stroke:#56b4e9}\n"
    ".ap-f1-band{fill:#56b4e9}\n"
    ".ap-f2{stroke:#e5a5c8}\n"
    "}\n";

void svg_append_escaped(GString *out, const char *text)
{
    g_autofree char *clean = aperta_shown(text);
    g_autofree char *escaped = g_markup_escape_text(clean, -1);

    g_string_append(out, escaped);
}

static void append_attribute(GString *out, const char *name, double value)
{
    g_string_append_printf(out, " %s=\"", name);
    words_append_number(out, value, 1);
    g_string_append_c(out, '"');
}

const char *svg_style(void)
{
    return style;
}

static svg_picture begin(gboolean inside_page, double width, double height, const char *title, const char *description)
{
    static const char xml[] = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    svg_picture picture = {.out = g_string_new(inside_page ? NULL : xml),
                           .boxes = g_array_new(FALSE, FALSE, sizeof(svg_box)),
                           .lines = g_array_new(FALSE, FALSE, sizeof(svg_line))};

    g_string_append(picture.out, "<svg");
    append_attribute(picture.out, "width", width);
    append_attribute(picture.out, "height", height);
    g_string_append(picture.out, " viewBox=\"0 0 ");
    words_append_number(picture.out, width, 1);
    g_string_append_c(picture.out, ' ');
    words_append_number(picture.out, height, 1);
    g_string_append(picture.out, "\" xmlns=\"http://www.w3.org/2000/svg\" role=\"img\">\n<title>");
    svg_append_escaped(picture.out, title);
    g_string_append(picture.out, "</title>\n<desc>");
    svg_append_escaped(picture.out, description);
    g_string_append(picture.out, "</desc>\n");
    if (!inside_page)
        g_string_append_printf(picture.out, "<style>\n%s</style>\n", style);
    svg_shape(&picture, "rect", "ap-ground", "x", 0.0, "y", 0.0, "width", width, "height", height, NULL);
    return picture;
}

svg_picture svg_begin(double width, double height, const char *title, const char *description)
{
    return begin(FALSE, width, height, title, description);
}

svg_picture svg_begin_inside(double width, double height, const char *title, const char *description)
{
    return begin(TRUE, width, height, title, description);
}

char *svg_end(svg_picture *picture)
{
    g_array_unref(picture->boxes);
    g_array_unref(picture->lines);
    g_string_append(picture->out, "</svg>\n");
    return g_string_free(picture->out, FALSE);
}

void svg_shape(svg_picture *picture, const char *element, const char *css_class, ...)
{
    va_list attributes;

    g_string_append_printf(picture->out, "<%s class=\"%s\"", element, css_class);
    va_start(attributes, css_class);
    for (const char *name = va_arg(attributes, const char *); name != NULL; name = va_arg(attributes, const char *))
        append_attribute(picture->out, name, va_arg(attributes, double));
    va_end(attributes);
    g_string_append(picture->out, "/>\n");
}

void svg_path(svg_picture *picture, const char *css_class, const char *commands, const double *points)
{
    g_string_append_printf(picture->out, "<path class=\"%s\" d=\"", css_class);
    for (; *commands != '\0'; commands++) {
        g_string_append_c(picture->out, *commands);
        if (*commands == 'Z')
            continue;
        words_append_number(picture->out, points[0], 1);
        g_string_append_c(picture->out, ' ');
        words_append_number(picture->out, points[1], 1);
        points += 2;
    }
    g_string_append(picture->out, "\"/>\n");
}

void svg_open_group(svg_picture *picture, const char *css_class, const char *title)
{
    g_string_append_printf(picture->out, "<g class=\"%s\">\n", css_class);
    if (title == NULL)
        return;
    g_string_append(picture->out, "<title>");
    svg_append_escaped(picture->out, title);
    g_string_append(picture->out, "</title>\n");
}

void svg_close_group(svg_picture *picture)
{
    g_string_append(picture->out, "</g>\n");
}

void svg_define_clip(svg_picture *picture, svg_box box)
{
    picture->frame = box;
    g_string_append(picture->out, "<defs><clipPath id=\"ap-plot\">");
    svg_shape(picture, "rect", "ap-clip", "x", box.x, "y", box.y, "width", box.width, "height", box.height, NULL);
    g_string_append(picture->out, "</clipPath></defs>\n");
}

void svg_open_clipped(svg_picture *picture, const char *css_class)
{
    g_string_append_printf(picture->out, "<g class=\"%s\" clip-path=\"url(#ap-plot)\">\n", css_class);
}

void svg_text(svg_picture *picture, const char *css_class, double x, double y, double size, svg_anchor anchor,
              const char *text)
{
    static const char *const anchors[] = {"start", "middle", "end"};

    g_string_append_printf(picture->out, "<text class=\"%s\" text-anchor=\"%s\"", css_class, anchors[anchor]);
    append_attribute(picture->out, "x", x);
    append_attribute(picture->out, "y", y);
    append_attribute(picture->out, "font-size", size);
    g_string_append_c(picture->out, '>');
    svg_append_escaped(picture->out, text);
    g_string_append(picture->out, "</text>\n");
}

double svg_paragraph(svg_picture *picture, const char *css_class, double x, double y, double size, double width,
                     const char *text)
{
    g_auto(GStrv) words = g_strsplit(text, " ", -1);
    g_autoptr(GString) line = g_string_new(NULL);

    for (char **word = words; *word != NULL; word++) {
        g_autofree char *longer = g_strconcat(line->str, line->len > 0 ? " " : "", *word, NULL);
        if (line->len > 0 && svg_text_width(css_class, longer, size) > width) {
            if (picture != NULL)
                svg_text(picture, css_class, x, y, size, SVG_START, line->str);
            y += size * LINE_HEIGHT;
            g_string_assign(line, *word);
        } else {
            g_string_assign(line, longer);
        }
    }
    if (picture != NULL)
        svg_text(picture, css_class, x, y, size, SVG_START, line->str);
    return y + size * LINE_HEIGHT;
}

void svg_marker(svg_picture *picture, svg_mark mark, gboolean hollow, double x, double y, double size)
{
    static const char *const classes[2][4] = {
        {"ap-silent", "ap-fine", "ap-watch", "ap-change"},
        {"ap-hollow ap-silent", "ap-hollow ap-fine", "ap-hollow ap-watch", "ap-hollow ap-change"}};
    const char *css_class = classes[hollow ? 1 : 0][mark];

    if (mark == SVG_SILENT)
        svg_shape(picture, "circle", css_class, "cx", x, "cy", y, "r", 0.7 * size, NULL);
    else if (mark == SVG_FINE)
        svg_shape(picture, "circle", css_class, "cx", x, "cy", y, "r", size, NULL);
    else if (mark == SVG_WATCH)
        svg_shape(picture, "rect", css_class, "x", x - size, "y", y - size, "width", 2.0 * size, "height", 2.0 * size,
                  NULL);
    else
        svg_path(picture, css_class, "MLLZ",
                 (const double[]){x, y - 1.3 * size, x + 1.2 * size, y + size, x - 1.2 * size, y + size});
}

void svg_tip(svg_picture *picture, const char *css_class, double from_x, double from_y, double x, double y)
{
    const double length = 7.0, half_angle = 0.45;
    double angle = atan2(from_y - y, from_x - x);

    svg_path(picture, css_class, "MLL",
             (const double[]){x + length * cos(angle - half_angle), y + length * sin(angle - half_angle), x, y,
                              x + length * cos(angle + half_angle), y + length * sin(angle + half_angle)});
}

double svg_text_width(const char *css_class, const char *text, double size)
{
    return size * text_width_em(text, strstr(css_class, "ap-strong") != NULL);
}

void svg_keep_free(svg_picture *picture, svg_box box)
{
    g_array_append_val(picture->boxes, box);
}

void svg_keep_line(svg_picture *picture, double x1, double y1, double x2, double y2)
{
    svg_line line = {x1, y1, x2, y2};

    g_array_append_val(picture->lines, line);
}

/* ---- labels: the least bad of some places ----------------------------------------------------------------------- */

/* What a place costs, in px of distance; chosen by eye. */
#define COST_BOX     1000.0 /* on other text or on a mark */
#define COST_OUTSIDE 400.0  /* beyond the frame */
#define COST_LINE    18.0   /* over a line */
#define GAP          3.0    /* between labels side by side: "4" and "2" are not 42 */
#define LEADER_FROM  10.0   /* a label farther away is tied to its thing by a line */

static gboolean boxes_meet(const svg_box *a, const svg_box *b)
{
    return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
}

/* Shortens from..to, shares of a line that starts at start and runs over run, to what lies between low and high. */
static gboolean clip(double start, double run, double low, double high, double *from, double *to)
{
    if (run == 0.0)
        return start > low && start < high;
    double a = (low - start) / run, b = (high - start) / run;
    *from = fmax(*from, fmin(a, b));
    *to = fmin(*to, fmax(a, b));
    return *from < *to;
}

static gboolean line_meets(const svg_line *line, const svg_box *box)
{
    double from = 0.0, to = 1.0;

    return clip(line->x1, line->x2 - line->x1, box->x, box->x + box->width, &from, &to) &&
           clip(line->y1, line->y2 - line->y1, box->y, box->y + box->height, &from, &to);
}

static double cost_of(const svg_picture *picture, const svg_box *box)
{
    const svg_box *frame = &picture->frame;
    double cost = 0.0;

    for (guint i = 0; i < picture->boxes->len; i++)
        cost += boxes_meet(box, &g_array_index(picture->boxes, svg_box, i)) ? COST_BOX : 0.0;
    for (guint i = 0; i < picture->lines->len; i++)
        cost += line_meets(&g_array_index(picture->lines, svg_line, i), box) ? COST_LINE : 0.0;
    if (frame->width > 0.0 &&
        (box->x < frame->x || box->y < frame->y || box->x + box->width > frame->x + frame->width ||
         box->y + box->height > frame->y + frame->height))
        cost += COST_OUTSIDE;
    return cost;
}

typedef struct {
    svg_box box;
    double away; /* px from the nearest place */
    double cost;
} label_place;

static void consider(const svg_picture *picture, label_place *best, double x, double y, double width, double height,
                     double away, double preference)
{
    label_place it = {{x - width / 2.0, y - height / 2.0, width, height}, away, 0.0};

    it.cost = cost_of(picture, &it.box) + away + preference;
    if (it.cost < best->cost)
        *best = it;
}

/* Rings around the thing, the right side first. */
static label_place best_beside(const svg_picture *picture, double x, double y, double reach_x, double reach_y,
                               double width, double height)
{
    static const double ways[][2] = {{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {1, -1}, {1, 1}, {-1, -1}, {-1, 1}};
    static const double rings[] = {0.0, 5.0, 12.0, 22.0, 34.0, 48.0, 64.0};
    label_place best = {.cost = HUGE_VAL};

    for (gsize r = 0; r < G_N_ELEMENTS(rings); r++) {
        for (gsize w = 0; w < G_N_ELEMENTS(ways); w++) {
            gboolean slanted = ways[w][0] != 0.0 && ways[w][1] != 0.0;
            double far_x = (reach_x + rings[r]) * (slanted ? 0.75 : 1.0) + width / 2.0;
            double far_y = (reach_y + rings[r]) * (slanted ? 0.75 : 1.0) + height / 2.0;
            consider(picture, &best, x + ways[w][0] * far_x, y + ways[w][1] * far_y, width, height, rings[r], 0.3 * w);
        }
    }
    return best;
}

/* Inside the edge of an ellipse, at the top first. */
static label_place best_inside(const svg_picture *picture, double x, double y, double reach_x, double reach_y,
                               double width, double height)
{
    static const double places[][2] = {{0, -1},   {0, 1},     {1, 0},   {-1, 0},  {0, 0},
                                       {.6, -.6}, {-.6, -.6}, {.6, .6}, {-.6, .6}};
    label_place best = {.cost = HUGE_VAL};

    for (gsize i = 0; i < G_N_ELEMENTS(places); i++)
        consider(picture, &best, x + places[i][0] * fmax(reach_x - width / 2.0, 0.0),
                 y + places[i][1] * fmax(reach_y - height / 2.0, 0.0), width, height, 0.0, 2.0 * i);
    return best;
}

/* From the thing to the nearest point of its label. */
static void draw_leader(svg_picture *picture, double x, double y, double reach, const svg_box *box)
{
    double to_x = CLAMP(x, box->x, box->x + box->width), to_y = CLAMP(y, box->y, box->y + box->height);
    double length = hypot(to_x - x, to_y - y);

    if (length <= reach)
        return;
    double from_x = x + (to_x - x) * reach / length, from_y = y + (to_y - y) * reach / length;
    svg_shape(picture, "line", "ap-leader", "x1", from_x, "y1", from_y, "x2", to_x, "y2", to_y, NULL);
    svg_keep_line(picture, from_x, from_y, to_x, to_y);
}

gboolean svg_place_text(svg_picture *picture, const char *css_class, double x, double y, double reach_x, double reach_y,
                        svg_side side, double size, gboolean force, const char *text)
{
    double width = svg_text_width(css_class, text, size), height = size * 1.1;
    label_place best = {.cost = HUGE_VAL};

    if (side == SVG_INSIDE)
        best = best_inside(picture, x, y, reach_x, reach_y, width, height);
    if (best.cost >= COST_OUTSIDE)
        best = best_beside(picture, x, y, reach_x, reach_y, width, height);

    if (!force && best.cost >= COST_OUTSIDE)
        return FALSE;
    svg_keep_free(picture, (svg_box){best.box.x - GAP, best.box.y, width + 2.0 * GAP, height});
    if (best.away >= LEADER_FROM)
        draw_leader(picture, x, y, fmax(reach_x, reach_y), &best.box);
    svg_shape(picture, "rect", "ap-under", "x", best.box.x, "y", best.box.y, "width", width, "height", height, "rx",
              2.0, NULL);
    svg_text(picture, css_class, best.box.x + width / 2.0, best.box.y + height / 2.0 + 0.36 * size, size, SVG_MIDDLE,
             text);
    return TRUE;
}
