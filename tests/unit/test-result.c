/* test-result.c - a whole take: a sung file in, everything measured and advised out; and a teacher's corrections,
 * and the vowels that a teacher tells. */
#include "dsp/dsp.h"
#include "expect.h"
#include "result/result-private.h"
#include "synth-phrase.h"
#include "wav.h"

#include <aperta/pitch.h>
#include <aperta/words.h>
#include <glib/gstdio.h>
#include <string.h>

#define RATE_HZ 16000

static char *folder, *sung_path, *silent_path; /* set once, before the tests */

/* ---- the take ---------------------------------------------------------------------------------------------------- */

/* A woman on "eh", stepwise up from A3 and a held E5 where F1 lies near f0. Means of 48 women: Hillenbrand et al. 1995,
 * JASA 97:3099-3111. */
static const int melody[] = {57, 59, 60, 62, 64, 76};
#define N_NOTES G_N_ELEMENTS(melody)

static void write_sung(const char *path)
{
    static const double eh_hz[] = {727, 2063, 2953, 4312}, ee_hz[] = {437, 2761, 3373, 4353};
    synth_table eh = synth_table_vowel(eh_hz, 4, 15.0, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    synth_table ee = synth_table_vowel(ee_hz, 4, 15.0, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    synth_syllable syllables[N_NOTES];
    synth_voice voice = synth_voice_default();

    for (guint i = 0; i < N_NOTES; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + 0.8 * i;
        syllables[i].end_s = syllables[i].start_s + 0.65;
        syllables[i].midi = melody[i];
        syllables[i].onset = SYNTH_ONSET_STOP;
        syllables[i].vowel = synth_vowel_of_table(i + 1 < N_NOTES ? &eh : &ee); /* the last: f0 is above F1 */
    }
    g_autoptr(synth_take) take = synth_phrase_sing(&voice, syllables, N_NOTES, 0.0, 0.3 + 0.8 * N_NOTES + 0.2);
    assert_true(wav_write(path, take->samples, take->n_samples, RATE_HZ, "synthetic", NULL));
}

static aperta_result *take_of(const char *path, const aperta_take_options *options)
{
    GError *error = NULL;
    aperta_result *result = aperta_take(path, options, &error);

    if (result == NULL)
        fail_msg("%s", error->message);
    return result;
}

static const aperta_sung_note *note_of(const aperta_result *result, guint i)
{
    assert_true(i < result->notes->len);
    return g_ptr_array_index(result->notes, i);
}

static const aperta_warning *warning_of(const aperta_result *result, const char *code)
{
    for (guint i = 0; i < result->warnings->len; i++) {
        const aperta_warning *warning = aperta_warning_at(result->warnings, i);
        if (strcmp(aperta_warning_code(warning), code) == 0)
            return warning;
    }
    return NULL;
}

/* A run of quick notes, each slid into: the pitch hardly rests, but it goes up and down a scale. Off the scale, falling
 * in each syllable, it is speech. */
static aperta_result *take_of_quick_notes(gboolean spoken)
{
    static const int scale[] = {57, 59, 61, 62, 64, 66, 68, 69, 68, 66, 64, 62, 61, 59, 57, 59, 61, 62, 64, 66};
    enum { N = G_N_ELEMENTS(scale) };
    g_autofree char *path = g_build_filename(folder, "quick.wav", NULL);
    synth_syllable syllables[N];
    synth_voice voice = synth_voice_default();

    for (guint i = 0; i < N; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + (spoken ? 0.25 : 0.13) * i;
        syllables[i].end_s = syllables[i].start_s + (spoken ? 0.25 : 0.13);
        syllables[i].midi = spoken ? 50.0 + 0.27 * (i % 5) + (i % 2 ? 7.0 : 0.0) : scale[i];
        syllables[i].glide_s = spoken ? 0.25 : 0.1;
    }
    g_autoptr(synth_take) take = synth_phrase_sing(&voice, syllables, N, 0.0, syllables[N - 1].end_s + 0.3);
    assert_true(wav_write(path, take->samples, take->n_samples, RATE_HZ, "synthetic", NULL));
    return take_of(path, &(aperta_take_options){0});
}

static void test_quick_notes_are_no_speech(void **state)
{
    g_autoptr(aperta_result) sung = take_of_quick_notes(FALSE), spoken = take_of_quick_notes(TRUE);
    (void)state;

    print_message("sung: rests %.2f; spoken: rests %.2f\n", aperta_pitch_resting_share(sung->track),
                  aperta_pitch_resting_share(spoken->track));
    assert_true(aperta_pitch_resting_share(sung->track) < 0.36); /* which alone looks like speech */
    assert_null(warning_of(sung, "spoken"));
    assert_null(warning_of(sung, "perhaps-spoken"));
    assert_non_null(warning_of(spoken, "spoken"));
}

static void test_notes(void **state)
{
    g_autoptr(aperta_result) result = take_of(sung_path, &(aperta_take_options){.voice = APERTA_VOICE_WOMAN});
    (void)state;

    assert_int_equal(result->notes->len, N_NOTES);
    for (guint i = 0; i < N_NOTES; i++) {
        const aperta_sung_note *note = note_of(result, i);
        char name[APERTA_PITCH_NAME_MAX];
        assert_int_equal(note->number, i + 1);
        assert_int_equal(note->midi, melody[i]);
        aperta_pitch_spell(melody[i], &result->key, name);
        assert_string_equal(note->name, name);
        expect_near(note->cents, 0.0, 10.0);
        expect_near(note->note.span.start_s, 0.3 + 0.8 * i, 0.05);
        assert_null(note->intended);
        assert_int_equal(note->intended_from, APERTA_INTENDED_UNKNOWN);
        assert_null(note->explanations);
    }
    assert_string_equal(result->file, sung_path);
    assert_string_equal(result->settings.style, "belt");
    assert_int_equal(result->sample_rate_hz, RATE_HZ);
    assert_int_equal(result->n_removed, 0);
    expect_near(aperta_cents_between(440.0, result->a4_hz), 0.0, 5.0);
    assert_false(result->a4_given);
}

/* A distance to F1 is told only where F1 is measured, and then it is the distance. */
static void test_f1_distances(void **state)
{
    g_autoptr(aperta_result) result = take_of(sung_path, &(aperta_take_options){.voice = APERTA_VOICE_WOMAN});
    guint n_measured = 0;
    (void)state;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = note_of(result, i);
        const aperta_resonance *f1 = aperta_sung_note_resonances(note);
        assert_int_equal(note->f1_to_f0.known, f1->status == APERTA_MEASURED);
        assert_int_equal(note->f1_to_2f0.known, f1->status == APERTA_MEASURED);
        if (f1->status != APERTA_MEASURED)
            continue;
        n_measured++;
        expect_near(note->f1_to_f0.st, 12.0 * log2(f1->hz / note->note.f0_hz), 1e-9);
        expect_near(note->f1_to_2f0.st, note->f1_to_f0.st - 12.0, 1e-9);
        assert_true(f1->low_hz <= f1->hz && f1->hz <= f1->high_hz);
    }
    assert_true(n_measured >= 4);
    assert_false(note_of(result, N_NOTES - 1)->f1_to_2f0.known);
}

static void test_options(void **state)
{
    g_autoptr(aperta_result) result = take_of(
        sung_path,
        &(aperta_take_options){.style = "classical", .a4_hz = 442.0, .from_s = 1.0, .to_s = 2.6, .explain = TRUE});
    (void)state;

    assert_string_equal(result->settings.style, "classical");
    expect_near(result->a4_hz, 442.0, 0.0);
    assert_true(result->a4_given);
    assert_int_equal(result->notes->len, 2); /* the second and the third, in seconds of the file */
    expect_near(note_of(result, 0)->note.span.start_s, 1.1, 0.05);
    assert_int_equal(note_of(result, 0)->number, 1);
    assert_int_equal(note_of(result, 0)->midi, melody[1]);
    expect_near(note_of(result, 0)->cents, 1200.0 * log2(440.0 / 442.0), 10.0);
    assert_non_null(note_of(result, 0)->explanations);
}

static void test_frames(void **state)
{
    g_autoptr(aperta_result) with =
        take_of(sung_path, &(aperta_take_options){.voice = APERTA_VOICE_WOMAN, .keep_frames = TRUE});
    g_autoptr(aperta_result) without = take_of(sung_path, &(aperta_take_options){.voice = APERTA_VOICE_WOMAN});
    const aperta_note *first = &note_of(with, 0)->note;
    guint known = 0, steady = 0, outside = 0;
    (void)state;

    assert_null(without->frames);
    assert_non_null(with->frames);
    for (guint i = 0; i < with->track->n_frames; i++) {
        double time_s = aperta_f0_track_time_s(with->track, i);
        gboolean inside = time_s > first->steady.start_s && time_s < first->steady.end_s;
        steady += inside;
        known += inside && (with->frames[i].known & 1);
        outside += time_s < 0.2 && with->frames[i].known;
    }
    assert_true(steady > 30);
    assert_true(known > steady / 2);
    assert_int_equal(outside, 0);
}

/* Each note is read for itself: how many are read at a time changes nothing, not even the last bit. */
static void test_jobs(void **state)
{
    aperta_take_options options = {.voice = APERTA_VOICE_WOMAN, .keep_frames = TRUE};
    g_autoptr(aperta_result) one = take_of(sung_path, &options);
    (void)state;

    for (options.jobs = 1; options.jobs <= 100; options.jobs = 3 * options.jobs + 1) {
        g_autoptr(aperta_result) many = take_of(sung_path, &options);
        assert_int_equal(many->notes->len, one->notes->len);
        for (guint i = 0; i < one->notes->len; i++)
            assert_memory_equal(&note_of(many, i)->tract, &note_of(one, i)->tract, sizeof(aperta_tract_reading));
        assert_int_equal(many->track->n_frames, one->track->n_frames);
        assert_memory_equal(many->frames, one->frames, one->track->n_frames * sizeof *one->frames);
    }
}

/* ---- vowels that move -------------------------------------------------------------------------------------------- */

/* Means of 48 women: Hillenbrand et al. 1995, JASA 97:3099-3111. */
static const double ah_hz[] = {921, 1526, 2832, 4291}, ih_hz[] = {484, 2369, 3057, 4333},
                    uh_hz[] = {760, 1416, 2901, 4133}, oo_hz[] = {460, 1106, 2735, 4116};

static synth_vowel vowel_at(const double hz[4], synth_table *table)
{
    *table = synth_table_vowel(hz, 4, 15.0, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    return synth_vowel_of_table(table);
}

/* A diphthong at A3, where vowels are read well, whose first half is held; and its first vowel alone. Named by the
 * table whose means they are. */
static void test_diphthong(void **state)
{
    synth_table tables[2];
    synth_syllable syllables[2];
    synth_voice voice = synth_voice_default();
    g_autofree char *path = g_build_filename(folder, "diphthong.wav", NULL);
    (void)state;

    for (guint i = 0; i < 2; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.3 + 1.5 * i;
        syllables[i].end_s = 1.5 + 1.5 * i;
        syllables[i].midi = 57;
        syllables[i].vibrato = (synth_vibrato){5.5, 30.0, 0.2, 0.02};
        syllables[i].vowel = vowel_at(ah_hz, &tables[0]);
    }
    syllables[0].glides = TRUE;
    syllables[0].vowel_end = vowel_at(ih_hz, &tables[1]);
    g_autoptr(synth_take) take = synth_phrase_sing(&voice, syllables, 2, 0.0, 3.4);
    assert_true(wav_write(path, take->samples, take->n_samples, RATE_HZ, "synthetic", NULL));
    g_autoptr(aperta_result) result = take_of(path, &(aperta_take_options){.table = "hillenbrand1995-women"});
    g_unlink(path);

    assert_int_equal(result->notes->len, 2);
    const aperta_sung_note *moving = note_of(result, 0), *still = note_of(result, 1);
    assert_int_equal(moving->judged, APERTA_PART_START);
    assert_string_equal(moving->vowel.heard->ipa, "ɑ");
    assert_string_equal(moving->first_vowel.heard->ipa, "ɑ");
    assert_string_equal(moving->last_vowel.heard->ipa, "ɪ");
    expect_near(moving->f1_to_f0.st, 12.0 * log2(moving->tract.first[0].hz / moving->note.f0_hz), 1e-9);
    assert_int_equal(still->judged, APERTA_PART_WHOLE);
    assert_string_equal(still->vowel.heard->ipa, "ɑ");
    assert_null(still->first_vowel.heard);
    assert_null(still->last_vowel.heard);
}

static void place(aperta_resonance resonances[APERTA_N_RESONANCES], aperta_posterior *posterior, const double *hz)
{
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        resonances[i] = (aperta_resonance){.status = APERTA_MEASURED,
                                           .hz = hz[i],
                                           .has_low = TRUE,
                                           .has_high = TRUE,
                                           .low_hz = 0.96 * hz[i],
                                           .high_hz = 1.04 * hz[i]};
    dsp_posterior_of_resonances(resonances, posterior);
}

/* Two syllables that no consonant parts ("the moon"): the one that the middle of the note still or already has is
 * judged; ends of one name are one vowel. */
static void test_two_syllables_on_one_note(void **state)
{
    static const struct {
        const double *first, *middle, *last;
        const char *heard;
        aperta_part judged;
    } rows[] = {{uh_hz, oo_hz, oo_hz, "u", APERTA_PART_END},
                {uh_hz, uh_hz, oo_hz, "ʌ", APERTA_PART_START},
                {uh_hz, uh_hz, uh_hz, "ʌ", APERTA_PART_WHOLE}};
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load("hillenbrand1995-women", NULL);
    g_autoptr(aperta_vowel_ear) ear = aperta_vowel_ear_new(table);
    (void)state;

    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_sung_note note = {.note.f0_hz = 220.0, .tract.glides = TRUE};
        place(note.tract.first, &note.tract.first_posterior, rows[i].first);
        place(note.tract.resonances, &note.tract.posterior, rows[i].middle);
        place(note.tract.last, &note.tract.last_posterior, rows[i].last);
        result_hear_vowel(&note, ear);
        assert_int_equal(note.judged, rows[i].judged);
        assert_string_equal(note.vowel.heard->ipa, rows[i].heard);
        assert_int_equal(note.first_vowel.heard != NULL, rows[i].judged != APERTA_PART_WHOLE);
        expect_near(note.f1_to_f0.st, 12.0 * log2(aperta_sung_note_resonances(&note)[0].hz / 220.0), 1e-9);
    }
}

/* ---- whose voice ------------------------------------------------------------------------------------------------- */

static void test_voice(void **state)
{
    (void)state;
    g_autoptr(aperta_result) guessed = take_of(sung_path, &(aperta_take_options){0});
    assert_true(guessed->settings.voice_guessed);
    assert_int_equal(aperta_voice_group(guessed->settings.voice), APERTA_VOICE_WOMAN);
    assert_string_equal(guessed->settings.table->name, aperta_vowel_table_for_voice(APERTA_VOICE_WOMAN));

    g_autoptr(aperta_result) told = take_of(sung_path, &(aperta_take_options){.voice = APERTA_VOICE_MEZZO});
    assert_false(told->settings.voice_guessed);
    assert_int_equal(told->settings.voice, APERTA_VOICE_MEZZO);

    g_autoptr(aperta_result) by_table = take_of(sung_path, &(aperta_take_options){.table = "hillenbrand1995-men"});
    assert_false(by_table->settings.voice_guessed);
    assert_int_equal(aperta_voice_group(by_table->settings.voice), APERTA_VOICE_MAN);
}

/* A man who goes up into his high voice is still a man by his low notes (all held; E2 to A5, median C4 and above, so
 * that the middle alone says woman); one creaky end, or an octave slip, makes no woman a man. Whether B2 is a good
 * border: common practice, no source. */
static void test_low_notes_tell(void **state)
{
    aperta_note notes[40];
    double doubt;
    (void)state;

    for (guint i = 0; i < G_N_ELEMENTS(notes); i++)
        notes[i] =
            (aperta_note){.span = {2.0 * i, 2.0 * i + 1.5}, .f0_hz = aperta_midi_to_hz(40 + (int)i + (i > 15), 440.0)};
    assert_int_equal(result_guess_voice(notes, G_N_ELEMENTS(notes), &doubt), APERTA_VOICE_MAN);
    assert_true(doubt < 0.1); /* 31 to 1 for a man from F2, 2.4 to 1 against him from the middle */

    for (guint i = 0; i < G_N_ELEMENTS(notes); i++)
        notes[i].f0_hz = aperta_midi_to_hz(57 + (int)i % 20, 440.0);
    double before;
    assert_int_equal(result_guess_voice(notes, G_N_ELEMENTS(notes), &before), APERTA_VOICE_WOMAN);
    notes[7] = (aperta_note){.span = {14.0, 14.2}, .f0_hz = 75.0}; /* creak */
    notes[9].f0_hz = 110.0;                                        /* an octave off, one note of forty */
    assert_int_equal(result_guess_voice(notes, G_N_ELEMENTS(notes), &doubt), APERTA_VOICE_WOMAN);
    assert_true(doubt < before + 0.05);
}

/* ---- nothing sung ------------------------------------------------------------------------------------------------ */

static void test_silence(void **state)
{
    g_autoptr(aperta_result) result = take_of(silent_path, &(aperta_take_options){.keep_frames = TRUE});
    (void)state;

    assert_int_equal(result->notes->len, 0);
    assert_non_null(warning_of(result, "no-singing"));
    assert_int_equal(warning_of(result, "no-singing")->kind, APERTA_WARNING_SILENT);
    g_autofree char *text = aperta_warning_text(warning_of(result, "no-singing"));
    assert_non_null(strstr(text, "silent"));
    assert_false(result->key.known);
    expect_near(result->a4_hz, 440.0, 0.0);

    g_autoptr(aperta_result) sung = take_of(sung_path, &(aperta_take_options){0});
    assert_null(warning_of(sung, "no-singing"));
    assert_null(warning_of(sung, "clipping"));
}

/* ---- cancel and progress ----------------------------------------------------------------------------------------- */

typedef struct {
    double last;
    int calls, cancel_at; /* 0: never */
    volatile int cancel;
} listener;

static void listen(double fraction, void *data)
{
    listener *l = data;

    assert_true(fraction >= l->last && fraction <= 1.0);
    l->last = fraction;
    if (++l->calls == l->cancel_at)
        l->cancel = 1;
}

static void test_progress(void **state)
{
    listener l = {0};
    g_autoptr(aperta_result) result = take_of(
        sung_path, &(aperta_take_options){
                       .voice = APERTA_VOICE_WOMAN, .progress = listen, .progress_data = &l, .cancel = &l.cancel});
    (void)state;

    assert_true(l.calls > (int)N_NOTES);
    expect_near(l.last, 1.0, 0.0);
}

static void test_cancel(void **state)
{
    (void)state;
    for (int at = 1; at <= 10; at += 3) {
        listener l = {.cancel_at = at};
        aperta_take_options options = {.jobs = at % 4, .progress = listen, .progress_data = &l, .cancel = &l.cancel};
        GError *error = NULL;
        assert_null(aperta_take(sung_path, &options, &error));
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_INTERRUPTED));
        assert_true(g_str_has_prefix(error->message, sung_path));
        assert_int_equal(l.calls, at);
        g_error_free(error);
    }
}

/* ---- corrections ------------------------------------------------------------------------------------------------- */

static char *write_corrections(const char *text)
{
    char *path = g_build_filename(folder, "corrections.csv", NULL);

    assert_true(g_file_set_contents(path, text, -1, NULL));
    return path;
}

static void test_corrections(void **state)
{
    g_autofree char *path = write_corrections("\xef\xbb\xbfnote,vowel\r\n# the third is a slip\r\n\r\n"
                                              "2, ee\r\n3,not a note\r\n5,\"ɔ\"\r\n");
    g_autoptr(aperta_result) result =
        take_of(sung_path, &(aperta_take_options){.voice = APERTA_VOICE_WOMAN, .corrections = path});
    (void)state;

    assert_int_equal(result->notes->len, N_NOTES - 1);
    assert_int_equal(result->n_removed, 1);
    static const int numbers[] = {1, 2, 4, 5, 6}; /* as in the report that was corrected */
    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = note_of(result, i);
        assert_int_equal(note->number, numbers[i]);
        assert_int_equal(note->midi, melody[numbers[i] - 1]);
        gboolean corrected = note->number == 2 || note->number == 5;
        assert_int_equal(note->intended_from, corrected ? APERTA_INTENDED_CORRECTION : APERTA_INTENDED_UNKNOWN);
        assert_int_equal(note->intended != NULL, corrected);
    }
    assert_string_equal(note_of(result, 1)->intended->ipa, "i");
    assert_string_equal(note_of(result, 3)->intended->ipa, "ɔ");
    assert_non_null(note_of(result, 1)->vowel.heard); /* what was heard is kept */
}

/* There was singing, so nothing of the take may say that there was none. */
static void test_all_corrected_away(void **state)
{
    g_autofree char *path = write_corrections("1,not a note\n2,not a note\n3,not a note\n4,not a note\n"
                                              "5,not a note\n6,not a note\n");
    g_autoptr(aperta_result) result = take_of(sung_path, &(aperta_take_options){.corrections = path});
    g_autofree char *trust = aperta_trust_text(&result->trust);
    (void)state;

    assert_int_equal(result->notes->len, 0);
    assert_int_equal(result->n_removed, N_NOTES);
    assert_null(warning_of(result, "no-singing"));
    assert_non_null(warning_of(result, "all-removed"));
    assert_true(result->trust.all_removed);
    assert_null(strstr(trust, "no singing"));
    assert_non_null(strstr(trust, "corrections"));
    assert_false(result->key.known);
}

static void expect_correction_error(const char *text, aperta_error code, const char *place, const char *says)
{
    g_autofree char *path = write_corrections(text);
    g_autofree char *prefix = g_strconcat(path, place, NULL);
    aperta_take_options options = {.voice = APERTA_VOICE_WOMAN, .corrections = path};
    GError *error = NULL;

    assert_null(aperta_take(sung_path, &options, &error));
    if (error->code != (int)code || !g_str_has_prefix(error->message, prefix) || strstr(error->message, says) == NULL)
        fail_msg("%s (code %d)", error->message, error->code);
    assert_true(g_error_matches(error, APERTA_ERROR, (int)code));
    g_error_free(error);
}

static void test_bad_corrections(void **state)
{
    aperta_take_options options = {.corrections = "/nowhere/corrections.csv"};
    GError *error = NULL;
    (void)state;

    expect_correction_error("note,vowel\n1 ee\n", APERTA_ERROR_FORMAT, ":2:1: ", "a comma");
    expect_correction_error("1,ee\nx,ee\n", APERTA_ERROR_FORMAT, ":2:1: ", "\"x\"");
    expect_correction_error("0,ee\n", APERTA_ERROR_FORMAT, ":1:1: ", "\"0\"");
    expect_correction_error("1,ee\n\n2,  zz\n", APERTA_ERROR_FORMAT, ":3:5: ", "\"zz\"");
    expect_correction_error("12,\"zz\"\n", APERTA_ERROR_FORMAT, ":1:4: ", "zz");
    expect_correction_error("1,\xff\n", APERTA_ERROR_FORMAT, ":1:3: ", "UTF-8");
    expect_correction_error("7,ee\n", APERTA_ERROR_RANGE, ": ", "note 7");
    expect_correction_error("2,not a note\n2,ee\n", APERTA_ERROR_FORMAT, ":2:1: ", "each note once");

    assert_null(aperta_take(sung_path, &options, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND));
    assert_true(g_str_has_prefix(error->message, "/nowhere/corrections.csv"));
    g_error_free(error);
}

/* ---- vowels told ------------------------------------------------------------------------------------------------- */

/* What is intended of each note, "i i - ɛ"; "-": not known. */
static void expect_intended(const char *sung, const char *corrections, const char *expected)
{
    g_autofree char *path = write_corrections(corrections != NULL ? corrections : "");
    aperta_take_options options = {
        .voice = APERTA_VOICE_WOMAN, .sung = sung, .corrections = corrections != NULL ? path : NULL};
    g_autoptr(aperta_result) result = take_of(sung_path, &options);
    g_autoptr(GString) intended = g_string_new(NULL);

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = note_of(result, i);
        g_string_append_printf(intended, "%s%s%s", i > 0 ? " " : "", note->intended != NULL ? note->intended->ipa : "-",
                               note->intended_from == APERTA_INTENDED_CORRECTION ? "!" : "");
        assert_int_equal(note->intended != NULL, note->intended_from != APERTA_INTENDED_UNKNOWN);
    }
    assert_string_equal(intended->str, expected);
}

static void test_told(void **state)
{
    (void)state;

    expect_intended("ee", NULL, "i i i i i i");
    expect_intended("iː", NULL, "i i i i i i");
    expect_intended("i: e, a  ɔ\tAH oo", NULL, "i e a ɔ ɑ u");
    expect_intended("i e - - - u", NULL, "i e - - - u");
    expect_intended("2:ee 4-6:ɑː", NULL, "- i - ɑ ɑ ɑ");
    expect_intended("2:i: 4–5:oo", NULL, "- i - u u -");
    expect_intended("6:ee eh", NULL, "ɛ ɛ ɛ ɛ ɛ i");
    expect_intended("eh 2-3:-", NULL, "ɛ - - ɛ ɛ ɛ");
    /* a correction of a note wins, and a note that is none takes no vowel of the row */
    expect_intended("ee", "2,ah\n", "i ɑ! i i i i");
    expect_intended("ee ih eh oo uu", "2,ah\n3,not a note\n", "i ɑ! ɛ u ʊ");
}

/* It changes nothing of what is heard and measured, and the advice speaks of the vowel told. */
static void test_told_and_heard(void **state)
{
    aperta_take_options options = {.voice = APERTA_VOICE_WOMAN, .style = "belt"};
    g_autoptr(aperta_result) plain = take_of(sung_path, &options);
    options.sung = "oo";
    g_autoptr(aperta_result) told = take_of(sung_path, &options);
    (void)state;

    for (guint i = 0; i < N_NOTES; i++) {
        const aperta_sung_note *a = note_of(plain, i), *b = note_of(told, i);
        assert_ptr_equal(a->vowel.heard, b->vowel.heard);
        assert_true(a->vowel.confidence == b->vowel.confidence);
        assert_memory_equal(&a->tract.resonances, &b->tract.resonances, sizeof a->tract.resonances);
        assert_int_equal(a->sharpened[0].status, APERTA_UNKNOWN);
    }
    assert_int_equal(note_of(told, 0)->sharpened[0].status, APERTA_MEASURED);
}

static void expect_sung_error(const char *sung, aperta_error code, const char *says)
{
    aperta_take_options options = {.voice = APERTA_VOICE_WOMAN, .sung = sung};
    GError *error = NULL;
    GError *early = NULL;

    assert_null(aperta_take(sung_path, &options, &error));
    if (!g_error_matches(error, APERTA_ERROR, (int)code) || strstr(error->message, says) == NULL)
        fail_msg("%s: %s (code %d)", sung, error->message, error->code);
    /* what is wrong with the words alone is known before a file is read */
    assert_int_equal(aperta_sung_check(sung, &early), code == APERTA_ERROR_RANGE);
    g_clear_error(&early);
    g_error_free(error);
}

static void test_bad_told(void **state)
{
    (void)state;

    expect_sung_error("", APERTA_ERROR_FORMAT, "no vowel");
    expect_sung_error(" , ", APERTA_ERROR_FORMAT, "no vowel");
    expect_sung_error("ee zz", APERTA_ERROR_FORMAT, "\"zz\" is no vowel (ee, ü, ih");
    expect_sung_error("\xff", APERTA_ERROR_FORMAT, "UTF-8");
    expect_sung_error("0:ee", APERTA_ERROR_FORMAT, "\"0:ee\"");
    expect_sung_error("3ee", APERTA_ERROR_FORMAT, "\"3ee\"");
    expect_sung_error("5-3:ee", APERTA_ERROR_FORMAT, "\"5-3:ee\"");
    expect_sung_error("99999999999999999999:ee", APERTA_ERROR_FORMAT, "99999999999999999999:ee");
    expect_sung_error("3:", APERTA_ERROR_FORMAT, "no vowel after the colon");
    expect_sung_error("ee:3", APERTA_ERROR_FORMAT, "stands first, as in 3:ee");
    expect_sung_error("3:ee 2-4:ah", APERTA_ERROR_FORMAT, "note 3 has two vowels");
    expect_sung_error("i e 5:a", APERTA_ERROR_FORMAT, "2 vowels without a note");
    expect_sung_error("i e a", APERTA_ERROR_RANGE, "3 vowels are told, but the take has 6 notes");
    expect_sung_error("i e a i e a i", APERTA_ERROR_RANGE, "7 vowels are told, but the take has 6 notes");
    expect_sung_error("7:ee", APERTA_ERROR_RANGE, "note 7, which is not there (the take has 6 notes)");
    expect_sung_error("5-2000000000:ee", APERTA_ERROR_RANGE, "note 7,");
}

static void test_bad_settings(void **state)
{
    static const aperta_take_options rows[] = {{.table = "no-such-table"}, {.style = "no-such-style"}};
    (void)state;
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        GError *error = NULL;
        assert_null(aperta_take(sung_path, &rows[i], &error));
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND));
        assert_non_null(strstr(error->message, "no-such-"));
        g_error_free(error);
    }
}

/* ------------------------------------------------------------------------------------------------------------------ */

static int set_up(void **state)
{
    g_autofree float *nothing = g_new0(float, 2 * RATE_HZ);

    (void)state;
    folder = g_dir_make_tmp("aperta-result-XXXXXX", NULL);
    if (folder == NULL)
        return -1;
    sung_path = g_build_filename(folder, "sung.wav", NULL);
    silent_path = g_build_filename(folder, "silent.wav", NULL);
    write_sung(sung_path);
    return wav_write(silent_path, nothing, 2 * RATE_HZ, RATE_HZ, "silence", NULL) ? 0 : -1;
}

static int tear_down(void **state)
{
    g_autofree char *corrections = g_build_filename(folder, "corrections.csv", NULL);

    (void)state;
    g_unlink(corrections);
    g_unlink(sung_path);
    g_unlink(silent_path);
    g_rmdir(folder);
    g_free(sung_path);
    g_free(silent_path);
    g_free(folder);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_notes),          cmocka_unit_test(test_quick_notes_are_no_speech),
        cmocka_unit_test(test_f1_distances),   cmocka_unit_test(test_options),
        cmocka_unit_test(test_frames),         cmocka_unit_test(test_jobs),
        cmocka_unit_test(test_diphthong),      cmocka_unit_test(test_two_syllables_on_one_note),
        cmocka_unit_test(test_voice),          cmocka_unit_test(test_silence),
        cmocka_unit_test(test_progress),       cmocka_unit_test(test_cancel),
        cmocka_unit_test(test_corrections),    cmocka_unit_test(test_all_corrected_away),
        cmocka_unit_test(test_low_notes_tell), cmocka_unit_test(test_bad_corrections),
        cmocka_unit_test(test_told),           cmocka_unit_test(test_told_and_heard),
        cmocka_unit_test(test_bad_told),       cmocka_unit_test(test_bad_settings),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
