/* test-fit.c - the pooled fit from its parts upward: the solver on a function of known minimum, derivatives against
 * differences, harmonic levels against the sines they were made of, and notes of the synthesiser, whose resonances are
 * those that were put in. */
#include "allocations.h"
#include "expect.h"

#include <stdlib.h>

#include "synth-table.h"
#include "synth-voice.h"
#include "tract/fit-private.h"
#include "tract/fit-tuning.h"
#include "tract/tract-tuning.h"

#define RATE_HZ  16000
#define FRAMES   90
#define HOP_S    0.01
#define LENGTH   (RATE_HZ * 95 / 100)
#define CONTROLS 950

/* ---- solver ------------------------------------------------------------------------------------------------------ */

/* Rosenbrock 1960 (Computer J. 3:175-184): residuals 10 (y - x^2) and 1 - x, least 0 at (1, 1). */
static double rosenbrock(const double *x, double *gradient, double *curvature, void *data)
{
    double a = 10.0 * (x[1] - x[0] * x[0]), b = 1.0 - x[0];
    (void)data;
    if (gradient != NULL) {
        double ax = -20.0 * x[0], ay = 10.0, bx = -1.0;
        gradient[0] = ax * a + bx * b;
        gradient[1] = ay * a;
        curvature[0] = ax * ax + bx * bx;
        curvature[2] = curvature[1] = ax * ay;
        curvature[3] = ay * ay;
    }
    return a * a + b * b;
}

static void test_solver(void **state)
{
    (void)state;
    g_autoptr(dsp_nlls) nlls = dsp_nlls_create(2);
    double x[] = {-1.2, 1.0}; /* the published start */

    expect_near(dsp_nlls_run(nlls, rosenbrock, NULL, 0, x, 100, 0.0), 0.0, 1e-12);
    expect_near(x[0], 1.0, 1e-6);
    expect_near(x[1], 1.0, 1e-6);

    double y[] = {2.0, 1.0}; /* x held at 2: the best y is 4, and 1 is left */
    expect_near(dsp_nlls_run(nlls, rosenbrock, NULL, 1, y, 100, 0.0), 1.0, 1e-9);
    assert_true(y[0] == 2.0);
    expect_near(y[1], 4.0, 1e-6);
}

/* ---- source ------------------------------------------------------------------------------------------------------ */

static void test_source(void **state)
{
    (void)state;
    g_autofree fit_source *source = g_new0(fit_source, 1);
    double slope, low, high;

    fit_source_fill(source);
    /* breathier: a stronger fundamental against the second harmonic (Fant 1995), and a steeper fall */
    for (double rd = 0.4; rd < 2.5; rd *= 1.3) {
        double here = fit_source_level_db(source, 1, log(rd), &slope) - fit_source_level_db(source, 2, log(rd), &slope);
        double next = fit_source_level_db(source, 1, log(1.3 * rd), &slope) -
                      fit_source_level_db(source, 2, log(1.3 * rd), &slope);
        assert_true(next > here);
    }
    low = fit_source_level_db(source, 5, log(1.3), &slope);
    high = fit_source_level_db(source, 5, log(1.3) + 1e-6, &slope);
    expect_near((high - low) / 1e-6, slope, 1e-3);
    /* a pulse with a rounded closure falls by 12 dB an octave in the end: one more than the corner's 6 (Fant,
     * Liljencrants & Lin 1985) */
    expect_near(fit_source_level_db(source, 20, log(2.0), &slope) - fit_source_level_db(source, 40, log(2.0), &slope),
                12.0, 1.0);
}

/* ---- model ------------------------------------------------------------------------------------------------------- */

static void fill_cells(fit_cells *cells)
{
    *cells = (fit_cells){.f0_hz = 300.0, .f0_low_hz = 290.0, .f0_high_hz = 310.0, .n_bins = 3};
    for (guint k = 1; k <= 14; k++) {
        cells->groups[cells->n_groups++] = (fit_group){k, log2(k), cells->n_cells, 3, 4.0, 1.0, 0.1, 0.0};
        for (int i = -1; i <= 1; i++)
            cells->cells[cells->n_cells++] = (fit_cell){k * 300.0 * exp2(i / 24.0),
                                                        0.5 * i,
                                                        -40.0 - 3.0 * k + (double)((k * 7 + (guint)(i + 1) * 5) % 11),
                                                        0.5,
                                                        0.0,
                                                        0.8};
    }
}

static void test_derivatives(void **state)
{
    (void)state;
    g_autofree fit_source *source = g_new0(fit_source, 1);
    g_autofree fit_cells *cells = g_new0(fit_cells, 1);
    fit_model model = {.source = source, .voice = {600.0, 0.08}, .cells = cells};
    double x[FIT_PARAMS], gradient[FIT_PARAMS], curvature[FIT_PARAMS * FIT_PARAMS];

    fit_source_fill(source);
    fill_cells(cells);
    for (int p = 0; p < FIT_PARAMS; p++)
        x[p] = 0.3 * sin(1.0 + 2.0 * p);
    x[FIT_F1 + 2] = -1.5; /* F2 and F3 close: the wall between them counts */
    fit_model_chi2(x, gradient, curvature, &model);
    for (int p = 0; p < FIT_PARAMS; p++) {
        double step = 1e-5, keep = x[p];
        x[p] = keep + step;
        double high = fit_model_chi2(x, NULL, NULL, &model);
        x[p] = keep - step;
        double low = fit_model_chi2(x, NULL, NULL, &model);
        x[p] = keep;
        expect_near(gradient[p], (high - low) / (4.0 * step), 1e-3 * (1.0 + fabs(gradient[p]))); /* of half of chi2 */
    }
}

/* With the tract held, what concerns source and gain stays the same. */
static void test_tract_held(void **state)
{
    (void)state;
    g_autofree fit_source *source = g_new0(fit_source, 1);
    g_autofree fit_cells *cells = g_new0(fit_cells, 1);
    fit_model model = {.source = source, .voice = {600.0, 0.08}, .cells = cells};
    double x[FIT_PARAMS], all[FIT_PARAMS], few[FIT_PARAMS];
    double all_curvature[FIT_PARAMS * FIT_PARAMS], few_curvature[FIT_PARAMS * FIT_PARAMS];

    fit_source_fill(source);
    fill_cells(cells);
    for (int p = 0; p < FIT_PARAMS; p++)
        x[p] = 0.3 * sin(1.0 + 2.0 * p);
    double chi2 = fit_model_chi2(x, all, all_curvature, &model);
    double tract_db[FIT_CELLS_MAX];
    fit_model_tract_db(&model, x, tract_db);
    model.tract_db = tract_db;
    model.first = FIT_SHAPE;
    expect_near(fit_model_chi2(x, few, few_curvature, &model), chi2, 1e-9 * chi2);
    for (int i = FIT_SHAPE; i < FIT_PARAMS; i++) {
        expect_near(few[i], all[i], 1e-9 * (1.0 + fabs(all[i])));
        for (int j = FIT_SHAPE; j < FIT_PARAMS; j++) {
            double expected = all_curvature[i * FIT_PARAMS + j];
            expect_near(few_curvature[i * FIT_PARAMS + j], expected, 1e-9 * (1.0 + fabs(expected)));
        }
    }
}

/* The ripple that is eliminated is the one that a direct search finds. */
static void test_ripple(void **state)
{
    (void)state;
    g_autofree fit_source *source = g_new0(fit_source, 1);
    g_autofree fit_cells *cells = g_new0(fit_cells, 1);
    fit_model model = {.source = source, .voice = {600.0, 0.08}, .cells = cells};
    double x[FIT_PARAMS] = {0}, residual_db[FIT_CELLS_MAX], ripple_db[APERTA_HARMONICS_MAX], direct = 0.0;

    fit_source_fill(source);
    fill_cells(cells);
    fit_model_residuals(&model, x, residual_db, ripple_db);
    for (guint g = 0; g < cells->n_groups; g++) {
        const fit_group *group = &cells->groups[g];
        double least = INFINITY;
        for (double ripple = -120.0; ripple < 120.0; ripple += 0.01) {
            double sum = group->irls_weight * ripple * ripple / group->ripple_db2;
            for (guint i = group->first; i < group->first + group->n; i++) {
                double r = residual_db[i] + ripple_db[g] - ripple;
                sum += cells->cells[i].irls_weight * r * r / cells->cells[i].variance_db2;
            }
            least = fmin(least, sum);
        }
        direct += least;
    }
    expect_near(fit_model_chi2(x, NULL, NULL, &model), direct, 0.01);
}

/* ---- cells ------------------------------------------------------------------------------------------------------- */

/* Frames of a vowel on its way to this one are not of it: the cells are those of the frames that stand still. */
static void test_strange_frames(void **state)
{
    enum { N = 50, STRANGE = 8 };
    (void)state;
    g_autofree fit_cells *cells = g_new0(fit_cells, 1);
    g_autofree tract_harmonic_frame *frames = g_new0(tract_harmonic_frame, N);
    double scratch[4 * N];

    for (guint i = 0; i < N; i++) {
        gboolean strange = i < STRANGE;
        frames[i] = (tract_harmonic_frame){.time_s = 0.01 * i, .f0_hz = 220.0 + 0.1 * (i % 3), .n = 15};
        for (guint k = 0; k < 15; k++) {
            frames[i].level_db[k] = -20.0f - 2.0f * k + (strange ? 12.0f * (k % 2) : 0.3f * ((i + k) % 3));
            frames[i].noise_db[k] = -90.0f;
        }
    }
    assert_true(fit_cells_fill(cells, frames, N, 5000.0, 600.0, scratch));
    const fit_cell *first = &cells->cells[cells->groups[0].first], *second = &cells->cells[cells->groups[1].first];
    expect_near(first->level_db - second->level_db, 2.0, 0.2);
}

/* ---- notes ------------------------------------------------------------------------------------------------------- */

typedef struct {
    float *samples;
    gsize n;
    aperta_f0_track *track;
    tract_stretch stretch;
    guint8 steady[FRAMES];
} sung;

static double sung_f0_hz(double f0_hz, double extent_cents, double time_s)
{
    return f0_hz * exp2(extent_cents / 1200.0 * sin(2.0 * G_PI * 5.5 * time_s));
}

/* error: how much too high the track says the fundamental is, as a share. */
static void sung_init(sung *s, double f0_hz, double extent_cents, double error)
{
    *s = (sung){.stretch = {0, 1, FRAMES}};
    s->track = aperta_f0_track_new(0.02, HOP_S, FRAMES);
    for (guint i = 0; i < FRAMES; i++) {
        double time_s = aperta_f0_track_time_s(s->track, i);
        s->track->frames[i] =
            (aperta_f0){(float)(sung_f0_hz(f0_hz, extent_cents, time_s) * (1.0 + error)), 0.95f, -20.0f, 1};
        s->steady[i] = 1;
    }
}

static void sung_clear(sung *s)
{
    g_free(s->samples);
    aperta_f0_track_free(s->track);
}

/* Two sines of known level that follow the vibrato, and the track a third of a percent off. */
static void test_harmonic_levels(void **state)
{
    (void)state;
    g_autoptr(tract_harmonics) harmonics = tract_harmonics_create(RATE_HZ, 5000.0, FRAMES);
    tract_harmonic_frame *frames;
    double phase = 0.0;
    sung s;

    sung_init(&s, 400.0, 80.0, 0.003);
    s.samples = g_new(float, LENGTH);
    s.n = LENGTH;
    for (gsize i = 0; i < LENGTH; i++) {
        phase += sung_f0_hz(400.0, 80.0, ((double)i + 0.5) / RATE_HZ) / RATE_HZ;
        s.samples[i] = (float)(0.1 * cos(2.0 * G_PI * phase) + 0.02 * cos(2.0 * G_PI * 9.0 * phase + 1.0));
    }
    tract_sound sound = {s.samples, s.n, 0.0, RATE_HZ};
    guint n = tract_harmonics_read(harmonics, &sound, s.track, &s.stretch, s.steady, &frames);
    assert_in_range(n, FRAMES - 6, FRAMES);
    for (guint i = 2; i + 2 < n; i++) {
        expect_ratio(frames[i].f0_hz, sung_f0_hz(400.0, 80.0, frames[i].time_s), 0.0005);
        expect_near(frames[i].level_db[0], 20.0 * log10(0.1) - 3.0103, 0.05);
        expect_near(frames[i].level_db[8], 20.0 * log10(0.02) - 3.0103, 0.2);
        assert_true(frames[i].level_db[4] < -75.0f && frames[i].noise_db[4] < -75.0f);
    }
    sung_clear(&s);
}

static const aperta_resonance no_hint[APERTA_N_RESONANCES];

/* hz: four resonances; higher ones and bandwidths are the synthesiser's. */
static void read_vowel(const double *hz, double f0_hz, double extent_cents, double gain, aperta_resonance *resonances,
                       aperta_posterior *posterior)
{
    g_autofree synth_control *controls = g_new0(synth_control, CONTROLS);
    synth_table table = synth_table_vowel(hz, 4, 15.0, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    g_autoptr(synth_tract) tract = synth_table_tract(&table, 8000.0);
    synth_voice voice = synth_voice_default();
    tract_fit_config config = {APERTA_VOICE_WOMAN, 5200.0, FRAMES};
    g_autoptr(tract_harmonics) harmonics = tract_harmonics_create(RATE_HZ, 5200.0, FRAMES);
    g_autoptr(tract_fit) fit = tract_fit_create(&config);
    tract_harmonic_frame *frames;
    sung s;

    sung_init(&s, f0_hz, extent_cents, 0.0);
    for (guint i = 0; i < CONTROLS; i++)
        controls[i] = (synth_control){
            .f0_hz = sung_f0_hz(f0_hz, extent_cents, i / 1000.0), .voice = 1, .aspiration = 1, .rd = 0.9};
    s.samples = synth_voice_render(&voice, &tract, 1, controls, CONTROLS, &s.n);
    for (gsize i = 0; i < s.n; i++)
        s.samples[i] *= (float)gain;
    tract_sound sound = {s.samples, s.n, 0.0, RATE_HZ};
    guint before = allocations;
    guint n = tract_harmonics_read(harmonics, &sound, s.track, &s.stretch, s.steady, &frames);
    tract_fit_note(fit, frames, n, no_hint, resonances, posterior);
    assert_int_equal(allocations, before);
    sung_clear(&s);
}

/* The few normal distributions keep what the slices said: their weights sum to 1, the 90 % intervals are alike. */
static void expect_same_in_modes(const aperta_posterior *posterior, const aperta_resonance *resonances)
{
    double sum = 0.0;
    assert_true(posterior->n_modes > 0 && posterior->n_modes <= APERTA_MODES_MAX);
    for (int m = 0; m < posterior->n_modes; m++)
        sum += posterior->modes[m].weight;
    expect_near(sum, 1.0, 1e-9);
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        double width = log(resonances[i].high_hz / resonances[i].low_hz);
        expect_near(log(aperta_posterior_quantile_hz(posterior, i, 0.05) / resonances[i].low_hz), 0.0, 0.2 * width);
        expect_near(log(aperta_posterior_quantile_hz(posterior, i, 0.95) / resonances[i].high_hz), 0.0, 0.2 * width);
    }
}

/* An open vowel on high notes, where linear prediction is off by a tenth and more. */
static void test_vowel(void **state)
{
    (void)state;
    static const double hz[] = {900.0, 1550.0, 2850.0, 4300.0}; /* near a woman's ah in Hillenbrand et al. 1995 */
    static const double PITCHES_HZ[] = {220.0, 330.0, 440.0, 554.0};
    aperta_resonance r[APERTA_N_RESONANCES];
    aperta_posterior posterior;

    for (gsize p = 0; p < G_N_ELEMENTS(PITCHES_HZ); p++) {
        read_vowel(hz, PITCHES_HZ[p], 80.0, 1.0, r, &posterior);
        expect_same_in_modes(&posterior, r);
        for (int i = 0; i < APERTA_N_RESONANCES; i++) {
            assert_int_equal(r[i].status, APERTA_MEASURED);
            assert_true(r[i].low_hz <= r[i].hz && r[i].hz <= r[i].high_hz);
        }
        expect_ratio(r[0].hz, hz[0], 0.04);
        expect_ratio(r[1].hz, hz[1], 0.02);
    }
}

static void test_gain_changes_nothing(void **state)
{
    (void)state;
    static const double hz[] = {730.0, 2060.0, 2950.0, 4300.0};
    aperta_resonance loud[APERTA_N_RESONANCES], soft[APERTA_N_RESONANCES];
    aperta_posterior posterior;

    read_vowel(hz, 392.0, 60.0, 1.0, loud, &posterior);
    read_vowel(hz, 392.0, 60.0, 0.0625, soft, &posterior);
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        expect_ratio(soft[i].hz, loud[i].hz, 1e-3);
}

/* ee far above its F1: no number, a bound that holds. */
static void test_bounded(void **state)
{
    (void)state;
    static const double hz[] = {400.0, 2760.0, 3370.0, 4350.0};
    aperta_resonance r[APERTA_N_RESONANCES];
    aperta_posterior posterior;

    read_vowel(hz, 660.0, 60.0, 1.0, r, &posterior);
    assert_true(aperta_posterior_below(&posterior, 0, 660.0) > TRACT_BOUNDED_SHARE);
    expect_ratio(aperta_posterior_quantile_hz(&posterior, 0, FIT_BOUND_QUANTILE), r[0].high_hz, 0.05);
    assert_int_equal(r[0].status, APERTA_BOUNDED);
    assert_true(r[0].has_high && !r[0].has_low && r[0].high_hz > 400.0 && r[0].high_hz < 800.0);
    assert_int_equal(r[1].status, APERTA_MEASURED);
    expect_ratio(r[1].hz, 2760.0, 0.03);
}

/* Slices of two or three minima: what has most of the probability is the value, and nothing outweighs it. */
static void test_most_probable_place(void **state)
{
    (void)state;
    static const struct {
        double weight[3], hz[3]; /* of F1, the best fit first */
        double value_hz, other_hz, other_weight;
    } rows[] = {
        {{0.34, 0.66, 0.0}, {723.0, 507.0, 0.0}, 507.0, 723.0, 0.34},   /* the best fit is the narrower */
        {{0.40, 0.32, 0.28}, {700.0, 500.0, 503.0}, 501.4, 700.0, 0.4}, /* two that differ in F2 only are one place */
        {{0.96, 0.04, 0.0}, {600.0, 900.0, 0.0}, 600.0, 0.0, 0.0},      /* too light to be told */
    };
    for (gsize row = 0; row < G_N_ELEMENTS(rows); row++) {
        fit_posterior posterior = {.n_modes = 3};
        aperta_resonance r[APERTA_N_RESONANCES];
        for (int m = 0; m < 3; m++) {
            if (rows[row].weight[m] == 0.0)
                continue;
            fit_slice *slice = &posterior.slices[posterior.n_slices++];
            *slice = (fit_slice){.mode = m,
                                 .log_weight = log(rows[row].weight[m]) - 5.0, /* not normalised */
                                 .ln_f1 = log(rows[row].hz[m]),
                                 .half_width = 0.02,
                                 .mean = {log(rows[row].hz[m]), log(m == 2 ? 1600.0 : 1500.0), log(2800.0)},
                                 .sd = {0.0, 0.01, 0.01}};
        }
        fit_posterior_read(&posterior, 220.0, r);
        assert_int_equal(r[0].status, APERTA_MEASURED);
        expect_ratio(r[0].hz, rows[row].value_hz, 0.005);
        assert_int_equal(r[0].n_alternatives, rows[row].other_hz > 0.0);
        assert_true(r[0].low_hz <= r[0].hz && r[0].hz <= r[0].high_hz);
        if (rows[row].other_hz == 0.0)
            continue;
        expect_ratio(r[0].alternatives[0].hz, rows[row].other_hz, 0.005);
        expect_near(r[0].alternatives[0].weight, rows[row].other_weight, 1e-6);
        assert_true(r[0].alternatives[0].weight <= 0.5);
    }
}

/* Level at hz of six resonances and the higher ones of a tube, as fit-model.c's header has it (Fant 1960). */
static double resonances_db(const double *f_hz, double hz)
{
    double sum = 0.0;
    for (int i = 0; i < FIT_POLES; i++) {
        double b = 50.0 + 0.03 * f_hz[i], square = f_hz[i] * f_hz[i] + 0.25 * b * b;
        sum += 10.0 * log10(square * square / ((square - hz * hz) * (square - hz * hz) + b * b * hz * hz));
    }
    return sum;
}

/* Chi squared, by the errors of the search before, of the minimum next to these resonances. */
static double chi2_from(tract_fit *fit, const double *f_hz)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->cells};
    double x[FIT_PARAMS] = {0}, chi2 = INFINITY;
    for (int i = 0; i < FIT_POLES; i++)
        x[FIT_F1 + i] = fit_model_x_of_hz(&model, x, i, f_hz[i]);
    fit_cells_reset_weights(&fit->cells);
    for (int round = 0; round < 4; round++) {
        dsp_nlls_run(fit->nlls, fit_model_chi2, &model, 0, x, 20, 0.01);
        chi2 = fit_model_irls_weights(&model, &fit->cells, x, fit->residual_db);
    }
    return chi2;
}

/* Upper resonances where no start of the search has them: it must mostly find what explains the note no worse
 * than the minimum that lies at the resonances themselves. */
static void test_upper_resonances(void **state)
{
    (void)state;
    static const double UPPER[][3] = {{3150.0, 3450.0, 6100.0}, {3300.0, 5900.0, 6500.0}, {4600.0, 4950.0, 5300.0},
                                      {3200.0, 4500.0, 4800.0}, {3400.0, 3700.0, 4050.0}, {4300.0, 4650.0, 7000.0}};
    static const double LOWER[][3] = {{480.0, 2300.0, 2950.0}, {760.0, 1250.0, 2850.0}, {600.0, 1900.0, 2700.0}};
    static const double PITCHES_HZ[] = {233.0, 311.0, 415.0};
    tract_fit_config config = {APERTA_VOICE_WOMAN, 5200.0, FRAMES};
    g_autoptr(tract_fit) fit = tract_fit_create(&config);
    g_autofree fit_source *source = g_new0(fit_source, 1);
    guint missed = 0;

    fit_source_fill(source);
    for (guint n = 0; n < G_N_ELEMENTS(UPPER) * G_N_ELEMENTS(LOWER) * G_N_ELEMENTS(PITCHES_HZ); n++) {
        tract_harmonic_frame frames[FRAMES] = {{0}};
        double f_hz[FIT_POLES], f0_hz = PITCHES_HZ[n % 3], slope;
        fit_minima minima;
        memcpy(f_hz, LOWER[n / 3 % 3], 3 * sizeof *f_hz);
        memcpy(f_hz + 3, UPPER[n / 9], 3 * sizeof *f_hz);
        for (guint i = 0; i < FRAMES; i++) {
            tract_harmonic_frame *frame = &frames[i];
            frame->time_s = i * HOP_S;
            frame->f0_hz = sung_f0_hz(f0_hz, 80.0, frame->time_s);
            frame->n = (guint)(5200.0 / frame->f0_hz);
            for (guint k = 1; k <= frame->n; k++) {
                frame->level_db[k - 1] = (float)(fit_source_level_db(source, k, log(1.1), &slope) +
                                                 resonances_db(f_hz, k * frame->f0_hz) - 40.0);
                frame->noise_db[k - 1] = -150.0f;
            }
        }
        tract_fit_search(fit, frames, FRAMES, no_hint, &minima);
        missed += minima.of[0].chi2 > chi2_from(fit, f_hz) + 1.0;
    }
    assert_in_range(missed, 0, 22); /* of 54: it misses 18, and 36 where it does not look for them */
}

static void test_too_little(void **state)
{
    (void)state;
    tract_fit_config config = {APERTA_VOICE_WOMAN, 5200.0, FRAMES};
    g_autoptr(tract_fit) fit = tract_fit_create(&config);
    tract_harmonic_frame frames[FRAMES] = {{0}};
    aperta_resonance r[APERTA_N_RESONANCES];
    aperta_posterior posterior;

    tract_fit_note(fit, frames, 0, no_hint, r, &posterior);
    assert_int_equal(posterior.n_modes, 0);
    assert_int_equal(r[0].status, APERTA_UNKNOWN);
    for (int i = 0; i < FRAMES; i++) { /* one harmonic */
        frames[i] = (tract_harmonic_frame){.f0_hz = 900.0, .n = 5, .level_db = {-20.0f}};
        for (int k = 1; k < 5; k++)
            frames[i].level_db[k] = frames[i].noise_db[k] = -90.0f;
        frames[i].noise_db[0] = -90.0f;
    }
    tract_fit_note(fit, frames, FRAMES, no_hint, r, &posterior);
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        assert_int_equal(r[i].status, APERTA_UNKNOWN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_solver),
        cmocka_unit_test(test_source),
        cmocka_unit_test(test_derivatives),
        cmocka_unit_test(test_tract_held),
        cmocka_unit_test(test_ripple),
        cmocka_unit_test(test_strange_frames),
        cmocka_unit_test(test_harmonic_levels),
        cmocka_unit_test(test_vowel),
        cmocka_unit_test(test_gain_changes_nothing),
        cmocka_unit_test(test_bounded),
        cmocka_unit_test(test_most_probable_place),
        cmocka_unit_test(test_upper_resonances),
        cmocka_unit_test(test_too_little),
    };
    printf("allocations are %s\n", COUNTS_ALLOCATIONS ? "counted" : "not counted in this build");
    return cmocka_run_group_tests(tests, NULL, NULL);
}
