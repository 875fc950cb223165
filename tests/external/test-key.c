/* test-key.c - keys told of old songs, whose tunes and keys are from memory, unchecked (tests/support/tunes.c). Only
 * the half of them by which no setting was chosen. */
#include "tunes.h"

#include "expect.h"
#include <aperta/pitch.h>

enum { JUDGED = 1, TONIC = 5, TONIC_MIDI = 60 + TONIC };

static gboolean is_key(int tonic, gboolean minor, const tune *t)
{
    return tonic == TONIC && minor == t->minor;
}

/* A whole song is told its key, alone or with a second one. */
static void test_whole_songs(void **state)
{
    (void)state;
    for (guint i = JUDGED; i < N_TUNES; i += 2) {
        g_autoptr(GArray) notes = tune_notes(&TUNES[i], TONIC_MIDI, 1.0);
        aperta_key key = aperta_pitch_key((const aperta_note *)(void *)notes->data, notes->len, 440.0);
        print_message("%s: %s %s %.2f%s\n", TUNES[i].name, aperta_key_tonic_name(&key), key.minor ? "minor" : "major",
                      key.confidence, key.has_other ? " or another" : "");
        assert_true(key.known);
        assert_true(is_key(key.tonic, key.minor, &TUNES[i]) ||
                    (key.has_other && is_key(key.other_tonic, key.other_minor, &TUNES[i])));
    }
}

/* Half a song may not be enough, but then nothing wrong is said as sure. */
static void test_half_songs(void **state)
{
    (void)state;
    for (guint i = JUDGED; i < N_TUNES; i += 2) {
        g_autoptr(GArray) notes = tune_notes(&TUNES[i], TONIC_MIDI, 0.5);
        aperta_key key = aperta_pitch_key((const aperta_note *)(void *)notes->data, notes->len, 440.0);
        gboolean sure = key.known && !key.has_other && key.confidence > 0.8;
        assert_true(!sure || is_key(key.tonic, key.minor, &TUNES[i]));
    }
}

/* All twelve tones alike have no key; the notes that two relative keys share are told as both. */
static void test_unsure(void **state)
{
    static const tune BOTH = {"between C major and A minor", FALSE, "1 6 3 5 2 7 4 3 6 1 3 5 1 6 3"};
    aperta_note chromatic[24];
    (void)state;

    for (int i = 0; i < 24; i++)
        chromatic[i] = (aperta_note){.span = {i, i + 0.9}, .f0_hz = aperta_midi_to_hz(60 + i % 12, 440.0)};
    assert_false(aperta_pitch_key(chromatic, 24, 440.0).known);
    g_autoptr(GArray) notes = tune_notes(&BOTH, 60, 1.0);
    aperta_key key = aperta_pitch_key((const aperta_note *)(void *)notes->data, notes->len, 440.0);
    assert_true(key.known);
    assert_true(key.has_other);
    assert_true((key.tonic == 0 && key.other_tonic == 9) || (key.tonic == 9 && key.other_tonic == 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_whole_songs), cmocka_unit_test(test_half_songs),
                                       cmocka_unit_test(test_unsure)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
