/* smooth.c - curves without their vibrato.
 *
 * The mean over exactly one cycle is zero for a vibrato of that rate and keeps the place of a step. So the rate is
 * looked for around each moment (vibrato.c), and where there is none the curve is only lightly smoothed: fast notes
 * keep their edges. */
#include "pitch/pitch-private.h"

#include <math.h>

#define LOOK_S           0.38 /* window in which a rate is looked for: 2 cycles of a slow vibrato */
#define LOOK_STEP        3    /* frames between looks */
#define LOOK_MAX         128  /* frames */
#define LIGHT_S          0.03
#define EXTENT_MAX_CENTS 250.0 /* wider than any vibrato; then it is a run of notes */

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
        curve[i] = swings ? mean_about(sums, i, s->cycle, s->from, s->to) : mean_about(sums, i, LIGHT_S / hop_s, 0, n);
    }
}

/* Size of the step, wherever in the window it explains most, in what the sine leaves of the curve. */
static double step_cents(const double *cents, guint n, double hop_s, const pitch_sine *sine)
{
    double rest[LOOK_MAX], total = 0.0, left = 0.0, best = 0.0, size = 0.0;

    for (guint i = 0; i < n; i++) {
        double angle = 2.0 * G_PI * sine->rate_hz * hop_s * (i - (n - 1) / 2.0);
        rest[i] = cents[i] - cents[0] - sine->cosine * cos(angle) - sine->sine * sin(angle);
        total += rest[i];
    }
    for (guint i = 1; i < n; i++) {
        left += rest[i - 1];
        double step = (total - left) / (n - i) - left / i;
        double explained = step * step * i * (n - i);
        if (explained > best) {
            best = explained;
            size = fabs(step);
        }
    }
    return size;
}

static gboolean is_vibrato(const double *cents, guint n, double hop_s, const pitch_sine *sine)
{
    return sine->share >= SMOOTH_FIT_MIN && sine->extent_cents >= VIBRATO_EXTENT_MIN_CENTS &&
           sine->extent_cents <= EXTENT_MAX_CENTS && step_cents(cents, n, hop_s, sine) <= SMOOTH_STEP_CENTS;
}

static void find_sines(const double *cents, guint n, double hop_s, pitch_stretch *stretches)
{
    guint look = MIN((guint)(LOOK_S / hop_s), LOOK_MAX);

    for (guint from = 0; from + look <= n; from += LOOK_STEP) {
        pitch_sine sine = pitch_fit_sine(cents + from, look, hop_s);
        if (!is_vibrato(cents + from, look, hop_s, &sine))
            continue;
        for (guint i = from; i < from + look; i++)
            if (sine.share > stretches[i].share)
                stretches[i] =
                    (pitch_stretch){(float)(1.0 / (sine.rate_hz * hop_s)), (float)sine.share, from, from + look};
    }
}

pitch_stretch *pitch_find_vibrato(const double *cents, guint n, double hop_s)
{
    pitch_stretch *stretches = g_new0(pitch_stretch, n);

    find_sines(cents, n, hop_s, stretches);
    pitch_find_swings(cents, n, hop_s, stretches);
    return stretches;
}
