/* test-pitch-ranges.c - pitch at the ends of what its header allows, and that the analysis of a frame allocates
 * nothing.
 *
 * Built with sanitizers (configure --enable-asan --enable-ubsan) the first part finds what is written or read beyond
 * memory; there the second one is not counted, since both replace malloc. */
#include "allocations.h"
#include "pitch-reading.h"

#include "pitch/pitch-private.h"

#include <fftw3.h>
#include <stdlib.h>

/* ---- allocation -------------------------------------------------------------------------------------------------- */

/* A counter that sees nothing would prove nothing: FFTW's own planning must be seen, and so must its buffers. */
static void test_counter_sees_planning(void **state)
{
    (void)state;
    if (!COUNTS_ALLOCATIONS)
        skip();
    guint before = allocations;
    double *samples = fftw_alloc_real(512);
    fftw_complex *bins = fftw_alloc_complex(257);
    assert_true(allocations >= before + 2);
    guint buffers = allocations;
    fftw_plan plan = fftw_plan_dft_r2c_1d(512, samples, bins, FFTW_ESTIMATE);
    assert_true(allocations > buffers);
    fftw_destroy_plan(plan);
    fftw_free(samples);
    fftw_free(bins);
}

/* All of it: silence, voice, noise, and portions of any size. */
static void test_frames_allocate_nothing(void **state)
{
    static const gsize portions[] = {1, 37, 160, 5000, 100000};
    (void)state;
    if (!COUNTS_ALLOCATIONS)
        skip();
    synth_phrase_spec spec = synth_phrase_default();
    spec.n_notes = 3;
    g_autoptr(synth_take) take = synth_phrase_random(&spec);
    for (gsize k = 0; k < G_N_ELEMENTS(portions); k++) {
        aperta_pitch_config config = aperta_pitch_config_default(RATE_HZ);
        pitch_framer *framer = pitch_framer_create(&config);
        pitch_heard heard;
        guint n_frames = 0, n_slices = 0, before = allocations;
        for (gsize i = 0; i < take->n_samples;) {
            i += pitch_framer_push(framer, take->samples + i, MIN(portions[k], take->n_samples - i));
            while (pitch_framer_next(framer, &heard)) {
                n_frames++;
                n_slices += heard.has_slice;
            }
        }
        assert_int_equal(allocations, before);
        expect_near(n_frames, take->n_samples / (double)pitch_framer_hop(framer), 8.0);
        assert_int_equal(n_slices, (n_frames + 1) / 2);
        pitch_framer_destroy(framer);
    }
}

/* ---- ranges ------------------------------------------------------------------------------------------------------ */

static const double falling_db[] = {0, -6, -9.5, -12, -14, -15.6, -16.9, -18, -19, -20};

/* A second of f0_hz, then of noise, through every end of the ranges; the tone must be found where it is looked for. */
static void read_at(const aperta_pitch_config *config, double f0_hz)
{
    gsize n = (gsize)config->sample_rate_hz;
    g_autofree float *samples = g_new0(float, 2 * n);
    g_autoptr(GRand) random = g_rand_new_with_seed(1);

    for (int k = 1; k <= (int)G_N_ELEMENTS(falling_db) && k * f0_hz < 0.5 * config->sample_rate_hz; k++)
        for (gsize i = 0; i < n; i++)
            samples[i] += (float)(0.1 * pow(10.0, falling_db[k - 1] / 20.0) *
                                  sin(2.0 * G_PI * k * f0_hz * i / config->sample_rate_hz + 0.7 * k * k));
    for (gsize i = n; i < 2 * n; i++)
        samples[i] = (float)g_rand_double_range(random, -0.1, 0.1);
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(config);
    aperta_pitch_push(pitch, samples, 2 * n);
    g_autofree aperta_pitch_feature *features = NULL;
    aperta_f0_track *track = aperta_pitch_finish(pitch, 0.0, &features);
    guint right = 0, frames = (guint)(0.8 / config->hop_s), first = (guint)(0.1 / config->hop_s);
    for (guint i = first; i < first + frames; i++)
        right += track->frames[i].voiced && fabs(aperta_cents_between(f0_hz, track->frames[i].f0_hz)) < 10.0;
    for (guint i = 0; i < track->n_frames; i++) {
        assert_true(isfinite(features[i].change) && isfinite(features[i].sonority_db));
        assert_in_range((guint)(1000.0 * features[i].brightness), 0, 1000);
    }
    if (right != frames)
        print_error("%d Hz, %.0f..%.0f Hz, hop %.3f s: %.1f Hz found in %u of %u frames\n", config->sample_rate_hz,
                    config->floor_hz, config->ceiling_hz, config->hop_s, f0_hz, right, frames);
    assert_int_equal(right, frames);
    aperta_f0_track_free(track);
}

/* 15600 and 18600 Hz: where the transforms are longest and shortest for their windows. */
static void test_ends_of_the_ranges(void **state)
{
    static const int rates_hz[] = {8000, 11025, 15600, 16000, 18600, 44100, 48000};
    static const double floors_hz[] = {50, 60, 400}, ceilings_hz[] = {450, 1400, 1600}, hops_s[] = {0.005, 0.010};
    (void)state;
    for (gsize r = 0; r < G_N_ELEMENTS(rates_hz); r++)
        for (gsize f = 0; f < G_N_ELEMENTS(floors_hz); f++)
            for (gsize c = 0; c < G_N_ELEMENTS(ceilings_hz); c++)
                read_at(&(aperta_pitch_config){rates_hz[r], floors_hz[f], ceilings_hz[c], hops_s[(f + c) % 2]}, 430.0);
}

/* Just outside of what pitch.h names nothing is made, and the programmer is told. */
static void test_beyond_the_ranges(void **state)
{
    static const aperta_pitch_config beyond[] = {
        {7999, 60.0, 1400.0, 0.010},  {48001, 60.0, 1400.0, 0.010},  {16000, 49.9, 1400.0, 0.010},
        {16000, 60.0, 1600.1, 0.010}, {16000, 400.0, 400.0, 0.010},  {16000, 400.0, 399.0, 0.010},
        {16000, 60.0, 1400.0, 0.0},   {16000, 60.0, 1400.0, 0.0049}, {16000, 60.0, 1400.0, 0.0101},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(beyond); i++) {
        g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*aperta_pitch_create*");
        assert_null(aperta_pitch_create(&beyond[i]));
        g_test_assert_expected_messages();
    }
}

/* The lowest and the highest pitch that may be asked for are found. */
static void test_lowest_and_highest_pitch(void **state)
{
    (void)state;
    for (int h = 0; h < 2; h++) {
        aperta_pitch_config config = {RATE_HZ, 50.0, 1600.0, h == 0 ? 0.005 : 0.010};
        read_at(&config, 51.0);
        read_at(&config, 1590.0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_counter_sees_planning),    cmocka_unit_test(test_frames_allocate_nothing),
        cmocka_unit_test(test_ends_of_the_ranges),       cmocka_unit_test(test_beyond_the_ranges),
        cmocka_unit_test(test_lowest_and_highest_pitch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
