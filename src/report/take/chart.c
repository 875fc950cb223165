/* chart.c - the vowel chart: F2 from right to left, F1 downward, both on a Bark scale, as phonetics prints it.
 *
 * Behind, the reference table: for each spoken vowel its mean and an ellipse of one standard deviation (the axes are
 * those of F1 and F2; how the two go together is not in the tables). In front, the notes with their 90 % intervals, and
 * from each flagged note an arrow to the shape to try. */
#include "report/draw/chart-plane.h"
#include "result/query.h"
#include "words/captions.h"
#include "words/words.h"

#include <aperta/report.h>

#include <math.h>
#include <string.h>

#define WIDTH        1000.0 /* px, as all below */
#define HEIGHT       806.0
#define LEGEND_X     790.0
#define LEGEND_WIDTH 190.0
#define FEW_NOTES    60   /* up to here every note has its number, and nothing is faded */
#define LIMIT_LENGTH 34.0 /* of the arrow that says "somewhere that way" */

static const svg_box plot = {72.0, 84.0, 692.0, 560.0};

typedef struct {
    chart_plane plane;
    const aperta_result *result;
    gboolean many;
} chart;

/* Where a note is drawn: the value, or the limit if only that is known; FALSE when one of the two is not known. */
static gboolean drawn_at(const aperta_sung_note *note, double hz[2])
{
    for (int r = 0; r < 2; r++) {
        const aperta_resonance *resonance = &aperta_sung_note_resonances(note)[r];
        if (resonance->status == APERTA_UNKNOWN)
            return FALSE;
        hz[r] = resonance->status == APERTA_MEASURED ? resonance->hz
                : resonance->has_high                ? resonance->high_hz
                                                     : resonance->low_hz;
    }
    return TRUE;
}

static gboolean has_glide(const aperta_sung_note *note)
{
    const aperta_tract_reading *tract = &note->tract;
    gboolean known = TRUE;

    for (int r = 0; r < 2; r++)
        known = known && tract->first[r].status == APERTA_MEASURED && tract->last[r].status == APERTA_MEASURED;
    return tract->glides && known;
}

static void find_ranges(chart *c)
{
    double hz[2];

    plane_start_range(&c->plane);
    for (guint i = 0; i < c->result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(c->result, i);
        const aperta_finding *finding = result_shape_in(note->advice);
        if (drawn_at(note, hz))
            plane_reach(&c->plane, hz[0], hz[1]);
        if (has_glide(note))
            plane_reach(&c->plane, note->tract.last[0].hz, note->tract.last[1].hz);
        if (finding != NULL)
            plane_reach(&c->plane, finding->shape->f1_hz, finding->shape->f2_hz);
    }
    plane_end_range(&c->plane);
}

/* The interval, or from a limit the way to where the resonance lies. F1 grows downward and F2 to the left, so below a
 * limit is up, or to the right. */
static svg_line interval_line(const chart *c, const aperta_sung_note *note, int index, double x, double y)
{
    const aperta_resonance *r = &aperta_sung_note_resonances(note)[index];
    gboolean vertical = index == 0;

    if (r->status == APERTA_MEASURED) {
        double low_hz = fmax(r->low_hz, 60.0);
        return vertical ? (svg_line){x, plane_y(&c->plane, low_hz), x, plane_y(&c->plane, r->high_hz)}
                        : (svg_line){plane_x(&c->plane, low_hz), y, plane_x(&c->plane, r->high_hz), y};
    }
    double sign = (r->has_high ? -1.0 : 1.0) * (vertical ? 1.0 : -1.0);
    return (svg_line){x, y, vertical ? x : x + sign * LIMIT_LENGTH, vertical ? y + sign * LIMIT_LENGTH : y};
}

static void draw_interval(chart *c, const aperta_sung_note *note, int index, double x, double y)
{
    svg_line line = interval_line(c, note, index, x, y);

    svg_shape(&c->plane.svg, "line", "ap-bar", "x1", line.x1, "y1", line.y1, "x2", line.x2, "y2", line.y2, NULL);
    if (aperta_sung_note_resonances(note)[index].status == APERTA_BOUNDED)
        svg_tip(&c->plane.svg, "ap-bar", line.x1, line.y1, line.x2, line.y2);
}

/* A vowel that moves: the way from the start of the note to its end. Where the whole note stands for it, the way leads
 * over its middle, where the mark is. */
static guint glide_lines(const chart *c, const aperta_sung_note *note, svg_line lines[2])
{
    const aperta_resonance *first = note->tract.first, *last = note->tract.last;
    double hz[2];

    if (!has_glide(note) || !drawn_at(note, hz))
        return 0;
    double x = plane_x(&c->plane, first[1].hz), y = plane_y(&c->plane, first[0].hz),
           end_x = plane_x(&c->plane, last[1].hz), end_y = plane_y(&c->plane, last[0].hz);
    lines[0] = (svg_line){x, y, end_x, end_y};
    if (note->judged != APERTA_PART_WHOLE)
        return 1;
    lines[0] = (svg_line){x, y, plane_x(&c->plane, hz[1]), plane_y(&c->plane, hz[0])};
    lines[1] = (svg_line){lines[0].x2, lines[0].y2, end_x, end_y};
    return 2;
}

static void draw_glide(chart *c, const aperta_sung_note *note)
{
    svg_line lines[2];
    guint n = glide_lines(c, note, lines);

    for (guint i = 0; i < n; i++)
        svg_shape(&c->plane.svg, "line", "ap-glide", "x1", lines[i].x1, "y1", lines[i].y1, "x2", lines[i].x2, "y2",
                  lines[i].y2, NULL);
    if (n > 0)
        svg_tip(&c->plane.svg, "ap-glide", lines[n - 1].x1, lines[n - 1].y1, lines[n - 1].x2, lines[n - 1].y2);
}

static svg_mark mark_of(const aperta_sung_note *note)
{
    return result_note_spoken_of(note) ? (svg_mark)(SVG_FINE + aperta_sung_note_level(note)) : SVG_SILENT;
}

static void draw_note(chart *c, const aperta_sung_note *note)
{
    double hz[2];

    if (!drawn_at(note, hz))
        return;
    double x = plane_x(&c->plane, hz[1]), y = plane_y(&c->plane, hz[0]);
    gboolean hollow = aperta_sung_note_resonances(note)[0].status == APERTA_BOUNDED ||
                      aperta_sung_note_resonances(note)[1].status == APERTA_BOUNDED;
    g_autofree char *title = words_chart_note_hover(note);
    svg_open_group(&c->plane.svg, "ap-note", title);
    draw_glide(c, note);
    draw_interval(c, note, 1, x, y);
    draw_interval(c, note, 0, x, y);
    svg_marker(&c->plane.svg, mark_of(note), hollow, x, y, c->many ? 3.6 : 5.0);
    svg_close_group(&c->plane.svg);
}

/* The shape that an arrow leads to, or NULL. */
static const aperta_shape *aim_of(const aperta_sung_note *note)
{
    const aperta_finding *finding = result_shape_in(note->advice);

    return finding != NULL && result_note_flagged(note) ? finding->shape : NULL;
}

static void draw_arrow(chart *c, const aperta_sung_note *note)
{
    const aperta_shape *shape = aim_of(note);
    const double ring = c->many ? 3.0 : 5.0;
    double hz[2];

    if (shape == NULL || !drawn_at(note, hz))
        return;
    double x = plane_x(&c->plane, hz[1]), y = plane_y(&c->plane, hz[0]);
    double to_x = plane_x(&c->plane, shape->f2_hz), to_y = plane_y(&c->plane, shape->f1_hz);
    double length = hypot(to_x - x, to_y - y);
    svg_shape(&c->plane.svg, "circle", "ap-aim", "cx", to_x, "cy", to_y, "r", ring, NULL);
    if (length < 2.0 * ring)
        return;
    double end_x = to_x - (to_x - x) * ring / length, end_y = to_y - (to_y - y) * ring / length;
    svg_shape(&c->plane.svg, "line", "ap-arrow", "x1", x, "y1", y, "x2", end_x, "y2", end_y, NULL);
    svg_tip(&c->plane.svg, "ap-arrow-tip", x, y, end_x, end_y);
}

/* Each kind of shape is named once, at the first note that is sent there. */
static void label_shapes(chart *c)
{
    g_autoptr(GHashTable) named = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);

    for (guint i = 0; i < c->result->notes->len; i++) {
        const aperta_shape *shape = aim_of(result_note_at(c->result, i));
        char *name = shape != NULL ? words_shape_brief(shape) : NULL;
        if (name != NULL && g_hash_table_add(named, name))
            svg_place_text(&c->plane.svg, "ap-strong", plane_x(&c->plane, shape->f2_hz),
                           plane_y(&c->plane, shape->f1_hz), 8.0, 8.0, SVG_BESIDE, 12.0, TRUE, name);
    }
}

/* The number of a note whose vowel moves stands at both ends of the way. */
static void label_glide(chart *c, const aperta_sung_note *note, const char *number)
{
    svg_line lines[2];
    guint n = glide_lines(c, note, lines);

    if (n > 0 && note->judged != APERTA_PART_START)
        svg_place_text(&c->plane.svg, "ap-moves", lines[0].x1, lines[0].y1, 4.0, 4.0, SVG_BESIDE, 11.0, !c->many,
                       number);
    if (n > 0 && note->judged != APERTA_PART_END)
        svg_place_text(&c->plane.svg, "ap-moves", lines[n - 1].x2, lines[n - 1].y2, 4.0, 4.0, SVG_BESIDE, 11.0,
                       !c->many, number);
}

/* Numbers of the notes, the flagged ones first; with many notes only the flagged ones, and only where there is room. */
static void label_notes(chart *c)
{
    for (int mark = SVG_CHANGE; mark >= (c->many ? SVG_WATCH : SVG_SILENT); mark--) {
        for (guint i = 0; i < c->result->notes->len; i++) {
            const aperta_sung_note *note = result_note_at(c->result, i);
            double hz[2];
            if ((int)mark_of(note) != mark || !drawn_at(note, hz))
                continue;
            g_autofree char *number = g_strdup_printf("%d", note->number);
            svg_place_text(&c->plane.svg, "ap-label", plane_x(&c->plane, hz[1]), plane_y(&c->plane, hz[0]), 7.0, 7.0,
                           SVG_BESIDE, 11.0, !c->many, number);
            label_glide(c, note, number);
        }
    }
}

static void keep_line_free(chart *c, svg_line line)
{
    svg_keep_line(&c->plane.svg, line.x1, line.y1, line.x2, line.y2);
}

static void keep_box_free(chart *c, double x, double y, double reach_px)
{
    svg_keep_free(&c->plane.svg, (svg_box){x - reach_px, y - reach_px, 2.0 * reach_px, 2.0 * reach_px});
}

/* Labels go around marks and rings, and around lines where they can. */
static void keep_notes_free(chart *c)
{
    for (guint i = 0; i < c->result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(c->result, i);
        const aperta_shape *shape = aim_of(note);
        double hz[2];
        svg_line lines[2];
        if (!drawn_at(note, hz))
            continue;
        double x = plane_x(&c->plane, hz[1]), y = plane_y(&c->plane, hz[0]);
        keep_box_free(c, x, y, 5.0);
        for (int r = 0; r < 2; r++)
            keep_line_free(c, interval_line(c, note, r, x, y));
        for (guint n = glide_lines(c, note, lines); n > 0; n--)
            keep_line_free(c, lines[n - 1]);
        if (shape == NULL)
            continue;
        double to_x = plane_x(&c->plane, shape->f2_hz), to_y = plane_y(&c->plane, shape->f1_hz);
        keep_box_free(c, to_x, to_y, 5.0);
        keep_line_free(c, (svg_line){x, y, to_x, to_y});
    }
}

static void draw_notes(chart *c)
{
    g_string_append_printf(c->plane.svg.out, "<g class=\"%s\">\n", c->many ? "ap-many" : "ap-few");
    svg_open_clipped(&c->plane.svg, "ap-notes");
    for (guint i = 0; i < c->result->notes->len; i++)
        draw_arrow(c, result_note_at(c->result, i));
    for (int mark = SVG_SILENT; mark <= SVG_CHANGE; mark++) {
        for (guint i = 0; i < c->result->notes->len; i++) {
            const aperta_sung_note *note = result_note_at(c->result, i);
            if ((int)mark_of(note) == mark)
                draw_note(c, note);
        }
    }
    svg_close_group(&c->plane.svg);
    svg_close_group(&c->plane.svg);
}

static double legend_row(chart *c, double y, words_chart_label label)
{
    return svg_paragraph(&c->plane.svg, "ap-label", LEGEND_X + 40.0, y, 12.0, LEGEND_WIDTH - 40.0,
                         words_chart_caption(label)) +
           10.0;
}

static void draw_legend(chart *c)
{
    static const words_chart_label meanings[] = {[SVG_SILENT] = WORDS_CHART_SILENT,
                                                 [SVG_FINE] = WORDS_CHART_FINE,
                                                 [SVG_WATCH] = WORDS_CHART_WATCH,
                                                 [SVG_CHANGE] = WORDS_CHART_CHANGE};
    const double x = LEGEND_X + 16.0;
    double y = plot.y + 14.0;

    svg_text(&c->plane.svg, "ap-strong", LEGEND_X, y - 4.0, 13.0, SVG_START, words_chart_caption(WORDS_CHART_HOW));
    y += 26.0;
    for (int mark = SVG_CHANGE; mark >= SVG_SILENT; mark--) {
        svg_marker(&c->plane.svg, (svg_mark)mark, FALSE, x, y - 4.0, 5.0);
        y = legend_row(c, y, meanings[mark]);
    }
    svg_shape(&c->plane.svg, "line", "ap-bar", "x1", x - 14.0, "y1", y - 4.0, "x2", x + 14.0, "y2", y - 4.0, NULL);
    svg_shape(&c->plane.svg, "line", "ap-bar", "x1", x, "y1", y - 14.0, "x2", x, "y2", y + 6.0, NULL);
    y = legend_row(c, y, WORDS_CHART_INTERVAL);
    svg_shape(&c->plane.svg, "line", "ap-bar", "x1", x, "y1", y + 8.0, "x2", x, "y2", y - 16.0, NULL);
    svg_tip(&c->plane.svg, "ap-bar", x, y + 8.0, x, y - 16.0);
    svg_marker(&c->plane.svg, SVG_FINE, TRUE, x, y + 8.0, 5.0);
    y = legend_row(c, y, WORDS_CHART_LIMIT);
    svg_shape(&c->plane.svg, "line", "ap-arrow", "x1", x - 16.0, "y1", y - 4.0, "x2", x + 5.0, "y2", y - 4.0, NULL);
    svg_tip(&c->plane.svg, "ap-arrow-tip", x - 16.0, y - 4.0, x + 5.0, y - 4.0);
    svg_shape(&c->plane.svg, "circle", "ap-aim", "cx", x + 10.0, "cy", y - 4.0, "r", 5.0, NULL);
    y = legend_row(c, y, WORDS_CHART_SHAPE);
    svg_shape(&c->plane.svg, "line", "ap-glide", "x1", x - 14.0, "y1", y - 4.0, "x2", x + 14.0, "y2", y - 4.0, NULL);
    svg_tip(&c->plane.svg, "ap-glide", x - 14.0, y - 4.0, x + 14.0, y - 4.0);
    y = legend_row(c, y, WORDS_CHART_GLIDE);
    if (c->result->settings.table == NULL)
        return;
    svg_shape(&c->plane.svg, "ellipse", "ap-spread", "cx", x, "cy", y, "rx", 15.0, "ry", 10.0, NULL);
    legend_row(c, y, plane_spreads_published(&c->plane) ? WORDS_CHART_SPOKEN : WORDS_CHART_SPOKEN_PARTLY_OURS);
}

static double notice_row(chart *c, double y, const char *text)
{
    return svg_paragraph(&c->plane.svg, "ap-quiet", plot.x, y, 12.0, WIDTH - plot.x - 20.0, text);
}

/* What the picture does not hold, where the reference comes from, and how far to trust it. */
static void draw_notice(chart *c)
{
    g_autoptr(GPtrArray) absent = g_ptr_array_new();
    g_autofree char *trust = words_chart_trust(c->result);
    double y = plot.y + plot.height + 66.0;
    double hz[2];

    for (guint i = 0; i < c->result->notes->len; i++) {
        if (!drawn_at(result_note_at(c->result, i), hz))
            g_ptr_array_add(absent, g_ptr_array_index(c->result->notes, i));
    }
    if (c->result->settings.table != NULL) {
        g_autofree char *source = words_chart_source(c->result, !c->many);
        y = notice_row(c, y, source);
    }
    y = notice_row(c, y, trust);
    if (absent->len > 0) {
        g_autofree char *missing = words_chart_absent(absent);
        notice_row(c, y, missing);
    }
}

char *aperta_report_chart_svg(const aperta_result *result)
{
    chart c = {.plane = {.box = plot, .table = result->settings.table},
               .result = result,
               .many = result->notes->len > FEW_NOTES};
    g_autofree char *title = words_chart_title(result);
    g_autofree char *settings = words_chart_settings(result);
    g_autofree char *description = words_chart_description(result);

    find_ranges(&c);
    c.plane.svg = svg_begin(WIDTH, HEIGHT, title, description);
    svg_define_clip(&c.plane.svg, plot);
    svg_text(&c.plane.svg, "ap-strong", 22.0, 32.0, 19.0, SVG_START, title);
    svg_text(&c.plane.svg, "ap-quiet", 22.0, 52.0, 13.0, SVG_START, settings);
    plane_draw_axes(&c.plane);
    plane_draw_table(&c.plane);
    keep_notes_free(&c);
    plane_label_table(&c.plane);
    draw_notes(&c);
    label_shapes(&c);
    label_notes(&c);
    draw_legend(&c);
    draw_notice(&c);
    return svg_end(&c.plane.svg);
}
