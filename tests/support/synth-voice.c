/* synth-voice.c - see synth-voice.h */
#include "synth-voice.h"

#include "synth-random.h"

#include <fftw3.h>
#include <math.h>
#include <string.h>

#define HARMONICS_MAX 512
#define FADE_FROM     0.45 /* share of the sample rate where harmonics begin to fade; they are gone at 0.49 */
#define FADE_TO       0.49
#define PULSE_DEPTH   0.6 /* how strongly breath noise follows the glottal opening (invented for the tests) */
#define FULL_VOICE    0.5 /* frames with more voice than this count for the level */

typedef struct {
    const synth_voice *voice;
    synth_tract *const *tracts;
    int n_tracts;
    const synth_control *controls;
    gsize n_controls;
    gsize n_samples;
    double ripple[HARMONICS_MAX + 1];
    double *phase_rad; /* of the fundamental at each sample; 0 = the excitation */
} render;

synth_voice synth_voice_default(void)
{
    return (synth_voice){.sample_rate_hz = 16000, .level_db = -20.0, .snr_db = 40.0, .floor_db = -INFINITY, .seed = 1};
}

static gsize first_sample(const render *r, gsize control)
{
    return (control * (gsize)r->voice->sample_rate_hz + SYNTH_CONTROLS_PER_S - 1) / SYNTH_CONTROLS_PER_S;
}

static double complex tract_gain(const render *r, double place, double hz)
{
    int i = CLAMP((int)place, 0, r->n_tracts - 1);
    double x = place - i;
    double complex gain = synth_tract_gain(r->tracts[i], hz);

    if (x > 1e-6 && i + 1 < r->n_tracts)
        gain += x * (synth_tract_gain(r->tracts[i + 1], hz) - gain);
    return gain;
}

/* ---- the voiced sound ------------------------------------------------------------------------------------------ */

typedef struct {
    double re[HARMONICS_MAX + 1];
    double im[HARMONICS_MAX + 1];
    int n;
} amplitudes;

/* The source's own coefficients, made anew only when its shape has moved. */
typedef struct {
    double rd;
    int n;
    double complex harmonic[HARMONICS_MAX + 1];
} source_cache;

static void refresh_source(source_cache *cache, synth_source source, double rd, int n)
{
    if (fabs(cache->rd - rd) < 0.002 && cache->n >= n)
        return;
    synth_source_harmonics(source, rd, n, cache->harmonic);
    cache->rd = rd;
    cache->n = n;
}

static double nyquist_fade(const render *r, double hz)
{
    double x = hz / r->voice->sample_rate_hz;

    return CLAMP((FADE_TO - x) / (FADE_TO - FADE_FROM), 0.0, 1.0);
}

static void amplitudes_at(const render *r, const synth_control *control, source_cache *cache, amplitudes *a)
{
    a->n = 0;
    if (control->voice <= 0.0)
        return;
    a->n = MIN(HARMONICS_MAX, (int)(FADE_TO * r->voice->sample_rate_hz / control->f0_hz));
    refresh_source(cache, r->voice->source, control->rd, a->n);
    for (int k = 1; k <= a->n; k++) {
        double hz = k * control->f0_hz;
        double complex value = control->voice * nyquist_fade(r, hz) * r->ripple[k] * cache->harmonic[k] *
                               tract_gain(r, control->tract, hz);

        a->re[k] = creal(value);
        a->im[k] = cimag(value);
    }
}

/* Amplitudes move in straight lines from one control to the next. */
static void add_interval(const render *r, gsize control, const amplitudes *from, const amplitudes *to, double *out)
{
    gsize first = first_sample(r, control), end = MIN(first_sample(r, control + 1), r->n_samples);
    double per_sample = (double)SYNTH_CONTROLS_PER_S / r->voice->sample_rate_hz;
    int n = MAX(from->n, to->n);

    for (gsize i = first; i < end; i++) {
        double x = (double)i * per_sample - (double)control;
        double re = cos(r->phase_rad[i]), im = sin(r->phase_rad[i]);
        double turn_re = re, turn_im = im, sum = 0.0;

        for (int k = 1; k <= n; k++) {
            double a = from->re[k] + x * (to->re[k] - from->re[k]), b = from->im[k] + x * (to->im[k] - from->im[k]);
            double next = turn_re * re - turn_im * im;

            sum += a * turn_re - b * turn_im;
            turn_im = turn_re * im + turn_im * re;
            turn_re = next;
        }
        out[i] += sum;
    }
}

static void blank_above(amplitudes *a, int n)
{
    for (int k = a->n + 1; k <= n; k++)
        a->re[k] = a->im[k] = 0.0;
}

static void add_harmonics(const render *r, double *out)
{
    g_autofree amplitudes *pair = g_new0(amplitudes, 2);
    g_autofree source_cache *cache = g_new0(source_cache, 1);
    amplitudes *from = &pair[0], *to = &pair[1];

    amplitudes_at(r, &r->controls[0], cache, from);
    for (gsize i = 0; i < r->n_controls; i++) {
        amplitudes_at(r, &r->controls[MIN(i + 1, r->n_controls - 1)], cache, to);
        blank_above(from, to->n);
        blank_above(to, from->n);
        if (from->n || to->n)
            add_interval(r, i, from, to, out);
        amplitudes *swap = from;
        from = to;
        to = swap;
    }
}

/* Phase is the integral of f0, which moves in straight lines between controls. */
static void integrate_phase(render *r)
{
    double per_sample = (double)SYNTH_CONTROLS_PER_S / r->voice->sample_rate_hz, phase = 0.0;

    for (gsize i = 0; i < r->n_samples; i++) {
        double at = (double)i * per_sample;
        gsize c = (gsize)at, next = MIN(c + 1, r->n_controls - 1);
        double f0_hz = r->controls[c].f0_hz + (at - (double)c) * (r->controls[next].f0_hz - r->controls[c].f0_hz);

        r->phase_rad[i] = phase;
        phase = fmod(phase + 2.0 * G_PI * f0_hz / r->voice->sample_rate_hz, 2.0 * G_PI);
    }
}

/* ---- noise ----------------------------------------------------------------------------------------------------- */

static const synth_control *control_at(const render *r, gsize sample)
{
    gsize i = sample * SYNTH_CONTROLS_PER_S / (gsize)r->voice->sample_rate_hz;

    return &r->controls[MIN(i, r->n_controls - 1)];
}

typedef double complex (*shape_fn)(const render *r, const synth_control *control, double hz);

static double complex aspiration_shape(const render *r, const synth_control *control, double hz)
{
    return tract_gain(r, control->tract, hz) * nyquist_fade(r, hz);
}

/* One broad resonance, scaled so that white noise keeps its RMS: its noise bandwidth is pi/2 times the 3 dB bandwidth.
 */
static double complex hiss_shape(const render *r, const synth_control *control, double hz)
{
    const double width = 0.8; /* 3 dB bandwidth over centre */
    double centre_hz = MAX(control->hiss_hz, 100.0), x = hz / centre_hz;
    double share = 0.5 * G_PI * width * centre_hz / (0.5 * r->voice->sample_rate_hz);

    return width * x / (1.0 - x * x + width * x * I) / sqrt(share) * nyquist_fade(r, hz);
}

/* Filters noise by a gain that moves: overlapping Hann windows that add to 1, each through the gain at its middle. */
static void shape_noise(const render *r, shape_fn shape, double *noise)
{
    int hop = r->voice->sample_rate_hz < 24000 ? 256 : 512, window = 2 * hop, size = 4 * window;
    double *frame = fftw_alloc_real(size);
    fftw_complex *bins = fftw_alloc_complex(size / 2 + 1);
    fftw_plan forward = fftw_plan_dft_r2c_1d(size, frame, bins, FFTW_ESTIMATE);
    fftw_plan back = fftw_plan_dft_c2r_1d(size, bins, frame, FFTW_ESTIMATE);
    g_autofree double *out = g_new0(double, r->n_samples + size);

    for (gssize start = -hop; start < (gssize)r->n_samples; start += hop) {
        gboolean silent = TRUE;

        memset(frame, 0, sizeof *frame * size);
        for (int i = 0; i < window; i++) {
            gssize at = start + i;
            if (at < 0 || at >= (gssize)r->n_samples || noise[at] == 0.0)
                continue;
            frame[i] = noise[at] * (0.5 - 0.5 * cos(2.0 * G_PI * i / window));
            silent = FALSE;
        }
        if (silent)
            continue;
        fftw_execute(forward);
        const synth_control *control = control_at(r, (gsize)MAX(start + hop, 0));
        for (int i = 0; i <= size / 2; i++)
            bins[i] *= shape(r, control, (double)i * r->voice->sample_rate_hz / size) / size;
        fftw_execute(back);
        for (int i = 0; i < size; i++)
            if (start + i >= 0)
                out[start + i] += frame[i];
    }
    memcpy(noise, out, sizeof *noise * r->n_samples);
    fftw_destroy_plan(forward);
    fftw_destroy_plan(back);
    fftw_free(frame);
    fftw_free(bins);
}

/* White noise with the amplitude of one control field; pulsed, it is strongest before the excitation, while the glottis
 * is open. Returns FALSE when there is none. */
static gboolean draw_noise(const render *r, gboolean aspiration, synth_random *random, double *noise)
{
    double per_sample = (double)SYNTH_CONTROLS_PER_S / r->voice->sample_rate_hz;
    gboolean any = FALSE;

    for (gsize i = 0; i < r->n_samples; i++) {
        double at = (double)i * per_sample;
        gsize c = (gsize)at;
        const synth_control *from = &r->controls[c], *to = &r->controls[MIN(c + 1, r->n_controls - 1)];
        double a = aspiration ? from->aspiration : from->hiss, b = aspiration ? to->aspiration : to->hiss;
        double amplitude = a + (at - (double)c) * (b - a);

        noise[i] = 0.0;
        if (amplitude <= 0.0)
            continue;
        if (aspiration)
            amplitude *= 1.0 + PULSE_DEPTH * from->voice * cos(r->phase_rad[i] + 0.6 * G_PI);
        noise[i] = amplitude * synth_random_gauss(random, 1.0);
        any = TRUE;
    }
    return any;
}

/* ---- levels ---------------------------------------------------------------------------------------------------- */

static double full_voice_rms(const render *r, const double *samples)
{
    double power = 0.0;
    gsize n = 0;

    for (gsize i = 0; i < r->n_samples; i++) {
        if (control_at(r, i)->voice < FULL_VOICE)
            continue;
        power += samples[i] * samples[i];
        n++;
    }
    return n ? sqrt(power / (double)n) : 0.0;
}

/* RMS that breath noise, whose level depends on the tracts, has where its amplitude is 1. */
static double aspiration_rms(const render *r, const double *noise)
{
    double power = 0.0, weight = 0.0;

    for (gsize i = 0; i < r->n_samples; i++) {
        double amplitude = control_at(r, i)->aspiration;

        power += noise[i] * noise[i];
        weight += amplitude * amplitude;
    }
    return weight > 0.0 ? sqrt(power / weight) : 1.0;
}

static void add_scaled(const render *r, double *out, const double *in, double scale)
{
    for (gsize i = 0; i < r->n_samples; i++)
        out[i] += scale * in[i];
}

/* The voiced sound is brought to RMS 1 first; noises are scaled against that. */
static void mix(const render *r, synth_random *random, double *sound)
{
    g_autofree double *noise = g_new(double, r->n_samples);
    double rms = full_voice_rms(r, sound);

    if (rms > 0.0)
        for (gsize i = 0; i < r->n_samples; i++)
            sound[i] /= rms;
    if (isfinite(r->voice->snr_db) && draw_noise(r, TRUE, random, noise)) {
        shape_noise(r, aspiration_shape, noise);
        add_scaled(r, sound, noise, pow(10.0, -r->voice->snr_db / 20.0) / aspiration_rms(r, noise));
    }
    if (draw_noise(r, FALSE, random, noise)) {
        shape_noise(r, hiss_shape, noise);
        add_scaled(r, sound, noise, 1.0);
    }
}

float *synth_voice_render(const synth_voice *voice, synth_tract *const *tracts, int n_tracts,
                          const synth_control *controls, gsize n_controls, gsize *n_samples)
{
    g_autofree render *r = g_new0(render, 1);
    synth_random random = synth_random_seed(voice->seed);
    double full = pow(10.0, voice->level_db / 20.0), floor = pow(10.0, voice->floor_db / 20.0);

    g_assert(n_controls > 0 && n_tracts > 0);
    *r = (render){
        .voice = voice, .tracts = tracts, .n_tracts = n_tracts, .controls = controls, .n_controls = n_controls};
    r->n_samples = n_controls * (gsize)voice->sample_rate_hz / SYNTH_CONTROLS_PER_S;
    r->phase_rad = g_new(double, r->n_samples);
    for (int k = 1; k <= HARMONICS_MAX; k++)
        r->ripple[k] = pow(10.0, synth_random_gauss(&random, voice->ripple_db) / 20.0);

    g_autofree double *sound = g_new0(double, r->n_samples);
    float *samples = g_new(float, r->n_samples);
    integrate_phase(r);
    add_harmonics(r, sound);
    mix(r, &random, sound);
    for (gsize i = 0; i < r->n_samples; i++)
        samples[i] = (float)(full * sound[i]);
    if (voice->room_rt60_s > 0.0)
        synth_room_apply(samples, r->n_samples, voice->sample_rate_hz, voice->room_rt60_s, voice->seed);
    if (floor > 0.0)
        for (gsize i = 0; i < r->n_samples; i++)
            samples[i] += (float)synth_random_gauss(&random, floor);
    g_free(r->phase_rad);
    *n_samples = r->n_samples;
    return samples;
}
