/* test-note-stages.c - stages of the way from a track to notes, each for itself: tracks drawn frame by frame, and one
 * sound of a voice's breath. What a stage must do is said by its header in src/pitch; there is no outside source. */
#include "pitch-reading.h"

#define HOP_S 0.010

/* A voiced stretch whose pitch (midi) and level go from one value to another along straight lines. */
static void draw(aperta_f0_track *track, double from_s, double to_s, double midi, double to_midi, double level_db,
                 double to_level_db)
{
    guint from = (guint)(from_s / HOP_S + 0.5), to = (guint)(to_s / HOP_S + 0.5);

    for (guint i = from; i < to; i++) {
        double share = (i - from) / (double)(to - from);
        track->frames[i] = (aperta_f0){.voiced = TRUE,
                                       .confidence = 0.99f,
                                       .f0_hz = (float)aperta_midi_to_hz(midi + share * (to_midi - midi), 440.0),
                                       .level_db = (float)(level_db + share * (to_level_db - level_db))};
    }
}

static aperta_f0_track *silence(double seconds)
{
    aperta_f0_track *track = aperta_f0_track_new(0.0, HOP_S, (guint)(seconds / HOP_S + 0.5));

    for (guint i = 0; i < track->n_frames; i++)
        track->frames[i] = (aperta_f0){.level_db = -90.0f};
    return track;
}

static guint count_notes(const aperta_f0_track *track)
{
    g_autoptr(GArray) notes = aperta_pitch_notes(track, NULL);

    return notes->len;
}

/* What falls from its first moment on, just after a note, on its pitch and softer, is its echo; what stands is sung. */
static void test_echo_is_no_note(void **state)
{
    (void)state;
    for (int sung = 0; sung < 2; sung++) {
        aperta_f0_track *track = silence(2.0);
        draw(track, 0.3, 0.9, 60.0, 60.0, -20.0, -20.0);
        draw(track, 0.96, 1.20, 60.0, 60.0, -30.0, sung ? -30.0 : -42.0);
        assert_int_equal(count_notes(track), sung ? 2 : 1);
        aperta_f0_track_free(track);
    }
}

/* On another pitch it is nobody's echo. */
static void test_other_pitch_is_no_echo(void **state)
{
    aperta_f0_track *track = silence(2.0);
    (void)state;
    draw(track, 0.3, 0.9, 60.0, 60.0, -20.0, -20.0);
    draw(track, 0.96, 1.20, 63.0, 63.0, -30.0, -42.0);
    assert_int_equal(count_notes(track), 2);
    aperta_f0_track_free(track);
}

/* Somebody in the next room: 35 dB under the singing; 20 dB under it is a soft note. */
static void test_far_softer_is_no_note(void **state)
{
    (void)state;
    for (int soft = 0; soft < 2; soft++) {
        aperta_f0_track *track = silence(4.0);
        for (int i = 0; i < 3; i++)
            draw(track, 0.2 + 0.8 * i, 0.8 + 0.8 * i, 60.0 + i, 60.0 + i, -20.0, -20.0);
        draw(track, 2.8, 3.4, 67.0, 67.0, soft ? -40.0 : -55.0, soft ? -40.0 : -55.0);
        assert_int_equal(count_notes(track), soft ? 4 : 3);
        aperta_f0_track_free(track);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_echo_is_no_note),
        cmocka_unit_test(test_other_pitch_is_no_echo),
        cmocka_unit_test(test_far_softer_is_no_note),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
