/* levels.c - levels of the harmonics of a note: the spectrum of a Gaussian window read at the multiples of f0. The
 * window is long enough for a harmonic's line to vanish before the next one. */
#include "dsp/dsp.h"
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <math.h>

struct tract_levels {
    int rate_hz;
    double top_hz;
    dsp_fft *fft;
    double *window;
    double *power;
};

tract_levels *tract_levels_create(const aperta_tract_config *config)
{
    tract_levels *levels = g_new0(tract_levels, 1);
    guint n_fft = 8;

    while (n_fft < TRACT_WINDOW_MAX_S * config->sample_rate_hz)
        n_fft *= 2;
    levels->rate_hz = config->sample_rate_hz;
    levels->top_hz = fmin(TRACT_LEVELS_TOP_HZ, 0.48 * config->sample_rate_hz); /* no line folds over the end */
    if (config->band_hz > 0)
        levels->top_hz = fmin(levels->top_hz, config->band_hz);
    levels->fft = dsp_fft_create(n_fft);
    levels->window = g_new0(double, n_fft);
    levels->power = g_new0(double, n_fft / 2 + 1);
    return levels;
}

void tract_levels_destroy(tract_levels *levels)
{
    if (levels == NULL)
        return;
    dsp_fft_destroy(levels->fft);
    g_free(levels->window);
    g_free(levels->power);
    g_free(levels);
}

/* Returns what brings a line's log power to dB re full scale: a line of amplitude A has (A / 2 * sum of window)^2 and
 * the level of A^2 / 2. */
static double set_window(tract_levels *levels, double f0_hz, guint *length)
{
    double length_s = CLAMP(TRACT_LEVELS_PERIODS / f0_hz, TRACT_WINDOW_MIN_S, TRACT_WINDOW_MAX_S);
    double sum = 0;

    *length = (guint)(length_s * levels->rate_hz);
    dsp_window_gauss(levels->window, *length, TRACT_LEVELS_SIGMA);
    for (guint i = 0; i < *length; i++)
        sum += levels->window[i];
    return 10 * log10(2 / (sum * sum));
}

static void add_frame(tract_levels *levels, const tract_sound *sound, double time_s, double f0_hz, guint length,
                      guint n_harmonics, double *sum_db)
{
    double *samples = dsp_fft_samples(levels->fft);
    guint n_fft = dsp_fft_size(levels->fft);

    tract_sound_cut(sound, time_s, length, samples);
    for (guint i = 0; i < n_fft; i++)
        samples[i] = i < length ? samples[i] * levels->window[i] : 0;
    dsp_fft_power(levels->fft, NULL, levels->power);
    for (guint k = 1; k <= n_harmonics; k++) {
        double bin = fmin(k * f0_hz * n_fft / levels->rate_hz, n_fft / 2);
        double power = exp(dsp_log_power_at(levels->power, n_fft / 2 + 1, bin));
        sum_db[k - 1] += aperta_power_to_db(power);
    }
}

void tract_levels_read(tract_levels *levels, const tract_sound *sound, const aperta_f0_track *track,
                       const aperta_note *note, const tract_stretch *stretch, const guint8 *steady,
                       aperta_tract_reading *reading)
{
    double sum_db[APERTA_HARMONICS_MAX] = {0};
    guint n_harmonics = MIN((guint)(levels->top_hz / note->f0_hz), APERTA_HARMONICS_MAX);
    guint length;
    guint n_steady = 0;
    guint n_read = 0;
    double scale_db = set_window(levels, note->f0_hz, &length);

    for (guint i = 0; i < stretch->n; i++) {
        guint frame = stretch->first + i * stretch->stride;
        if (!steady[i] || n_steady++ % TRACT_LEVELS_STRIDE != 0)
            continue;
        add_frame(levels, sound, aperta_f0_track_time_s(track, frame), track->frames[frame].f0_hz, length, n_harmonics,
                  sum_db);
        n_read++;
    }
    reading->n_harmonics = n_read > 0 ? (int)n_harmonics : 0;
    for (int k = 0; k < reading->n_harmonics; k++)
        reading->harmonics[k] = (aperta_harmonic){k + 1, (k + 1) * note->f0_hz, sum_db[k] / n_read + scale_db};
}
