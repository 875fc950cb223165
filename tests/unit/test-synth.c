/* test-synth.c - the synthesiser keeps to the truth it tells. */
#include "expect.h"

#include "synth-phrase.h"
#include "synth-source.h"

#include <aperta/base.h>
#include <string.h>

/* Property: the closed form of the source's coefficients against a direct sum over the pulse. */
static void test_source_coefficients(void **state)
{
    static const double rd[] = {0.3, 1.0, 1.7, 2.7};
    const int n = 200000;

    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rd); i++) {
        synth_pulse pulse = synth_pulse_rd(rd[i]);
        double flow = 0.0;
        for (int j = 0; j < n; j++)
            flow += synth_pulse_at(&pulse, (j + 0.5) / n) / n;
        expect_near(flow, 0.0, 1e-4); /* the glottis closes: no flow is left */
        for (int k = 1; k <= 40; k += 13) {
            double complex sum = 0.0;
            for (int j = 0; j < n; j++)
                sum +=
                    synth_pulse_at(&pulse, (j + 0.5) / n) * cexp(-2.0 * G_PI * I * k * ((j + 0.5) / n - pulse.te)) / n;
            expect_near(cabs(sum - synth_pulse_harmonic(&pulse, k)), 0.0, 2e-5);
        }
    }
}

/* Property: the same for the older families, whose pulses are written out here from their definitions; rd 1 opens the
 * glottis for 0.6 of the period and leaves six harmonics. */
static void test_older_sources(void **state)
{
    const double q = 0.6, p = 0.4;
    const int n = 200000;
    double complex cosines[14], cubic[14];

    (void)state;
    synth_source_harmonics(SYNTH_SOURCE_COSINES, 1.0, 13, cosines);
    synth_source_harmonics(SYNTH_SOURCE_CUBIC, 1.0, 13, cubic);
    for (int k = 1; k <= 13; k += 4) {
        double complex expected_cosines = 0.0, expected_cubic = 0.0;
        for (double i = 0.5; i < q * n; i++) {
            double t = i / n;
            double complex turn = cexp(-2.0 * G_PI * I * k * t) / n / (1.0 + I * k / 6.0);
            double rise = G_PI / (2.0 * p) * sin(G_PI * t / p);
            double fall = -G_PI / (2.0 * (q - p)) * sin(G_PI * (t - p) / (2.0 * (q - p)));
            expected_cosines += turn * (t < p ? rise : fall);
            expected_cubic += turn * (2.0 * t - 3.0 * t * t / q);
        }
        expect_near(cabs(cosines[k] - expected_cosines), 0.0, 1e-4);
        expect_near(cabs(cubic[k] - expected_cubic), 0.0, 1e-4);
    }
}

/* Fant 1995 (from memory, unchecked): the excitation's spectrum falls by 6 dB an octave more above the return phase's
 * corner 1 / (2 pi ta); so the larger Rd, the darker. Property: level of harmonic 20 re harmonic 1 falls with Rd. */
static void test_source_tilt(void **state)
{
    double before_db = INFINITY;

    (void)state;
    for (double rd = 0.4; rd <= 2.7; rd += 0.3) {
        synth_pulse pulse = synth_pulse_rd(rd);
        double tilt_db = 20.0 * log10(cabs(synth_pulse_harmonic(&pulse, 20)) / cabs(synth_pulse_harmonic(&pulse, 1)));
        assert_true(tilt_db < before_db);
        before_db = tilt_db;
    }
}

/* Property: the interpolated gain against the exact one, between grid points, and best where a resonance is sharp. */
static void test_gain_interpolation(void **state)
{
    synth_tube tube;

    (void)state;
    for (int v = 0; v < SYNTH_STORY_VOWELS; v++) {
        assert_true(synth_tube_story(synth_story_vowel(v), &tube));
        g_autoptr(synth_tract) tract = synth_tube_tract(&tube, 8000.0);
        for (double hz = 51.3; hz < 7000.0; hz += 3.7) {
            double error_db =
                20.0 * log10(cabs(synth_tract_gain(tract, hz)) / cabs(synth_tube_gain(&tube, 2.0 * G_PI * hz * I)));
            expect_near(error_db, 0.0, 0.05);
        }
    }
}

static void test_table_poles(void **state)
{
    static const double hz[] = {500, 1500, 2500, 3500};
    synth_table table = synth_table_vowel(hz, 4, 17.5, SYNTH_BANDWIDTHS_FANT);

    (void)state;
    /* Fant 1972 at the neutral tube: 40, 50, 86 Hz by the formula (from memory, unchecked). */
    expect_near(table.bandwidth_hz[0], 40.0, 0.01);
    expect_near(table.bandwidth_hz[1], 50.0, 0.01);
    expect_near(table.bandwidth_hz[2], 86.0, 0.01);
    g_autoptr(synth_tract) tract = synth_table_tract(&table, 8000.0);
    assert_int_equal(tract->n_resonances, 8);
    for (int i = 0; i < 8; i++)
        expect_near(tract->resonances[i].hz, 500.0 + 1000.0 * i, 1e-6);
    expect_near(cabs(synth_tract_gain(tract, 0.0)), 1.0, 1e-9);
    /* gain of a single resonator at its centre is about F / B */
    expect_ratio(cabs(synth_tract_gain(tract, 500.0)), 500.0 / 40.0, 0.25);
}

/* Longer tube, lower resonances; a uniform change of length changes lossless resonances in exact proportion. */
static void test_scale(void **state)
{
    synth_tube man, woman;
    synth_resonance a[SYNTH_RESONANCES_MAX], b[SYNTH_RESONANCES_MAX];

    (void)state;
    assert_true(synth_tube_story("ɑ", &man));
    man.lossless = man.ideal_lips = TRUE;
    woman = man;
    synth_tube_scale(&woman, 0.8);
    synth_tube_resonances(&man, 3000.0, a);
    synth_tube_resonances(&woman, 4000.0, b);
    for (int i = 0; i < 2; i++)
        expect_ratio(b[i].hz, a[i].hz / 0.8, 1e-6);
    synth_tube_open_jaw(&man, 1.0);
    synth_tube_resonances(&man, 3000.0, b);
    assert_true(b[0].hz > a[0].hz); /* opening the jaw raises F1: Fant 1960 */
}

static double power_at(const synth_take *take, double hz, double from_s, double seconds)
{
    gsize first = (gsize)(from_s * take->sample_rate_hz), n = (gsize)(seconds * take->sample_rate_hz);
    double complex sum = 0.0;

    for (gsize i = 0; i < n; i++)
        sum += take->samples[first + i] * (1.0 - cos(2.0 * G_PI * (double)i / (double)n)) *
               cexp(-2.0 * G_PI * I * hz * (double)i / take->sample_rate_hz);
    return creal(sum * conj(sum)) / ((double)n * (double)n);
}

/* A straight note: each harmonic's level is source times gain of the tract, to 0.1 dB, by a direct Fourier sum. */
static void test_note_harmonics(void **state)
{
    synth_note_spec spec = synth_note_default();
    synth_tube tube;

    (void)state;
    assert_true(synth_tube_story("æ", &tube));
    spec.vowel = synth_vowel_of_tube(&tube);
    spec.voice.snr_db = INFINITY;
    g_autoptr(synth_take) take = synth_note_sing(&spec);
    synth_pulse pulse = synth_pulse_rd(1.0);
    double first_db = aperta_power_to_db(power_at(take, 220.0, 0.3, 0.6));
    double expected_first = cabs(synth_pulse_harmonic(&pulse, 1) * synth_tube_gain(&tube, 2.0 * G_PI * 220.0 * I));

    for (int k = 2; k <= 25; k++) {
        double expected = cabs(synth_pulse_harmonic(&pulse, k) * synth_tube_gain(&tube, 2.0 * G_PI * 220.0 * k * I));
        double level_db = aperta_power_to_db(power_at(take, 220.0 * k, 0.3, 0.6));
        expect_near(level_db - first_db, 20.0 * log10(expected / expected_first), 0.1);
    }
}

static double rms_db(const synth_take *take, double from_s, double to_s)
{
    double power = 0.0;
    gsize first = (gsize)(from_s * take->sample_rate_hz), end = (gsize)(to_s * take->sample_rate_hz);

    for (gsize i = first; i < end; i++)
        power += take->samples[i] * take->samples[i];
    return aperta_power_to_db(power / (double)(end - first));
}

/* Level and breath noise come out as asked for: the same note with and without noise, one taken from the other. */
static void test_levels(void **state)
{
    synth_note_spec spec = synth_note_default();

    (void)state;
    spec.voice.snr_db = 20.0;
    g_autoptr(synth_take) noisy = synth_note_sing(&spec);
    spec.voice.snr_db = INFINITY;
    g_autoptr(synth_take) clean = synth_note_sing(&spec);
    expect_near(rms_db(clean, 0.2, 1.0), -20.0, 0.3);
    for (gsize i = 0; i < noisy->n_samples; i++)
        noisy->samples[i] -= clean->samples[i];
    expect_near(rms_db(noisy, 0.2, 1.0), -40.0, 0.5);
    expect_near(rms_db(clean, 0.0, 0.09), -200.0, 1e-6);
}

/* Truth of the vibrato against the f0 track that was sung. */
static void test_vibrato_truth(void **state)
{
    synth_note_spec spec = synth_note_default();
    double highest = 0.0, lowest = 1e9;

    (void)state;
    spec.seconds = 3.0;
    spec.vibrato.extent_cents = 60.0;
    g_autoptr(synth_take) take = synth_note_sing(&spec);
    expect_near(take->notes[0].vibrato_extent_cents, 60.0, 1e-6);
    expect_near(take->notes[0].vibrato_rate_hz, 5.8, 1e-6);
    for (guint i = 50; i < 290; i++) {
        highest = MAX(highest, take->f0_hz[i]);
        lowest = MIN(lowest, take->f0_hz[i]);
    }
    expect_near(aperta_cents_between(lowest, highest), 120.0, 2.0);
    expect_near(take->f0_hz[5], 0.0, 0.0);
}

/* A breath in a rest is heard at its level, 30.5 dB under the voice at its height; over the middle half of its half
 * sine that is 0.9 dB less. A stop is silent, but for its burst. */
static void test_breath_and_stop(void **state)
{
    synth_voice voice = synth_voice_default();
    synth_syllable two[2] = {synth_syllable_default(), synth_syllable_default()};

    (void)state;
    two[0].end_s = 0.8;
    two[1].start_s = 1.4;
    two[1].end_s = 2.2;
    two[1].breath_s = 0.3;
    two[1].onset = SYNTH_ONSET_STOP;
    g_autoptr(synth_take) take = synth_phrase_sing(&voice, two, 2, 0.0, 2.5);
    expect_near(rms_db(take, 1.05, 1.20) - rms_db(take, 0.2, 0.7), -31.3, 1.0);
    assert_true(rms_db(take, 1.34, 1.36) < rms_db(take, 0.2, 0.7) - 45.0);
    assert_true(rms_db(take, 1.388, 1.400) > rms_db(take, 0.2, 0.7) - 20.0);
}

/* Legato with every setting changing: the sound has no step. White noise apart, the strongest sample-to-sample change
 * of curvature near the boundary stays under that of the steady notes. */
static void test_legato_has_no_click(void **state)
{
    synth_voice voice = synth_voice_default();
    synth_syllable two[2] = {synth_syllable_default(), synth_syllable_default()};
    double steady = 0.0, boundary = 0.0;

    (void)state;
    voice.snr_db = INFINITY;
    two[1].start_s = 1.0;
    two[1].end_s = 2.0;
    two[1].midi = 60.0;
    two[1].rd = two[0].rd + 0.8;
    two[1].level_db = -6.0;
    g_autoptr(synth_take) take = synth_phrase_sing(&voice, two, 2, 0.0, 2.1);
    for (gsize i = 4800; i < 30000; i++) {
        double bend = fabs(take->samples[i + 1] - 2.0 * take->samples[i] + take->samples[i - 1]);
        if (i > 15200 && i < 16800)
            boundary = MAX(boundary, bend);
        else
            steady = MAX(steady, bend);
    }
    assert_true(boundary < steady * 1.02);
}

static void test_same_seed_same_sound(void **state)
{
    synth_phrase_spec spec = synth_phrase_default();

    (void)state;
    spec.n_notes = 4;
    spec.voice.room_rt60_s = 0.4;
    g_autoptr(synth_take) a = synth_phrase_random(&spec);
    g_autoptr(synth_take) b = synth_phrase_random(&spec);
    spec.voice.seed++;
    g_autoptr(synth_take) c = synth_phrase_random(&spec);
    assert_int_equal(a->n_samples, b->n_samples);
    assert_memory_equal(a->samples, b->samples, a->n_samples * sizeof *a->samples);
    assert_true(c->n_samples != a->n_samples || memcmp(a->samples, c->samples, a->n_samples * sizeof *a->samples) != 0);
}

/* Properties of many phrases: notes in order, voiced in their middle at the stated pitch, finite sound below full
 * scale. */
static void test_phrase_truth(void **state)
{
    synth_phrase_spec spec = synth_phrase_default();

    (void)state;
    for (int seed = 1; seed <= 12; seed++) {
        spec.voice.seed = (guint64)seed;
        spec.low_midi = 40 + 2 * seed;
        spec.high_midi = 60 + 2 * seed;
        g_autoptr(synth_take) take = synth_phrase_random(&spec);
        assert_int_equal(take->n_notes, 10);
        for (guint i = 0; i < take->n_notes; i++) {
            const synth_truth *note = &take->notes[i];
            guint middle = (guint)(0.5 * (note->start_s + note->end_s) / SYNTH_TRUTH_HOP_S);
            assert_true(note->end_s > note->start_s + 0.1);
            assert_true(i == 0 || note->start_s >= take->notes[i - 1].end_s);
            assert_true(take->f0_hz[middle] > 0.0);
            expect_near(aperta_cents_between(note->f0_hz, take->f0_hz[middle]), 0.0, 130.0);
            assert_true(note->n_resonances >= 6);
        }
        for (gsize i = 0; i < take->n_samples; i++)
            assert_true(fabsf(take->samples[i]) < 1.0f);
    }
}

/* Lag, in samples, of the best match of two neighbouring windows within a third of an octave of lag. */
static double best_lag(const float *at, double lag, int window)
{
    int low = (int)(lag / 1.26), high = (int)(lag * 1.26) + 1;
    g_autofree double *match = g_new0(double, high + 2);
    int best = low + 1;

    for (int l = low; l <= high; l++) {
        double ab = 0.0, aa = 1e-20, bb = 1e-20;
        for (int i = 0; i < window; i++) {
            double a = at[i - (window + l) / 2], b = at[i - (window + l) / 2 + l];
            ab += a * b;
            aa += a * a;
            bb += b * b;
        }
        match[l] = ab / sqrt(aa * bb);
        if (l > low && l < high && match[l] > match[best])
            best = l;
    }
    double bend = match[best - 1] - 2.0 * match[best] + match[best + 1];
    return bend < 0.0 ? best + 0.5 * (match[best - 1] - match[best + 1]) / bend : best;
}

/* The f0 track is that of the sound, at the same time: a plain autocorrelation around the stated lag. */
static void test_phrase_f0(void **state)
{
    synth_phrase_spec spec = synth_phrase_default();

    (void)state;
    spec.voice.sample_rate_hz = 48000; /* fine lags */
    spec.voice.snr_db = 40.0;
    spec.n_notes = 5;
    for (int low = 40; low <= 66; low += 13) {
        spec.low_midi = low;
        spec.high_midi = low + 18;
        spec.voice.seed = (guint64)low;
        g_autoptr(synth_take) take = synth_phrase_random(&spec);
        g_autoptr(GArray) errors = g_array_new(FALSE, FALSE, sizeof(double));
        guint far = 0;
        for (guint i = 3; i + 3 < take->n_frames; i++) {
            if (take->f0_hz[i - 3] <= 0.0 || take->f0_hz[i] <= 0.0 || take->f0_hz[i + 3] <= 0.0)
                continue;
            if (fabs(aperta_cents_between(take->f0_hz[i - 3], take->f0_hz[i + 3])) > 100.0)
                continue; /* a slide, quicker than two windows can follow */
            double lag = 48000.0 / take->f0_hz[i];
            double cents = fabs(aperta_cents_between(best_lag(take->samples + 480 * i, lag, (int)(2.0 * lag)), lag));
            g_array_append_val(errors, cents);
            far += cents > 50.0;
        }
        double sum = 0.0;
        for (guint i = 0; i < errors->len; i++)
            sum += MIN(g_array_index(errors, double, i), 50.0);
        assert_true(errors->len > 100);
        assert_true(sum / errors->len < 4.0);
        assert_true(far <= errors->len / 100);
    }
}

/* Hawks & Miller 1995, JASA 97:1343-1344: the polynomial's values at f0 = 132 Hz. */
static void test_hawks_miller(void **state)
{
    static const double rows[][2] = {{250, 64.0},  {300, 53.2},  {400, 39.6},  {500, 37.8},  {700, 40.2},
                                     {1000, 41.8}, {1500, 47.1}, {2500, 91.1}, {3500, 174.7}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        expect_near(synth_bandwidth_hawks_miller_hz(rows[i][0], 132.0), rows[i][1], 0.06);
    expect_ratio(synth_bandwidth_hawks_miller_hz(500.0, 220.0), 1.25 * synth_bandwidth_hawks_miller_hz(500.0, 132.0),
                 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_hawks_miller),
        cmocka_unit_test(test_source_coefficients),
        cmocka_unit_test(test_older_sources),
        cmocka_unit_test(test_source_tilt),
        cmocka_unit_test(test_gain_interpolation),
        cmocka_unit_test(test_table_poles),
        cmocka_unit_test(test_scale),
        cmocka_unit_test(test_note_harmonics),
        cmocka_unit_test(test_levels),
        cmocka_unit_test(test_vibrato_truth),
        cmocka_unit_test(test_breath_and_stop),
        cmocka_unit_test(test_legato_has_no_click),
        cmocka_unit_test(test_same_seed_same_sound),
        cmocka_unit_test(test_phrase_truth),
        cmocka_unit_test(test_phrase_f0),
    };
    return cmocka_run_group_tests_name("synth", tests, NULL, NULL);
}
