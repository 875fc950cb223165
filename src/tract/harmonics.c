/* Levels of the harmonics of a voice whose fundamental is known and moves.
 *
 * Method. Around each frame the sound is read at equal steps of the fundamental's phase instead of time, so that a
 * voice in vibrato or portamento becomes strictly periodic ("time warping"; the fundamental is taken as linear in time
 * within the window). An even number of periods, four or what 13 ms need, is weighted with a Hann window and folded
 * into two periods; their Fourier transform has the harmonics at its even bins and, half-way between them, what is not
 * harmonic at its odd ones. For a whole number of periods >= 4 the Hann window has zeros at all other harmonics and at
 * the half-way points, so the harmonics are orthogonal and the transform is the least-squares fit of all of them.
 *
 * The fundamental is then refined by instantaneous frequency: the phase of harmonic k between neighbouring frames
 * advances by k times the true fundamental, and the fundamental that agrees best with the harmonics, each weighted by
 * k^2 times its power, is sum k w f_k / sum k^2 w (the estimator of Flanagan & Golden 1966 pooled over harmonics, as in
 * Kawahara's refinements). A second pass measures the levels with it.
 *
 * Limits. A level is an average over the window (13 to 30 ms, a third of it effective): a vibrato of 6 Hz loses 1 % of
 * its swing. Sound that the room returns from earlier moments of a vibrato is not told from the direct sound; part of
 * it appears in the noise estimate.
 */
#include "tract/harmonics.h"

#include <complex.h>
#include <math.h>
#include <string.h>

#include "dsp/dsp.h"
#include "dsp/pair.h"
#include "tract/tract-tuning.h"

enum {
    TAPS = 16,           /* samples that make one interpolated sample */
    PHASES = 128,        /* positions between two samples that are tabulated; linear between them */
    LOG2_PERIOD_MIN = 4, /* interpolated samples per period: 16 .. 1024 */
    LOG2_PERIOD_MAX = 10,
    REFINE_HARMONICS = 8, /* the lowest ones decide on the fundamental */
};

struct tract_harmonics {
    double rate_hz;
    double band_hz;
    guint frames_max;
    tract_harmonic_frame *frames;
    double complex (*low)[REFINE_HARMONICS]; /* first pass: the lowest harmonics of each frame */
    double *f0_hz;                           /* of each frame, as assumed */
    double *time_s;
    double *shift_hz; /* correction between a frame and the next; NaN where they are not neighbours */
    dsp_pair kernel[PHASES + 1][TAPS / 2];
    double *period;                     /* two folded periods */
    dsp_fft *ffts[LOG2_PERIOD_MAX + 2]; /* by log2 of the size */
};

/* ---- create, destroy ------------------------------------------------------------------------------------------- */

/* kernels[p][i / 2][i % 2] weighs the sample at offset i - TAPS/2 + 1 for a position p / PHASES beyond the sample at
 * offset 0. */
static void fill_kernel(dsp_pair kernels[PHASES + 1][TAPS / 2])
{
    for (int p = 0; p <= PHASES; p++) {
        double kernel[TAPS], sum = 0.0;
        for (int i = 0; i < TAPS; i++) {
            double x = (double)p / PHASES - (i - TAPS / 2 + 1);
            double reach = x / (TAPS / 2);
            double window = fabs(reach) < 1.0 ? dsp_bessel_i0(TRACT_HARMONICS_KAISER_BETA * sqrt(1.0 - reach * reach)) /
                                                    dsp_bessel_i0(TRACT_HARMONICS_KAISER_BETA)
                                              : 0.0;
            kernel[i] = window * (x == 0.0 ? 1.0 : sin(G_PI * x) / (G_PI * x));
            sum += kernel[i];
        }
        for (int i = 0; i < TAPS; i++)
            kernels[p][i / 2][i % 2] = kernel[i] / sum;
    }
}

tract_harmonics *tract_harmonics_create(int sample_rate_hz, double band_hz, guint frames_max)
{
    tract_harmonics *harmonics = g_new0(tract_harmonics, 1);
    harmonics->rate_hz = sample_rate_hz;
    harmonics->band_hz = MIN(band_hz, 0.46 * sample_rate_hz);
    harmonics->frames_max = frames_max;
    harmonics->frames = g_new0(tract_harmonic_frame, frames_max);
    harmonics->low = g_malloc0_n(frames_max, sizeof *harmonics->low);
    harmonics->f0_hz = g_new0(double, frames_max);
    harmonics->time_s = g_new0(double, frames_max);
    harmonics->shift_hz = g_new0(double, frames_max);
    harmonics->period = g_new0(double, 2u << LOG2_PERIOD_MAX);
    for (int log2 = LOG2_PERIOD_MIN + 1; log2 <= LOG2_PERIOD_MAX + 1; log2++)
        harmonics->ffts[log2] = dsp_fft_create(1u << log2);
    fill_kernel(harmonics->kernel);
    return harmonics;
}

void tract_harmonics_destroy(tract_harmonics *harmonics)
{
    if (harmonics == NULL)
        return;
    for (int log2 = LOG2_PERIOD_MIN + 1; log2 <= LOG2_PERIOD_MAX + 1; log2++)
        dsp_fft_destroy(harmonics->ffts[log2]);
    g_free(harmonics->period);
    g_free(harmonics->shift_hz);
    g_free(harmonics->time_s);
    g_free(harmonics->f0_hz);
    g_free(harmonics->low);
    g_free(harmonics->frames);
    g_free(harmonics);
}

/* ---- one frame ------------------------------------------------------------------------------------------------- */

/* A window: so many periods around a moment, the fundamental moving linearly through it. */
typedef struct {
    double time_s;
    double f0_hz;
    double period_s;
    double slope_hz_per_s;
    int periods;
    int log2_steps; /* interpolated samples per period */
} warp;

static warp warp_at(const tract_harmonics *harmonics, double time_s, double f0_hz, double slope_hz_per_s)
{
    warp w = {time_s, f0_hz, 1.0 / f0_hz, slope_hz_per_s, 0, LOG2_PERIOD_MIN};
    w.periods = 2 * (int)ceil(MAX(TRACT_HARMONICS_PERIODS_MIN, TRACT_HARMONICS_WINDOW_MIN_S * f0_hz) / 2.0);
    while (w.log2_steps < LOG2_PERIOD_MAX && (1 << w.log2_steps) * f0_hz < harmonics->rate_hz)
        w.log2_steps++;
    return w;
}

/* Seconds from the window's centre to where the fundamental has turned by so many periods; the series inverse of
 * f0 t + slope t^2 / 2. */
static double warp_time_s(const warp *w, double periods)
{
    double t = periods * w->period_s, bend = w->slope_hz_per_s * t * w->period_s;
    return t * (1.0 - bend / 2.0 + bend * bend / 2.0);
}

static gboolean warp_fits(const tract_harmonics *harmonics, const tract_sound *s, const warp *w)
{
    double reach_s = 1.1 * w->periods / 2.0 / w->f0_hz + TAPS / harmonics->rate_hz;
    double end_s = s->start_s + (double)s->n / harmonics->rate_hz;
    return w->time_s - reach_s > s->start_s && w->time_s + reach_s < end_s;
}

/* Weighs with the tabulated kernels before and after the position, and goes between them along a straight line. Two
 * sums each, of every second sample: a processor adds them at the same time. */
static double sample_at(const tract_harmonics *harmonics, const tract_sound *s, double position)
{
    gssize whole = (gssize)position; /* never negative */
    double phase = (position - (double)whole) * PHASES;
    int p = MIN((int)phase, PHASES - 1);
    double part = phase - p;
    dsp_pair low = {0.0, 0.0}, high = {0.0, 0.0};
    const dsp_pair *kernel = harmonics->kernel[p], *next = harmonics->kernel[p + 1];
    const float *x = s->samples + whole - TAPS / 2 + 1;
    for (int i = 0; i < TAPS / 2; i++) {
        dsp_pair samples = dsp_pair_of_floats(x + 2 * i);
        low += kernel[i] * samples;
        high += next[i] * samples;
    }
    double sum = low[0] + low[1];
    return sum + part * (high[0] + high[1] - sum);
}

/* Bins of the two folded periods: harmonic k at 2 k, as the complex amplitude of a cosine at the window's centre. */
static const double complex *warp_bins(tract_harmonics *harmonics, const tract_sound *s, const warp *w)
{
    int steps = 1 << w->log2_steps, size = 2 * steps, half = w->periods / 2 * steps;
    double *period = harmonics->period;
    double centre = (w->time_s - s->start_s) * harmonics->rate_hz, per_half = 1.0 / half, per_step = 1.0 / steps;
    memset(period, 0, sizeof *period * (gsize)size);
    double turn_c = cos(G_PI / half), turn_s = sin(G_PI / half), c = -1.0, sine = 0.0;
    for (int i = -half + 1; i < half; i++) {
        double next = c * turn_c - sine * turn_s;
        sine = sine * turn_c + c * turn_s;
        c = next;
        double weight = (1.0 + c) * per_half; /* the Hann window, so scaled that a cosine shows its amplitude */
        double value = sample_at(harmonics, s, centre + warp_time_s(w, i * per_step) * harmonics->rate_hz);
        period[(i + 2 * half) & (size - 1)] += weight * value;
    }
    dsp_fft *fft = harmonics->ffts[w->log2_steps + 1];
    memcpy(dsp_fft_samples(fft), period, sizeof *period * (gsize)size);
    dsp_fft_forward(fft, NULL, NULL);
    return dsp_fft_bins(fft);
}

static double slope_at(const tract_harmonics *harmonics, guint i, guint n, double hop_s)
{
    guint before = i > 0 && harmonics->time_s[i] - harmonics->time_s[i - 1] < 1.5 * hop_s ? i - 1 : i;
    guint after = i + 1 < n && harmonics->time_s[i + 1] - harmonics->time_s[i] < 1.5 * hop_s ? i + 1 : i;
    if (before == after)
        return 0.0;
    return (harmonics->f0_hz[after] - harmonics->f0_hz[before]) /
           (harmonics->time_s[after] - harmonics->time_s[before]);
}

static double power_db(double complex bin)
{
    return aperta_power_to_db(0.5 * creal(bin * conj(bin))); /* of the RMS of a cosine */
}

/* Mean power half-way between harmonics around harmonic k, as far as there is anything. */
static double noise_db_near(const double complex *bins, guint k, guint n)
{
    double power = 0.0;
    int used = 0;
    for (int j = -2; j < 2; j++) {
        int bin = 2 * ((int)k + j) + 1;
        if (bin >= 1 && bin <= (int)(2 * n + 1)) {
            power += creal(bins[bin] * conj(bins[bin]));
            used++;
        }
    }
    return aperta_power_to_db(0.5 * power / MAX(used, 1));
}

static void fill_frame(const tract_harmonics *harmonics, const warp *w, const double complex *bins,
                       tract_harmonic_frame *frame)
{
    frame->time_s = w->time_s;
    frame->f0_hz = w->f0_hz;
    frame->accompanied = FALSE;
    guint most = MIN((guint)APERTA_HARMONICS_MAX, (1u << w->log2_steps) / 2 - 1);
    frame->n = MIN(most, (guint)(harmonics->band_hz / w->f0_hz));
    for (guint k = 1; k <= frame->n; k++) {
        frame->level_db[k - 1] = (float)power_db(bins[2 * k]);
        frame->noise_db[k - 1] = (float)noise_db_near(bins, k, frame->n);
    }
}

/* ---- a note ---------------------------------------------------------------------------------------------------- */

static guint list_frames(tract_harmonics *harmonics, const tract_sound *s, const aperta_f0_track *track,
                         const tract_stretch *stretch, const guint8 *steady)
{
    guint n = 0;
    for (guint i = 0; i < stretch->n && n < harmonics->frames_max; i++) {
        guint frame = stretch->first + i * stretch->stride;
        double f0_hz = (double)track->frames[frame].f0_hz;
        if (!steady[i] || f0_hz < TRACT_HARMONICS_F0_MIN_HZ)
            continue;
        warp w = warp_at(harmonics, aperta_f0_track_time_s(track, frame), f0_hz, 0.0);
        if (!warp_fits(harmonics, s, &w))
            continue;
        harmonics->time_s[n] = w.time_s;
        harmonics->f0_hz[n] = f0_hz;
        n++;
    }
    return n;
}

/* How much higher than assumed the fundamental was between frames i and i + 1. */
static double shift_between(const tract_harmonics *harmonics, guint i)
{
    double hop_s = harmonics->time_s[i + 1] - harmonics->time_s[i];
    double turns = hop_s * (harmonics->f0_hz[i] + harmonics->f0_hz[i + 1]) / 2.0;
    double sum = 0.0, weights = 0.0, best = 0.0;
    for (int k = 1; k <= REFINE_HARMONICS; k++) {
        double complex product = harmonics->low[i + 1][k - 1] * conj(harmonics->low[i][k - 1]);
        double power = cabs(product);
        if (power <= 0.0)
            continue;
        double excess = carg(product) / (2.0 * G_PI) - k * turns - k * best * hop_s;
        excess -= round(excess);
        double weight = power * k * k; /* the pooled estimate so far says which turn harmonic k is in */
        sum += weight * (best + excess / (k * hop_s));
        weights += weight;
        best = sum / weights;
    }
    return best;
}

static void refine(tract_harmonics *harmonics, const tract_sound *s, guint n, double hop_s)
{
    for (guint i = 0; i < n; i++) {
        warp w = warp_at(harmonics, harmonics->time_s[i], harmonics->f0_hz[i], slope_at(harmonics, i, n, hop_s));
        const double complex *bins = warp_bins(harmonics, s, &w);
        for (int k = 1; k <= REFINE_HARMONICS; k++)
            harmonics->low[i][k - 1] = 2 * k <= (1 << w.log2_steps) ? bins[2 * k] : 0.0;
    }
    for (guint i = 0; i < n; i++) {
        gboolean neighbours = i + 1 < n && harmonics->time_s[i + 1] - harmonics->time_s[i] < 1.5 * hop_s;
        harmonics->shift_hz[i] = neighbours ? shift_between(harmonics, i) : NAN;
    }
    for (guint i = 0; i < n; i++) {
        double before = i > 0 ? harmonics->shift_hz[i - 1] : NAN, after = harmonics->shift_hz[i];
        double shift = isnan(before) ? after : isnan(after) ? before : (before + after) / 2.0;
        if (!isnan(shift) && fabs(shift) < TRACT_HARMONICS_SHIFT_MAX * harmonics->f0_hz[i])
            harmonics->f0_hz[i] += shift;
    }
}

guint tract_harmonics_read(tract_harmonics *harmonics, const tract_sound *sound, const aperta_f0_track *track,
                           const tract_stretch *stretch, const guint8 *steady, tract_harmonic_frame **frames)
{
    guint n = list_frames(harmonics, sound, track, stretch, steady);
    double hop_s = stretch->stride * track->hop_s;
    refine(harmonics, sound, n, hop_s);
    for (guint i = 0; i < n; i++) {
        warp w = warp_at(harmonics, harmonics->time_s[i], harmonics->f0_hz[i], slope_at(harmonics, i, n, hop_s));
        fill_frame(harmonics, &w, warp_bins(harmonics, sound, &w), &harmonics->frames[i]);
    }
    *frames = harmonics->frames;
    return n;
}
