/* sheet-key-bars.c - the keys that were tried, as bars: how much of the singing wants a change, and how much watching.
 */
#include "report/draw/svg.h"
#include "report/sheet/sheet-pictures.h"

#include <math.h>

#define NAMES_WIDTH  150.0 /* px, as all below */
#define RANGE_WIDTH  76.0
#define FIGURE_WIDTH 142.0
#define ROW          19.0
#define BAR          12.0
#define HEAD         26.0
#define FOOT         30.0

static void draw_key(svg_picture *svg, const aperta_sheet *sheet, const aperta_sheet_key *key, double y)
{
    const double left = NAMES_WIDTH + RANGE_WIDTH, width = SHEET_PICTURE_WIDTH - left - FIGURE_WIDTH;
    double all = sheet->weight_s > 0.0 ? sheet->weight_s : 1.0;
    double change = width * key->change_s / all, watch = width * key->watch_s / all;
    g_autofree char *name = words_sheet_key_name(sheet, key), *range = words_sheet_key_range(key);
    g_autofree char *figure = words_sheet_key_figure(sheet, key), *hover = words_sheet_key_hover(sheet, key);
    const char *ink = key->semitones == sheet->transposed ? "ap-strong" : key->fits ? "" : "ap-quiet";

    svg_open_group(svg, "ap-key", hover);
    svg_text(svg, ink, 2.0, y + 11.0, 12.0, SVG_START, name);
    svg_text(svg, ink, NAMES_WIDTH, y + 11.0, 12.0, SVG_START, range);
    svg_shape(svg, "rect", "ap-frame", "x", left, "y", y, "width", width, "height", BAR, NULL);
    if (change > 0.0)
        svg_shape(svg, "rect", "ap-change", "x", left, "y", y, "width", change, "height", BAR, NULL);
    if (watch > 0.0)
        svg_shape(svg, "rect", "ap-part", "x", left + change, "y", y, "width", watch, "height", BAR, NULL);
    svg_text(svg, ink, left + width + 8.0, y + 11.0, 12.0, SVG_START, figure);
    svg_close_group(svg);
}

char *sheet_keys_svg(const aperta_sheet *sheet, gboolean inside, double *height)
{
    g_autofree char *summary = words_sheet_keys_summary(sheet, WORDS_ON_PAPER);
    const char *title = words_sheet_caption(WORDS_KEYS_TITLE);
    const double left = NAMES_WIDTH + RANGE_WIDTH;

    if (summary == NULL)
        return NULL;
    *height = HEAD + ROW * sheet->keys->len + FOOT;
    svg_picture svg = inside ? svg_begin_inside(SHEET_PICTURE_WIDTH, *height, title, summary)
                             : svg_begin(SHEET_PICTURE_WIDTH, *height, title, summary);
    svg_text(&svg, "ap-quiet", left, 16.0, 11.0, SVG_START, words_sheet_caption(WORDS_KEYS_AXIS));
    for (guint i = 0; i < sheet->keys->len; i++)
        draw_key(&svg, sheet, g_ptr_array_index(sheet->keys, i), HEAD + ROW * i);
    double y = *height - 20.0;
    svg_shape(&svg, "rect", "ap-change", "x", left, "y", y, "width", 18.0, "height", 11.0, NULL);
    svg_text(&svg, "", left + 24.0, y + 10.0, 11.0, SVG_START, words_sheet_caption(WORDS_KEYS_CHANGE));
    svg_shape(&svg, "rect", "ap-part", "x", left + 130.0, "y", y, "width", 18.0, "height", 11.0, NULL);
    svg_text(&svg, "", left + 154.0, y + 10.0, 11.0, SVG_START, words_sheet_caption(WORDS_KEYS_WATCH));
    if (sheet->transposed != 0)
        svg_text(&svg, "", left + 340.0, y + 10.0, 11.0, SVG_START, words_sheet_caption(WORDS_KEYS_OWN));
    return svg_end(&svg);
}
