/* smooth.c - curves without their vibrato.
 *
 * The mean over exactly one cycle is zero for a vibrato of that rate and keeps the place of a step. So the rate is
 * looked for around each moment (vibrato.c), and where there is none the curve is only lightly smoothed: fast notes
 * keep their edges. */
#include "pitch/pitch-private.h"

#include <math.h>

#define LOOK_S           0.45 /* window in which a rate is looked for: 2 cycles of a slow vibrato */
#define LOOK_STEP        4    /* frames between looks */
#define LIGHT_S          0.03
#define EXTENT_MAX_CENTS 250.0 /* wider than any vibrato; then it is a run of notes */

/* Mean of curve over length frames about i; near an edge the window is moved inside. */
static double mean_about(const double *sums, guint n, guint i, double length)
{
    double half = MIN(length, n) / 2.0;
    double centre = CLAMP(i + 0.5, half, n - half);
    double from = centre - half, to = centre + half;
    guint a = (guint)from, b = (guint)to;
    double low = sums[a] + (from - a) * (sums[MIN(a + 1, n)] - sums[a]);
    double high = sums[b] + (to - b) * (sums[MIN(b + 1, n)] - sums[b]);

    return (high - low) / (to - from);
}

static void smooth(double *curve, guint n, const float *lengths)
{
    g_autofree double *sums = g_new(double, n + 1);

    sums[0] = 0.0;
    for (guint i = 0; i < n; i++)
        sums[i + 1] = sums[i] + curve[i];
    for (guint i = 0; i < n; i++)
        curve[i] = mean_about(sums, n, i, lengths[i]);
}

void pitch_remove_vibrato(const double *cents, guint n, double hop_s, double *curve_a, double *curve_b)
{
    g_autofree float *lengths = g_new(float, n);
    guint look = (guint)(LOOK_S / hop_s);
    float light = (float)(LIGHT_S / hop_s);

    for (guint i = 0; i < n; i++)
        lengths[i] = light;
    for (guint i = 0; i < n && n >= look; i += LOOK_STEP) {
        guint from = CLAMP((int)i - (int)look / 2, 0, (int)(n - look));
        pitch_sine sine = pitch_fit_sine(cents + from, look, hop_s);
        if (sine.share < VIBRATO_FIT_MIN || sine.extent_cents < VIBRATO_EXTENT_MIN_CENTS ||
            sine.extent_cents > EXTENT_MAX_CENTS)
            continue;
        for (guint k = i; k < MIN(i + LOOK_STEP, n); k++)
            lengths[k] = (float)(1.0 / (sine.rate_hz * hop_s));
    }
    smooth(curve_a, n, lengths);
    smooth(curve_b, n, lengths);
}
