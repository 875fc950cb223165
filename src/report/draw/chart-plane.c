/* chart-plane.c - the ground of a vowel chart. */
#include "report/draw/chart-plane.h"
#include "words/captions.h"

#include <math.h>

static void reach(chart_axis *axis, double hz)
{
    double bark = aperta_hz_to_bark(hz);

    axis->low_bark = fmin(axis->low_bark, bark);
    axis->high_bark = fmax(axis->high_bark, bark);
}

void plane_reach(chart_plane *plane, double f1_hz, double f2_hz)
{
    reach(&plane->f1, f1_hz);
    reach(&plane->f2, f2_hz);
}

static gboolean row_is_drawn(const aperta_vowel_row *row)
{
    return row->has[0] && row->has[1];
}

void plane_start_range(chart_plane *plane)
{
    plane->f1 = (chart_axis){aperta_hz_to_bark(300.0), aperta_hz_to_bark(900.0)};
    plane->f2 = (chart_axis){aperta_hz_to_bark(900.0), aperta_hz_to_bark(2300.0)};
    for (guint i = 0; plane->table != NULL && i < plane->table->n_rows; i++) {
        const aperta_vowel_row *row = &plane->table->rows[i];
        for (int side = -1; row_is_drawn(row) && side <= 1; side += 2)
            plane_reach(plane, fmax(row->hz[0] + side * row->sd_hz[0], 100.0),
                        fmax(row->hz[1] + side * row->sd_hz[1], 100.0));
    }
}

void plane_end_range(chart_plane *plane)
{
    plane->f1 = (chart_axis){plane->f1.low_bark - 0.5, plane->f1.high_bark + 0.35};
    plane->f2 = (chart_axis){plane->f2.low_bark - 0.5, plane->f2.high_bark + 0.5};
}

/* Where hz stands on an axis, 0 at its low end and 1 at its high one. */
static double share_of(const chart_axis *axis, double hz)
{
    return (aperta_hz_to_bark(hz) - axis->low_bark) / (axis->high_bark - axis->low_bark);
}

double plane_x(const chart_plane *plane, double f2_hz)
{
    return plane->box.x + plane->box.width * (1.0 - share_of(&plane->f2, f2_hz));
}

double plane_y(const chart_plane *plane, double f1_hz)
{
    return plane->box.y + plane->box.height * share_of(&plane->f1, f1_hz);
}

/* FALSE when hz lies outside the axis. */
static gboolean tick_label(const chart_axis *a, int hz, char label[8])
{
    double bark = aperta_hz_to_bark(hz);

    g_snprintf(label, 8, "%d", hz);
    return bark > a->low_bark && bark < a->high_bark;
}

void plane_draw_axes(chart_plane *plane)
{
    static const int f1_ticks[] = {150, 200, 250, 300, 400, 500, 600, 700, 800, 900, 1000, 1200, 1400, 1600};
    static const int f2_ticks[] = {500, 600, 700, 800, 1000, 1200, 1400, 1700, 2000, 2400, 2800, 3200, 3600, 4200};
    double bottom = plane->box.y + plane->box.height;
    char label[8];

    for (gsize i = 0; i < G_N_ELEMENTS(f1_ticks); i++) {
        double y = plane_y(plane, f1_ticks[i]);
        if (!tick_label(&plane->f1, f1_ticks[i], label))
            continue;
        svg_shape(&plane->svg, "line", "ap-grid", "x1", plane->box.x, "y1", y, "x2", plane->box.x + plane->box.width,
                  "y2", y, NULL);
        svg_text(&plane->svg, "ap-quiet", plane->box.x - 8.0, y + 4.0, 12.0, SVG_END, label);
    }
    for (gsize i = 0; i < G_N_ELEMENTS(f2_ticks); i++) {
        double x = plane_x(plane, f2_ticks[i]);
        if (!tick_label(&plane->f2, f2_ticks[i], label))
            continue;
        svg_shape(&plane->svg, "line", "ap-grid", "x1", x, "y1", plane->box.y, "x2", x, "y2", bottom, NULL);
        svg_text(&plane->svg, "ap-quiet", x, bottom + 18.0, 12.0, SVG_MIDDLE, label);
    }
    svg_shape(&plane->svg, "rect", "ap-frame", "x", plane->box.x, "y", plane->box.y, "width", plane->box.width,
              "height", plane->box.height, NULL);
    svg_text(&plane->svg, "ap-label", plane->box.x + plane->box.width / 2.0, bottom + 40.0, 13.0, SVG_MIDDLE,
             words_plane_caption(WORDS_PLANE_F2));
    svg_text(&plane->svg, "ap-quiet", plane->box.x, bottom + 40.0, 12.0, SVG_START,
             words_plane_caption(WORDS_PLANE_FORWARD));
    svg_text(&plane->svg, "ap-quiet", plane->box.x + plane->box.width, bottom + 40.0, 12.0, SVG_END,
             words_plane_caption(WORDS_PLANE_BACK));
    svg_text(&plane->svg, "ap-label", plane->box.x - 50.0, plane->box.y - 10.0, 13.0, SVG_START,
             words_plane_caption(WORDS_PLANE_F1));
}

/* The box of the ellipse of one standard deviation. */
static svg_box ellipse_of(const chart_plane *plane, const aperta_vowel_row *row)
{
    double left = plane_x(plane, row->hz[1] + row->sd_hz[1]),
           right = plane_x(plane, fmax(row->hz[1] - row->sd_hz[1], 100.0));
    double top = plane_y(plane, fmax(row->hz[0] - row->sd_hz[0], 100.0)),
           bottom = plane_y(plane, row->hz[0] + row->sd_hz[0]);

    return (svg_box){left, top, right - left, bottom - top};
}

void plane_draw_table(chart_plane *plane)
{
    const aperta_vowel_table *table = plane->table;

    if (table == NULL)
        return;
    svg_open_clipped(&plane->svg, "ap-reference");
    for (guint i = 0; i < table->n_rows; i++) {
        const aperta_vowel_row *row = &table->rows[i];
        if (!row_is_drawn(row))
            continue;
        svg_box box = ellipse_of(plane, row);
        g_autofree char *title = words_plane_vowel_hover(row);
        svg_open_group(&plane->svg, "ap-vowel", title);
        svg_shape(&plane->svg, "ellipse", "ap-spread", "cx", box.x + box.width / 2.0, "cy", box.y + box.height / 2.0,
                  "rx", box.width / 2.0, "ry", box.height / 2.0, NULL);
        svg_close_group(&plane->svg);
    }
    svg_close_group(&plane->svg);
}

void plane_label_table(chart_plane *plane)
{
    const aperta_vowel_table *table = plane->table;

    for (guint i = 0; table != NULL && i < table->n_rows; i++) {
        const aperta_vowel_row *row = &table->rows[i];
        if (!row_is_drawn(row))
            continue;
        svg_box box = ellipse_of(plane, row);
        g_autofree char *name = words_plane_vowel_name(row->vowel);
        svg_place_text(&plane->svg, "ap-table ap-strong", box.x + box.width / 2.0, box.y + box.height / 2.0,
                       box.width / 2.0, box.height / 2.0 - 3.0, SVG_INSIDE, 14.0, TRUE, name);
    }
}

gboolean plane_spreads_published(const chart_plane *plane)
{
    for (guint i = 0; plane->table != NULL && i < plane->table->n_rows; i++)
        if (!plane->table->rows[i].sd_published)
            return FALSE;
    return TRUE;
}
