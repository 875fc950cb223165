/* svg.c - a small writer of SVG.
 *
 * Colours are those of Okabe & Ito (2008, "Color Universal Design"), chosen to be told apart with any colour vision;
 * wherever one says something, a shape or a word says it too. Text has generic families and stays text. */
#include "svg.h"
#include "report-private.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#define MEAN_CHAR_WIDTH 0.58 /* of the font size; chosen by eye for sans-serif faces */
#define BOLD_FACTOR     1.15 /* bold faces are wider by this; chosen by eye */
#define LINE_HEIGHT     1.35 /* of the font size */

static const char style[] =
    "text{font-family:'DejaVu Sans','Noto Sans',sans-serif;fill:#1b1b1b}\n"
    ".ap-ground{fill:#ffffff}\n"
    ".ap-under{fill:#ffffff;fill-opacity:.6}\n"
    ".ap-quiet{fill:#555555}\n"
    ".ap-strong{font-weight:bold}\n"
    ".ap-grid{stroke:#e3e3e3;stroke-width:1;fill:none}\n"
    ".ap-frame{stroke:#777777;stroke-width:1;fill:none}\n"
    ".ap-spread{fill:#8a8a8a;fill-opacity:.13;stroke:#8a8a8a;stroke-opacity:.6;stroke-width:1}\n"
    ".ap-table{fill:#666666}\n"
    ".ap-bar{stroke:#555555;stroke-width:1.2;stroke-opacity:.75;fill:none}\n"
    ".ap-many .ap-bar{stroke-width:.7;stroke-opacity:.22}\n"
    ".ap-many .ap-fine,.ap-many .ap-watch{fill-opacity:.4;stroke-opacity:.45}\n"
    ".ap-glide{stroke:#0072b2;stroke-width:1.8;fill:none}\n"
    ".ap-many .ap-glide{stroke-width:1;stroke-opacity:.5}\n"
    ".ap-arrow{stroke:#1b1b1b;stroke-width:1.3;stroke-dasharray:5 3;fill:none}\n"
    ".ap-many .ap-arrow{stroke-width:.8;stroke-opacity:.35}\n"
    ".ap-arrow-tip{stroke:#1b1b1b;stroke-width:1.3;fill:none}\n"
    ".ap-many .ap-arrow-tip{stroke-opacity:.5}\n"
    ".ap-aim{fill:none;stroke:#1b1b1b;stroke-width:1.5}\n"
    ".ap-many .ap-aim{stroke-opacity:.5}\n"
    ".ap-fine{fill:#009e73;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-watch{fill:#e69f00;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-change{fill:#d55e00;stroke:#1b1b1b;stroke-width:.8}\n"
    ".ap-hollow{stroke-width:2}\n"
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
    "@media (prefers-color-scheme:dark){\n"
    "text{fill:#ececec}\n"
    ".ap-ground{fill:#16181b}\n"
    ".ap-under{fill:#16181b}\n"
    ".ap-quiet{fill:#b4b4b4}\n"
    ".ap-grid{stroke:#2e3136}\n"
    ".ap-frame{stroke:#8a8a8a}\n"
    ".ap-spread{fill:#a0a0a0;stroke:#a0a0a0}\n"
    ".ap-table{fill:#b0b0b0}\n"
    ".ap-bar{stroke:#c8c8c8}\n"
    ".ap-glide{stroke:#56b4e9}\n"
    ".ap-arrow,.ap-arrow-tip,.ap-aim{stroke:#ececec}\n"
    ".ap-fine,.ap-watch,.ap-change{stroke:#ececec}\n"
    ".ap-hollow.ap-fine{fill:#16181b;stroke:#2fc79b}\n"
    ".ap-hollow.ap-watch{fill:#16181b;stroke:#e69f00}\n"
    ".ap-hollow.ap-change{fill:#16181b;stroke:#ff7a1a}\n"
    ".ap-stem{stroke:#ececec}\n"
    ".ap-second,.ap-second-mark{stroke:#ff9a4d}\n"
    ".ap-f1{stroke:#56b4e9}\n"
    ".ap-f1-band{fill:#56b4e9}\n"
    ".ap-f2{stroke:#e5a5c8}\n"
    "}\n";

static void append_escaped(GString *out, const char *text)
{
    g_autofree char *clean = report_clean(text);
    g_autofree char *escaped = g_markup_escape_text(clean, -1);

    g_string_append(out, escaped);
}

static void append_attribute(GString *out, const char *name, double value)
{
    g_string_append_printf(out, " %s=\"", name);
    report_append_number(out, value, 1);
    g_string_append_c(out, '"');
}

svg_picture svg_begin(double width, double height, const char *title, const char *description)
{
    svg_picture picture = {.out = g_string_new("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg"),
                           .boxes = g_array_new(FALSE, FALSE, sizeof(svg_box))};

    append_attribute(picture.out, "width", width);
    append_attribute(picture.out, "height", height);
    g_string_append(picture.out, " viewBox=\"0 0 ");
    report_append_number(picture.out, width, 1);
    g_string_append_c(picture.out, ' ');
    report_append_number(picture.out, height, 1);
    g_string_append(picture.out, "\" xmlns=\"http://www.w3.org/2000/svg\" role=\"img\">\n<title>");
    append_escaped(picture.out, title);
    g_string_append(picture.out, "</title>\n<desc>");
    append_escaped(picture.out, description);
    g_string_append_printf(picture.out, "</desc>\n<style>\n%s</style>\n", style);
    svg_shape(&picture, "rect", "ap-ground", "x", 0.0, "y", 0.0, "width", width, "height", height, NULL);
    return picture;
}

char *svg_end(svg_picture *picture)
{
    g_array_unref(picture->boxes);
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
        report_append_number(picture->out, points[0], 1);
        g_string_append_c(picture->out, ' ');
        report_append_number(picture->out, points[1], 1);
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
    append_escaped(picture->out, title);
    g_string_append(picture->out, "</title>\n");
}

void svg_close_group(svg_picture *picture)
{
    g_string_append(picture->out, "</g>\n");
}

void svg_define_clip(svg_picture *picture, svg_box box)
{
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
    append_escaped(picture->out, text);
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
            svg_text(picture, css_class, x, y, size, SVG_START, line->str);
            y += size * LINE_HEIGHT;
            g_string_assign(line, *word);
        } else {
            g_string_assign(line, longer);
        }
    }
    svg_text(picture, css_class, x, y, size, SVG_START, line->str);
    return y + size * LINE_HEIGHT;
}

void svg_marker(svg_picture *picture, aperta_level level, gboolean hollow, double x, double y, double size)
{
    static const char *const classes[2][3] = {{"ap-fine", "ap-watch", "ap-change"},
                                              {"ap-hollow ap-fine", "ap-hollow ap-watch", "ap-hollow ap-change"}};
    const char *css_class = classes[hollow ? 1 : 0][level];

    if (level == APERTA_LEVEL_FINE)
        svg_shape(picture, "circle", css_class, "cx", x, "cy", y, "r", size, NULL);
    else if (level == APERTA_LEVEL_WATCH)
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
    double factor = strstr(css_class, "ap-strong") != NULL ? BOLD_FACTOR : 1.0;

    return factor * MEAN_CHAR_WIDTH * size * g_utf8_strlen(text, -1);
}

static gboolean is_free(const svg_picture *picture, svg_box box)
{
    for (guint i = 0; i < picture->boxes->len; i++) {
        const svg_box *other = &g_array_index(picture->boxes, svg_box, i);
        if (box.x < other->x + other->width && other->x < box.x + box.width && box.y < other->y + other->height &&
            other->y < box.y + box.height)
            return FALSE;
    }
    return TRUE;
}

void svg_keep_free(svg_picture *picture, svg_box box)
{
    g_array_append_val(picture->boxes, box);
}

gboolean svg_place_text(svg_picture *picture, const char *css_class, double x, double y, double reach_x, double reach_y,
                        svg_side side, double size, gboolean force, const char *text)
{
    enum { N_PLACES = 9 };
    static const double places[3][N_PLACES][2] = {
        [SVG_BESIDE] = {{1, 0}, {-1, 0}, {0, -1}, {0, 1}, {1, -1}, {-1, -1}, {1, 1}, {-1, 1}, {1, -1.8}},
        [SVG_BELOW] = {{0, 1}, {1, 0}, {-1, 0}, {1, 1}, {-1, 1}, {0, 1.8}, {1, -1}, {-1, -1}, {0, -1}},
        [SVG_INSIDE] = {{0, -1}, {0, 1}, {1, 0}, {-1, 0}, {0, 0}, {.6, -.6}, {-.6, -.6}, {.6, .6}, {-.6, .6}},
    };
    double width = svg_text_width(css_class, text, size), height = size * 1.1;
    double sign = side == SVG_INSIDE ? -1.0 : 1.0;
    double far_x = fmax(reach_x + sign * width / 2.0, 0.0), far_y = fmax(reach_y + sign * height / 2.0, 0.0);

    for (int i = 0; i <= N_PLACES; i++) {
        gboolean last = i == N_PLACES;
        const double *place = places[side][last ? 0 : i];
        double centre_x = x + place[0] * far_x, centre_y = y + place[1] * far_y;
        svg_box box = {centre_x - width / 2.0, centre_y - height / 2.0, width, height};
        if (last ? !force : !is_free(picture, box))
            continue;
        svg_keep_free(picture, box);
        svg_shape(picture, "rect", "ap-under", "x", box.x, "y", box.y, "width", width, "height", height, "rx", 2.0,
                  NULL);
        svg_text(picture, css_class, centre_x, centre_y + 0.36 * size, size, SVG_MIDDLE, text);
        return TRUE;
    }
    return FALSE;
}
