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
    static const char *const bad[] = {"", "H4", "A", "A44", "4A", "A#", "Ab4x", "C-3", "G9b"};
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_equal_temperament), cmocka_unit_test(test_bark),      cmocka_unit_test(test_spelling),
        cmocka_unit_test(test_key_names),         cmocka_unit_test(test_bad_names), cmocka_unit_test(test_voices),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
