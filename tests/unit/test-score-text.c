/* test-score-text.c - the plain lyric text, as aperta-score-text(5) describes it. */
#include "expect.h"
#include "score-reading.h"
#include "score/score-private.h"

#include <string.h>

static void test_song(void **state)
{
    (void)state;
    g_autoptr(aperta_score) score = read_text("title: Evening\ncomposer: A. Maker\nwords: B. Poet\nlanguage: en\n"
                                              "key: F# minor\nmeter: 3/4\ntempo: 90\n\n"
                                              "# the first line\n"
                                              "Sil-ver moon, _ a-bove\n"
                                              "Gold-en sun _ be-hind\n"
                                              "F#4 A B A:2 G#:1/2 r:1/2 E5\n");
    g_autofree char *shown = show(score);
    const aperta_score_note *last = &score->notes[5];

    assert_string_equal(shown, "F♯4@0+1 {1:Sil- 2:Gold-} A4@1+1 {1:-ver 2:-en} B4@2+1 {1:moon, 2:sun} A4@3+2 "
                               "G♯4@5+0.5 {1:a- 2:be-} E5@6+1 {1:-bove 2:-hind}");
    assert_int_equal(score->format, APERTA_SCORE_TEXT);
    assert_string_equal(score->title, "Evening");
    assert_string_equal(score->composer, "A. Maker");
    assert_string_equal(score->lyricist, "B. Poet");
    assert_string_equal(last->lyrics[0].language, "en");
    assert_true(score->key.known && score->key.minor && score->key.tonic == 6);
    assert_int_equal(last->fifths, 3);
    expect_near(last->start_s, 4.0, 1e-9);
    assert_string_equal(last->bar, "3");
    expect_near(last->stress, 1.0, 0.0);
}

/* Words go over the end of a line; "_" inside a word; "~" binds two syllables; other forms of writing. */
static void test_joins(void **state)
{
    (void)state;
    expect_shown("glo-_-_-\nC4 D E\n-ria\nF4\n", "C4@0+1 {1:glo-} D4@1+1 E4@2+1 F4@3+1 {1:-ria}");
    expect_shown("che~a-mo\nc4:2 bb\n", "C4@0+2 {1:che 1:a-} B♭4@2+1 {1:-mo}");
    expect_shown("a b\nB♭3 C♯4:1.5\n", "B♭3@0+1 {1:a} C♯4@1+1.5 {1:b}");
    expect_shown("a b c\nC4 D E\n", "C4@0+1 {1:a} D4@1+1 {1:b} E4@2+1 {1:c}"); /* letters may be words */
    expect_shown("C4 D\n", "C4@0+1 D4@1+1");
    expect_shown("moon\nC4\n| r:3 |\nsun\nD4\n", "C4@0+1 {1:moon} D4@4+1 {1:sun}");
    expect_shown("length: 1/2\nmoon\r\nC4\r\n", "C4@0+0.5 {1:moon}");
}

/* Dashes are stops, as aperta-score-text(5) says: U+2013, U+2014, two hyphens; a long one parts words by itself. */
static void test_dashes(void **state)
{
    (void)state;
    expect_shown("moon – sun\nC4 D\n", "C4@0+1 {1:moon} D4@1+1 {1:sun}");
    expect_shown("— moon — sun —\nC4 D\n", "C4@0+1 {1:moon} D4@1+1 {1:sun}");
    expect_shown("moon -- sun - sky\nC4 D E\n", "C4@0+1 {1:moon} D4@1+1 {1:sun} E4@2+1 {1:sky}");
    expect_shown("wa-ter—a-way\nC4 D E F\n", "C4@0+1 {1:wa-} D4@1+1 {1:-ter} E4@2+1 {1:a-} F4@3+1 {1:-way}");
}

/* Bars: drawn, or counted by the meter, or one a line. An upbeat is not counted. */
static void test_bars(void **state)
{
    static const struct {
        const char *text, *bars;
    } rows[] = {{"meter: 2/4\nG4 | C5 B4 | A4 G4\n", "0 1 1 2 2"},
                {"meter: 2/4\nC5 B4 A4 G4 F4\n", "1 1 2 2 3"},
                {"C5 B4\nA4 G4\n", "1 1 2 2"},
                {"meter: 2/4\nC4 D\nmeter: 3/4\nE4 F G A\n", "1 1 2 2 2 3"}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_score) score = read_text(rows[i].text);
        GString *bars = g_string_new(NULL);
        for (guint k = 0; k < score->n_notes; k++)
            g_string_append_printf(bars, "%s%s", k > 0 ? " " : "", score->notes[k].bar);
        assert_string_equal(bars->str, rows[i].bars);
        g_string_free(bars, TRUE);
    }
}

static void test_tempo_changes(void **state)
{
    (void)state;
    g_autoptr(aperta_score) score = read_text("tempo: 60\na b\nC4 D\ntempo: 30\nc d\nE4 F\n");

    expect_near(score->notes[3].start_s, 4.0, 1e-9);
    expect_near(score->tempo_bpm, 60.0, 1e-9);
}

/* Later lines may look like headings and be words. */
static void test_words_with_colons(void **state)
{
    (void)state;
    expect_shown("moon\nC4\nsay: no\nD4 E\n", "C4@0+1 {1:moon} D4@1+1 {1:say:} E4@2+1 {1:no}");
}

static void test_mistakes(void **state)
{
    static const struct {
        const char *text, *message;
    } rows[] = {
        {"moon a-bove\nG4 A4\n", "test:1:6: 3 syllables, but 2 pitches in line 2 (write _"},
        {"moon\nG4 A4\n", "test:1:1: 1 syllable, but 2 pitches in line 2 (write _"},
        {"moon light\nG4 H4\n", "test:2:4: expected a pitch such as G4, F#4 or Bb3, or r for a rest, found \"H4\""},
        {"moon light\nG4 C-1\n", "test:2:4: expected an octave from 0 to 9 without a sign, found \"C-1\" (see"},
        {"moon light\nG4 C+4:2\n", "test:2:4: expected an octave from 0 to 9 without a sign, found \"C+4\" (see"},
        {"moon light\nG A4\n", "test:2:1: the first pitch of a line needs its octave, such as G4 (see"},
        {"a b c\nC D E\n", "test:2:1: the first pitch of a line needs its octave, such as C4"},
        {"a b c\n| F#:2 D E\n\nd\nC4\n", "test:2:3: the first pitch of a line needs its octave, such as F#4"},
        {"a b\nC D\nc d\nC4 D\n", "test:2:1: the first pitch of a line needs its octave, such as C4"},
        {"moon\nA\n", "test:2:1: the first pitch of a line needs its octave, such as A4"},
        {"moon — sun\nC4\n", "test:1:8: 2 syllables, but 1 pitch in line 2 (write _"},
        {"moon\nG4:x\n", "test:2:1: expected a length in quarters behind the colon"},
        {"moon\nG4:0\n", "test:2:1: expected a length in quarters behind the colon"},
        {"moon\nG4:1/0\n", "test:2:1: expected a length in quarters behind the colon"},
        {"moon\n\nG4\n", "test:1:1: expected a line of pitches (\"G4 A4 B4\") under these words, found none"},
        {"sun\nG4\nmoon\n", "test:3:1: expected a line of pitches"},
        {"titel: Evening\nmoon\nG4\n", "test:1:1: \"titel:\" is no heading (there are title, composer"},
        {"key: H\nG4\n", "test:1:6: expected a key such as G major or F# minor, found \"H\""},
        {"key: G# major\nG4\n", "test:1:6: expected a key"},
        {"meter: 3\nG4\n", "test:1:8: expected a meter such as 3/4, found \"3\""},
        {"tempo: fast\nG4\n", "test:1:8: expected quarters a minute from 5 to 1000, found \"fast\""},
        {"length: 0\nG4\n", "test:1:9: expected a length in quarters such as 1 or 1/2, found \"0\""},
        {"\n\n", "test: there are no notes with a pitch"},
        {"a\x01z", "test: this is no score that can be read (use MusicXML, MIDI or a lyric text"},
    };
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *message = failure_of(rows[i].text, strlen(rows[i].text), APERTA_ERROR_FORMAT);
        if (!g_str_has_prefix(message, rows[i].message))
            print_message("%s\n", message);
        assert_true(g_str_has_prefix(message, rows[i].message));
    }
}

static void test_encodings(void **state)
{
    static const char *const encodings[] = {"UTF-16", "WINDOWS-1252"};
    static const char text[] = "früh-ling\nC4 D4\n";
    (void)state;

    expect_shown("\xEF\xBB\xBFmoon\nC4\n", "C4@0+1 {1:moon}");
    for (gsize i = 0; i < G_N_ELEMENTS(encodings); i++) {
        gsize n;
        g_autofree char *bytes = g_convert(text, -1, encodings[i], "UTF-8", NULL, &n, NULL);
        g_autoptr(aperta_score) score = score_read_bytes("test", bytes, n, NULL, NULL);
        assert_non_null(score);
        g_autofree char *shown = show(score);
        assert_string_equal(shown, "C4@0+1 {1:früh-} D4@1+1 {1:-ling}");
        assert_int_equal(has_remark(score, "read as Western European"), i == 1);
    }
}

/* The example of the manual page is a good song. */
static void test_manual(void **state)
{
    static const char begin[] = ".Bd -literal -offset indent\n";
    (void)state;
    g_autofree char *page = NULL;
    assert_true(g_file_get_contents(TEST_SOURCE_DIR "/src/cli/aperta-score-text.5", &page, NULL, NULL));
    char *example = strstr(page, begin);
    assert_non_null(example);
    example += strlen(begin);
    *strstr(example, "\n.Ed") = '\0';
    g_autoptr(aperta_score) score = read_text(example);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "D4@0+1 {1:Sil- 2:Gold-} G4@1+2 {1:-ver 2:-en} A4@3+1 {1:moon, 2:sun} B4@4+1 "
                               "A4@5+2 {1:a- 2:be-} G4@7+1 {1:-bove 2:-hind} E4@8+1 {1:the 2:the} "
                               "D4@9+3 {1:mill, 2:hill,} G4@12+0.5 {1:sing} A4@12.5+0.5 B4@13+2 {1:me} "
                               "A4@15+2 {1:home} F♯4@17+1 {1:a-} G4@18+3 {1:-gain.}");
    assert_string_equal(score->notes[0].bar, "0");
    assert_int_equal(score->n_verses, 2);
    assert_int_equal(score->n_remarks, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_song),     cmocka_unit_test(test_joins),         cmocka_unit_test(test_dashes),
        cmocka_unit_test(test_bars),     cmocka_unit_test(test_tempo_changes), cmocka_unit_test(test_words_with_colons),
        cmocka_unit_test(test_mistakes), cmocka_unit_test(test_encodings),     cmocka_unit_test(test_manual),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
