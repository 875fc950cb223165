/* test-lpc.c - linear prediction against truths from outside.
 *
 * Autoregressive noise whose poles are known because it was made with them; the uniform tube, whose resonances are odd
 * multiples of c / 4 L (Fant 1960, "Acoustic Theory of Speech Production"); and sung vowels of the synthesiser, whose
 * resonances come from measured area functions and published tables. The bars at f0 <= 200 Hz are the project's own
 * aim: median |error| of F1 4 %, of F2 2 %. */
#include "dsp/dsp.h"
#include "expect.h"
#include "token.h"

#include <string.h>

/* ---- autoregressive noise --------------------------------------------------------------------------------------- */

#define N_NOISE 40000
#define ORDER   6

/* Poles of three resonances at 10 kHz: 500, 1500 and 2500 Hz, 60, 90 and 120 Hz wide. */
static const double pole_hz[] = {500, 1500, 2500};
static const double pole_bandwidth_hz[] = {60, 90, 120};
#define NOISE_RATE_HZ 10000.0

static void make_noise(double *x)
{
    synth_random random = synth_random_seed(11);
    double memory[3][2] = {{0}};

    for (guint i = 0; i < N_NOISE; i++) {
        x[i] = synth_random_gauss(&random, 1);
        for (guint r = 0; r < 3; r++) {
            double radius = exp(-G_PI * pole_bandwidth_hz[r] / NOISE_RATE_HZ);
            double b = 2 * radius * cos(2 * G_PI * pole_hz[r] / NOISE_RATE_HZ);
            double y = x[i] + b * memory[r][0] - radius * radius * memory[r][1];
            memory[r][1] = memory[r][0];
            memory[r][0] = x[i] = y;
        }
    }
}

/* The spread of the estimate over 4 s is of the order of sqrt(bandwidth / (pi * 4 s)), 2 to 3 Hz; four times that is
 * allowed. */
static void expect_poles(const double *a)
{
    g_autoptr(dsp_roots) roots = dsp_roots_create(ORDER);
    double complex z[ORDER];

    assert_true(dsp_roots_solve(roots, a, z));
    for (guint r = 0; r < 3; r++) {
        double nearest_hz = INFINITY, bandwidth_hz = 0;
        for (guint i = 0; i < ORDER; i++) {
            double hz = carg(z[i]) / (2 * G_PI) * NOISE_RATE_HZ;
            if (fabs(hz - pole_hz[r]) < fabs(nearest_hz - pole_hz[r])) {
                nearest_hz = hz;
                bandwidth_hz = -log(cabs(z[i])) / G_PI * NOISE_RATE_HZ;
            }
        }
        expect_near(nearest_hz, pole_hz[r], 10);
        expect_near(bandwidth_hz, pole_bandwidth_hz[r], 20);
    }
}

static void test_known_poles(void **state)
{
    (void)state;
    static double x[N_NOISE], scratch[2 * N_NOISE];
    double r[ORDER + 1] = {0}, a[ORDER + 1];

    make_noise(x);
    for (guint lag = 0; lag <= ORDER; lag++)
        for (guint i = lag; i < N_NOISE; i++)
            r[lag] += x[i] * x[i - lag];
    dsp_lpc_levinson(r, ORDER, a);
    expect_poles(a);
    dsp_lpc_burg(x, N_NOISE, ORDER, a, scratch);
    expect_poles(a);
    dsp_lpc_covariance(x, NULL, N_NOISE, ORDER, a);
    expect_poles(a);
}

/* ---- the uniform tube ------------------------------------------------------------------------------------------- */

/* 17.5 cm: 500, 1500, 2500 Hz without the load of the lips, which lowers them by some 5 %; the truth with it is the
 * synthesiser's (tests/external/test-tubes.c checks that one). */
static void test_uniform_tube(void **state)
{
    (void)state;
    synth_note_spec spec = synth_note_default();
    aperta_tract_reading reading;

    spec.f0_hz = 100;
    token t = {.voice = APERTA_VOICE_MAN, .take = synth_note_sing(&spec)};
    t.track = token_track(t.take);
    t.note = token_note(t.take, 0);
    token_read(&t, &reading);
    for (guint f = 0; f < 3; f++) {
        double true_hz = t.take->notes[0].resonances[f].hz;
        expect_ratio(true_hz, 500 + 1000.0 * f, 0.08);
        assert_int_equal(reading.lpc[f].status, APERTA_MEASURED);
        expect_ratio(reading.lpc[f].hz, true_hz, 0.03);
    }
    synth_take_free(t.take);
    aperta_f0_track_free(t.track);
}

/* ---- the bars at low pitch -------------------------------------------------------------------------------------- */

#define N_TOKENS 60

static void expect_bars(aperta_voice voice, double low_hz, guint64 seed)
{
    double error[2][N_TOKENS];
    guint n_known[2] = {0, 0};
    token_spec spec = token_spec_default();

    spec.voice = voice;
    spec.low_hz = low_hz;
    spec.high_hz = 200;
    for (guint i = 0; i < N_TOKENS; i++) {
        spec.seed = seed + i;
        g_autoptr(token) t = token_new(&spec);
        aperta_tract_reading reading;
        token_read(t, &reading);
        for (guint f = 0; f < 2; f++) {
            if (reading.lpc[f].status != APERTA_MEASURED)
                continue;
            error[f][n_known[f]++] = fabs(reading.lpc[f].hz / t->take->notes[0].resonances[f].hz - 1);
        }
    }
    for (guint f = 0; f < 2; f++)
        assert_true(n_known[f] >= 0.95 * N_TOKENS);
    double f1 = dsp_quantile(error[0], n_known[0], 0.5);
    double f2 = dsp_quantile(error[1], n_known[1], 0.5);
    print_message("%s %.0f..200 Hz: median |error| F1 %.2f %%, F2 %.2f %%\n", aperta_voice_word(voice), low_hz,
                  100 * f1, 100 * f2);
    assert_true(f1 <= 0.04);
    assert_true(f2 <= 0.02);
}

static void test_bars(void **state)
{
    (void)state;
    expect_bars(APERTA_VOICE_MAN, 85, 100);
    expect_bars(APERTA_VOICE_WOMAN, 150, 200);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_known_poles),
        cmocka_unit_test(test_uniform_tube),
        cmocka_unit_test(test_bars),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
