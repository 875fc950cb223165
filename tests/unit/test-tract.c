/* test-tract.c - the classical tracker and the harmonic levels on signals whose answer is known by construction: a
 * pulse train through two-pole resonators, sums of sines, silence. */
#include "expect.h"
#include "tract/tract-private.h"

#include <string.h>

#define RATE_HZ      16000
#define LENGTH       16000
#define N_RESONATORS 7

typedef struct {
    float samples[LENGTH];
    aperta_f0_track *track;
    aperta_note note;
    aperta_tract_reading reading;
    aperta_tract_frame frames[100];
} take;

/* Whole second voiced at f0_hz, one note. */
static void take_init(take *t, double f0_hz)
{
    memset(t, 0, sizeof *t);
    t->track = aperta_f0_track_new(0, 0.01, 100);
    for (guint i = 0; i < 100; i++)
        t->track->frames[i] = (aperta_f0){(float)f0_hz, 0.95f, -20, 1};
    t->note = (aperta_note){.span = {0, 0.995}, .steady = {0.05, 0.95}, .f0_hz = f0_hz};
}

static void take_read(take *t, aperta_voice voice, double band_hz)
{
    aperta_tract_config config = {RATE_HZ, voice, band_hz};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);

    aperta_tract_read(tract, t->samples, LENGTH, 0, t->track, &t->note, &t->reading, t->frames);
}

static void take_clear(take *t)
{
    aperta_f0_track_free(t->track);
}

/* Two-pole resonators in cascade over a pulse train falling 6 dB an octave (source and lips together). first_hz at
 * the start, last_hz at the end; the resonances between are on the way. A man's four upper resonances follow. */
static void sing(take *t, double f0_hz, const double first_hz[3], const double last_hz[3])
{
    static const double upper_hz[] = {3500, 4500, 5500, 6500};
    double memory[N_RESONATORS][2] = {{0}};
    double phase = 0, low = 0;

    for (guint i = 0; i < LENGTH; i++) {
        phase += f0_hz / RATE_HZ;
        double x = phase >= 1;
        phase -= phase >= 1;
        x = low = x + 0.97 * low;
        for (guint r = 0; r < N_RESONATORS; r++) {
            double hz = r < 3 ? first_hz[r] + (last_hz[r] - first_hz[r]) * i / LENGTH : upper_hz[r - 3];
            double radius = exp(-G_PI * (50 + 0.02 * hz) / RATE_HZ);
            double b = 2 * radius * cos(2 * G_PI * hz / RATE_HZ);
            double c = radius * radius;
            double y = (1 - b + c) * x + b * memory[r][0] - c * memory[r][1];
            memory[r][1] = memory[r][0];
            memory[r][0] = y;
            x = y;
        }
        t->samples[i] = (float)(0.2 * x);
    }
}

/* Means of a man's E and A in Hillenbrand et al. 1995, rounded; any resonances would do. */
static const double eh_hz[] = {590, 1800, 2600};
static const double ah_hz[] = {760, 1310, 2530};

static void test_vowel(void **state)
{
    (void)state;
    take t;

    take_init(&t, 100);
    sing(&t, 100, eh_hz, eh_hz);
    take_read(&t, APERTA_VOICE_MAN, 0);
    for (guint f = 0; f < 3; f++) {
        const aperta_resonance *r = &t.reading.lpc[f];
        assert_int_equal(r->status, APERTA_MEASURED);
        expect_ratio(r->hz, eh_hz[f], 0.03);
        assert_true(r->has_low && r->has_high && r->low_hz < eh_hz[f] && eh_hz[f] < r->high_hz);
        assert_int_equal(t.reading.resonances[f].status, APERTA_MEASURED);
        expect_ratio(t.frames[50].hz[f], eh_hz[f], 0.05);
    }
    assert_int_equal(t.frames[50].known, 7);
    assert_false(t.reading.glides);
    take_clear(&t);
}

/* Loudness changes nothing; nor does where in the recording the note stands. */
static void test_scale_and_shift(void **state)
{
    (void)state;
    take t;
    double hz[3];

    take_init(&t, 120);
    sing(&t, 120, ah_hz, ah_hz);
    take_read(&t, APERTA_VOICE_MAN, 0);
    for (guint f = 0; f < 3; f++)
        hz[f] = t.reading.lpc[f].hz;
    double level_db = t.reading.harmonics[0].level_db;
    for (guint i = 0; i < LENGTH; i++)
        t.samples[i] *= 0.015625f; /* a power of two: no rounding */
    take_read(&t, APERTA_VOICE_MAN, 0);
    for (guint f = 0; f < 3; f++)
        expect_ratio(t.reading.lpc[f].hz, hz[f], 1e-6);
    expect_near(t.reading.harmonics[0].level_db, level_db + 20 * log10(0.015625), 0.001);

    g_autoptr(aperta_f0_track) later = aperta_f0_track_new(100, 0.01, 100);
    memcpy(later->frames, t.track->frames, 100 * sizeof *later->frames);
    t.note.span = (aperta_span){100, 100.995};
    t.note.steady = (aperta_span){100.05, 100.95};
    aperta_tract_config config = {RATE_HZ, APERTA_VOICE_MAN, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
    aperta_tract_read(tract, t.samples, LENGTH, 100, later, &t.note, &t.reading, NULL);
    for (guint f = 0; f < 3; f++)
        expect_ratio(t.reading.lpc[f].hz, hz[f], 0.002);
    take_clear(&t);
}

/* A recording that ends at 3.4 kHz: F1 to F3 are still there. */
static void test_narrow_band(void **state)
{
    (void)state;
    take t;

    take_init(&t, 100);
    for (int k = 1; k * 100 < 3400; k++) { /* the same vowel from sines, cut off */
        double gain = 1;
        double hz = 100.0 * k;
        for (guint r = 0; r < 5; r++) {
            double formant_hz = r < 3 ? eh_hz[r] : 500 + 1000 * r;
            double half = (50 + 0.02 * formant_hz) / 2;
            double at = formant_hz * formant_hz + half * half;
            gain *= at / sqrt(pow(at - hz * hz, 2) + pow(2 * half * hz, 2));
        }
        for (guint i = 0; i < LENGTH; i++)
            t.samples[i] += (float)(0.05 / k * gain * cos(2 * G_PI * hz * i / RATE_HZ));
    }
    take_read(&t, APERTA_VOICE_MAN, 3400);
    for (guint f = 0; f < 3; f++) {
        assert_int_equal(t.reading.lpc[f].status, APERTA_MEASURED);
        expect_ratio(t.reading.lpc[f].hz, eh_hz[f], 0.05);
    }
    assert_true(t.reading.n_harmonics <= 34);
    take_clear(&t);
}

static void test_glide(void **state)
{
    (void)state;
    static const double ee_hz[] = {340, 2300, 3000};
    take t;

    take_init(&t, 110);
    sing(&t, 110, ah_hz, ee_hz);
    take_read(&t, APERTA_VOICE_MAN, 0);
    assert_true(t.reading.glides);
    /* of windows of seven frames, one every three from 0.05 s on, the first and the last are centred on 0.08 and 0.89 s
     */
    for (guint f = 0; f < 2; f++) {
        expect_ratio(t.reading.first[f].hz, ah_hz[f] + 0.08 * (ee_hz[f] - ah_hz[f]), 0.05);
        expect_ratio(t.reading.last[f].hz, ah_hz[f] + 0.89 * (ee_hz[f] - ah_hz[f]), 0.05);
        for (guint i = 15; i < 90; i += 15)
            expect_ratio(t.frames[i].hz[f], ah_hz[f] + 0.01 * i * (ee_hz[f] - ah_hz[f]), 0.06);
    }
    take_clear(&t);
}

/* Quiet frames, unvoiced frames and a burst of another spectrum inside the steady part do not move the reading. */
/* A held "oh" that closes by a Bark, evenly over a second, as people's do: no diphthong. */
static void test_drift_is_no_glide(void **state)
{
    static const double first_hz[] = {400, 900, 2500}, last_hz[] = {304, 972, 2500};
    (void)state;
    take t;

    take_init(&t, 150);
    sing(&t, 150, first_hz, last_hz);
    take_read(&t, APERTA_VOICE_MAN, 0);
    assert_false(t.reading.glides);
    assert_int_equal(t.reading.resonances[0].status, APERTA_MEASURED);
    take_clear(&t);
}

static void test_consonants_left_out(void **state)
{
    (void)state;
    take t;
    double hz[3];

    take_init(&t, 100);
    sing(&t, 100, eh_hz, eh_hz);
    take_read(&t, APERTA_VOICE_MAN, 0);
    for (guint f = 0; f < 3; f++)
        hz[f] = t.reading.lpc[f].hz;
    guint32 seed = 5;
    for (guint i = LENGTH * 3 / 10; i < LENGTH * 5 / 10; i++) {
        seed = seed * 1664525u + 1013904223u;
        t.samples[i] = (float)((seed >> 16) / 65536.0 - 0.5) * 0.02f;
    }
    for (guint i = 28; i < 52; i++) {
        t.track->frames[i].level_db = i < 40 ? -45 : -20;
        t.track->frames[i].voiced = i < 40;
    }
    memset(t.frames, 0, sizeof t.frames);
    take_read(&t, APERTA_VOICE_MAN, 0);
    for (guint f = 0; f < 3; f++)
        expect_ratio(t.reading.lpc[f].hz, hz[f], 0.01);
    assert_int_equal(t.frames[45].known, 0);
    assert_int_equal(t.frames[60].known, 7);
    take_clear(&t);
}

static void expect_nothing_known(const aperta_tract_reading *reading)
{
    for (guint f = 0; f < 3; f++) {
        assert_int_equal(reading->lpc[f].status, APERTA_UNKNOWN);
        assert_int_equal(reading->resonances[f].status, APERTA_UNKNOWN);
    }
    assert_false(reading->glides);
}

static void test_unknown(void **state)
{
    (void)state;
    take t;

    take_init(&t, 440); /* silence */
    take_read(&t, APERTA_VOICE_WOMAN, 0);
    expect_nothing_known(&t.reading);
    for (guint i = 0; i < LENGTH; i++) /* one sine has no envelope */
        t.samples[i] = (float)(0.3 * sin(2 * G_PI * 440 * i / RATE_HZ));
    take_read(&t, APERTA_VOICE_WOMAN, 0);
    assert_int_equal(t.reading.sound, APERTA_SOUND_BARE);
    expect_nothing_known(&t.reading);
    sing(&t, 440, ah_hz, ah_hz);
    t.note.withheld = APERTA_WITHHELD_COMPANY;
    take_read(&t, APERTA_VOICE_WOMAN, 0);
    expect_nothing_known(&t.reading);
    t.note.withheld = APERTA_WITHHELD_NOT;
    t.note.steady = (aperta_span){0.5, 0.53}; /* three or four frames */
    take_read(&t, APERTA_VOICE_WOMAN, 0);
    expect_nothing_known(&t.reading);
    take_clear(&t);
}

/* Pulses as they are and with a wandering rate, a sawtooth and a square wave went through no tract; a sung vowel did.
 */
static void fill_sound(take *t, int kind, double f0_hz)
{
    g_autoptr(GRand) random = g_rand_new_with_seed(7);
    double phase = 0.0, step = f0_hz / RATE_HZ;

    for (guint i = 0; i < LENGTH; i++) {
        gboolean turns = phase + step >= 1.0;
        phase += step - turns;
        if (turns && kind == 1) /* 2 % to and fro */
            step = f0_hz / RATE_HZ * (1.0 + g_rand_double_range(random, -0.02, 0.02));
        double sum = kind < 2 && turns ? 0.5 : 0.0;
        for (int k = 1; kind >= 2 && k * f0_hz < 0.45 * RATE_HZ; k += kind - 1)
            sum += 0.2 * sin(2.0 * G_PI * k * f0_hz * i / RATE_HZ) / k;
        t->samples[i] = (float)(sum + g_rand_double_range(random, -1e-4, 1e-4));
    }
}

static void test_sounds_without_tract(void **state)
{
    enum { PULSES, UNEVEN_PULSES, SAWTOOTH, SQUARE };
    static const double f0_hz[] = {60, 80, 100, 120, 220};
    (void)state;

    for (gsize p = 0; p < G_N_ELEMENTS(f0_hz); p++)
        for (int kind = PULSES; kind <= SQUARE; kind++) {
            take t;
            take_init(&t, f0_hz[p]);
            fill_sound(&t, kind, f0_hz[p]);
            take_read(&t, APERTA_VOICE_MAN, 0);
            assert_int_equal(t.reading.sound, kind == SQUARE ? APERTA_SOUND_ODD : APERTA_SOUND_EVEN);
            expect_nothing_known(&t.reading);
            sing(&t, f0_hz[p], ah_hz, ah_hz);
            take_read(&t, APERTA_VOICE_MAN, 0);
            assert_int_equal(t.reading.sound, APERTA_SOUND_POSSIBLE);
            assert_int_equal(t.reading.resonances[1].status, APERTA_MEASURED);
            take_clear(&t);
        }
}

/* The note is longer than the stretch that is read, and longer than the samples given. */
static void test_long_note(void **state)
{
    (void)state;
    g_autoptr(aperta_f0_track) track = aperta_f0_track_new(0, 0.005, 4000);
    aperta_note note = {.span = {0, 20}, .steady = {0.1, 19.9}, .f0_hz = 100};
    tract_stretch stretch = tract_stretch_of(track, &note);

    assert_int_equal(stretch.stride, 2);
    assert_in_range(stretch.n, 800, 802);
    expect_near(aperta_f0_track_time_s(track, stretch.first), 6, 0.006); /* middle 10 s, 4 s to either side */
    assert_true(stretch.first + (stretch.n - 1) * stretch.stride < track->n_frames);
}

/* Sines of known amplitude: level of A^2 / 2. */
static void test_levels(void **state)
{
    (void)state;
    static const double amplitude[] = {0.3, 0.1, 0.003, 0.05};
    take t;

    take_init(&t, 233);
    for (guint k = 0; k < 4; k++)
        for (guint i = 0; i < LENGTH; i++)
            t.samples[i] += (float)(amplitude[k] * cos(2 * G_PI * 233 * (k + 1) * i / RATE_HZ + k));
    take_read(&t, APERTA_VOICE_WOMAN, 0);
    assert_int_equal(t.reading.n_harmonics, 21); /* 5000 / 233 */
    for (guint k = 0; k < 4; k++) {
        assert_int_equal(t.reading.harmonics[k].number, k + 1);
        expect_near(t.reading.harmonics[k].hz, 233 * (k + 1), 1e-9);
        expect_near(t.reading.harmonics[k].level_db, 10 * log10(amplitude[k] * amplitude[k] / 2), 0.2);
    }
    assert_true(t.reading.harmonics[8].level_db < -75);
    take_clear(&t);
}

/* ---- joining over time ------------------------------------------------------------------------------------------- */

static tract_poles poles_of(guint n, const double *hz, const double *bandwidth_hz)
{
    tract_poles poles = {.n = n};
    for (guint i = 0; i < n; i++) {
        poles.hz[i] = hz[i];
        poles.bark[i] = aperta_hz_to_bark(hz[i]);
        poles.bandwidth_hz[i] = bandwidth_hz[i];
    }
    return poles;
}

/* A wide pole that comes and goes between F1 and F2, and a frame that lacks F1, do not break the tracks. */
static void test_path(void **state)
{
    (void)state;
    tract_poles poles[9];
    aperta_tract_frame frames[9];
    tract_path *path = tract_path_create(APERTA_VOICE_MAN);

    for (guint i = 0; i < 9; i++) {
        if (i == 4)
            poles[i] = poles_of(2, (double[]){2200, 2900}, (double[]){90, 120});
        else if (i % 2 == 0)
            poles[i] = poles_of(4, (double[]){340, 1200, 2200, 2900}, (double[]){60, 500, 90, 120});
        else
            poles[i] = poles_of(4, (double[]){340, 2200, 2900, 3600}, (double[]){60, 90, 120, 200});
    }
    tract_path_find(path, poles, 9, frames);
    for (guint i = 0; i < 9; i++) {
        assert_int_equal(frames[i].known, i == 4 ? 6 : 7);
        if (i != 4)
            expect_near(frames[i].hz[0], 340, 0.01);
        expect_near(frames[i].hz[1], 2200, 0.01);
        expect_near(frames[i].hz[2], 2900, 0.01);
    }
    tract_path_destroy(path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_vowel),
        cmocka_unit_test(test_scale_and_shift),
        cmocka_unit_test(test_narrow_band),
        cmocka_unit_test(test_glide),
        cmocka_unit_test(test_drift_is_no_glide),
        cmocka_unit_test(test_consonants_left_out),
        cmocka_unit_test(test_unknown),
        cmocka_unit_test(test_sounds_without_tract),
        cmocka_unit_test(test_long_note),
        cmocka_unit_test(test_levels),
        cmocka_unit_test(test_path),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
