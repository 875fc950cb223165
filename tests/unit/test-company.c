/* test-company.c - what sounds beside a voice, and what is no voice at all. */
#include "pitch-reading.h"

#include <aperta/tract.h>
#include <math.h>

#define NOTE_S 0.6
#define STEP_S 0.7

static const int tune[] = {57, 60, 62, 64, 62, 59, 57, 60, 64, 62};
enum { N_TUNE = G_N_ELEMENTS(tune) };

/* "ah" of a woman: mean of 48 (Hillenbrand et al. 1995, JASA 97:3099-3111). */
static const double ah_hz[] = {921, 1526, 2832, 4291};

static synth_take *sing_tune(double vibrato_cents)
{
    synth_table ah = synth_table_vowel(ah_hz, 4, 15.0, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    synth_syllable syllables[N_TUNE];
    synth_voice voice = synth_voice_default();

    for (guint i = 0; i < N_TUNE; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + STEP_S * i;
        syllables[i].end_s = syllables[i].start_s + NOTE_S;
        syllables[i].midi = tune[i];
        syllables[i].onset = SYNTH_ONSET_STOP;
        syllables[i].vibrato.extent_cents = vibrato_cents;
        syllables[i].vowel = synth_vowel_of_table(&ah);
    }
    return synth_phrase_sing(&voice, syllables, N_TUNE, 3.0, 0.3 + STEP_S * N_TUNE + 0.25);
}

static double rms(const float *samples, gsize n)
{
    double power = 0.0;

    for (gsize i = 0; i < n; i++)
        power += (double)samples[i] * samples[i] / (double)n;
    return sqrt(power);
}

/* A triad with its root below, 9 dB an octave, at that level re the whole take. */
static void add_chord(synth_take *take, double level_db)
{
    static const int chord[] = {43, 52, 55, 59};
    static const double falls_db[] = {0, -9, -14.3, -18, -20.9, -23.3, -25.3, -27, -28.5, -30};
    g_autofree float *other = g_new0(float, take->n_samples);

    for (gsize i = 0; i < G_N_ELEMENTS(chord); i++)
        add_harmonics(other, take->n_samples, aperta_midi_to_hz(chord[i], 440.0), 0.1, falls_db,
                      G_N_ELEMENTS(falls_db));
    double gain = rms(take->samples, take->n_samples) / rms(other, take->n_samples) * pow(10.0, level_db / 20.0);
    for (gsize i = 0; i < take->n_samples; i++)
        take->samples[i] += (float)gain * other[i];
}

/* Notes whose F1 and F2 are measured with the truth inside their intervals; *told: those with F1 and F2 at all. */
static guint count_right(const synth_take *take, const pitch_reading *r, guint *told)
{
    aperta_tract_config config = {.sample_rate_hz = RATE_HZ, .voice = APERTA_VOICE_WOMAN};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
    guint right = 0;

    *told = 0;
    for (guint i = 0; i < r->notes->len; i++) {
        aperta_tract_reading reading;
        aperta_tract_read(tract, take->samples, take->n_samples, 0.0, r->track, note_of(r, i), &reading, NULL);
        const aperta_resonance *f = reading.resonances;
        if (f[0].status != APERTA_MEASURED || f[1].status != APERTA_MEASURED)
            continue;
        ++*told;
        right +=
            f[0].low_hz <= ah_hz[0] && ah_hz[0] <= f[0].high_hz && f[1].low_hz <= ah_hz[1] && ah_hz[1] <= f[1].high_hz;
    }
    return right;
}

/* A chord that is noticed and soft leaves the vowels readable. Of two 90 % intervals, four in five hold the truth
 * together; three in five are asked for. */
static void test_soft_chord_withholds_nothing(void **state)
{
    static const double levels_db[] = {-24.0, -32.0, -44.0};
    (void)state;

    for (gsize k = 0; k < G_N_ELEMENTS(levels_db); k++) {
        g_autoptr(synth_take) take = sing_tune(40.0);
        add_chord(take, levels_db[k]);
        g_auto(pitch_reading) r = read_take(take);
        guint accompanied = 0, told;
        for (guint i = 0; i < r.notes->len; i++) {
            accompanied += note_of(&r, i)->accompanied;
            assert_int_equal(note_of(&r, i)->withheld, APERTA_WITHHELD_NOT);
        }
        assert_true(r.notes->len >= N_TUNE - 1);
        assert_true(levels_db[k] < -40.0 || accompanied == r.notes->len);
        guint right = count_right(take, &r, &told);
        print_message("%.0f dB: %u of %u notes told, %u within their intervals\n", levels_db[k], told, r.notes->len,
                      right);
        assert_true(told >= r.notes->len - 1);
        assert_true(right >= 0.6 * told);
    }
}

/* As loud as the voice, it may own the pitch. */
static void test_loud_chord_withholds(void **state)
{
    g_autoptr(synth_take) take = sing_tune(40.0);
    (void)state;

    add_chord(take, 0.0);
    g_auto(pitch_reading) r = read_take(take);
    for (guint i = 0; i < r.notes->len; i++)
        assert_int_not_equal(note_of(&r, i)->withheld, APERTA_WITHHELD_NOT);
}

/* C4, E4 and G4 are nearly the fourth, fifth and sixth harmonic of C2; so with an organ's harmonics, and other chords.
 */
static void test_chord_is_no_note(void **state)
{
    static const int chords[][3] = {{60, 64, 67}, {62, 66, 69}, {65, 69, 72}, {55, 60, 64}, {64, 67, 72}};
    static const double organ_db[] = {0, -3, -6, -9, -12, -15};
    guint n = 2 * RATE_HZ;
    g_autofree float *samples = g_new0(float, n + RATE_HZ);
    (void)state;

    for (gsize c = 0; c < G_N_ELEMENTS(chords); c++)
        for (int harmonics = 1; harmonics <= 6; harmonics += 5) {
            memset(samples, 0, (n + RATE_HZ) * sizeof *samples);
            for (int i = 0; i < 3; i++)
                add_harmonics(samples + RATE_HZ / 2, n, aperta_midi_to_hz(chords[c][i], 440.0), 0.1, organ_db,
                              harmonics);
            g_auto(pitch_reading) r = read_samples(samples, n + RATE_HZ);
            for (guint i = 0; i < r.notes->len; i++) {
                print_message("chord %u, %d harmonics: %.1f Hz, %d\n", (guint)c, harmonics, note_of(&r, i)->f0_hz,
                              note_of(&r, i)->withheld);
                assert_int_not_equal(note_of(&r, i)->withheld, APERTA_WITHHELD_NOT);
            }
        }
}

/* A low voice whose lowest harmonics a telephone has taken is one tone all the same. */
static void test_missing_fundamental_is_one_tone(void **state)
{
    static const double level_db[] = {-80, -50, -20, -6, 0, -3, -6, -9, -12, -15, -18, -20, -22, -24, -26, -28};
    guint n = RATE_HZ;
    g_autofree float *samples = g_new0(float, n);
    (void)state;

    add_harmonics(samples, n, 87.0, 0.1, level_db, G_N_ELEMENTS(level_db));
    g_auto(pitch_reading) r = read_samples(samples, n);
    assert_int_equal(r.notes->len, 1);
    assert_int_equal(note_of(&r, 0)->withheld, APERTA_WITHHELD_NOT);
}

/* The same tune on an organ pipe: nobody sings so. With vibrato, or sung, it may be a voice. */
static void test_organ_is_no_voice(void **state)
{
    static const double pipe_db[] = {0, -6, -14, -18, -24, -28, -32, -36};
    guint n = (guint)((0.3 + STEP_S * N_TUNE + 0.3) * RATE_HZ);
    g_autofree float *samples = g_new0(float, n);
    (void)state;

    for (guint i = 0; i < N_TUNE; i++)
        add_harmonics(samples + (gsize)((0.3 + STEP_S * i) * RATE_HZ), (gsize)(NOTE_S * RATE_HZ),
                      aperta_midi_to_hz(tune[i], 440.0), 0.1, pipe_db, G_N_ELEMENTS(pipe_db));
    g_auto(pitch_reading) organ = read_samples(samples, n);
    assert_true(organ.notes->len >= N_TUNE - 1);
    for (guint i = 0; i < organ.notes->len; i++)
        assert_int_equal(note_of(&organ, i)->withheld, APERTA_WITHHELD_NO_VOICE);

    g_autoptr(synth_take) take = sing_tune(40.0);
    g_auto(pitch_reading) sung = read_take(take);
    for (guint i = 0; i < sung.notes->len; i++)
        assert_int_equal(note_of(&sung, i)->withheld, APERTA_WITHHELD_NOT);
    assert_int_equal(
        aperta_pitch_voice_heard(sung.track, (const aperta_note *)(void *)sung.notes->data, sung.notes->len),
        APERTA_VOICE_HEARD);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_soft_chord_withholds_nothing),
        cmocka_unit_test(test_loud_chord_withholds),
        cmocka_unit_test(test_chord_is_no_note),
        cmocka_unit_test(test_missing_fundamental_is_one_tone),
        cmocka_unit_test(test_organ_is_no_voice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
