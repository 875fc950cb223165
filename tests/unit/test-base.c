/* test-base.c - units, names of pitches, voices. */
#include "expect.h"

#include <aperta/base.h>

/* Equal temperament at A4 = 440 Hz (ISO 16:1975); frequencies computed from the definition 440 * 2^(n/12). */
static void test_equal_temperament(void **state)
{
    static const struct {
        const char *name;
        double hz;
    } rows[] = {{"A3", 220.0},   {"C4", 261.626}, {"F#4", 369.994}, {"G4", 391.995}, {"C5", 523.251},
                {"D5", 587.330}, {"E5", 659.255}, {"F5", 698.456},  {"C6", 1046.502}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        int midi;
        assert_true(aperta_pitch_parse(rows[i].name, &midi));
        expect_near(aperta_midi_to_hz(midi, 440.0), rows[i].hz, 0.0006);
        expect_near(aperta_hz_to_midi(rows[i].hz, 440.0), midi, 0.0001);
    }
}

/* Traunmueller 1990, JASA 88:97-100: values computed from the printed formula, end corrections included. */
static void test_bark(void **state)
{
    static const double rows[][2] = {{100, .956},    {200, 1.960},   {500, 4.919},   {1000, 8.527},
                                     {2000, 13.010}, {4000, 17.463}, {6700, 20.237}, {10000, 22.279}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        expect_near(aperta_hz_to_bark(rows[i][0]), rows[i][1], 0.0006);
        expect_ratio(aperta_bark_to_hz(aperta_hz_to_bark(rows[i][0])), rows[i][0], 1e-9);
    }
}

/* Key signatures of common music theory: the scale of each key uses each letter once. */
static void test_spelling(void **state)
{
    static const struct {
        int tonic;
        gboolean minor;
        int midi;
        const char *name;
    } rows[] = {
        {8, FALSE, 68, "A♭4"}, {8, FALSE, 61, "D♭4"}, {4, FALSE, 68, "G♯4"}, {9, FALSE, 61, "C♯4"},
        {2, FALSE, 66, "F♯4"}, {6, FALSE, 65, "E♯4"}, {9, TRUE, 68, "G♯4"},  {0, TRUE, 71, "B4"},
        {0, TRUE, 68, "A♭4"},  {4, TRUE, 63, "D♯4"},  {5, TRUE, 61, "D♭4"},  {11, FALSE, 70, "A♯4"},
        {1, FALSE, 65, "F4"},  {7, TRUE, 66, "F♯4"},  {3, TRUE, 71, "C♭5"},
    };
    char name[APERTA_PITCH_NAME_MAX];
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_key key = {.known = TRUE, .tonic = rows[i].tonic, .minor = rows[i].minor, .confidence = 1.0};
        aperta_pitch_spell(rows[i].midi, &key, name);
        assert_string_equal(name, rows[i].name);
        int midi;
        assert_true(aperta_pitch_parse(name, &midi));
        assert_int_equal(midi, rows[i].midi);
    }
    aperta_pitch_spell(68, NULL, name);
    assert_string_equal(name, "A♭4");
    aperta_pitch_spell(66, NULL, name);
    assert_string_equal(name, "F♯4");
}

static void test_key_names(void **state)
{
    static const char *const major[12] = {"C", "D♭", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"};
    static const char *const minor[12] = {"C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "G♯", "A", "B♭", "B"};
    (void)state;
    for (int tonic = 0; tonic < 12; tonic++) {
        aperta_key key = {.known = TRUE, .tonic = tonic, .minor = FALSE, .confidence = 1.0};
        const char *name = aperta_key_tonic_name(&key);
        assert_string_equal(name, major[tonic]);
        key.minor = TRUE;
        assert_string_equal(aperta_key_tonic_name(&key), minor[tonic]);
    }
}

static void test_bad_names(void **state)
{
    static const char *const bad[] = {"",    "H4",  "A",   "A44",  "4A",  "A#", "Ab4x",
                                      "C-3", "G9b", "C-2", "Cb-1", "G#9", "A9", "C10"};
    int midi;
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(bad); i++)
        assert_false(aperta_pitch_parse(bad[i], &midi));
}

static void test_voices(void **state)
{
    aperta_voice voice;
    (void)state;
    assert_true(aperta_voice_parse("Mezzo", &voice));
    assert_int_equal(aperta_voice_group(voice), APERTA_VOICE_WOMAN);
    assert_string_equal(aperta_voice_word(voice), "mezzo");
    assert_true(aperta_voice_parse("Mezzo-Soprano", &voice));
    assert_string_equal(aperta_voice_word(voice), "mezzo");
    assert_true(aperta_voice_parse("countertenor", &voice)); /* the throat of a man: common knowledge, no source */
    assert_int_equal(voice, APERTA_VOICE_MAN);
    assert_false(aperta_voice_parse("unknown", &voice));
}

/* The ends of what base.h names. Equal temperament has C-1 at 8.176 Hz (ISO 16:1975); MIDI counts from there. */
static void test_ends_of_pitches(void **state)
{
    static const struct {
        const char *name;
        int midi;
    } ends[] = {{"C-1", 0}, {"B#-2", 0}, {"B♯-2", 0}, {"C#-1", 1}, {"G9", 127}, {"Abb9", 127}, {"F##9", 127}};
    int midi;
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(ends); i++) {
        assert_true(aperta_pitch_parse(ends[i].name, &midi));
        assert_int_equal(midi, ends[i].midi);
    }
    expect_near(aperta_midi_to_hz(0.0, 440.0), 8.1758, 0.0001);
    expect_near(aperta_hz_to_midi(aperta_midi_to_hz(127.0, 440.0), 440.0), 127.0, 1e-9);
}

/* Every pitch is spelled in every key with a name that fits and means it. */
static void test_all_pitches_in_all_keys(void **state)
{
    (void)state;
    for (int midi = 0; midi <= 127; midi++)
        for (int tonic = -1; tonic < 12; tonic++)
            for (int minor = 0; minor < 2; minor++) {
                const aperta_key key = {.known = TRUE, .tonic = tonic, .minor = minor};
                char name[APERTA_PITCH_NAME_MAX];
                int parsed = -1;
                aperta_pitch_spell(midi, tonic >= 0 ? &key : NULL, name);
                if (!aperta_pitch_parse(name, &parsed) || parsed != midi)
                    fail_msg("%d in %d%s: %s, %d", midi, tonic, minor ? " minor" : "", name, parsed);
            }
}

/* 0 and 20000 Hz, and no step where the end corrections begin (Traunmueller 1990: 2 and 20.1 Bark). */
static void test_ends_of_bark(void **state)
{
    static const double seams[] = {2.0, 20.1};
    (void)state;
    expect_near(aperta_hz_to_bark(0.0), -0.53 + 0.15 * 2.53, 1e-12);
    expect_near(aperta_bark_to_hz(aperta_hz_to_bark(0.0)), 0.0, 1e-9);
    expect_near(aperta_hz_to_bark(20000.0), 1.22 * (26.81 * 20000.0 / 21960.0 - 0.53) - 4.422, 1e-9);
    expect_near(aperta_bark_to_hz(aperta_hz_to_bark(20000.0)), 20000.0, 1e-6);
    for (gsize i = 0; i < G_N_ELEMENTS(seams); i++) {
        double hz = aperta_bark_to_hz(seams[i]);
        expect_near(aperta_hz_to_bark(hz * (1.0 + 1e-9)), aperta_hz_to_bark(hz * (1.0 - 1e-9)), 1e-6);
        expect_ratio(aperta_bark_to_hz(seams[i] + 1e-9), aperta_bark_to_hz(seams[i] - 1e-9), 1e-6);
    }
}

static void test_faintest_power(void **state)
{
    (void)state;
    expect_near(aperta_power_to_db(0.0), -200.0, 0.0);
    expect_near(aperta_power_to_db(1e-30), -200.0, 0.0);
    expect_near(aperta_power_to_db(2e-20), -196.9897, 1e-4);
}

static void test_frames_at_the_ends(void **state)
{
    aperta_f0_track *track = aperta_f0_track_new(1.0, 0.01, 3);
    (void)state;
    assert_int_equal(aperta_f0_track_frame_at(track, -1e300), 0);
    assert_int_equal(aperta_f0_track_frame_at(track, 0.999), 0);
    assert_int_equal(aperta_f0_track_frame_at(track, 1.0049), 0);
    assert_int_equal(aperta_f0_track_frame_at(track, 1.0051), 1);
    assert_int_equal(aperta_f0_track_frame_at(track, 1.02), 2);
    assert_int_equal(aperta_f0_track_frame_at(track, 1.03), 2);
    assert_int_equal(aperta_f0_track_frame_at(track, 1e300), 2);
    aperta_f0_track_free(track);
}

/* What lies below the hz under which a share lies is that share, up to the ends that are left out; a normal
 * distribution has 1e-6 below -4.7534 standard deviations (Abramowitz and Stegun 1964, table 26.5). */
static void test_ends_of_shares(void **state)
{
    const aperta_posterior posterior = {.n_modes = 1,
                                        .modes = {{.weight = 1.0, .ln_hz = {6.0}, .covariance = {{0.01, 0.0, 0.0}}}}};
    static const double shares[] = {1e-6, 0.05, 0.5, 0.95, 1.0 - 1e-6};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(shares); i++) {
        double hz = aperta_posterior_quantile_hz(&posterior, 0, shares[i]);
        expect_near(aperta_posterior_below(&posterior, 0, hz), shares[i], 1e-9);
    }
    expect_near(log(aperta_posterior_quantile_hz(&posterior, 0, 1e-6)), 6.0 - 0.47534, 1e-5);
    expect_near(aperta_posterior_below(&posterior, 0, 1e-3), 0.0, 1e-15);
    expect_near(aperta_posterior_below(&posterior, 0, 1e9), 1.0, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_equal_temperament),  cmocka_unit_test(test_bark),
        cmocka_unit_test(test_spelling),           cmocka_unit_test(test_key_names),
        cmocka_unit_test(test_bad_names),          cmocka_unit_test(test_voices),
        cmocka_unit_test(test_ends_of_pitches),    cmocka_unit_test(test_all_pitches_in_all_keys),
        cmocka_unit_test(test_ends_of_bark),       cmocka_unit_test(test_faintest_power),
        cmocka_unit_test(test_frames_at_the_ends), cmocka_unit_test(test_ends_of_shares),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
