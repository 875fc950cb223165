/* chart-plane.h - the ground of a vowel chart: F2 from right to left, F1 downward, both on a Bark scale, and the
 * table's spoken vowels with their spreads. */
#ifndef REPORT_CHART_PLANE_H
#define REPORT_CHART_PLANE_H

#include "report/draw/svg.h"

#include <aperta/vowel.h>

typedef struct {
    double low_bark, high_bark;
} chart_axis;

typedef struct {
    svg_picture svg;
    svg_box box;                     /* of the plot, px */
    const aperta_vowel_table *table; /* may be NULL */
    chart_axis f1, f2;
} chart_plane;

/* The part of the plane that the table needs; widened by each reach; done adds a margin for labels and arrows. */
void plane_start_range(chart_plane *plane);
void plane_reach(chart_plane *plane, double f1_hz, double f2_hz);
void plane_end_range(chart_plane *plane);

double plane_x(const chart_plane *plane, double f2_hz);
double plane_y(const chart_plane *plane, double f1_hz);

/* Axes with ticks, frame and names. */
void plane_draw_axes(chart_plane *plane);
/* Ellipses of one standard deviation; clipped to the box. */
void plane_draw_table(chart_plane *plane);
/* Their names, inside at the edge, where notes are fewest. */
void plane_label_table(chart_plane *plane);
gboolean plane_spreads_published(const chart_plane *plane);

#endif
