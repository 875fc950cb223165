/* smooth.c - curves without their vibrato.
 *
 * The moving average over exactly one cycle is zero for a vibrato of that rate and keeps the place of a step. Where
 * there is no vibrato (cycles.c finds it) the curve is only lightly smoothed: fast notes keep their edges. */
#include "pitch/pitch-private.h"

#include <math.h>

/* Mean of the curve over length frames about i; near an end of from..to the window is moved inside. */
static double mean_about(const double *sums, guint i, double length, guint from, guint to)
{
    double half = MIN(length, to - from) / 2.0;
    double centre = CLAMP(i + 0.5, from + half, to - half);
    double low = MAX(centre - half, 0.0), high = MIN(centre + half, to);
    guint a = (guint)low, b = (guint)high;
    double low_sum = sums[a] + (low - a) * (sums[MIN(a + 1, to)] - sums[a]);
    double high_sum = sums[b] + (high - b) * (sums[MIN(b + 1, to)] - sums[b]);

    return (high_sum - low_sum) / (high - low);
}

void pitch_smooth(double *curve, guint n, double hop_s, const pitch_stretch *stretches)
{
    g_autofree double *sums = g_new(double, n + 1);

    sums[0] = 0.0;
    for (guint i = 0; i < n; i++)
        sums[i + 1] = sums[i] + curve[i];
    for (guint i = 0; i < n; i++) {
        const pitch_stretch *s = stretches != NULL ? &stretches[i] : NULL;
        gboolean swings = s != NULL && s->cycle > 0.0f;
        curve[i] =
            swings ? mean_about(sums, i, s->cycle, s->from, s->to) : mean_about(sums, i, SMOOTH_LIGHT_S / hop_s, 0, n);
    }
}
