/* candidates.c - the pitches that one frame may have.
 *
 * Method: autocorrelation of the compressed spectrum (Tolonen & Karjalainen 2000, IEEE Trans. Speech Audio Process.
 * 8:708-716), normalised by the window's own autocorrelation as Boersma 1993 (Proc. Inst. Phonetic Sciences Amsterdam
 * 17:97-110) does for the plain one. The compressed correlation decides the octave, since weak harmonics count in it;
 * the plain correlation decides the voicing, since noise does not count in it more than it sounds. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>
#include <string.h>

enum { N_SHAPE_BANDS = 14, SHAPE_DELAY = 2, N_FLOOR_BANDS = 8, FLOOR_BINS_MAX = 128 };

/* One of the two windows with what belongs to it. */
typedef struct {
    guint window_n;
    guint fft_n;
    double *window;
    double *weight;             /* of the power at each bin, fft_n/2 + 1 */
    double *per_lag_plain;      /* one over the window's own autocorrelation, 0..fft_n/2, 1 at 0 */
    double *per_lag_compressed; /* the same for the compressed spectrum of one tone */
    dsp_fft *fft;
    double *power; /* fft_n/2 + 1 */
    double *plain; /* normalised correlations, fft_n/2 + 1 */
    double *compressed;
    double floor_db[N_FLOOR_BANDS];
    double low_hz, high_hz; /* pitches it serves */
} listener;

struct pitch_finder {
    int rate_hz;
    double hop_s;
    listener slow, quick;
    guint shape_bins[N_SHAPE_BANDS + 1];       /* borders, bins of the quick listener */
    double shapes[SHAPE_DELAY][N_SHAPE_BANDS]; /* of the frames before, a ring */
    guint n_frames;
};

/* Turns l->power, compressed or not, into a correlation normalised by the window's that belongs to it. */
static void correlate(listener *l, int rate_hz, gboolean compressed, double *restrict r)
{
    double complex *bins = dsp_fft_bins(l->fft);
    const double *restrict per_lag = compressed ? l->per_lag_compressed : l->per_lag_plain;
    guint low = (guint)ceil(PITCH_BAND_LOW_HZ * l->fft_n / rate_hz);
    guint high = MIN((guint)floor(PITCH_BAND_HIGH_HZ * l->fft_n / rate_hz), l->fft_n / 2);

    memset(bins, 0, (l->fft_n / 2 + 1) * sizeof *bins);
    for (guint k = low; k <= high; k++)
        bins[k] = compressed ? PITCH_COMPRESS(l->power[k] * l->weight[k]) : l->power[k] * l->weight[k];
    dsp_fft_inverse(l->fft, NULL, NULL);
    const double *restrict lags = dsp_fft_samples(l->fft);
    double scale = lags[0] > 0.0 ? 1.0 / lags[0] : 0.0;
    for (guint i = 0; i <= l->fft_n / 2; i++)
        r[i] = lags[i] * scale * per_lag[i];
}

static void take_power(listener *l, const float *centre)
{
    double *in = dsp_fft_samples(l->fft);
    const float *from = centre - l->window_n / 2;

    memset(in, 0, l->fft_n * sizeof *in);
    for (guint i = 0; i < l->window_n; i++)
        in[i] = l->window[i] * from[i];
    dsp_fft_power(l->fft, NULL, l->power);
}

/* What a steady tone's correlation looks like through the window: measured on the window itself, moved into the band.
 */
static void correlate_window(listener *l)
{
    double *in = dsp_fft_samples(l->fft);
    double *curves[2] = {l->per_lag_plain, l->per_lag_compressed};

    for (int c = 0; c < 2; c++) {
        memset(in, 0, l->fft_n * sizeof *in);
        memcpy(in, l->window, l->window_n * sizeof *in);
        dsp_fft_power(l->fft, NULL, l->power);
        double complex *bins = dsp_fft_bins(l->fft);
        for (guint k = 0; k <= l->fft_n / 2; k++)
            bins[k] = c == 0 ? l->power[k] : sqrt(l->power[k]);
        dsp_fft_inverse(l->fft, NULL, NULL);
        const double *lags = dsp_fft_samples(l->fft);
        double zero = lags[0];
        for (guint i = 0; i <= l->fft_n / 2; i++)
            curves[c][i] = 1.0 / MAX(lags[i] / zero, PITCH_LAG_LEAST);
    }
}

static void listener_create(listener *l, int rate_hz, double window_s, double low_hz, double high_hz)
{
    l->window_n = (guint)(window_s * rate_hz / 2.0) * 2;
    l->fft_n = 64;
    /* the tapered ends may wrap a little: that is below 1 % of the correlation */
    while (l->fft_n < l->window_n + rate_hz / low_hz * 0.7 || l->fft_n / 2 < PITCH_RING_LAG_S * rate_hz + 1.0)
        l->fft_n *= 2;
    guint half = l->fft_n / 2 + 1;
    l->window = g_new(double, l->window_n);
    l->weight = g_new(double, half);
    for (guint k = 0; k < half; k++) {
        double x = (double)k * rate_hz / l->fft_n / PITCH_TILT_HZ;
        l->weight[k] = 1.0 / (1.0 + x * x);
    }
    l->per_lag_plain = g_new(double, half);
    l->per_lag_compressed = g_new(double, half);
    l->power = g_new(double, half);
    l->plain = g_new(double, half);
    l->compressed = g_new(double, half);
    l->fft = dsp_fft_create(l->fft_n);
    l->low_hz = low_hz;
    l->high_hz = high_hz;
    dsp_window_hann(l->window, l->window_n);
    correlate_window(l);
}

static void listener_clear(listener *l)
{
    g_free(l->window);
    g_free(l->weight);
    g_free(l->per_lag_plain);
    g_free(l->per_lag_compressed);
    g_free(l->power);
    g_free(l->plain);
    g_free(l->compressed);
    dsp_fft_destroy(l->fft);
}

pitch_finder *pitch_finder_create(const aperta_pitch_config *config)
{
    pitch_finder *finder = g_new0(pitch_finder, 1);

    finder->rate_hz = config->sample_rate_hz;
    finder->hop_s = config->hop_s;
    listener_create(&finder->slow, config->sample_rate_hz, PITCH_LONG_WINDOW_S, config->floor_hz, PITCH_LONG_TO_HZ);
    listener_create(&finder->quick, config->sample_rate_hz, PITCH_SHORT_WINDOW_S, PITCH_SHORT_FROM_HZ,
                    config->ceiling_hz);
    for (int b = 0; b <= N_SHAPE_BANDS; b++) {
        double hz = aperta_bark_to_hz(PITCH_SHAPE_FIRST_BARK + PITCH_SHAPE_WIDTH_BARK * b);
        finder->shape_bins[b] = MIN((guint)(hz * finder->quick.fft_n / finder->rate_hz), finder->quick.fft_n / 2);
    }
    return finder;
}

void pitch_finder_destroy(pitch_finder *finder)
{
    if (finder == NULL)
        return;
    listener_clear(&finder->slow);
    listener_clear(&finder->quick);
    g_free(finder);
}

guint pitch_finder_reach(const pitch_finder *finder)
{
    return (guint)(PITCH_REACH_S * finder->rate_hz);
}

static double preference(const pitch_candidate *c)
{
    return c->strength + PITCH_OCTAVE_BIAS * log2f(c->f0_hz);
}

/* Keeps the best PITCH_CANDIDATES, one for each pitch. */
static void keep_candidate(pitch_frame *frame, const pitch_candidate *c)
{
    int worst = -1;

    for (int i = 0; i < frame->n_candidates; i++) {
        pitch_candidate *other = &frame->candidates[i];
        if (fabs(other->f0_hz / c->f0_hz - 1.0) < PITCH_BOTH_WINDOWS) { /* both windows heard it */
            if (c->strength > other->strength)
                *other = *c;
            return;
        }
        if (worst < 0 || preference(other) < preference(&frame->candidates[worst]))
            worst = i;
    }
    if (frame->n_candidates < PITCH_CANDIDATES)
        frame->candidates[frame->n_candidates++] = *c;
    else if (preference(c) > preference(&frame->candidates[worst]))
        frame->candidates[worst] = *c;
}

static void sort_candidates(pitch_frame *frame)
{
    for (int i = 1; i < frame->n_candidates; i++)
        for (int k = i; k > 0 && preference(&frame->candidates[k]) > preference(&frame->candidates[k - 1]); k--) {
            pitch_candidate c = frame->candidates[k];
            frame->candidates[k] = frame->candidates[k - 1];
            frame->candidates[k - 1] = c;
        }
}

/* The noise between the harmonics: a low quantile of the power in each band of PITCH_FLOOR_BAND_HZ, in dB. */
static void measure_floor(listener *l, int rate_hz)
{
    guint width = MIN((guint)(PITCH_FLOOR_BAND_HZ * l->fft_n / rate_hz), FLOOR_BINS_MAX);
    double peak = 0.0;

    for (guint k = 0; k <= l->fft_n / 2; k++)
        peak = MAX(peak, l->power[k]);
    for (guint b = 0; b < N_FLOOR_BANDS; b++) {
        double values[FLOOR_BINS_MAX];
        memcpy(values, l->power + b * width + 1, width * sizeof *values);
        double low = dsp_quantile(values, width, PITCH_FLOOR_SHARE);
        l->floor_db[b] = aperta_power_to_db(low + PITCH_FLOOR_MIN * peak);
    }
}

/* How far the largest power within a bin of hz stands over the noise there, dB. */
static double over_floor_db(const listener *l, int rate_hz, double hz)
{
    guint k = CLAMP((guint)(hz * l->fft_n / rate_hz + 0.5), 1, l->fft_n / 2 - 1);
    guint band = MIN((guint)(hz / PITCH_FLOOR_BAND_HZ), N_FLOOR_BANDS - 1);

    return aperta_power_to_db(MAX(l->power[k], MAX(l->power[k - 1], l->power[k + 1]))) - l->floor_db[band];
}

/* How many harmonics of f0_hz are really there: each counts 1 when it stands well over the noise, and half against it
 * when it does not. Half the true pitch claims harmonics that are empty, twice the true pitch leaves out half of those
 * that sound, however weak they are beside a strong second one; so the true pitch has the highest count. */
static double count_harmonics(const listener *l, int rate_hz, double f0_hz)
{
    double sum = 0.0;

    for (int k = 1; k * f0_hz < PITCH_COUNT_TO_HZ; k++) {
        double over = over_floor_db(l, rate_hz, k * f0_hz) - PITCH_COUNT_ZERO_DB;
        sum += CLAMP(over / PITCH_COUNT_SLOPE_DB, -PITCH_COUNT_EMPTY, 1.0);
    }
    return sum;
}

static void listen(listener *l, int rate_hz, const float *centre, pitch_frame *frame)
{
    guint first = MAX(2, (guint)floor(rate_hz / l->high_hz) - 1);
    guint last = MIN(l->fft_n / 2 - 1, (guint)ceil(rate_hz / l->low_hz) + 1);

    take_power(l, centre);
    correlate(l, rate_hz, FALSE, l->plain);
    correlate(l, rate_hz, TRUE, l->compressed);
    for (guint i = first; i <= last; i++) {
        const double *r = l->compressed;
        double shift;
        if (r[i] < PITCH_PEAK_MIN || r[i] < r[i - 1] || r[i] <= r[i + 1])
            continue;
        double strength = dsp_parabolic_peak(r[i - 1], r[i], r[i + 1], &shift);
        double at = i + shift, f0_hz = rate_hz / at;
        if (f0_hz < l->low_hz || f0_hz > l->high_hz)
            continue;
        guint near = (guint)(at + 0.5);
        double voicing = MAX(l->plain[near], MAX(l->plain[near - 1], l->plain[near + 1]));
        pitch_candidate c = {(float)f0_hz, (float)CLAMP(strength, 0.0, 1.0), (float)CLAMP(voicing, 0.0, 1.0)};
        keep_candidate(frame, &c);
    }
}

/* Levels of bands equally wide in Bark, less their mean: the shape of the spectrum without its loudness. */
static void band_levels(const pitch_finder *finder, double shape[N_SHAPE_BANDS])
{
    const listener *l = &finder->quick;
    double mean = 0.0;
    double peak = 1e-12;

    for (guint k = 0; k <= l->fft_n / 2; k++)
        peak = MAX(peak, l->power[k]);
    for (int b = 0; b < N_SHAPE_BANDS; b++) {
        guint from = finder->shape_bins[b], to = finder->shape_bins[b + 1];
        double sum = 0.0;
        for (guint k = from; k < to; k++)
            sum += l->power[k];
        shape[b] = aperta_power_to_db(sum / MAX(to - from, 1) + PITCH_BAND_LEAST * peak);
        mean += shape[b] / N_SHAPE_BANDS;
    }
    for (int b = 0; b < N_SHAPE_BANDS; b++)
        shape[b] -= mean;
}

/* Spectral flux: RMS change of the shape, dB per 10 ms. */
static double spectral_flux(pitch_finder *finder, const double shape[N_SHAPE_BANDS])
{
    double *before = finder->shapes[finder->n_frames % SHAPE_DELAY];
    double sum = 0.0;

    if (finder->n_frames >= SHAPE_DELAY)
        for (int b = 0; b < N_SHAPE_BANDS; b++)
            sum += (shape[b] - before[b]) * (shape[b] - before[b]);
    memcpy(before, shape, sizeof finder->shapes[0]);
    return sqrt(sum / N_SHAPE_BANDS) / (SHAPE_DELAY * finder->hop_s / PITCH_PER_S);
}

/* Level of what makes a vowel. A murmur or a voice bar keeps its fundamental and loses this. */
static double sonority_db(const listener *l, int rate_hz)
{
    guint from = (guint)(PITCH_SONORITY_LOW_HZ * l->fft_n / rate_hz);
    guint to = (guint)(PITCH_SONORITY_HIGH_HZ * l->fft_n / rate_hz);
    double sum = 0.0;

    for (guint k = from; k <= to; k++)
        sum += l->power[k];
    return aperta_power_to_db(sum / l->window_n / l->window_n);
}

static double brightness(const listener *l, int rate_hz)
{
    guint border = (guint)(PITCH_BRIGHT_FROM_HZ * l->fft_n / rate_hz);
    double low = 0.0, high = 0.0;

    for (guint k = 1; k < border; k++)
        low += l->power[k];
    for (guint k = border; k <= l->fft_n / 2; k++)
        high += l->power[k];
    return low + high > 0.0 ? high / (low + high) : 0.0;
}

/* Lowers the strength of candidates with fewer harmonics than the best: a harmonic sieve (Duifhuis, Willems & Sluyter
 * 1982, J. Acoust. Soc. Am. 71:1568-1580; from memory, unchecked) that counts what it misses as well. */
static void prefer_full_combs(pitch_finder *finder, pitch_frame *frame)
{
    double counts[PITCH_CANDIDATES], best = PITCH_COUNT_MIN;
    gboolean measured[2] = {FALSE, FALSE};

    for (int i = 0; i < frame->n_candidates; i++) {
        double f0_hz = frame->candidates[i].f0_hz;
        gboolean high = f0_hz >= PITCH_SHORT_FROM_HZ;
        listener *l = high ? &finder->quick : &finder->slow;
        if (!measured[high])
            measure_floor(l, finder->rate_hz);
        measured[high] = TRUE;
        counts[i] = count_harmonics(l, finder->rate_hz, f0_hz);
        best = MAX(best, counts[i]);
    }
    for (int i = 0; i < frame->n_candidates; i++)
        frame->candidates[i].strength -= (float)(PITCH_COUNT_WEIGHT * (1.0 - MAX(counts[i], 0.0) / best));
}

/* Value of a correlation between two lags. */
static double correlation_at(const double *r, double lag)
{
    guint i = (guint)lag;
    double x = lag - i;

    return r[i] + x * (r[i + 1] - r[i]);
}

/* How much more the sound resembles itself after an even number of periods than after an odd one, at lags near at:
 * twice the share of what repeats every second period only. */
static double alternation(const double *r, double period, double at)
{
    int pairs = MAX(1, (int)(at / (2.0 * period) + 0.5));
    double even = 2.0 * pairs * period;

    return correlation_at(r, even) - (correlation_at(r, even - period) + correlation_at(r, even + period)) / 2.0;
}

/* Breath rings in a resonance at half of a high pitch and looks like its lower octave, but it forgets itself within
 * milliseconds, as a harmonic never does. */
static void doubt_ringing(pitch_finder *finder, pitch_frame *frame)
{
    const double *r = finder->quick.plain;
    double far = PITCH_RING_FAR_S * finder->rate_hz;

    for (int i = 0; i < frame->n_candidates; i++)
        for (int k = 0; k < frame->n_candidates; k++) {
            pitch_candidate *high = &frame->candidates[i], *low = &frame->candidates[k];
            if (high->f0_hz < PITCH_RING_FROM_HZ || fabs(high->f0_hz / low->f0_hz - 2.0) > PITCH_RING_OCTAVE)
                continue;
            double period = finder->rate_hz / high->f0_hz;
            double soon = alternation(r, period, 0.0);
            double late = (alternation(r, period, far) + alternation(r, period, far + 2.0 * period)) / 2.0;
            double lasting = soon > 0.0 ? CLAMP(late / soon, 0.0, 1.0) : 0.0;
            low->strength -= (float)(PITCH_RING_WEIGHT * (1.0 - lasting));
            low->voicing -= (float)((1.0 - lasting) * MAX(soon, 0.0) / 2.0);
        }
}

void pitch_finder_frame(pitch_finder *finder, const float *centre, pitch_frame *frame)
{
    double shape[N_SHAPE_BANDS];
    double sum = 0.0, power = 0.0;
    guint half = finder->quick.window_n / 2;
    guint reach = pitch_finder_reach(finder);

    memset(frame, 0, sizeof *frame);
    for (guint i = 0; i < 2 * half; i++) {
        sum += centre[(int)i - (int)half];
        power += centre[(int)i - (int)half] * centre[(int)i - (int)half];
    }
    power -= sum * sum / (2 * half); /* a constant offset is no sound */
    frame->level_db = (float)aperta_power_to_db(power / (2 * half));
    if (frame->level_db > PITCH_SILENCE_DB) {
        listen(&finder->slow, finder->rate_hz, centre, frame);
        listen(&finder->quick, finder->rate_hz, centre, frame);
    } else {
        memset(finder->quick.power, 0, (finder->quick.fft_n / 2 + 1) * sizeof(double));
    }
    band_levels(finder, shape);
    frame->change = (float)spectral_flux(finder, shape);
    frame->sonority_db = (float)sonority_db(&finder->quick, finder->rate_hz);
    frame->brightness = (float)brightness(&finder->quick, finder->rate_hz);
    finder->n_frames++;

    prefer_full_combs(finder, frame);
    sort_candidates(frame);
    for (int i = 0; i < MIN(frame->n_candidates, PITCH_REFINED); i++) {
        pitch_candidate *c = &frame->candidates[i];
        c->f0_hz = (float)pitch_refine_hz(centre, reach, finder->rate_hz, c->f0_hz);
    }
    doubt_ringing(finder, frame);
    sort_candidates(frame);
}
