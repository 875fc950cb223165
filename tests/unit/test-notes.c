/* test-notes.c - notes, vibrato, tuning, key and accompaniment, from phrases of which everything is known. */
#include "pitch-reading.h"

/* ---- phrases of our own ------------------------------------------------------------------------------------------ */

#define NOTE_S 0.55 /* of the notes of a scale; 0.15 s more to the next one */

/* Each on its own consonant, straight. */
static synth_take *sing_scale(const int *midi, guint n, double a4_hz, double vibrato_cents)
{
    static const synth_onset onsets[] = {SYNTH_ONSET_STOP, SYNTH_ONSET_FRICATIVE, SYNTH_ONSET_NASAL};
    g_autofree synth_syllable *syllables = g_new(synth_syllable, n);
    synth_voice voice = synth_voice_default();

    for (guint i = 0; i < n; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + 0.7 * i;
        syllables[i].end_s = syllables[i].start_s + NOTE_S;
        syllables[i].midi = midi[i] + 12.0 * log2(a4_hz / 440.0);
        syllables[i].onset = onsets[i % G_N_ELEMENTS(onsets)];
        syllables[i].vibrato.extent_cents = vibrato_cents;
    }
    return synth_phrase_sing(&voice, syllables, n, 0.0, 0.3 + 0.7 * n + 0.3);
}

/* The notes one by one: none missed, none invented. */
static void expect_notes(const synth_take *take, const pitch_reading *r, double cents)
{
    assert_int_equal(r->notes->len, take->n_notes);
    for (guint i = 0; i < take->n_notes; i++) {
        const aperta_note *note = note_of(r, i);
        expect_near(note->span.start_s, take->notes[i].start_s, 0.05);
        expect_near(note->span.end_s, take->notes[i].end_s, 0.1);
        expect_near(aperta_cents_between(take->notes[i].f0_hz, note->f0_hz), 0.0, cents);
        assert_true(note->steady.start_s >= note->span.start_s && note->steady.end_s <= note->span.end_s);
        assert_true(note->steady.end_s > note->steady.start_s);
        assert_false(note->accompanied);
        assert_true(i == 0 || note_of(r, i - 1)->span.end_s <= note->span.start_s);
    }
}

static void test_simple_phrase(void **state)
{
    static const int midi[] = {55, 59, 62, 60, 57, 57, 55, 67}; /* with a repeated note and a leap */
    (void)state;
    g_autoptr(synth_take) straight = sing_scale(midi, G_N_ELEMENTS(midi), 440.0, 0.0);
    g_auto(pitch_reading) a = read_take(straight);
    expect_notes(straight, &a, 5.0);
    g_autoptr(synth_take) vibrato = sing_scale(midi, G_N_ELEMENTS(midi), 440.0, 80.0);
    g_auto(pitch_reading) b = read_take(vibrato);
    expect_notes(vibrato, &b, 15.0);
}

/* ---- random phrases ---------------------------------------------------------------------------------------------- */

static guint count_matches(const synth_take *take, const GArray *notes)
{
    g_autofree gboolean *used = g_new0(gboolean, notes->len + 1);
    guint matched = 0;

    for (guint k = 0; k < take->n_notes; k++)
        for (guint i = 0; i < notes->len; i++) {
            const aperta_note *note = &g_array_index(notes, aperta_note, i);
            if (used[i] || fabs(note->span.start_s - take->notes[k].start_s) > 0.05 ||
                fabs(aperta_cents_between(take->notes[k].f0_hz, note->f0_hz)) > 50.0)
                continue;
            used[i] = TRUE;
            matched++;
            break;
        }
    return matched;
}

/* F-measure of two phrases of each of four voices: onset within 50 ms and pitch within 50 cents, one to one, as in
 * Molina et al. 2014, ISMIR. */
static double read_phrases(double room_rt60_s, guint64 seed)
{
    static const int low_midi[] = {40, 48, 57, 64}, high_midi[] = {60, 69, 77, 84};
    guint sung = 0, read = 0, matched = 0;

    for (guint i = 0; i < 8; i++) {
        synth_phrase_spec spec = synth_phrase_default();
        spec.low_midi = low_midi[i / 2];
        spec.high_midi = high_midi[i / 2];
        spec.voice.ripple_db = 2.0;
        spec.voice.room_rt60_s = room_rt60_s;
        spec.voice.seed = seed + i;
        g_autoptr(synth_take) take = synth_phrase_random(&spec);
        g_auto(pitch_reading) r = read_take(take);
        sung += take->n_notes;
        read += r.notes->len;
        matched += count_matches(take, r.notes);
    }
    double f = 2.0 * matched / (sung + read);
    print_message("notes: %u sung, %u read, %u alike, F %.3f\n", sung, read, matched, f);
    return f;
}

/* The bar in a room is what is reached; 0.95 is wanted. */
static void test_random_phrases(void **state)
{
    (void)state;
    assert_true(read_phrases(0.0, 60) >= 0.95);
    assert_true(read_phrases(0.4, 60) >= 0.86);
}

/* ---- vibrato ----------------------------------------------------------------------------------------------------- */

static synth_take *sing_note(double f0_hz, double seconds, double rate_hz, double extent_cents)
{
    synth_note_spec spec = synth_note_default();

    spec.f0_hz = f0_hz;
    spec.seconds = seconds;
    spec.vibrato.rate_hz = rate_hz;
    spec.vibrato.extent_cents = extent_cents;
    spec.vibrato.irregularity = 0.02;
    spec.voice.snr_db = 25.0;
    return synth_note_sing(&spec);
}

static void test_vibrato(void **state)
{
    static const double f0_hz[] = {110, 220, 440, 880}, rate_hz[] = {4.8, 5.8, 6.8}, extent_cents[] = {30, 60, 100};
    (void)state;
    for (guint i = 0; i < 4 * 3 * 3; i++) {
        double rate = rate_hz[i / 4 % 3], extent = extent_cents[i / 12];
        g_autoptr(synth_take) take = sing_note(f0_hz[i % 4], 1.6, rate, extent);
        g_auto(pitch_reading) r = read_take(take);
        const synth_truth *truth = &take->notes[0];
        assert_int_equal(r.notes->len, 1);
        aperta_vibrato v = note_of(&r, 0)->vibrato;
        assert_int_equal(v.status, APERTA_VIBRATO_MEASURED);
        expect_near(v.rate_hz, truth->vibrato_rate_hz, 0.15);
        expect_near(v.extent_cents, truth->vibrato_extent_cents, 6.0);
        expect_near(aperta_cents_between(truth->f0_hz, note_of(&r, 0)->f0_hz), 0.0, 10.0);
    }
}

static void test_straight(void **state)
{
    static const double f0_hz[] = {110, 220, 440, 880};
    (void)state;
    for (guint i = 0; i < G_N_ELEMENTS(f0_hz); i++) {
        g_autoptr(synth_take) take = sing_note(f0_hz[i], 1.2, 5.8, 0.0);
        g_auto(pitch_reading) r = read_take(take);
        assert_int_equal(r.notes->len, 1);
        assert_int_equal(note_of(&r, 0)->vibrato.status, APERTA_VIBRATO_STRAIGHT);
    }
}

static void test_too_short_for_vibrato(void **state)
{
    static const double f0_hz[] = {110, 220, 440, 880};
    (void)state;
    for (guint i = 0; i < G_N_ELEMENTS(f0_hz); i++) {
        g_autoptr(synth_take) take = sing_note(f0_hz[i], 0.25, 5.8, 0.0);
        g_auto(pitch_reading) r = read_take(take);
        assert_int_equal(r.notes->len, 1);
        assert_int_equal(note_of(&r, 0)->vibrato.status, APERTA_VIBRATO_TOO_SHORT);
    }
}

/* ---- wide vibrato ------------------------------------------------------------------------------------------------ */

/* An arpeggio on one vowel, slurred, as trained voices sing it: the vibrato swings by about a semitone to either
 * side, never twice the same. */
static synth_take *sing_arpeggio(guint64 seed)
{
    static const int midi[] = {60, 64, 67, 72, 67, 64, 60};
    synth_syllable syllables[G_N_ELEMENTS(midi)];
    synth_voice voice = synth_voice_default();

    voice.seed = seed;
    voice.snr_db = 30.0;
    for (guint i = 0; i < G_N_ELEMENTS(midi); i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + 1.1 * i;
        syllables[i].end_s = syllables[i].start_s + 1.1;
        syllables[i].midi = midi[i];
        syllables[i].glide_s = 0.1;
        syllables[i].vibrato =
            (synth_vibrato){.rate_hz = 5.6, .extent_cents = 100.0, .delay_s = 0.2, .irregularity = 0.12};
    }
    return synth_phrase_sing(&voice, syllables, G_N_ELEMENTS(midi), 0.0, 0.3 + 1.1 * G_N_ELEMENTS(midi) + 0.3);
}

static void test_wide_vibrato(void **state)
{
    (void)state;
    for (guint64 seed = 1; seed <= 8; seed++) {
        g_autoptr(synth_take) take = sing_arpeggio(seed);
        g_auto(pitch_reading) r = read_take(take);
        print_message("arpeggio %u: %u notes\n", (guint)seed, r.notes->len);
        expect_notes(take, &r, 50.0);
    }
}

/* ---- tuning and key ---------------------------------------------------------------------------------------------- */

static const int a_flat_major[] = {56, 58, 60, 61, 63, 65, 67, 68, 63, 60, 56};

static void test_tuning(void **state)
{
    static const double a4_hz[] = {432, 440, 446};
    (void)state;
    for (guint i = 0; i < G_N_ELEMENTS(a4_hz); i++) {
        g_autoptr(synth_take) take = sing_scale(a_flat_major, G_N_ELEMENTS(a_flat_major), a4_hz[i], 0.0);
        g_auto(pitch_reading) r = read_take(take);
        double found_hz = aperta_pitch_tuning_hz((const aperta_note *)(void *)r.notes->data, r.notes->len);
        expect_near(aperta_cents_between(a4_hz[i], found_hz), 0.0, 3.0);
    }
    expect_near(aperta_pitch_tuning_hz(NULL, 0), 440.0, 0.0);
}

static void test_key_and_spelling(void **state)
{
    static const char *const names[] = {"A♭3", "B♭3", "C4", "D♭4", "E♭4", "F4", "G4", "A♭4", "E♭4", "C4", "A♭3"};
    g_autoptr(synth_take) take = sing_scale(a_flat_major, G_N_ELEMENTS(a_flat_major), 440.0, 40.0);
    g_auto(pitch_reading) r = read_take(take);
    (void)state;

    aperta_key key = aperta_pitch_key((const aperta_note *)(void *)r.notes->data, r.notes->len, 440.0);
    assert_true(key.known);
    assert_false(key.minor);
    assert_string_equal(aperta_key_tonic_name(&key), "A♭");
    assert_int_equal(r.notes->len, G_N_ELEMENTS(names));
    for (guint i = 0; i < r.notes->len; i++) {
        char name[APERTA_PITCH_NAME_MAX];
        aperta_pitch_spell((int)lround(aperta_hz_to_midi(note_of(&r, i)->f0_hz, 440.0)), &key, name);
        assert_string_equal(name, names[i]);
    }
    assert_false(aperta_pitch_key((const aperta_note *)(void *)r.notes->data, 3, 440.0).known);
}

/* ---- hum --------------------------------------------------------------------------------------------------------- */

/* Mains hum, its double from a rectifier, and over it a little noise; then a voice at the same pitch, which wavers. */
static void test_hum_is_no_note(void **state)
{
    static const double hz[] = {50, 60, 100, 120, 150}, level_db[] = {0, -6, -8, -20, -14, -26};
    gsize n = 3 * RATE_HZ;
    (void)state;
    for (gsize k = 0; k < G_N_ELEMENTS(hz); k++) {
        g_autofree float *samples = g_new0(float, n);
        g_autoptr(GRand) random = g_rand_new_with_seed((guint32)k);
        add_harmonics(samples, n, hz[k], 0.03, level_db, G_N_ELEMENTS(level_db));
        for (gsize i = 0; i < n; i++)
            samples[i] += (float)g_rand_double_range(random, -2e-4, 2e-4);
        g_auto(pitch_reading) hum = read_samples(samples, n);
        assert_int_equal(hum.notes->len, 0);
    }
    synth_note_spec spec = synth_note_default();
    spec.f0_hz = 120.0;
    spec.drift_cents = 4.0;
    g_autoptr(synth_take) take = synth_note_sing(&spec);
    g_auto(pitch_reading) voice = read_take(take);
    assert_int_equal(voice.notes->len, 1);
}

/* ---- accompaniment ----------------------------------------------------------------------------------------------- */

static guint count_accompanied(const pitch_reading *r)
{
    guint n = 0;

    for (guint i = 0; i < r->notes->len; i++)
        n += note_of(r, i)->accompanied;
    return n;
}

static const int song[] = {67, 69, 71, 72, 71, 67};

static void add_chord(synth_take *take, double amplitude)
{
    static const int chord[] = {48, 52, 55};
    static const double level_db[] = {0, -9, -14.3, -18, -20.9, -23.3};

    for (gsize i = 0; i < G_N_ELEMENTS(chord); i++)
        add_harmonics(take->samples, take->n_samples, aperta_midi_to_hz(chord[i], 440.0), amplitude, level_db, 6);
}

/* Three voices of a chord, 9 dB an octave, about 8 and 20 dB softer than the singer. */
static void test_accompaniment(void **state)
{
    static const double amplitudes[] = {0.04, 0.01};
    (void)state;

    for (gsize k = 0; k < G_N_ELEMENTS(amplitudes); k++) {
        g_autoptr(synth_take) take = sing_scale(song, G_N_ELEMENTS(song), 440.0, 40.0);
        g_auto(pitch_reading) alone = read_take(take);
        assert_int_equal(alone.notes->len, G_N_ELEMENTS(song));
        assert_int_equal(count_accompanied(&alone), 0);
        add_chord(take, amplitudes[k]);
        g_auto(pitch_reading) both = read_take(take);
        print_message("accompanied: %u of %u notes\n", count_accompanied(&both), both.notes->len);
        assert_true(both.notes->len > 0);
        assert_int_equal(count_accompanied(&both), both.notes->len);
    }
}

/* What a soft chord plays in the rests is not given to the singer. */
static void test_chord_is_no_singer(void **state)
{
    g_autoptr(synth_take) take = sing_scale(song, G_N_ELEMENTS(song), 440.0, 40.0);
    (void)state;

    add_chord(take, 0.01);
    g_auto(pitch_reading) r = read_take(take);
    assert_true(r.notes->len > 0);
    for (guint i = 0; i < r.notes->len; i++) {
        aperta_span span = note_of(&r, i)->span;
        double sung_s = 0.0;
        for (guint k = 0; k < take->n_notes; k++)
            sung_s += MAX(MIN(span.end_s, take->notes[k].end_s) - MAX(span.start_s, take->notes[k].start_s), 0.0);
        assert_true(sung_s > (span.end_s - span.start_s) / 2.0);
    }
}

/* A church sounds earlier notes on under later ones; that is nobody else. */
static void test_echo_is_no_company(void **state)
{
    static const double rt60_s[] = {1.0, 2.0, 4.0};
    (void)state;

    for (gsize k = 0; k < G_N_ELEMENTS(rt60_s); k++) {
        g_autoptr(synth_take) take = sing_scale(song, G_N_ELEMENTS(song), 440.0, 40.0);
        synth_room_apply(take->samples, take->n_samples, RATE_HZ, rt60_s[k], 5 + k);
        g_auto(pitch_reading) r = read_take(take);
        assert_true(r.notes->len >= G_N_ELEMENTS(song) - 1);
        assert_int_equal(count_accompanied(&r), 0);
    }
}

/* Hum of 50 Hz with odd harmonics, some 20 dB under the voice. */
static void test_hum_is_no_company(void **state)
{
    static const double level_db[] = {0, -20, -4, -30, -8, -40, -14};
    g_autoptr(synth_take) take = sing_scale(song, G_N_ELEMENTS(song), 440.0, 40.0);
    (void)state;

    add_harmonics(take->samples, take->n_samples, 50.0, 0.01, level_db, G_N_ELEMENTS(level_db));
    g_auto(pitch_reading) r = read_take(take);
    assert_int_equal(r.notes->len, G_N_ELEMENTS(song));
    assert_int_equal(count_accompanied(&r), 0);
    guint hum = 0;
    for (guint i = 0; i < r.track->n_frames; i++)
        hum += r.features[i].hum_db > -45.0f && r.features[i].mains_hz == 50;
    assert_true(hum > r.track->n_frames / 4);
}

/* ---- speech ------------------------------------------------------------------------------------------------------ */

/* Sung notes rest, with vibrato too; a pitch that falls by a fifth in each half second, as in speech, does not. */
static void test_rest_of_the_pitch(void **state)
{
    synth_syllable syllables[12];
    synth_voice voice = synth_voice_default();
    (void)state;

    g_autoptr(synth_take) sung = sing_scale(song, G_N_ELEMENTS(song), 440.0, 60.0);
    g_auto(pitch_reading) r = read_take(sung);
    assert_true(aperta_pitch_resting_share(r.track) > 0.8);
    for (guint i = 0; i < G_N_ELEMENTS(syllables); i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + 0.25 * i;
        syllables[i].end_s = syllables[i].start_s + 0.25;
        syllables[i].midi = i % 2 ? 50 : 57;
        syllables[i].glide_s = 0.25;
    }
    g_autoptr(synth_take) spoken = synth_phrase_sing(&voice, syllables, G_N_ELEMENTS(syllables), 0.0, 3.6);
    g_auto(pitch_reading) s = read_take(spoken);
    print_message("rests %.2f\n", aperta_pitch_resting_share(s.track));
    assert_true(aperta_pitch_resting_share(s.track) < 0.4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_simple_phrase),
        cmocka_unit_test(test_random_phrases),
        cmocka_unit_test(test_vibrato),
        cmocka_unit_test(test_straight),
        cmocka_unit_test(test_too_short_for_vibrato),
        cmocka_unit_test(test_wide_vibrato),
        cmocka_unit_test(test_tuning),
        cmocka_unit_test(test_key_and_spelling),
        cmocka_unit_test(test_hum_is_no_note),
        cmocka_unit_test(test_accompaniment),
        cmocka_unit_test(test_chord_is_no_singer),
        cmocka_unit_test(test_echo_is_no_company),
        cmocka_unit_test(test_hum_is_no_company),
        cmocka_unit_test(test_rest_of_the_pitch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
