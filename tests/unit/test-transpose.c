/* test-transpose.c - the same song in another key: pitches, names and key signatures.
 *
 * Expected names: transposition by the circle of fifths as every harmony book has it. */
#include "expect.h"
#include "result/sheet-private.h"
#include "said.h"
#include "score/score-private.h"

#include <aperta/report.h>
#include <aperta/result.h>
#include <string.h>

static const char *const fifths_names[] = {"C♭", "G♭", "D♭", "A♭", "E♭", "B♭", "F", "C",
                                           "G",  "D",  "A",  "E",  "B",  "F♯", "C♯"};

/* Notes separated by blanks, each a letter, # or b or nothing, and an octave. */
static aperta_score *score_of(int fifths, const char *mode, const char *notes)
{
    g_autoptr(GString) xml = g_string_new("<score-partwise><part-list><score-part id=\"P1\"><part-name/></score-part>"
                                          "</part-list><part id=\"P1\"><measure number=\"1\"><attributes>");
    g_auto(GStrv) each = g_strsplit(notes, " ", -1);
    const aperta_score_options how = {0};
    g_autoptr(GError) error = NULL;

    g_string_append_printf(xml, "<divisions>1</divisions><key><fifths>%d</fifths><mode>%s</mode></key></attributes>",
                           fifths, mode);
    for (char **note = each; *note != NULL; note++)
        g_string_append_printf(xml,
                               "<note><pitch><step>%c</step><alter>%d</alter><octave>%c</octave></pitch>"
                               "<duration>1</duration><lyric><text>see</text></lyric></note>",
                               (*note)[0],
                               (*note)[1] == '#'   ? 1
                               : (*note)[1] == 'b' ? -1
                                                   : 0,
                               (*note)[strlen(*note) - 1]);
    g_string_append(xml, "</measure></part></score-partwise>");
    aperta_score *score = score_read_bytes("song.musicxml", xml->str, xml->len, &how, &error);
    if (score == NULL)
        fail_msg("%s", error->message);
    return score;
}

static char *names_of(const aperta_score *score)
{
    g_autoptr(GString) names = g_string_new(NULL);

    for (guint i = 0; i < score->n_notes; i++)
        g_string_append_printf(names, "%s%s", i > 0 ? " " : "", score->notes[i].name);
    return g_strdup(names->str);
}

static void test_names_follow_the_key(void **state)
{
    static const struct {
        int fifths;
        const char *mode, *notes;
        int semitones;
        const char *tonic, *moved;
        int moved_fifths;
    } rows[] = {
        {-1, "major", "F4 A4 Bb4 C5 E5 C#5 B4", -2, "E♭", "E♭4 G4 A♭4 B♭4 D5 B4 A4", -3},
        {-1, "major", "F4 A4 Bb4 C5 E5 B4", 1, "F♯", "F♯4 A♯4 B4 C♯5 E♯5 B♯4", 6},
        {0, "major", "C4 E4 F4 B4", -1, "B", "B3 D♯4 E4 A♯4", 5},
        {0, "major", "C4 E4 F4 B4", 12, "C", "C5 E5 F5 B5", 0},
        {-6, "major", "Gb4 Cb5 F4", 12, "G♭", "G♭5 C♭6 F5", -6},
        {0, "minor", "A4 G#4 C5 F4", 3, "C", "C5 B4 E♭5 A♭4", -3},
        {0, "minor", "A4 G#4 C5", -1, "G♯", "G♯4 F♯♯4 B4", 5},
        {1, "major", "G4 F#4 B4", 24, "G", "G6 F♯6 B6", 1},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_score) score = score_of(rows[i].fifths, rows[i].mode, rows[i].notes);
        g_autoptr(GError) error = NULL;
        assert_true(aperta_score_transpose(score, rows[i].semitones, &error));
        g_autofree char *names = names_of(score);
        assert_string_equal(names, rows[i].moved);
        assert_string_equal(aperta_score_key_tonic(score), rows[i].tonic);
        assert_int_equal(score->key_fifths, rows[i].moved_fifths);
        assert_int_equal(score->notes[0].fifths, rows[i].moved_fifths);
    }
}

/* Names always are the pitches that they stand for, and there and back again is nowhere, but for keys of six sharps or
 * more, which have two names. */
static void test_there_and_back(void **state)
{
    (void)state;
    for (int fifths = -7; fifths <= 7; fifths++) {
        for (int semitones = -24; semitones <= 24; semitones++) {
            g_autoptr(aperta_score) score = score_of(fifths, "major", "C4 D4 E4 F4 G4 A4 B4 C#4 Eb4 F#4 Ab4 Bb4");
            g_autofree char *before = names_of(score);
            assert_true(aperta_score_transpose(score, semitones, NULL));
            for (guint i = 0; i < score->n_notes; i++) {
                const aperta_score_note *note = &score->notes[i];
                int midi = 0;
                assert_true(aperta_pitch_parse(note->name, &midi));
                assert_int_equal(midi, note->midi);
            }
            assert_true(score->key_fifths >= (semitones % 12 == 0 ? -7 : -5) && score->key_fifths <= 7);
            assert_string_equal(aperta_score_key_tonic(score), fifths_names[score->key_fifths + 7]);
            assert_true(aperta_score_transpose(score, -semitones, NULL));
            g_autofree char *after = names_of(score);
            if (ABS(fifths) < 6 && fifths >= -5)
                assert_string_equal(after, before);
        }
    }
}

static void test_beyond_all_notes(void **state)
{
    g_autoptr(aperta_score) score = score_of(0, "major", "C4 A0");
    g_autoptr(GError) error = NULL;
    (void)state;
    assert_false(aperta_score_transpose(score, -24, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_RANGE));
    g_autofree char *names = names_of(score);
    assert_string_equal(names, "C4 A0");
}

static void test_farthest(void **state)
{
    static const struct {
        int semitones;
        const char *names;
    } rows[] = {{-25, NULL}, {-24, "C2 A3"}, {24, "C6 A7"}, {25, NULL}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_score) score = score_of(0, "major", "C4 A5");
        g_autoptr(GError) error = NULL;
        assert_int_equal(aperta_score_transpose(score, rows[i].semitones, &error), rows[i].names != NULL);
        g_autofree char *names = names_of(score);
        assert_string_equal(names, rows[i].names != NULL ? rows[i].names : "C4 A5");
        if (rows[i].names == NULL)
            assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_RANGE));
    }
}

static void test_octaves(void **state)
{
    static const struct {
        int octave, midi; /* 0: refused */
    } rows[] = {{-4, 0}, {-3, 60 - 36}, {3, 60 + 36}, {4, 0}};
    static const char text[] = "see\nC4\n";
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        const aperta_score_options how = {.octave = rows[i].octave};
        g_autoptr(GError) error = NULL;
        g_autoptr(aperta_score) score = score_read_bytes("song.txt", text, strlen(text), &how, &error);
        if (rows[i].midi != 0)
            assert_int_equal(score->notes[0].midi, rows[i].midi);
        else
            assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_RANGE));
    }
}

/* Keys of a sheet: 24 semitones either way. */
static void test_farthest_keys(void **state)
{
    static const struct {
        int low, high;
        guint n; /* 0: refused */
    } rows[] = {{-25, 0, 0}, {0, 25, 0}, {-24, -24, 1}, {-24, 24, 49}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        const aperta_sheet_options options = {.voice = APERTA_VOICE_WOMAN,
                                              .language = "en-US",
                                              .try_keys = TRUE,
                                              .keys_low = rows[i].low,
                                              .keys_high = rows[i].high};
        g_autoptr(GError) error = NULL;
        g_autoptr(aperta_sheet) sheet = sheet_of_score(score_of(0, "major", "C4"), &options, &error);
        if (rows[i].n != 0)
            assert_int_equal(sheet->keys->len, rows[i].n);
        else
            assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_RANGE));
    }
}

/* A sheet that is transposed is the sheet of the song as it would be written there; its keys stay those of the written
 * song. */
static void test_sheet_in_another_key(void **state)
{
    const aperta_sheet_options moved = {.voice = APERTA_VOICE_WOMAN,
                                        .language = "en-US",
                                        .transpose = -2,
                                        .try_keys = TRUE,
                                        .keys_low = -3,
                                        .keys_high = 1};
    const aperta_sheet_options plain = {
        .voice = APERTA_VOICE_WOMAN, .language = "en-US", .try_keys = TRUE, .keys_low = -3, .keys_high = 1};
    g_autoptr(aperta_sheet) sheet = sheet_of_score(score_of(-1, "major", "F4 A4 D5 Bb4"), &moved, NULL);
    g_autoptr(aperta_sheet) there = sheet_of_score(score_of(-3, "major", "Eb4 G4 C5 Ab4"), &plain, NULL);
    g_autoptr(aperta_sheet) written = sheet_of_score(score_of(-1, "major", "F4 A4 D5 Bb4"), &plain, NULL);
    g_autofree char *page = aperta_report_sheet_text(sheet, NULL);
    (void)state;
    assert_int_equal(sheet->lowest, there->lowest);
    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *a = aperta_sheet_note_at(sheet->notes, i), *b = aperta_sheet_note_at(there->notes, i);
        assert_string_equal(a->score_note->name, b->score_note->name);
        assert_int_equal(a->advice->len, b->advice->len);
        for (guint k = 0; k < a->advice->len; k++)
            assert_string_equal(said_text(aperta_finding_at(a->advice, k)), said_text(aperta_finding_at(b->advice, k)));
    }
    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *a = aperta_sheet_key_at(sheet->keys, i), *b = aperta_sheet_key_at(written->keys, i);
        assert_int_equal(a->highest, b->highest);
        assert_int_equal(a->key.tonic, b->key.tonic);
        expect_near(a->change_s, b->change_s, 1e-9);
        expect_near(a->watch_s, b->watch_s, 1e-9);
    }
    assert_non_null(strstr(page, "key E♭ major"));
    assert_non_null(strstr(page, "2 semitones lower than written, in F major"));
    assert_non_null(strstr(page, "this sheet"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_names_follow_the_key),
        cmocka_unit_test(test_there_and_back),
        cmocka_unit_test(test_farthest),
        cmocka_unit_test(test_octaves),
        cmocka_unit_test(test_farthest_keys),
        cmocka_unit_test(test_beyond_all_notes),
        cmocka_unit_test(test_sheet_in_another_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
