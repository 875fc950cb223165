/* test-sheet-belt.c - the belt verdicts of test-belt.c once more, now from a score: MusicXML in, words pronounced, laid
 * under notes and judged by what the table expects.
 *
 * The words are those that English dictionaries have for these vowels: see, day, bed, cat, ah, law, go, book, moon,
 * cup, bird, sit. */
#include "expect.h"
#include "result/sheet-private.h"
#include "score/score-private.h"

#include <aperta/result.h>
#include <string.h>

static void append_note(GString *xml, const char *pitch, const char *word)
{
    const char *alter = pitch[1] == 'b' ? "<alter>-1</alter>" : pitch[1] == '#' ? "<alter>1</alter>" : "";

    g_string_append_printf(xml,
                           "<note><pitch><step>%c</step>%s<octave>%c</octave></pitch><duration>2</duration>"
                           "<lyric><syllabic>single</syllabic><text>%s</text></lyric></note>",
                           pitch[0], alter, pitch[strlen(pitch) - 1], word);
}

/* One note for each word, all on one pitch. */
static aperta_sheet *sheet_of(aperta_voice voice, const char *pitch, const char *const *words)
{
    const aperta_sheet_options options = {.voice = voice, .language = "en-US", .style = "belt"};
    const aperta_score_options how = {0};
    g_autoptr(GString) xml = g_string_new("<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\">"
                                          "<part-name>Voice</part-name></score-part></part-list><part id=\"P1\">"
                                          "<measure number=\"1\"><attributes><divisions>2</divisions></attributes>");
    g_autoptr(GError) error = NULL;

    for (; *words != NULL; words++)
        append_note(xml, pitch, *words);
    g_string_append(xml, "</measure></part></score-partwise>");
    aperta_score *score = score_read_bytes("belt.musicxml", xml->str, xml->len, &how, &error);
    if (score == NULL)
        fail_msg("%s", error->message);
    aperta_sheet *sheet = sheet_of_score(score, &options, &error);
    if (sheet == NULL)
        fail_msg("%s", error->message);
    return sheet;
}

static const aperta_sheet_note *note_at(const aperta_sheet *sheet, guint i)
{
    return g_ptr_array_index(sheet->notes, i);
}

static const aperta_shape *shape_of(const aperta_sheet_note *note)
{
    for (guint i = 0; i < note->advice->len; i++) {
        const aperta_finding *finding = aperta_finding_at(note->advice, i);
        if (finding->shape != NULL)
            return finding->shape;
    }
    return NULL;
}

/* F1 from Hillenbrand, Getty, Clark & Wheeler 1995, JASA 97:3099-3111, Table V; the verdict from the band 2f0/F1 = 0.82
 * to 1.22 computed from Herbst, Story & Meyer 2023 (J Voice). ratio is 2f0/F1, worked out by hand; the table that is
 * shipped holds the means of all tokens, which differ by up to 2 %. */
static void test_published_examples(void **state)
{
    static const struct {
        aperta_voice voice;
        const char *word, *ipa, *pitch;
        double f1_hz, ratio;
        gboolean flagged;
    } rows[] = {
        {APERTA_VOICE_WOMAN, "see", "i", "C5", 437, 2.39, TRUE},
        {APERTA_VOICE_WOMAN, "ah", "ɑ", "A4", 936, 0.94, FALSE},
        {APERTA_VOICE_WOMAN, "bed", "ɛ", "C5", 731, 1.43, TRUE},
        {APERTA_VOICE_WOMAN, "ah", "ɑ", "C5", 936, 1.12, FALSE},
        {APERTA_VOICE_MAN, "day", "e", "F4", 476, 1.47, TRUE},
        {APERTA_VOICE_MAN, "law", "ɔ", "F4", 652, 1.07, FALSE},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        const char *words[] = {rows[i].word, NULL};
        g_autoptr(aperta_sheet) sheet = sheet_of(rows[i].voice, rows[i].pitch, words);
        const aperta_sheet_note *note = note_at(sheet, 0);
        assert_non_null(note->expected);
        assert_string_equal(note->expected->vowel->ipa, rows[i].ipa);
        expect_ratio(note->expected->resonances[0].hz, rows[i].f1_hz, 0.02);
        expect_near(2.0 * note->f0_hz / rows[i].f1_hz, rows[i].ratio, 0.006);
        assert_int_equal(aperta_findings_level(note->advice),
                         rows[i].flagged ? APERTA_LEVEL_CHANGE : APERTA_LEVEL_FINE);
    }
}

/* Common practice, no source: at C5 in belt a woman opens "ee" and "ay" toward "eh", "oo" toward "aw", "er" toward "uh"
 * or "eh"; "ah" is left alone. */
static void test_common_practice_at_c5(void **state)
{
    static const char *const words[] = {"see", "day", "moon", "bird", "ah", NULL};
    static const char *const toward[] = {"ɛ", "ɛ", "ɔ", "ʌɛ", NULL};
    g_autoptr(aperta_sheet) sheet = sheet_of(APERTA_VOICE_WOMAN, "C5", words);
    (void)state;
    for (guint i = 0; words[i] != NULL; i++) {
        const aperta_shape *shape = shape_of(note_at(sheet, i));
        if (toward[i] == NULL) {
            assert_null(shape);
            assert_int_equal(aperta_findings_level(note_at(sheet, i)->advice), APERTA_LEVEL_FINE);
            continue;
        }
        if (shape == NULL || strstr(toward[i], shape->vowel->ipa) == NULL)
            fail_msg("%s goes toward %s", words[i], shape == NULL ? "nothing" : shape->vowel->ipa);
    }
}

/* Common practice, no source: at E♭5 even "ah" is at its limit, and nothing is told to open further (Roll, J Voice
 * 2016: narrower vowels, more mix). */
static void test_e_flat_5(void **state)
{
    static const char *const words[] = {"ah", "see", "sit", "day", "bed", "go", "moon", "bird", NULL};
    g_autoptr(aperta_sheet) sheet = sheet_of(APERTA_VOICE_WOMAN, "Eb5", words);
    (void)state;
    for (guint i = 0; words[i] != NULL; i++) {
        assert_null(shape_of(note_at(sheet, i)));
        assert_int_equal(aperta_findings_level(note_at(sheet, i)->advice),
                         i == 0 ? APERTA_LEVEL_WATCH : APERTA_LEVEL_CHANGE);
    }
}

/* Common practice, no source: a low A♭3 is never flagged in belt, whatever the vowel. */
static void test_low_notes_are_left_alone(void **state)
{
    static const aperta_voice voices[] = {APERTA_VOICE_WOMAN, APERTA_VOICE_MAN, APERTA_VOICE_CHILD};
    static const char *const words[] = {"see", "sit",  "day",  "bed", "cat",  "ah", "law",
                                        "go",  "book", "moon", "cup", "bird", NULL};
    (void)state;
    for (gsize v = 0; v < G_N_ELEMENTS(voices); v++) {
        g_autoptr(aperta_sheet) sheet = sheet_of(voices[v], "Ab3", words);
        assert_int_equal(sheet->groups->len, 0);
        for (guint i = 0; words[i] != NULL; i++) {
            assert_non_null(note_at(sheet, i)->expected);
            assert_true(note_at(sheet, i)->expected->known);
        }
    }
}

/* Names of transposed keys: the circle of fifths as every harmony book has it (major keys by number of flats and
 * sharps; G♭ and F♯, D♭ and C♯ being the same on the keyboard). A score with one flat is F major. */
static void test_names_of_keys(void **state)
{
    static const char *const majors[] = {"B", "C", "D♭", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"};
    static const char xml[] = "<score-partwise><part-list><score-part id=\"P1\"><part-name/></score-part></part-list>"
                              "<part id=\"P1\"><measure number=\"1\"><attributes><divisions>1</divisions>"
                              "<key><fifths>-1</fifths></key></attributes><note><pitch><step>A</step><octave>4</octave>"
                              "</pitch><duration>1</duration><lyric><text>ah</text></lyric></note></measure></part>"
                              "</score-partwise>";
    const aperta_sheet_options options = {
        .voice = APERTA_VOICE_WOMAN, .language = "en-US", .try_keys = TRUE, .keys_low = -6, .keys_high = 6};
    const aperta_score_options how = {0};
    g_autoptr(GError) error = NULL;
    (void)state;
    aperta_score *score = score_read_bytes("key.musicxml", xml, strlen(xml), &how, &error);
    assert_non_null(score);
    g_autoptr(aperta_sheet) sheet = sheet_of_score(score, &options, &error);
    assert_non_null(sheet);
    assert_int_equal(sheet->keys->len, 13);
    for (guint i = 0; i < 13; i++) {
        const aperta_sheet_key *key = aperta_sheet_key_at(sheet->keys, i);
        assert_string_equal(aperta_key_tonic_name(&key->key), majors[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_published_examples), cmocka_unit_test(test_common_practice_at_c5),
        cmocka_unit_test(test_e_flat_5),           cmocka_unit_test(test_low_notes_are_left_alone),
        cmocka_unit_test(test_names_of_keys),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
