/* partials.c - the sinusoids of a long window: what stands still in pitch shows there as a narrow peak.
 *
 * Peaks of a Blackman-windowed spectrum, placed by a parabola through the logarithm of three bins (as McAulay &
 * Quatieri 1986, IEEE Trans. Acoust. Speech Signal Process. 34:744-754, pick theirs). The window's side lobes lie 58 dB
 * down, so that a strong harmonic grows no false neighbours. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>

enum { N_FLOORS = (int)(PARTIAL_BAND_HIGH_HZ / PARTIAL_FLOOR_BAND_HZ) + 1, FLOOR_BINS_MAX = 128 };

struct pitch_partial_finder {
    guint n;
    double hz_per_bin;
    double power_scale; /* power of a bin at a sinusoid's top to its mean square */
    double *window;
    double *power;
    dsp_fft *fft;
};

pitch_partial_finder *pitch_partial_finder_create(int sample_rate_hz)
{
    pitch_partial_finder *finder = g_new0(pitch_partial_finder, 1);
    double sum = 0.0;

    finder->n = 64;
    while (finder->n < PARTIAL_WINDOW_S * sample_rate_hz)
        finder->n *= 2;
    finder->hz_per_bin = (double)sample_rate_hz / finder->n;
    finder->window = g_new(double, finder->n);
    dsp_window_blackman(finder->window, finder->n);
    for (guint i = 0; i < finder->n; i++)
        sum += finder->window[i];
    finder->power_scale = 2.0 / (sum * sum);
    finder->power = g_new(double, finder->n / 2 + 1);
    finder->fft = dsp_fft_create(finder->n);
    return finder;
}

void pitch_partial_finder_destroy(pitch_partial_finder *finder)
{
    if (finder == NULL)
        return;
    g_free(finder->window);
    g_free(finder->power);
    dsp_fft_destroy(finder->fft);
    g_free(finder);
}

guint pitch_partial_finder_reach(const pitch_partial_finder *finder)
{
    return finder->n / 2;
}

/* A low quantile of the power in each band: what lies between the peaks. */
static void measure_floors(const pitch_partial_finder *finder, double floors[N_FLOORS])
{
    guint width = MIN((guint)(PARTIAL_FLOOR_BAND_HZ / finder->hz_per_bin), FLOOR_BINS_MAX);

    for (guint b = 0; b < N_FLOORS; b++) {
        double values[FLOOR_BINS_MAX];
        guint from = MIN(b * width, finder->n / 2 + 1 - width);
        for (guint k = 0; k < width; k++)
            values[k] = finder->power[from + k];
        floors[b] = dsp_quantile(values, width, PARTIAL_FLOOR_SHARE);
    }
}

/* Keeps the strongest PARTIALS_MAX, in order of frequency. */
static void keep(pitch_partial *partials, guint *n, const pitch_partial *p)
{
    guint weakest = 0;

    if (*n < PARTIALS_MAX) {
        partials[(*n)++] = *p;
        return;
    }
    for (guint i = 1; i < *n; i++)
        if (partials[i].tenth_db < partials[weakest].tenth_db)
            weakest = i;
    if (partials[weakest].tenth_db >= p->tenth_db)
        return;
    for (guint i = weakest; i + 1 < *n; i++)
        partials[i] = partials[i + 1];
    partials[*n - 1] = *p;
}

guint pitch_partials_find(pitch_partial_finder *finder, const float *centre, pitch_partial partials[PARTIALS_MAX])
{
    double *in = dsp_fft_samples(finder->fft);
    const float *from = centre - finder->n / 2;
    double floors[N_FLOORS], strongest = 0.0;
    guint low = (guint)ceil(PARTIAL_BAND_LOW_HZ / finder->hz_per_bin), found = 0;
    guint high = MIN((guint)(PARTIAL_BAND_HIGH_HZ / finder->hz_per_bin), finder->n / 2 - 1);
    const double *power = finder->power;

    for (guint i = 0; i < finder->n; i++)
        in[i] = finder->window[i] * from[i];
    dsp_fft_power(finder->fft, NULL, finder->power);
    measure_floors(finder, floors);
    for (guint k = low; k <= high; k++)
        strongest = MAX(strongest, power[k]);
    double least = MAX(strongest * pow(10.0, -PARTIAL_RANGE_DB / 10.0), PARTIAL_SILENCE / finder->power_scale);
    double over = pow(10.0, PARTIAL_OVER_FLOOR_DB / 10.0);
    for (guint k = low; k <= high; k++) {
        double floor = floors[MIN((guint)(k * finder->hz_per_bin / PARTIAL_FLOOR_BAND_HZ), N_FLOORS - 1)];
        if (power[k] < power[k - 1] || power[k] <= power[k + 1] || power[k] < least || power[k] < over * floor)
            continue;
        double a = log(power[k - 1] + 1e-30), b = log(power[k]), c = log(power[k + 1] + 1e-30);
        double shift, top = exp(dsp_parabolic_peak(a, b, c, &shift));
        pitch_partial p = {.tenth_hz = (guint16)((k + shift) * finder->hz_per_bin * 10.0 + 0.5),
                           .tenth_db = (gint16)(10.0 * aperta_power_to_db(top * finder->power_scale))};
        keep(partials, &found, &p);
    }
    return found;
}
