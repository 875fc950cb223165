/* test-note-stages.c - stages of the way from a track to notes, each for itself: tracks drawn frame by frame, and one
 * sound of a voice's breath. What a stage must do is said by its header in src/pitch; there is no outside source. */
#include "pitch-reading.h"

#include <stdlib.h>

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

/* A note, a consonant, then 0.15 s that only slide up to the next note: its scoop, no note. What stands there is one.
 */
static void test_scoop_is_no_note(void **state)
{
    (void)state;
    for (int stands = 0; stands < 2; stands++) {
        aperta_f0_track *track = silence(2.0);
        draw(track, 0.20, 0.60, 59.0, 59.0, -20.0, -20.0);
        draw(track, 0.60, 0.75, 57.8, stands ? 57.8 : 60.0, -20.0, -20.0);
        draw(track, 0.75, 1.35, 60.0, 60.0, -20.0, -20.0);
        for (int i = -5; i <= 5; i++)
            track->frames[60 + i].level_db -= 8.0f * (1.0f - abs(i) / 6.0f);
        assert_int_equal(count_notes(track), stands ? 3 : 2);
        aperta_f0_track_free(track);
    }
}

/* Breath 9 dB under a high tone that rings in a resonance, 70 Hz wide, at half of the pitch: no lower octave. */
static void test_breath_that_rings_is_no_octave(void **state)
{
    static const double level_db[] = {0, -14, -20}, ring_db = -9.0;
    (void)state;
    for (double f0_hz = 600.0; f0_hz < 800.0; f0_hz *= 1.12) {
        float samples[2 * RATE_HZ] = {0}, noise[2 * RATE_HZ];
        g_autoptr(GRand) random = g_rand_new_with_seed(3);
        double radius = exp(-G_PI * 70.0 / RATE_HZ), turn = 2.0 * radius * cos(G_PI * f0_hz / RATE_HZ);
        double before[2] = {0.0, 0.0}, power = 0.0;
        for (gsize i = 0; i < G_N_ELEMENTS(noise); i++) { /* two poles */
            double y = g_rand_double_range(random, -1.0, 1.0) + turn * before[0] - radius * radius * before[1];
            before[1] = before[0];
            before[0] = y;
            noise[i] = (float)y;
            power += y * y / G_N_ELEMENTS(noise);
        }
        add_harmonics(samples, G_N_ELEMENTS(samples), f0_hz, 0.1, level_db, G_N_ELEMENTS(level_db));
        double gain = 0.1 * sqrt(0.5 / power) * pow(10.0, ring_db / 20.0);
        for (gsize i = 0; i < G_N_ELEMENTS(noise); i++)
            samples[i] += (float)gain * noise[i];
        g_auto(pitch_reading) r = read_samples(samples, G_N_ELEMENTS(samples));
        guint right = 0;
        for (guint i = 10; i < 190; i++)
            right += r.track->frames[i].voiced && fabs(aperta_cents_between(f0_hz, r.track->frames[i].f0_hz)) < 50.0;
        print_message("%.0f Hz: %u of 180 frames\n", f0_hz, right);
        assert_true(right >= 170);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_echo_is_no_note),
        cmocka_unit_test(test_other_pitch_is_no_echo),
        cmocka_unit_test(test_far_softer_is_no_note),
        cmocka_unit_test(test_scoop_is_no_note),
        cmocka_unit_test(test_breath_that_rings_is_no_octave),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
