/* cycles.c - where a curve has vibrato, and how long its cycle is there.
 *
 * A rate is looked for around each moment (vibrato.c): a window in which a sine explains most of the curve and leaves
 * no step. What is too uneven for that is looked for by its turns (swings.c). */
#include "pitch/pitch-private.h"

#include <math.h>

/* Size of the step, wherever in the window it explains most, in what the sine leaves of the curve. */
static double step_cents(const double *cents, guint n, double hop_s, const pitch_sine *sine)
{
    double rest[SMOOTH_LOOK_MAX], total = 0.0, left = 0.0, best = 0.0, size = 0.0;

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
           sine->extent_cents <= SMOOTH_EXTENT_MAX_CENTS && step_cents(cents, n, hop_s, sine) <= SMOOTH_STEP_CENTS;
}

static void find_sines(const double *cents, guint n, double hop_s, pitch_stretch *stretches)
{
    guint look = MIN((guint)(SMOOTH_LOOK_S / hop_s), SMOOTH_LOOK_MAX);

    for (guint from = 0; from + look <= n; from += SMOOTH_LOOK_STEP) {
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
