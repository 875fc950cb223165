/* test-report.c - text, JSON and CSV of made-up takes. What is expected is what the fixture put in, set out as the data
 * contract (DEVELOPERS.md) and RFC 8259, RFC 4180 say; pitches in Hz follow from equal temperament. */
#define _GNU_SOURCE /* wcswidth */
#include "expect.h"
#include "report-fixture.h"
#include "result/result-private.h"

#include <aperta/report.h>
#include <aperta/words.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#define assert_has(text, part) assert_non_null(strstr((text), (part)))

/* ---- text ------------------------------------------------------------------------------------------------------- */

static char *text_of(aperta_result *result, int columns, gboolean colour)
{
    aperta_report_text_options options = {.colour = colour, .columns = columns};

    return aperta_report_text(result, &options);
}

/* Width by the C library, which knows wide and combining characters by its own tables. */
static int width_of(const char *line)
{
    wchar_t wide[1024];
    size_t n = mbstowcs(wide, line, G_N_ELEMENTS(wide));

    assert_true(n < G_N_ELEMENTS(wide));
    return wcswidth(wide, n);
}

static void test_text_fits_the_page(void **state)
{
    static const int columns[] = {60, 66, 72, 80, 100};
    aperta_result *takes[] = {fixture_take(TRUE), fixture_crowd(120), fixture_silence()};
    (void)state;

    /* names of files may hold anything */
    g_free(takes[2]->file);
    takes[2]->file = g_strdup("夜の歌 \033[31m e\u0301 \xff one-word-that-is-longer-than-any-line-of-the-page-can-hold-"
                              "even-at-a-hundred-columns-of-text.wav");
    if (setlocale(LC_CTYPE, "C.UTF-8") == NULL)
        skip();
    for (gsize t = 0; t < G_N_ELEMENTS(takes); t++) {
        for (gsize c = 0; c < G_N_ELEMENTS(columns); c++) {
            g_autofree char *text = text_of(takes[t], columns[c], FALSE);
            g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
            assert_true(g_utf8_validate(text, -1, NULL));
            assert_null(strchr(text, '\033'));
            for (char **line = lines; *line != NULL; line++) {
                int width = width_of(*line);
                if (width < 0 || width > columns[c])
                    print_error("%d columns of %d: %s\n", width, columns[c], *line);
                assert_in_range(width, 0, columns[c]);
                assert_false(g_str_has_suffix(*line, " "));
            }
        }
        aperta_result_free(takes[t]);
    }
    setlocale(LC_CTYPE, "C");
}

/* A narrower page than the narrowest is set as that, and 0 is 80. */
static void test_ends_of_columns(void **state)
{
    static const int pairs[][2] = {{59, 60}, {1, 60}, {0, 80}};
    g_autoptr(aperta_result) take = fixture_take(TRUE);
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++) {
        g_autofree char *given = text_of(take, pairs[i][0], FALSE), *same = text_of(take, pairs[i][1], FALSE);
        assert_string_equal(given, same);
    }
    g_autofree char *narrowest = text_of(take, 60, FALSE), *wider = text_of(take, 61, FALSE);
    assert_string_not_equal(narrowest, wider);
}

static void test_text_columns_line_up(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *text = text_of(take, 80, FALSE);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    int rows = 0;
    (void)state;

    setlocale(LC_CTYPE, "C.UTF-8");
    for (char **line = lines; *line != NULL; line++) {
        char *level = g_str_has_suffix(*line, " change") ? strstr(*line, "change") : NULL;
        if (level == NULL || strstr(*line, " C5") == NULL)
            continue;
        g_autofree char *before = g_strndup(*line, (gsize)(level - *line));
        static int column;
        column = rows++ == 0 ? width_of(before) : column;
        assert_int_equal(width_of(before), column);
    }
    setlocale(LC_CTYPE, "C");
    assert_int_equal(rows, 3);
}

static void test_text_says_what_is_known(void **state)
{
    static const char *const parts[] = {
        "woman (guessed",
        "American English women, Hillenbrand et al. 1995",
        "A4 = 441.2 Hz (estimated); key A♭ major",
        "0:18.4",
        "below 702", /* a limit, not a number */
        "790→470",   /* a glide */
        "ɑ ah→ɪ ih", /* its two vowels */
        "Note 8: two vowels on one note",
        "e ay given", /* corrected */
        "Aperta heard ɪ “ih” (sit)",
        "441±14", /* the wider side of 428..455 */
        "5.6 ±63",
        "straight",
        "−15.3 change",
        "<−10.2", /* the limit's distance */
        "−11…−6", /* both ends of a wide interval */
        "Notes 4, 5 and 9 (C5): i “ee” (see), e “ay” (day) → ɛ “eh, jaw wide”",
        "(bed), F1 about 850 Hz",
        "12 notes: 4 to change, 1 to watch, 1 fine, 6 without advice",
        "fine Note 3: nothing to change.",
        "Notes 1, 2 and 8: without advice, since the rules of this style begin at F4.",
        "Note 11: without advice, since the rules of this style ask for nothing",
        "Note 7: another pitch sounds at the same time",
        "Note 10: F1 could also be 655 Hz (21 % likely).",
        "Note 12: the vowel cannot be told.",
        "One sound is left out",
        "! The singing is very soft",
        "[made up for this test]",
    };
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *text = text_of(take, 80, FALSE);
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(parts); i++) {
        if (strstr(text, parts[i]) == NULL)
            print_error("missing: %s\n", parts[i]);
        assert_has(text, parts[i]);
    }
    assert_null(strstr(text, "did not speak"));
    /* the same advice is told once, and the cautions come last */
    assert_null(strstr(strstr(text, "behind the lower") + 1, "behind the lower"));
    assert_true(g_str_has_suffix(text, "does.\n"));
}

/* Where only the class of a vowel is told, no part of the page names it as the vowel. */
static void test_text_keeps_to_the_class(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(TRUE);
    aperta_sung_note *note = aperta_sung_note_at(take->notes, 3); /* a flagged "ee" on C5 */
    (void)state;

    assert_string_equal(note->vowel.heard->ipa, "i");
    note->vowel.vowel_class = (aperta_vowel_class){.known = TRUE, .has_place = TRUE, .place = APERTA_PLACE_FRONT};
    g_autofree char *text = text_of(take, 80, FALSE);
    g_autofree char *picture = aperta_report_harmonics_svg(take);
    g_autofree char *chart = aperta_report_chart_svg(take);
    assert_has(text, "Note 4 (C5), a front vowel");
    assert_has(picture, "4 · C5 · a front vowel · change");
    assert_has(picture, "note 4, C5, a front vowel: F1");
    assert_has(chart, "note 4, C5, a front vowel: F1");
}

/* How far to trust the vowels stands above them; speech and silence have no tuning. */
static void test_text_says_how_far_to_trust(void **state)
{
    g_autoptr(aperta_result) clean = fixture_take(FALSE), take = fixture_take(FALSE), silence = fixture_silence();
    g_autofree char *trusted = text_of(clean, 80, FALSE);
    (void)state;

    assert_has(trusted, "  Trust   Well: the recording is clean; ");
    assert_null(strstr(trusted, "your ear agrees"));
    assert_null(strstr(trusted, "About the table of vowels"));
    result_warn(take->warnings, (aperta_warning){.kind = APERTA_WARNING_CLIPPING, .n_samples = 9});
    take->trust.level = APERTA_TRUST_CARE;
    result_warn(take->warnings,
                (aperta_warning){.kind = APERTA_WARNING_TABLE_STATUS, .table = {take->settings.table, 0}});
    g_autofree char *clipped = text_of(take, 200, FALSE);
    assert_has(clipped, "your ear agrees.\n");
    assert_has(clipped, "About the table of vowels\n  ! The table hillenbrand1995-women says of its figures: ");
    assert_has(clipped, "A4 = 441.2 Hz");
    result_warn(take->warnings, (aperta_warning){.kind = APERTA_WARNING_SPOKEN});
    g_autofree char *spoken = text_of(take, 80, FALSE);
    assert_null(strstr(spoken, "A4 = "));
    silence->settings.voice_guessed = TRUE;
    g_autofree char *silent = text_of(silence, 80, FALSE);
    assert_has(silent, "  Voice   — (");
    assert_null(strstr(silent, "A4 = "));
}

/* A long take is not a long list of doubts: each kind takes a line or a few. */
static void test_text_of_many_notes(void **state)
{
    g_autoptr(aperta_result) crowd = fixture_crowd(400);
    g_autofree char *text = text_of(crowd, 80, FALSE);
    (void)state;

    const char *doubts = strstr(text, "What could not be told for sure");
    assert_non_null(doubts);
    g_auto(GStrv) lines = g_strsplit(doubts, "\n", -1);
    assert_in_range(g_strv_length(lines), 5, 20);
    assert_has(doubts, "another F1 fits nearly as well");
    assert_has(doubts, "the vowel is unsure");
    assert_has(text, " notes: without advice");
}

static void test_text_explains(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(TRUE);
    g_autofree char *text = text_of(take, 80, FALSE);
    (void)state;

    assert_has(text,
               "Note 1 (A♭3), ɑ “ah” (father)\n    - belt-open, belt-ceiling did not speak: pitch A♭3 is below F4\n");
    assert_has(text, "    + belt-open spoke: pitch C5 is at or above F4\n");
}

/* Colours add nothing but SGR sequences: without them the page is the same. */
static void test_text_colours_only_add(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *plain = text_of(take, 80, FALSE);
    g_autofree char *coloured = text_of(take, 80, TRUE);
    g_autoptr(GRegex) sgr = g_regex_new("\033\\[[0-9;]*m", 0, 0, NULL);
    g_autofree char *stripped = g_regex_replace_literal(sgr, coloured, -1, 0, "", 0, NULL);
    (void)state;

    assert_string_not_equal(plain, coloured);
    assert_string_equal(plain, stripped);
}

static void test_text_of_nothing(void **state)
{
    g_autoptr(aperta_result) silence = fixture_silence();
    g_autofree char *text = aperta_report_text(silence, NULL);
    (void)state;

    assert_has(text, "No sung notes were found.");
    assert_null(strstr(text, "What to try"));
}

/* ---- JSON ------------------------------------------------------------------------------------------------------- */

static JsonNode *parse(aperta_result *result)
{
    g_autofree char *text = aperta_report_json(result);
    GError *error = NULL;
    JsonNode *root = json_from_string(text, &error);

    assert_null(error);
    assert_non_null(root);
    return root;
}

/* The names of an object's members in their order, joined by blanks. */
static char *members(JsonObject *object)
{
    g_autoptr(GList) names = json_object_get_members(object);
    GString *joined = g_string_new(NULL);

    for (GList *name = names; name != NULL; name = name->next)
        g_string_append_printf(joined, "%s%s", joined->len > 0 ? " " : "", (const char *)name->data);
    return g_string_free(joined, FALSE);
}

static void assert_members(JsonObject *object, const char *expected)
{
    g_autofree char *names = members(object);

    assert_string_equal(names, expected);
}

static JsonObject *note_at(JsonNode *root, guint index)
{
    return json_array_get_object_element(json_object_get_array_member(json_node_get_object(root), "notes"), index);
}

static JsonObject *resonance_at(JsonObject *note, guint index)
{
    return json_array_get_object_element(json_object_get_array_member(note, "resonances"), index);
}

static void test_json_names(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autoptr(JsonNode) root = parse(take);
    JsonObject *top = json_node_get_object(root);
    JsonObject *note = note_at(root, 3);
    (void)state;

    assert_members(top, "schema source settings tuning summary notes notes_removed moments cautions warnings");
    assert_string_equal(json_object_get_string_member(top, "schema"), "aperta/take-1");
    assert_members(json_object_get_object_member(top, "source"), "file seconds sample_rate_hz channel from_s to_s");
    assert_members(json_object_get_object_member(top, "settings"), "style table singer rules voice");
    assert_members(note,
                   "number start_s end_s steady_start_s steady_end_s pitch vibrato accompanied not_voice withheld "
                   "resonances sharpened glide lpc "
                   "harmonics vowel f1_to_f0_st f1_to_2f0_st syllable judged_with advice");
    assert_members(json_object_get_object_member(note, "pitch"), "name midi hz cents");
    assert_members(resonance_at(note, 0), "name status hz low_hz high_hz alternatives");
    assert_members(json_object_get_object_member(note, "vowel"),
                   "heard confidence next intended intended_from corrected judged first last class");
    JsonObject *advice = json_array_get_object_element(json_object_get_array_member(note, "advice"), 0);
    assert_members(advice, "rule level text reason source shape ladder");
    assert_members(json_object_get_object_member(advice, "shape"),
                   "ipa respelling jaw_wide name how f1_hz f2_hz moved_bark");
    assert_int_equal(json_array_get_length(json_object_get_array_member(top, "moments")), 0);
    assert_int_equal(json_array_get_length(json_object_get_array_member(top, "cautions")),
                     g_strv_length((char **)aperta_cautions()));
    JsonArray *warnings = json_object_get_array_member(top, "warnings");
    assert_string_equal(json_object_get_string_member(json_array_get_object_element(warnings, 0), "code"), "low-level");
}

static void test_json_values(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autoptr(JsonNode) root = parse(take);
    JsonObject *note = note_at(root, 3);
    JsonObject *pitch = json_object_get_object_member(note, "pitch");
    (void)state;

    assert_string_equal(json_object_get_string_member(pitch, "name"), "C5");
    /* C5 is three semitones above A4 = 441.23 Hz, and 18 cents more */
    expect_near(json_object_get_double_member(pitch, "hz"), 441.23 * pow(2.0, 3.18 / 12.0), 0.051);
    expect_near(json_object_get_double_member(note, "f1_to_2f0_st"),
                12.0 * log2(437.2 / (2.0 * 441.23 * pow(2.0, 3.18 / 12.0))), 0.0051);
    expect_near(json_object_get_double_member(resonance_at(note, 0), "hz"), 437.2, 1e-9);
    assert_string_equal(json_object_get_string_member(json_object_get_object_member(note, "vowel"), "heard"), "i");
    assert_string_equal(
        json_object_get_string_member(json_object_get_object_member(json_node_get_object(root), "source"), "file"),
        "takes/Lantern, verse \"two\".wav");
    JsonObject *syllable = json_object_get_object_member(note_at(root, 1), "syllable");
    assert_string_equal(json_object_get_string_member(syllable, "text"), "gleam, \"soft\"");
    assert_true(json_object_get_null_member(syllable, "word"));
}

/* None, unknown and known are three different answers. */
static void test_json_statuses(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autoptr(JsonNode) root = parse(take);
    JsonObject *bounded = resonance_at(note_at(root, 5), 0);
    JsonObject *unknown = resonance_at(note_at(root, 11), 0);
    (void)state;

    assert_string_equal(json_object_get_string_member(bounded, "status"), "bounded");
    assert_true(json_object_get_null_member(bounded, "hz"));
    assert_true(json_object_get_null_member(bounded, "low_hz"));
    expect_near(json_object_get_double_member(bounded, "high_hz"), 702.4, 1e-9);
    assert_true(json_object_get_null_member(note_at(root, 5), "f1_to_2f0_st"));
    assert_string_equal(json_object_get_string_member(unknown, "status"), "unknown");
    assert_true(json_object_get_null_member(unknown, "hz"));
    assert_true(json_object_get_null_member(unknown, "low_hz"));
    assert_true(json_object_get_null_member(unknown, "high_hz"));
    JsonObject *vowel = json_object_get_object_member(note_at(root, 11), "vowel");
    assert_true(json_object_get_null_member(vowel, "heard"));
    assert_true(json_object_get_null_member(vowel, "confidence"));
    JsonObject *vibrato = json_object_get_object_member(note_at(root, 1), "vibrato");
    assert_string_equal(json_object_get_string_member(vibrato, "status"), "straight");
    assert_true(json_object_get_null_member(vibrato, "rate_hz"));
    assert_true(json_object_get_null_member(note_at(root, 0), "syllable"));
    assert_true(json_object_get_null_member(note_at(root, 0), "glide"));
    assert_members(json_object_get_object_member(note_at(root, 7), "glide"), "first last");
    JsonObject *moving = json_object_get_object_member(note_at(root, 7), "vowel");
    assert_string_equal(json_object_get_string_member(moving, "judged"), "start");
    assert_string_equal(json_object_get_string_member(moving, "first"), "ɑ");
    assert_string_equal(json_object_get_string_member(moving, "last"), "ɪ");
    assert_string_equal(json_object_get_string_member(vowel, "judged"), "whole");
    assert_true(json_object_get_null_member(vowel, "first"));
}

/* A text that breaks careless writers, an empty result, and one with explanations are all JSON. */
static void test_json_always_parses(void **state)
{
    g_autoptr(aperta_result) silence = fixture_silence();
    g_autoptr(aperta_result) explained = fixture_take(TRUE);
    (void)state;

    g_free(silence->file);
    silence->file = g_strdup("\x01\t\"\\\n\x7f\xff ♭/");
    silence->key.known = FALSE;
    silence->seconds = NAN;
    g_autoptr(JsonNode) root = parse(silence);
    JsonObject *source = json_object_get_object_member(json_node_get_object(root), "source");
    assert_string_equal(json_object_get_string_member(source, "file"), "\x01\t\"\\\n\x7f\uFFFD ♭/");
    assert_true(json_object_get_null_member(source, "seconds"));
    assert_true(
        json_object_get_null_member(json_object_get_object_member(json_node_get_object(root), "tuning"), "key"));
    g_autoptr(JsonNode) second = parse(explained);
    assert_int_equal(json_array_get_length(json_object_get_array_member(note_at(second, 0), "explanations")), 2);
}

/* ---- CSV -------------------------------------------------------------------------------------------------------- */

/* Fields of one record as RFC 4180 reads them. */
static GPtrArray *fields_of(const char *line)
{
    GPtrArray *fields = g_ptr_array_new_with_free_func(g_free);

    for (gboolean more = TRUE; more;) {
        GString *field = g_string_new(NULL);
        gboolean quoted = *line == '"';
        for (line += quoted; *line != '\0' && (quoted || *line != ','); line++) {
            if (quoted && line[0] == '"' && line[1] != '"') {
                line++;
                break;
            }
            line += quoted && line[0] == '"';
            g_string_append_c(field, *line);
        }
        assert_true(*line == ',' || *line == '\0');
        more = *line++ == ',';
        g_ptr_array_add(fields, g_string_free(field, FALSE));
    }
    return fields;
}

static const char *field_named(const GPtrArray *header, const GPtrArray *fields, const char *name)
{
    guint index;

    assert_true(g_ptr_array_find_with_equal_func((GPtrArray *)header, name, g_str_equal, &index));
    return g_ptr_array_index(fields, index);
}

static void test_csv(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *csv = aperta_report_csv(take);
    g_auto(GStrv) lines = g_strsplit(csv, "\n", -1);
    g_autoptr(GPtrArray) header = fields_of(lines[0]);
    (void)state;

    assert_int_equal(g_strv_length(lines), 14); /* header, twelve notes, nothing after the last line's end */
    for (int i = 1; i <= 12; i++) {
        g_autoptr(GPtrArray) fields = fields_of(lines[i]);
        assert_int_equal(fields->len, header->len);
    }
    g_autoptr(GPtrArray) second = fields_of(lines[2]);
    assert_string_equal(field_named(header, second, "syllable"), "gleam, \"soft\"");
    assert_string_equal(field_named(header, second, "vibrato_rate_hz"), "");
    g_autoptr(GPtrArray) sixth = fields_of(lines[6]);
    assert_string_equal(field_named(header, sixth, "f1_status"), "bounded");
    assert_string_equal(field_named(header, sixth, "f1_hz"), "");
    assert_string_equal(field_named(header, sixth, "f1_low_hz"), "");
    assert_string_equal(field_named(header, sixth, "f1_high_hz"), "702.4");
    assert_string_equal(field_named(header, sixth, "level"), "watch");
}

/* The rows of one of several takes are those of its own table, behind the file. */
static void test_csv_of_several(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *own = aperta_report_csv(take), *header = aperta_report_csv_header();
    g_autofree char *rows = aperta_report_csv_rows(take, "one, \"two\".wav");
    g_auto(GStrv) lines = g_strsplit(own, "\n", -1), of_several = g_strsplit(rows, "\n", -1);
    g_autofree char *first = g_strdup_printf("file,%s\n", lines[0]);
    (void)state;

    assert_string_equal(header, first);
    assert_int_equal(g_strv_length(of_several), 13); /* twelve notes, nothing after the last line's end */
    for (int i = 0; i < 12; i++) {
        g_autofree char *row = g_strdup_printf("\"one, \"\"two\"\".wav\",%s", lines[i + 1]);
        assert_string_equal(of_several[i], row);
    }
    g_ptr_array_set_size(take->notes, 0);
    g_autofree char *none = aperta_report_csv_rows(take, "none.wav");
    assert_string_equal(none, "");
}

/* A vowel of which only the class is known, and one that a person named. */
static void test_class_and_sharpened(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    aperta_sung_note *unsure = aperta_sung_note_at(take->notes, 10), *named = aperta_sung_note_at(take->notes, 4);
    (void)state;

    unsure->vowel.vowel_class = (aperta_vowel_class){.known = TRUE,
                                                     .has_height = TRUE,
                                                     .has_place = TRUE,
                                                     .height = APERTA_HEIGHT_CLOSE,
                                                     .place = APERTA_PLACE_FRONT,
                                                     .confidence = 0.83};
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        named->sharpened[i] = named->tract.resonances[i];
    named->sharpened[0].hz = 531.0;
    g_autoptr(JsonNode) root = parse(take);
    JsonObject *of_class =
        json_object_get_object_member(json_object_get_object_member(note_at(root, 10), "vowel"), "class");
    assert_string_equal(json_object_get_string_member(of_class, "height"), "close");
    assert_string_equal(json_object_get_string_member(of_class, "place"), "front");
    expect_near(json_object_get_double_member(of_class, "confidence"), 0.83, 1e-9);
    assert_true(json_object_get_null_member(json_object_get_object_member(note_at(root, 0), "vowel"), "class"));
    JsonArray *sharpened = json_object_get_array_member(note_at(root, 4), "sharpened");
    expect_near(json_object_get_double_member(json_array_get_object_element(sharpened, 0), "hz"), 531.0, 1e-9);
    assert_true(json_object_get_null_member(note_at(root, 10), "sharpened"));

    g_autofree char *text = text_of(take, 100, FALSE);
    assert_has(text, "a close front vowel, which one cannot be told; nearest");
    unsure->vowel.vowel_class.has_height = FALSE;
    g_autofree char *csv = aperta_report_csv(take);
    g_auto(GStrv) lines = g_strsplit(csv, "\n", -1);
    g_autoptr(GPtrArray) header = fields_of(lines[0]), eleventh = fields_of(lines[11]);
    assert_string_equal(field_named(header, eleventh, "class"), "front");
    assert_string_equal(field_named(header, eleventh, "class_confidence"), "0.83");
}

static void test_frames(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *csv = aperta_report_frames_csv(take);
    (void)state;

    assert_string_equal(csv, "time_s,f0_hz,voicing,f1_hz,f2_hz,f3_hz\n"
                             "0.010,,0.031,,,\n"
                             "0.020,207.65,0.900,731.3,1220.0,\n"
                             "0.030,208.00,1.000,,1215.5,2800.0\n"
                             "0.040,,0.250,,,\n");
}

/* ---- locale ----------------------------------------------------------------------------------------------------- */

/* A locale that writes 1,5: an installed one, or one made for the test in folder; FALSE when there is neither. */
static gboolean use_comma_locale(const char *folder)
{
    static const char *const names[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "it_IT.UTF-8", "es_ES.UTF-8", "de_DE.utf8"};
    g_autofree char *made = g_build_filename(folder, "de_DE.UTF-8", NULL);
    const char *command[] = {"localedef", "-i", "de_DE", "-f", "UTF-8", made, NULL};

    for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
        if (setlocale(LC_ALL, names[i]) != NULL)
            return TRUE;
    }
    g_spawn_sync(NULL, (char **)command, NULL,
                 G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL,
                 NULL, NULL);
    g_setenv("LOCPATH", folder, TRUE);
    return setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
}

static void remove_folder(const char *path)
{
    g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);

    for (const char *name = dir != NULL ? g_dir_read_name(dir) : NULL; name != NULL; name = g_dir_read_name(dir)) {
        g_autofree char *inner = g_build_filename(path, name, NULL);
        if (g_file_test(inner, G_FILE_TEST_IS_DIR))
            remove_folder(inner);
        else
            g_unlink(inner);
    }
    g_rmdir(path);
}

typedef char *(*renderer)(const aperta_result *);

static char *plain_text(const aperta_result *result)
{
    return aperta_report_text(result, NULL);
}

static void test_numbers_ignore_the_locale(void **state)
{
    static const renderer renderers[] = {plain_text,
                                         aperta_report_json,
                                         aperta_report_csv,
                                         aperta_report_frames_csv,
                                         aperta_report_chart_svg,
                                         aperta_report_harmonics_svg};
    g_autoptr(aperta_result) take = fixture_take(TRUE);
    g_autofree char *folder = g_dir_make_tmp("aperta-locale-XXXXXX", NULL);
    char *before[G_N_ELEMENTS(renderers)];
    char number[16];
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(renderers); i++)
        before[i] = renderers[i](take);
    gboolean comma = use_comma_locale(folder);
    remove_folder(folder);
    if (comma) {
        g_snprintf(number, sizeof number, "%.1f", 1.5);
        assert_string_equal(number, "1,5");
    }
    for (gsize i = 0; i < G_N_ELEMENTS(renderers); i++) {
        g_autofree char *after = renderers[i](take);
        assert_string_equal(before[i], after);
        g_free(before[i]);
    }
    setlocale(LC_ALL, "C");
    if (!comma) { /* skip does not return */
        g_clear_pointer(&take, aperta_result_free);
        g_clear_pointer(&folder, g_free);
        skip();
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_text_fits_the_page),
        cmocka_unit_test(test_ends_of_columns),
        cmocka_unit_test(test_text_columns_line_up),
        cmocka_unit_test(test_text_says_what_is_known),
        cmocka_unit_test(test_text_keeps_to_the_class),
        cmocka_unit_test(test_text_says_how_far_to_trust),
        cmocka_unit_test(test_text_of_many_notes),
        cmocka_unit_test(test_text_explains),
        cmocka_unit_test(test_text_colours_only_add),
        cmocka_unit_test(test_text_of_nothing),
        cmocka_unit_test(test_json_names),
        cmocka_unit_test(test_json_values),
        cmocka_unit_test(test_json_statuses),
        cmocka_unit_test(test_json_always_parses),
        cmocka_unit_test(test_csv),
        cmocka_unit_test(test_csv_of_several),
        cmocka_unit_test(test_class_and_sharpened),
        cmocka_unit_test(test_frames),
        cmocka_unit_test(test_numbers_ignore_the_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
