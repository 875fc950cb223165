/* sheet-chart.c - the vowels of a song where the table expects them, and from each flagged one an arrow for each pitch
 * to the shape to sing there. */
#include "report/draw/chart-plane.h"
#include "report/sheet/sheet-pictures.h"
#include "result/sheet-query.h"

#include <math.h>

#define RING       4.5 /* px, as all below */
#define MARKER     5.5
#define LABEL      12.0
#define SAME_PLACE 26.0
#define LEGEND     60.0 /* from the plot to the first line of the legend, and from line to line */
#define LEGEND_ROW 22.0

static const svg_box plot = {58.0, 34.0, 648.0, 400.0};

/* The way from a vowel to the shape that is asked for on one pitch. */
typedef struct {
    const aperta_sheet_note *note;
    const aperta_shape *shape;
} way;

typedef struct {
    chart_plane plane;
    const aperta_sheet *sheet;
    GArray *ways;
    gboolean borrows; /* some ellipses are from other tables */
} chart;

static gboolean same_way(const way *a, const way *b)
{
    return a->note->expected == b->note->expected && a->note->score_note->midi == b->note->score_note->midi;
}

/* One way for each vowel on each pitch. */
static GArray *ways_of(const aperta_sheet *sheet)
{
    GArray *ways = g_array_new(FALSE, FALSE, sizeof(way));

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = result_sheet_note_at(sheet, i);
        const result_sheet_mark mark = result_sheet_mark_of(note);
        if (mark.shape == NULL)
            continue;
        way one = {note, mark.shape};
        gboolean known = FALSE;
        for (guint k = 0; k < ways->len && !known; k++)
            known = same_way(&g_array_index(ways, way, k), &one);
        if (!known)
            g_array_append_val(ways, one);
    }
    return ways;
}

static const aperta_expectation *expectation(const chart *c, guint i)
{
    return g_ptr_array_index(c->sheet->expectations, i);
}

static void put_row(GArray *rows, const aperta_expectation *expected)
{
    aperta_vowel_row row = {.vowel = expected->vowel, .has = {TRUE, TRUE}};

    for (int i = 0; i < 2; i++) {
        row.hz[i] = expected->resonances[i].hz;
        row.sd_hz[i] = expected->sd_hz[i];
    }
    for (guint i = 0; i < rows->len; i++)
        if (g_array_index(rows, aperta_vowel_row, i).vowel == expected->vowel)
            g_array_remove_index(rows, i--);
    g_array_append_val(rows, row);
}

/* The rows of the sheet's table; a vowel that the song takes from another one stands where it is expected. */
static GArray *rows_of(const aperta_sheet *sheet, gboolean *borrows)
{
    GArray *rows = g_array_new(FALSE, FALSE, sizeof(aperta_vowel_row));

    *borrows = FALSE;
    g_array_append_vals(rows, sheet->settings.table->rows, sheet->settings.table->n_rows);
    for (guint i = 0; i < sheet->expectations->len; i++) {
        const aperta_expectation *expected = aperta_expectation_at(sheet->expectations, i);
        if (!expected->known || expected->lent == APERTA_LENT_NOT)
            continue;
        put_row(rows, expected);
        *borrows = TRUE;
    }
    return rows;
}

static void find_ranges(chart *c)
{
    plane_start_range(&c->plane);
    for (guint i = 0; i < c->sheet->expectations->len; i++)
        if (expectation(c, i)->known)
            plane_reach(&c->plane, expectation(c, i)->resonances[0].hz, expectation(c, i)->resonances[1].hz);
    for (guint i = 0; i < c->ways->len; i++) {
        const aperta_shape *shape = g_array_index(c->ways, way, i).shape;
        plane_reach(&c->plane, shape->f1_hz, shape->f2_hz);
    }
    plane_end_range(&c->plane);
}

/* From the vowel as expected to the shape. */
static svg_line line_of(const chart *c, const way *one)
{
    const aperta_resonance *r = one->note->expected->resonances;

    return (svg_line){plane_x(&c->plane, r[1].hz), plane_y(&c->plane, r[0].hz), plane_x(&c->plane, one->shape->f2_hz),
                      plane_y(&c->plane, one->shape->f1_hz)};
}

static void draw_way(chart *c, const way *one)
{
    svg_picture *svg = &c->plane.svg;
    svg_line line = line_of(c, one);
    double length = hypot(line.x2 - line.x1, line.y2 - line.y1);
    g_autofree char *title = words_sheet_way_hover(one->note, one->shape);

    svg_open_group(svg, "ap-way", title);
    svg_shape(svg, "circle", "ap-aim", "cx", line.x2, "cy", line.y2, "r", RING, NULL);
    if (length > 2.0 * RING) {
        double share = 1.0 - RING / length;
        double end_x = line.x1 + share * (line.x2 - line.x1), end_y = line.y1 + share * (line.y2 - line.y1);
        svg_shape(svg, "line", "ap-arrow", "x1", line.x1, "y1", line.y1, "x2", end_x, "y2", end_y, NULL);
        svg_tip(svg, "ap-arrow-tip", line.x1, line.y1, end_x, end_y);
    }
    svg_close_group(svg);
}

/* The highest mark of the notes on a vowel; silent where no rule speaks of any. */
static svg_mark mark_of(const aperta_sheet *sheet, const aperta_expectation *expected)
{
    svg_mark mark = SVG_SILENT;

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = result_sheet_note_at(sheet, i);
        if (note->expected == expected && note->advice->len > 0)
            mark = MAX(mark, (svg_mark)(SVG_FINE + aperta_findings_level(note->advice)));
    }
    return mark;
}

static void draw_vowel(chart *c, const aperta_expectation *expected)
{
    double x = plane_x(&c->plane, expected->resonances[1].hz), y = plane_y(&c->plane, expected->resonances[0].hz);
    g_autofree char *title = words_sheet_vowel_hover(c->sheet, expected);

    svg_open_group(&c->plane.svg, "ap-note", title);
    svg_marker(&c->plane.svg, mark_of(c->sheet, expected), FALSE, x, y, MARKER);
    svg_close_group(&c->plane.svg);
}

static void keep_free(chart *c)
{
    svg_picture *svg = &c->plane.svg;

    for (guint i = 0; i < c->ways->len; i++) {
        svg_line line = line_of(c, &g_array_index(c->ways, way, i));
        svg_keep_free(svg, (svg_box){line.x2 - RING, line.y2 - RING, 2.0 * RING, 2.0 * RING});
        svg_keep_line(svg, line.x1, line.y1, line.x2, line.y2);
    }
    for (guint i = 0; i < c->sheet->expectations->len; i++) {
        const aperta_resonance *r = expectation(c, i)->resonances;
        if (!expectation(c, i)->known)
            continue;
        svg_keep_free(svg, (svg_box){plane_x(&c->plane, r[1].hz) - MARKER, plane_y(&c->plane, r[0].hz) - MARKER,
                                     2.0 * MARKER, 2.0 * MARKER});
    }
}

/* Ways from several vowels to one place on one pitch bear its name once. */
static gboolean is_labelled(const chart *c, guint index)
{
    const way *one = &g_array_index(c->ways, way, index);
    svg_line line = line_of(c, one);

    for (guint i = 0; i < index; i++) {
        const way *other = &g_array_index(c->ways, way, i);
        svg_line its = line_of(c, other);
        if (other->note->score_note->midi == one->note->score_note->midi &&
            hypot(its.x2 - line.x2, its.y2 - line.y2) < SAME_PLACE)
            return TRUE;
    }
    return FALSE;
}

static void label_all(chart *c)
{
    svg_picture *svg = &c->plane.svg;

    for (guint i = 0; i < c->ways->len; i++) {
        const way *one = &g_array_index(c->ways, way, i);
        svg_line line = line_of(c, one);
        if (is_labelled(c, i))
            continue;
        svg_place_text(svg, "ap-strong", line.x2, line.y2, RING + 2.0, RING + 2.0, SVG_BESIDE, LABEL, FALSE,
                       one->note->score_note->name);
    }
    for (guint i = 0; i < c->sheet->expectations->len; i++) {
        const aperta_expectation *expected = expectation(c, i);
        g_autofree char *pitches = words_sheet_pitches(c->sheet, expected);
        if (expected->known)
            svg_place_text(svg, "ap-label", plane_x(&c->plane, expected->resonances[1].hz),
                           plane_y(&c->plane, expected->resonances[0].hz), MARKER + 3.0, MARKER + 3.0, SVG_BESIDE,
                           LABEL - 1.0, TRUE, pitches);
    }
}

/* Where the ellipses are from, in as many lines as that takes; y of the first of them, returns the y below. picture
 * NULL: only measures. */
static double put_source(const chart *c, svg_picture *picture, double y)
{
    g_autofree char *source = words_sheet_ellipses(c->sheet, plane_spreads_published(&c->plane), c->borrows);

    return svg_paragraph(picture, "ap-quiet", plot.x, y, LABEL, SHEET_PICTURE_WIDTH - plot.x - 10.0, source);
}

static double y_of_source(void)
{
    return plot.y + plot.height + LEGEND + 2.0 * LEGEND_ROW;
}

static void draw_legend(chart *c)
{
    static const words_sheet_label meanings[] = {[SVG_SILENT] = WORDS_SONG_SILENT,
                                                 [SVG_FINE] = WORDS_SONG_FINE,
                                                 [SVG_WATCH] = WORDS_SONG_WATCH,
                                                 [SVG_CHANGE] = WORDS_SONG_CHANGE};
    svg_picture *svg = &c->plane.svg;
    double x = plot.x, y = plot.y + plot.height + LEGEND;

    for (int mark = SVG_CHANGE; mark >= SVG_SILENT; mark--) {
        const char *meaning = words_sheet_caption(meanings[mark]);
        svg_marker(svg, (svg_mark)mark, FALSE, x + 6.0, y - 4.0, MARKER);
        svg_text(svg, "ap-label", x + 18.0, y, LABEL, SVG_START, meaning);
        x += 34.0 + svg_text_width("ap-label", meaning, LABEL);
    }
    x = plot.x;
    y += LEGEND_ROW;
    svg_shape(svg, "line", "ap-arrow", "x1", x, "y1", y - 4.0, "x2", x + 20.0, "y2", y - 4.0, NULL);
    svg_shape(svg, "circle", "ap-aim", "cx", x + 25.0, "cy", y - 4.0, "r", RING, NULL);
    svg_text(svg, "ap-label", x + 36.0, y, LABEL, SVG_START, words_sheet_caption(WORDS_SONG_WAY));
    put_source(c, svg, y_of_source());
}

char *sheet_chart_svg(const aperta_sheet *sheet, gboolean inside, double *height)
{
    const char *title = words_sheet_caption(WORDS_SONG_TITLE);
    const char *description = words_sheet_caption(WORDS_SONG_DESCRIPTION);
    g_autoptr(GArray) ways = ways_of(sheet);
    chart c = {.plane = {.box = plot}, .sheet = sheet, .ways = ways};
    g_autoptr(GArray) rows = rows_of(sheet, &c.borrows);
    aperta_vowel_table drawn = *sheet->settings.table;

    if (sheet->expectations->len == 0)
        return NULL;
    drawn.rows = (aperta_vowel_row *)(gpointer)rows->data;
    drawn.n_rows = rows->len;
    c.plane.table = &drawn;
    *height = put_source(&c, NULL, y_of_source());
    find_ranges(&c);
    c.plane.svg = inside ? svg_begin_inside(SHEET_PICTURE_WIDTH, *height, title, description)
                         : svg_begin(SHEET_PICTURE_WIDTH, *height, title, description);
    svg_define_clip(&c.plane.svg, plot);
    plane_draw_axes(&c.plane);
    plane_draw_table(&c.plane);
    keep_free(&c);
    plane_label_table(&c.plane);
    for (guint i = 0; i < ways->len; i++)
        draw_way(&c, &g_array_index(ways, way, i));
    for (guint i = 0; i < sheet->expectations->len; i++)
        if (expectation(&c, i)->known)
            draw_vowel(&c, expectation(&c, i));
    label_all(&c);
    draw_legend(&c);
    return svg_end(&c.plane.svg);
}
