/* beside.c - how loud is what sounds beside a voice, in the place of each harmonic.
 *
 * Half-way between two harmonics a frame shows all that is not the voice (harmonics.c). What an instrument or another
 * voice sounds stands still for a while; the harmonic that it lies upon hides it, and it shows beside its neighbours or
 * once the vibrato has carried the harmonic away. Where partials lie at random against the harmonics, the mean over
 * several of these places and over a note is what is to be expected on a harmonic itself. An instrument that plays the
 * very notes that are sung is not seen. */
#include "dsp/dsp.h"
#include "tract/harmonics.h"
#include "tract/tract-tuning.h"

#include <math.h>

static double power_of(float db)
{
    return pow(10.0, (double)db / 10.0);
}

/* Mean of the powers of harmonics k - reach .. k + reach. */
static double mean_about(const double *power, guint n, guint k, guint reach)
{
    guint from = k > reach ? k - reach : 0, to = MIN(k + reach + 1, n);
    double sum = 0.0;

    for (guint i = from; i < to; i++)
        sum += power[i];
    return sum / (to - from);
}

void tract_beside_mark(tract_harmonic_frame *frames, guint n_frames)
{
    double mean[APERTA_HARMONICS_MAX] = {0}, here[APERTA_HARMONICS_MAX];
    guint n[APERTA_HARMONICS_MAX] = {0}, most = 0;

    for (guint i = 0; i < n_frames; i++) {
        most = MAX(most, frames[i].n);
        for (guint k = 0; k < frames[i].n; k++) {
            mean[k] += power_of(frames[i].noise_db[k]);
            n[k]++;
        }
    }
    for (guint k = 0; k < most; k++)
        mean[k] /= n[k];
    for (guint i = 0; i < n_frames; i++) {
        tract_harmonic_frame *frame = &frames[i];
        frame->accompanied = TRUE;
        for (guint k = 0; k < frame->n; k++)
            here[k] = power_of(frame->noise_db[k]);
        for (guint k = 0; k < frame->n; k++) {
            double beside =
                MAX(mean_about(here, frame->n, k, TRACT_BESIDE_REACH), mean_about(mean, most, k, TRACT_BESIDE_REACH));
            frame->noise_db[k] = (float)MAX((double)frame->noise_db[k], aperta_power_to_db(beside));
        }
    }
}
