/* test-note-stages.c - stages of the way from a track to notes, each for itself: tracks and partials drawn, and one
 * sound of a voice's breath. What a stage must do is said by its header in src/pitch; there is no outside source. */
#include "pitch-reading.h"
#include "pitch/pitch-private.h"

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

/* Rayleigh's sum (rest.c) of n exact pitches is n; three notes on one pitch are one pitch, three a tone apart three. */
static void test_repeated_pitch_counts_once(void **state)
{
    (void)state;
    for (int apart = 0; apart < 2; apart++) {
        aperta_note notes[3] = {{.f0_hz = 0.0}};
        for (int i = 0; i < 3; i++)
            notes[i].f0_hz = aperta_midi_to_hz(60.0 + 2.0 * apart * i, 440.0);
        assert_float_equal(aperta_pitch_on_scale(notes, 3), apart ? 3.0 : 1.0, 1e-6);
    }
}

/* Notes as still as a key's: those that jump are no voice's; where 0.05 s lead from each to the next, one may sing. */
static void test_way_between_notes_is_a_voices(void **state)
{
    (void)state;
    for (int leads = 0; leads < 2; leads++) {
        aperta_f0_track *track = silence(4.5);
        aperta_note notes[10] = {{.f0_hz = 0.0}};
        for (int i = 0; i < 10; i++) {
            double at = 0.4 * i, midi = 60.0 + 2.0 * (i % 2), next = 60.0 + 2.0 * ((i + 1) % 2);
            draw(track, at, at + 0.35, midi, midi, -20.0, -20.0);
            draw(track, at + 0.35, at + 0.40, midi, leads ? next : midi, -20.0, -20.0);
            notes[i] = (aperta_note){
                .span = {at, at + 0.40}, .steady = {at + 0.05, at + 0.30}, .f0_hz = aperta_midi_to_hz(midi, 440.0)};
        }
        assert_int_equal(aperta_pitch_voice_heard(track, notes, 10), leads ? APERTA_VOICE_HEARD : APERTA_NO_VOICE);
        aperta_f0_track_free(track);
    }
}

/* ---- partials drawn slice by slice ---- */

static pitch_slices no_slices(void)
{
    return (pitch_slices){g_array_new(FALSE, FALSE, sizeof(pitch_partial)), g_array_new(FALSE, FALSE, sizeof(guint32))};
}

static void start_slice(pitch_slices *slices)
{
    guint32 at = slices->partials->len;
    g_array_append_val(slices->starts, at);
}

static void add_partial(pitch_slices *slices, double hz, double level_db)
{
    pitch_partial p = {(guint16)(10.0 * hz + 0.5), (gint16)(10.0 * level_db)};
    g_array_append_val(slices->partials, p);
}

static void clear_slices(pitch_slices *slices)
{
    g_array_unref(slices->partials);
    g_array_unref(slices->starts);
}

/* A pure major triad is 4 : 5 : 6 (just intonation) of a pitch that nobody sounds; 3 : 6 : 9 are harmonics 1, 2 and 3
 * of one tone. */
static void test_chord_is_several_tones(void **state)
{
    static const int numbers[2][3] = {{3, 6, 9}, {4, 5, 6}};
    (void)state;
    for (int chord = 0; chord < 2; chord++) {
        aperta_f0_track *track = silence(0.02);
        aperta_pitch_feature features[2] = {{.several = 0}};
        pitch_slices slices = no_slices();
        start_slice(&slices);
        for (int k = 0; k < 3; k++)
            add_partial(&slices, 100.0 * numbers[chord][k], -20.0);
        for (guint i = 0; i < 2; i++)
            track->frames[i] = (aperta_f0){.voiced = TRUE, .confidence = 0.99f, .f0_hz = 100.0f, .level_db = -20.0f};
        pitch_find_several(&slices, track, features);
        assert_int_equal(features[0].several, chord);
        clear_slices(&slices);
        aperta_f0_track_free(track);
    }
}

/* After 0.6 s at 310 Hz (300 would be mains hum) the voice sings 410 Hz; at 310 Hz goes on what is 15 dB softer (the
 * room) or as loud (not). */
static void test_room_is_no_company(void **state)
{
    (void)state;
    for (int room = 0; room < 2; room++) {
        aperta_f0_track *track = silence(1.2);
        aperta_pitch_feature features[120] = {{.several = 0}};
        pitch_slices slices = no_slices();
        for (int s = 0; s < 60; s++) {
            start_slice(&slices);
            add_partial(&slices, 310.0, s >= 30 && room ? -35.0 : -20.0);
            if (s >= 30)
                add_partial(&slices, 410.0, -20.0);
        }
        draw(track, 0.0, 0.6, aperta_hz_to_midi(310.0, 440.0), aperta_hz_to_midi(310.0, 440.0), -20.0, -20.0);
        draw(track, 0.6, 1.2, aperta_hz_to_midi(410.0, 440.0), aperta_hz_to_midi(410.0, 440.0), -17.0, -17.0);
        pitch_find_company(&slices, track, features);
        assert_true((features[90].echo_db > -100.0f) == (room == 1));
        assert_true((features[90].other_db > -100.0f) == (room == 0));
        clear_slices(&slices);
        aperta_f0_track_free(track);
    }
}

/* ---- whose notes: three notes of 0.6 s and what their frames tell ---- */

typedef struct {
    double other_db;      /* company, in all of the take */
    double borrowed[3];   /* of each note */
    double confidence[3]; /* likewise */
} told;

/* The notes that are kept. */
static GArray *judge(const told *t)
{
    aperta_f0_track *track = silence(3.0);
    aperta_pitch_feature features[300] = {{.several = 0}};
    GArray *notes = g_array_new(FALSE, TRUE, sizeof(aperta_note));

    for (guint i = 0; i < 300; i++)
        features[i] = (aperta_pitch_feature){.other_db = (float)t->other_db, .n_others = 2, .hum_db = -200.0f};
    for (int k = 0; k < 3; k++) {
        double at = 0.2 + 0.9 * k, midi = 60.0 + k;
        aperta_note note = {
            .span = {at, at + 0.6}, .steady = {at + 0.1, at + 0.5}, .f0_hz = aperta_midi_to_hz(midi, 440.0)};
        draw(track, at, at + 0.6, midi, midi, -20.0, -20.0);
        for (guint i = (guint)(at / HOP_S + 0.5); i < (guint)((at + 0.6) / HOP_S + 0.5); i++) {
            features[i].borrowed = (float)t->borrowed[k];
            track->frames[i].confidence = (float)t->confidence[k];
        }
        g_array_append_val(notes, note);
    }
    pitch_judge_company(notes, track, features);
    aperta_f0_track_free(track);
    return notes;
}

static aperta_withheld withheld_of(const GArray *notes, guint i)
{
    assert_true(i < notes->len);
    return g_array_index(notes, aperta_note, i).withheld;
}

/* Most of its power under other pitches too: not the singer's; a fifth of it: hers. */
static void test_borrowed_note_is_dropped(void **state)
{
    told t = {-200.0, {0.0, 0.8, 0.2}, {0.95, 0.95, 0.95}};
    (void)state;
    g_autoptr(GArray) notes = judge(&t);
    assert_int_equal(notes->len, 2);
    assert_float_equal(g_array_index(notes, aperta_note, 1).f0_hz, aperta_midi_to_hz(62.0, 440.0), 1e-6);
}

/* Beside company only a clear note is the singer's; alone an unclear one is hers too. */
static void test_unclear_note_beside_company_is_dropped(void **state)
{
    told t = {-20.0, {0.0}, {0.95, 0.5, 0.95}};
    (void)state;
    g_autoptr(GArray) beside = judge(&t);
    assert_int_equal(beside->len, 2);
    t.other_db = -200.0;
    g_autoptr(GArray) alone = judge(&t);
    assert_int_equal(alone->len, 3);
}

/* Company 5 dB under all partials is as loud as the voice: no vowel is judged; 20 dB under it leaves them. */
static void test_loud_company_withholds(void **state)
{
    (void)state;
    for (int loud = 0; loud < 2; loud++) {
        told t = {loud ? -5.0 : -20.0, {0.0}, {0.95, 0.95, 0.95}};
        g_autoptr(GArray) notes = judge(&t);
        assert_int_equal(notes->len, 3);
        for (guint i = 0; i < 3; i++)
            assert_int_equal(withheld_of(notes, i), loud ? APERTA_WITHHELD_COMPANY : APERTA_WITHHELD_NOT);
    }
}

/* Two notes of three were others': the third may be too, though it is clear. One of three casts no doubt. */
static void test_most_lost_withholds_the_rest(void **state)
{
    (void)state;
    for (int lost = 1; lost < 3; lost++) {
        told t = {-20.0, {0.0}, {0.95, lost == 2 ? 0.5 : 0.95, 0.5}};
        g_autoptr(GArray) notes = judge(&t);
        assert_int_equal(notes->len, 3 - lost);
        assert_int_equal(withheld_of(notes, 0), lost == 2 ? APERTA_WITHHELD_COMPANY : APERTA_WITHHELD_NOT);
    }
}

/* ---- path, cycles ---- */

/* 200 Hz, silence, then frames that fit 800 Hz a little better than 200 Hz: after 10 ms the voice is where it was,
 * after 1 s anywhere. */
static void test_pitch_is_remembered_through_silence(void **state)
{
    static const pitch_candidate low = {200.0f, 0.94f, 0.95f}, high = {800.0f, 0.80f, 0.95f};
    (void)state;
    for (int far = 0; far < 2; far++) {
        guint silent = far ? 100 : 1, n = 20 + silent + 10;
        pitch_frame frames[130] = {{.n_candidates = 0}};
        aperta_f0_track *track = silence(n * HOP_S);
        for (guint i = 0; i < n; i++) {
            frames[i].level_db = -20.0f;
            if (i < 20)
                frames[i] = (pitch_frame){.candidates = {low}, .n_candidates = 1, .level_db = -20.0f};
            else if (i >= 20 + silent)
                frames[i] = (pitch_frame){.candidates = {high, low}, .n_candidates = 2, .level_db = -20.0f};
        }
        pitch_path(frames, n, track);
        assert_true(track->frames[10].voiced && !track->frames[20].voiced && track->frames[n - 1].voiced);
        for (guint i = 20 + silent; i < n; i++)
            assert_float_equal(track->frames[i].f0_hz, far ? 800.0 : 200.0, 0.01);
        aperta_f0_track_free(track);
    }
}

/* A vibrato of 6 Hz and 20 cents to either side, which is too narrow to be looked for by its turns: a cycle is 1/6 s.
 */
static void test_narrow_vibrato_has_its_cycle(void **state)
{
    double cents[100];
    (void)state;
    for (guint i = 0; i < 100; i++)
        cents[i] = 20.0 * sin(2.0 * G_PI * 6.0 * HOP_S * i);
    g_autofree pitch_stretch *found = pitch_find_vibrato(cents, 100, HOP_S);
    for (guint i = 10; i < 90; i++)
        assert_float_equal(found[i].cycle * HOP_S, 1.0 / 6.0, 0.005);
}

/* ---- notes ---- */

/* A long straight note that settles a quarter of a semitone higher is still one; a semitone higher is the next. */
static void test_note_that_settles_is_one(void **state)
{
    (void)state;
    for (int other = 0; other < 2; other++) {
        aperta_f0_track *track = silence(2.6);
        double to = other ? 61.0 : 60.25;
        draw(track, 0.3, 1.3, 60.0, 60.0, -20.0, -20.0);
        draw(track, 1.3, 2.3, to, to, -20.0, -20.0);
        assert_int_equal(count_notes(track), other ? 2 : 1);
        aperta_f0_track_free(track);
    }
}

/* A dip of 6 dB, 0.1 s down and 0.1 s up: half of the way is up again 0.05 s after its bottom. */
static void test_note_starts_after_the_dip(void **state)
{
    aperta_f0_track *track = silence(2.0);
    (void)state;
    draw(track, 0.2, 0.7, 60.0, 60.0, -20.0, -20.0);
    draw(track, 0.7, 0.8, 60.0, 60.0, -20.0, -26.0);
    draw(track, 0.8, 0.9, 60.0, 60.0, -26.0, -20.0);
    draw(track, 0.9, 1.5, 60.0, 60.0, -20.0, -20.0);
    g_autoptr(GArray) notes = aperta_pitch_notes(track, NULL);
    assert_int_equal(notes->len, 2);
    assert_float_equal(g_array_index(notes, aperta_note, 1).span.start_s, 0.85, 0.015);
    aperta_f0_track_free(track);
}

/* From 0.9 s on the level falls by 50 dB in 0.5 s: NOTE_TAIL_DB (22) under its loudest it is at 0.9 + 0.22 s. */
static void test_note_ends_before_its_tail(void **state)
{
    aperta_f0_track *track = silence(2.0);
    (void)state;
    draw(track, 0.3, 0.9, 60.0, 60.0, -20.0, -20.0);
    draw(track, 0.9, 1.4, 60.0, 60.0, -20.0, -70.0);
    g_autoptr(GArray) notes = aperta_pitch_notes(track, NULL);
    assert_int_equal(notes->len, 1);
    assert_float_equal(g_array_index(notes, aperta_note, 0).span.end_s, 1.12, 0.015);
    aperta_f0_track_free(track);
}

/* As loud as the vowels and on their pitch, but without what makes a vowel: a nasal parts two notes. 3 dB less is none.
 */
static void test_murmur_parts_notes(void **state)
{
    (void)state;
    for (int murmur = 0; murmur < 2; murmur++) {
        aperta_f0_track *track = silence(2.0);
        aperta_pitch_feature features[200] = {{.several = 0}};
        for (int i = 0; i < 200; i++)
            features[i] = (aperta_pitch_feature){
                .sonority_db = (float)(-25.0 - (murmur ? 16.0 : 3.0) * MAX(0.0, 1.0 - abs(i - 90) / 6.0)),
                .other_db = -200.0f,
                .hum_db = -200.0f};
        draw(track, 0.3, 1.5, 60.0, 60.0, -20.0, -20.0);
        g_autoptr(GArray) notes = aperta_pitch_notes(track, features);
        assert_int_equal(notes->len, murmur ? 2 : 1);
        aperta_f0_track_free(track);
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
        cmocka_unit_test(test_repeated_pitch_counts_once),
        cmocka_unit_test(test_way_between_notes_is_a_voices),
        cmocka_unit_test(test_chord_is_several_tones),
        cmocka_unit_test(test_room_is_no_company),
        cmocka_unit_test(test_borrowed_note_is_dropped),
        cmocka_unit_test(test_unclear_note_beside_company_is_dropped),
        cmocka_unit_test(test_loud_company_withholds),
        cmocka_unit_test(test_most_lost_withholds_the_rest),
        cmocka_unit_test(test_pitch_is_remembered_through_silence),
        cmocka_unit_test(test_narrow_vibrato_has_its_cycle),
        cmocka_unit_test(test_note_that_settles_is_one),
        cmocka_unit_test(test_note_starts_after_the_dip),
        cmocka_unit_test(test_note_ends_before_its_tail),
        cmocka_unit_test(test_murmur_parts_notes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
