/* test-sheet.c - the sheet of a score: verses, melismas, weights, groups, keys, other words, and its renderings.
 *
 * Scores are made up; pronunciations are those of the diction folder, which has tests of its own, so words are chosen
 * that every dictionary of American English has alike ("see", "ah", "moon", "bed"). */
#define _GNU_SOURCE /* memmem */
#include "expect.h"
#include "result/sheet-private.h"
#include "said.h"
#include "sheet-fixture.h"
#include "sheet-of.h"

#include <aperta/report.h>
#include <aperta/words.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

static const aperta_sheet_note *note_at(const aperta_sheet *sheet, guint i)
{
    return g_ptr_array_index(sheet->notes, i);
}

static aperta_level level_at(const aperta_sheet *sheet, guint i)
{
    return aperta_findings_level(note_at(sheet, i)->advice);
}

static gboolean warned(const aperta_sheet *sheet, const char *code)
{
    for (guint i = 0; i < sheet->warnings->len; i++)
        if (strcmp(aperta_warning_code(g_ptr_array_index(sheet->warnings, i)), code) == 0)
            return TRUE;
    return FALSE;
}

/* The rest of a melisma has no syllable, but the vowel, and is judged by it. */
static void test_melisma_keeps_its_vowel(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("A3:1:see C5:1 C5:1:ah", (aperta_sheet_options){0});
    (void)state;
    assert_int_equal(sheet->notes->len, 3);
    assert_string_equal(note_at(sheet, 0)->syllable->text, "see");
    assert_false(note_at(sheet, 0)->goes_on);
    assert_null(note_at(sheet, 1)->syllable);
    assert_true(note_at(sheet, 1)->goes_on);
    assert_string_equal(note_at(sheet, 1)->expected->vowel->ipa, "i");
    assert_int_equal(level_at(sheet, 0), APERTA_LEVEL_FINE);
    assert_int_equal(level_at(sheet, 1), APERTA_LEVEL_CHANGE);
    assert_int_equal(level_at(sheet, 2), APERTA_LEVEL_FINE);
}

/* Belt sends "ee" to "eh" on C5 and asks for a lighter mix on D5 (tuning_top C5). On one syllable one thing is asked:
 * what most of the singing asks for. */
static void test_melisma_keeps_one_shape(void **state)
{
    g_autoptr(aperta_sheet) long_c =
        sheet_of("C5:4:see D5:1 C5:2", (aperta_sheet_options){.voice = APERTA_VOICE_WOMAN});
    g_autoptr(aperta_sheet) two = sheet_of("C5:4:see D5:1:see", (aperta_sheet_options){.voice = APERTA_VOICE_WOMAN});
    (void)state;

    for (guint i = 0; i < 3; i++) {
        const aperta_finding *finding = aperta_finding_at(note_at(long_c, i)->advice, 0);
        assert_non_null(finding->shape);
        assert_string_equal(finding->shape->vowel->ipa, "ɛ");
    }
    assert_null(note_at(long_c, 0)->advice_of);
    assert_non_null(note_at(long_c, 1)->advice_of);
    assert_null(aperta_finding_at(note_at(two, 1)->advice, 0)->shape); /* two syllables */
}

static void test_verses(void **state)
{
    g_autoptr(aperta_sheet) all = sheet_of("C5:1:see:ah A3:1:moon", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) second = sheet_of("C5:1:see:ah A3:1:moon", (aperta_sheet_options){.verse = 2});
    aperta_sheet_options third = {.verse = 3, .language = "en-US"};
    g_autoptr(GError) error = NULL;
    (void)state;
    assert_int_equal(all->notes->len, 4);
    assert_int_equal(note_at(all, 2)->number, 1); /* the number is the note's in the part */
    assert_int_equal(note_at(all, 2)->verse, 2);
    assert_int_equal(second->notes->len, 2);
    assert_string_equal(note_at(second, 0)->syllable->text, "ah");
    assert_null(note_at(second, 1)->syllable);
    assert_null(sheet_of_score(fixture_score("C5:1:see:ah"), &third, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_RANGE));
    assert_non_null(strstr(error->message, "no verse 3"));
}

/* Verses 2 and 4 only: a number that is passed over is no verse, unless it is asked for. */
static void test_numbers_passed_over(void **state)
{
    g_autoptr(aperta_sheet) all = sheet_of("C5:1::see::ah A3:1::moon::", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) first = sheet_of("C5:1::see::ah A3:1::moon::", (aperta_sheet_options){.verse = 1});
    (void)state;
    assert_int_equal(all->verses->len, 2);
    assert_int_equal(all->notes->len, 4);
    assert_int_equal(note_at(all, 0)->verse, 2);
    assert_int_equal(note_at(all, 2)->verse, 4);
    assert_false(warned(all, "no-words"));
    assert_int_equal(first->notes->len, 2);
    assert_null(note_at(first, 0)->syllable);
    assert_true(warned(first, "no-words"));
}

static void test_without_words(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1 A3:1", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) empty =
        sheet_of("", (aperta_sheet_options){.try_keys = TRUE, .keys_low = -1, .keys_high = 1});
    g_autofree char *text = aperta_report_sheet_text(sheet, NULL);
    g_autofree char *nothing = aperta_report_sheet_text(empty, NULL);
    (void)state;
    assert_int_equal(sheet->notes->len, 2);
    assert_int_equal(note_at(sheet, 0)->verse, 0);
    assert_null(note_at(sheet, 0)->syllable);
    assert_null(note_at(sheet, 0)->expected);
    assert_true(warned(sheet, "no-words"));
    assert_non_null(strstr(text, "C5 A3"));
    assert_true(warned(empty, "no-notes"));
    assert_non_null(strstr(nothing, "Take care"));
}

/* Grace notes are listed, and not judged: nobody shapes a vowel in passing. */
static void test_grace_notes(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("D5:0 C5:1:see", (aperta_sheet_options){0});
    (void)state;
    assert_int_equal(sheet->notes->len, 2);
    assert_string_equal(note_at(sheet, 0)->expected->vowel->ipa, "i");
    assert_int_equal(note_at(sheet, 0)->advice->len, 0);
    expect_near(note_at(sheet, 0)->weight_s, 0.0, 0.0);
}

/* Weight: seconds, in full where bar and word stress the note, by half where neither does (result-tuning.h). The
 * fixture stresses the first beat with 1 and the others with 0.25. */
static void test_weights(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C4:1:moon D4:2 C4:1:moon", (aperta_sheet_options){0});
    (void)state;
    expect_near(note_at(sheet, 0)->weight_s, 0.5 * 1.0, 1e-9);
    expect_near(note_at(sheet, 1)->weight_s, 1.0 * (0.5 + 0.25 * 0.25 + 0.25), 1e-9);
    expect_near(sheet->weight_s, 0.5 + 1.0 * 0.8125 + 0.5 * 0.8125, 1e-9);
}

static void test_groups(void **state)
{
    g_autoptr(aperta_sheet) sheet =
        sheet_of("C5:1:see A4:1:moon C5:1:see A4:4:green A3:4:see C5:2:moon", (aperta_sheet_options){0});
    const aperta_group *first = aperta_group_at(sheet->groups, 0);
    const aperta_group *second = aperta_group_at(sheet->groups, 1);
    double sum_s = 0.0;
    (void)state;
    assert_int_equal(sheet->groups->len, 2); /* ee and oo, whatever the pitch */
    assert_string_equal(first->note->expected->vowel->ipa, "i");
    assert_int_equal(first->notes->len, 3);
    assert_int_equal(first->note->number, 4); /* the longest speaks for them */
    assert_true(first->weight_s > second->weight_s);
    for (guint i = 0; i < sheet->groups->len; i++)
        sum_s += aperta_group_at(sheet->groups, i)->weight_s;
    expect_near(sum_s, sheet->change_s, 1e-9);
}

/* Lowered far enough nothing is flagged in belt, and the levels of each key are those of the transposed song. */
static void test_keys(void **state)
{
    const char *notes = "C5:1:see A4:1:moon B4:1:bed D5:1:ah";
    g_autoptr(aperta_sheet) sheet = sheet_of(
        notes,
        (aperta_sheet_options){.try_keys = TRUE, .keys_low = -17, .keys_high = 2, .range_low = 57, .range_high = 74});
    g_autoptr(aperta_sheet) higher = sheet_of("D5:1:see B4:1:moon C#5:1:bed E5:1:ah", (aperta_sheet_options){0});
    const aperta_sheet_key *lowest = aperta_sheet_key_at(sheet->keys, 0);
    const aperta_sheet_key *written = aperta_sheet_key_at(sheet->keys, 17);
    const aperta_sheet_key *two_up = aperta_sheet_key_at(sheet->keys, 19);
    (void)state;
    assert_int_equal(sheet->keys->len, 20);
    assert_int_equal(lowest->n_change, 0);
    assert_false(lowest->fits);
    assert_int_equal(written->semitones, 0);
    expect_near(written->change_s, sheet->change_s, 1e-9);
    assert_true(written->fits);
    assert_int_equal(written->lowest, 69);
    assert_int_equal(written->highest, 74);
    expect_near(two_up->change_s, higher->change_s, 1e-9);
    expect_near(two_up->watch_s, higher->watch_s, 1e-9);
    assert_false(two_up->fits);
    for (guint i = 0; i < sheet->keys->len; i++) { /* no key that fits comes after one that does not */
        const aperta_sheet_key *key = aperta_sheet_key_at(sheet->keys, i);
        assert_true(key->fits == (key->rank <= 13));
    }
}

/* y and i differ by the lips: one F1 (the chart of the International Phonetic Association), though the one is from a
 * table where i has 306 Hz and the other has it at 437.3. Calliope 1989 (from memory) has y 0.3 % below i. */
static void test_borrowed_y_stands_where_i_does(void **state)
{
    static const char *const styles[] = {"classical", "legit", "belt"};
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        const aperta_sheet_options german = {.language = "de", .style = styles[s], .voice = APERTA_VOICE_SOPRANO};
        g_autoptr(aperta_sheet) sheet = sheet_of("E4:2:die E4:2:früh G4:2:die G4:2:früh A4:2:die A4:2:früh", german);
        const aperta_expectation *i = note_at(sheet, 0)->expected, *y = note_at(sheet, 1)->expected;
        assert_string_equal(y->vowel->ipa, "y");
        assert_true(y->known);
        assert_non_null(strstr(y->lender, "calliope1989-women"));
        assert_int_equal(i->lent, APERTA_LENT_NOT);
        assert_true(warned(sheet, "other-table"));
        expect_ratio(y->resonances[0].hz, i->resonances[0].hz, 0.005);
        assert_true(y->sd_hz[0] / y->resonances[0].hz > 0.09); /* its own share, and the misfit */
        for (guint n = 0; n < sheet->notes->len; n += 2)
            assert_int_equal(level_at(sheet, n), level_at(sheet, n + 1));
    }
}

/* One singer, one table: "mi" is told the same in whatever language it is sung. */
static void test_one_table_for_all_languages(void **state)
{
    static const char *const languages[] = {"it", "de", "es", "la", "fr"};
    static const char notes[] = "E4:1:mi G4:1:mi B4:1:mi C5:1:mi D5:1:mi E5:1:mi F5:1:mi";
    static const aperta_voice voices[] = {APERTA_VOICE_SOPRANO, APERTA_VOICE_TENOR, APERTA_VOICE_CHILD};
    (void)state;
    for (gsize v = 0; v < G_N_ELEMENTS(voices); v++) {
        const aperta_sheet_options options = {.language = "it", .style = "classical", .voice = voices[v]};
        g_autoptr(aperta_sheet) italian = sheet_of(notes, options);
        for (gsize l = 0; l < G_N_ELEMENTS(languages); l++) {
            aperta_sheet_options other = options;
            other.language = languages[l];
            g_autoptr(aperta_sheet) sheet = sheet_of(notes, other);
            g_autoptr(GArray) marks = aperta_report_sheet_marks(sheet), its = aperta_report_sheet_marks(italian);
            assert_string_equal(sheet->settings.table->name, aperta_vowel_table_for_voice(voices[v]));
            assert_int_equal(marks->len, its->len);
            assert_true(marks->len > 0);
            for (guint i = 0; i < marks->len; i++)
                assert_string_equal(g_array_index(marks, aperta_score_mark, i).text,
                                    g_array_index(its, aperta_score_mark, i).text);
        }
    }
}

/* All vowels of a table that was asked for are its own; figures typed from its file. */
static void test_a_named_table_is_used(void **state)
{
    const aperta_sheet_options sung = {.language = "it", .table = "sung-soprano", .style = "classical"};
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:mi C5:1:la C5:1:tu", sung);
    g_autoptr(aperta_sheet) cat = sheet_of("C5:1:cat", (aperta_sheet_options){.table = "hillenbrand1995-women"});
    static const double f1_hz[] = {270.0, 800.0, 325.0};
    (void)state;
    for (guint i = 0; i < 3; i++) {
        assert_int_equal(note_at(sheet, i)->expected->lent, APERTA_LENT_NOT);
        expect_near(note_at(sheet, i)->expected->resonances[0].hz, f1_hz[i], 1e-9);
    }
    assert_false(warned(sheet, "other-table"));
    assert_int_equal(level_at(sheet, 0), APERTA_LEVEL_CHANGE);
    assert_non_null(aperta_finding_at(note_at(sheet, 0)->advice, 0)->shape);
    expect_near(note_at(cat, 0)->expected->resonances[0].hz, 675.7, 1e-9);
    assert_false(note_at(cat, 0)->expected->regional);
    assert_false(warned(cat, "other-table"));
}

static void test_table_of_another_voice_is_told(void **state)
{
    const aperta_sheet_options women = {.voice = APERTA_VOICE_TENOR, .table = "hillenbrand1995-women"};
    const aperta_sheet_options men = {.voice = APERTA_VOICE_TENOR, .table = "hillenbrand1995-men"};
    g_autoptr(aperta_sheet) wrong = sheet_of("C4:1:see", women);
    g_autoptr(aperta_sheet) right = sheet_of("C4:1:see", men);
    g_autoptr(aperta_sheet) unnamed = sheet_of("C4:1:see", (aperta_sheet_options){.voice = APERTA_VOICE_TENOR});
    (void)state;
    assert_true(warned(wrong, "table-voice"));
    assert_false(warned(right, "table-voice"));
    assert_false(warned(unnamed, "table-voice"));
}

/* A child's y comes from women, since no table of children has one, and stands where the child's i stands. */
static void test_children_borrow_from_women(void **state)
{
    g_autoptr(aperta_sheet) sheet =
        sheet_of("C5:1:lune C5:1:lit", (aperta_sheet_options){.language = "fr", .voice = APERTA_VOICE_CHILD});
    const aperta_expectation *y = note_at(sheet, 0)->expected, *i = note_at(sheet, 1)->expected;
    (void)state;
    assert_string_equal(sheet->settings.table->name, "hillenbrand1995-children");
    assert_string_equal(y->lender, "calliope1989-women");
    assert_int_equal(y->lender_voice, APERTA_VOICE_WOMAN);
    expect_ratio(y->resonances[0].hz, i->resonances[0].hz, 0.005);
}

/* Ranges: common practice, no source. */
static void test_remarks_on_settings(void **state)
{
    const aperta_sheet_options soprano = {.voice = APERTA_VOICE_SOPRANO};
    const aperta_sheet_options classical = {.voice = APERTA_VOICE_SOPRANO, .style = "classical"};
    const aperta_sheet_options tenor = {.voice = APERTA_VOICE_TENOR};
    const aperta_sheet_options lower = {.voice = APERTA_VOICE_TENOR, .octave = -1};
    g_autoptr(aperta_sheet) named = sheet_of("C5:1:see", classical);
    g_autoptr(aperta_sheet) unnamed = sheet_of("C5:1:see", soprano);
    g_autoptr(aperta_sheet) top = sheet_of("C5:1:see F♯5:1:moon", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) usual = sheet_of("C5:1:see F5:1:moon", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) high = sheet_of("G4:1:see A4:1:moon C5:1:see", tenor);
    g_autoptr(aperta_sheet) sung = sheet_of("C4:1:see G4:1:moon B4:1:see", tenor);
    g_autoptr(aperta_sheet) moved = sheet_of("G4:1:see A4:1:moon C5:1:see", lower);
    (void)state;
    assert_false(warned(named, "style-assumed"));
    assert_true(warned(unnamed, "style-assumed"));
    assert_true(warned(top, "style-assumed"));
    assert_false(warned(usual, "style-assumed"));
    assert_true(warned(high, "lies-high"));
    assert_false(warned(sung, "lies-high"));
    assert_false(warned(moved, "lies-high"));
}

/* A little part of the song gets one line, since the words of its rule stand at a heavier one; alone it gets them all.
 */
static void test_little_groups_are_brief(void **state)
{
    g_autoptr(aperta_sheet) mixed = sheet_of("C5:60:see C5:1:moon", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) alone = sheet_of("C4:60:ah C5:1:moon", (aperta_sheet_options){0});
    g_autofree char *first = aperta_report_sheet_text(mixed, NULL), *second = aperta_report_sheet_text(alone, NULL);
    (void)state;
    assert_non_null(strstr(first, "  change: u “oo” (moon) → "));
    assert_non_null(strstr(first, "moon (C5)"));
    assert_non_null(strstr(first, "    Aim: "));
    assert_null(strstr(strstr(first, "    Aim: ") + 1, "    Aim: ")); /* once, for "see" */
    assert_non_null(strstr(second, "    Aim: "));
}

/* A change without a shape is called by the rule's own mark, else by its level: not every rule asks for less sound. */
static void test_change_without_a_shape(void **state)
{
    static const char rules[] = "[style]\nname = own\ntitle = t\n[rule a]\nwhen = pitch >= C5\nlevel = change\n"
                                "words = Breathe before it.\n%sreason = r\nsource = s\n";
    static const struct {
        const char *line, *mark;
    } rows[] = {{"", "change"}, {"mark = breathe\n", "breathe"}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *path = NULL, *text = g_strdup_printf(rules, rows[i].line);
        g_autofree char *lead = g_strdup_printf("  %s: i “ee” (see), on C5", rows[i].mark);
        int fd = g_file_open_tmp("own-XXXXXX.rules", &path, NULL);
        g_close(fd, NULL);
        assert_true(g_file_set_contents(path, text, -1, NULL));
        g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:see", (aperta_sheet_options){.style = path});
        g_autofree char *page = aperta_report_sheet_text(sheet, NULL);
        g_autoptr(GArray) marks = aperta_report_sheet_marks(sheet);
        assert_string_equal(g_array_index(marks, aperta_score_mark, 0).text, rows[i].mark);
        assert_non_null(strstr(page, lead));
        assert_null(strstr(page, "lighter"));
        g_unlink(path);
    }
}

/* ü keeps its lips while a rounded vowel reaches the band (belt opens by at most a quarter): ø, which stands beside the
 * table's e (536 Hz), on A4 (3.5 semitones below 880 Hz: 719 Hz), œ, beside its ɛ (727 Hz), on C5 (855 Hz). That lips
 * should stay: common practice, no source. */
static void test_rounded_stays_rounded(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("A4:1:kühn C5:1:kühn", (aperta_sheet_options){.language = "de"});
    const aperta_finding *low = aperta_finding_at(note_at(sheet, 0)->advice, 0);
    const aperta_finding *high = aperta_finding_at(note_at(sheet, 1)->advice, 0);
    (void)state;
    assert_string_equal(sheet->settings.table->name, "hillenbrand1995-women");
    assert_string_equal(low->shape->vowel->ipa, "ø");
    assert_string_equal(high->shape->vowel->ipa, "œ");
}

/* Vowels that are borrowed from one table are told in one remark. */
static void test_borrowed_vowels_are_told_once(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("A4:1:für G4:1:das A4:1:schön", (aperta_sheet_options){.language = "de"});
    guint n = 0;
    (void)state;
    for (guint i = 0; i < sheet->warnings->len; i++) {
        const aperta_warning *warning = aperta_warning_at(sheet->warnings, i);
        if (warning->kind != APERTA_WARNING_OTHER_TABLE)
            continue;
        n++;
        g_autofree char *text = aperta_warning_text(warning);
        assert_string_equal(text,
                            "The table hillenbrand1995-women has no y “ü”, a “bright-ah”, ø “ö”. They are taken from "
                            "the table calliope1989-women (from memory, unchecked), moved as far as the vowels that "
                            "both have lie apart: less sure than the table's own.");
    }
    assert_int_equal(n, 1);
}

/* A regional æ (675.7 Hz, raised above ɛ) is not what a stage sings. The one of Peterson & Barney 1952 has the F1 of ɑ
 * there (860 and 850 Hz) and an F2 nearer to ɛ; on the scale of the women of 1995 (ɛ 727 and 2063 Hz, ɑ 921 and 1526)
 * it must lie likewise. A table of three vowels in running speech stands behind a whole system. */
static void test_regional_and_partial_tables(void **state)
{
    g_autoptr(aperta_sheet) cat = sheet_of("C5:2:cat", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) cara = sheet_of("C5:2:ca C5:2:ra", (aperta_sheet_options){.language = "it"});
    const aperta_expectation *ash = note_at(cat, 0)->expected, *bright = note_at(cara, 0)->expected;
    const aperta_resonance *r = ash->resonances;

    (void)state;
    assert_string_equal(ash->vowel->ipa, "æ");
    assert_true(ash->regional);
    assert_non_null(strstr(ash->lender, "peterson-barney1952-women"));
    expect_ratio(r[0].hz, 921.1, 0.06);
    assert_true(r[1].hz < 2062.7 && r[1].hz > sqrt(2062.7 * 1525.8));
    assert_int_not_equal(level_at(cat, 0), APERTA_LEVEL_CHANGE);
    assert_string_equal(bright->vowel->ipa, "a");
    assert_false(bright->regional);
    assert_non_null(strstr(bright->lender, "calliope1989-women"));
    expect_ratio(bright->resonances[0].hz, 921.1, 0.06); /* the one open vowel: Michigan's stands in its place */
}

/* "expected", with the spread that speakers have. */
static void test_expected_is_said(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:see", (aperta_sheet_options){0});
    const aperta_finding *finding = aperta_finding_at(note_at(sheet, 0)->advice, 0);
    const aperta_expectation *expected = note_at(sheet, 0)->expected;
    (void)state;
    assert_non_null(strstr(said_text(finding), "expected near 437 Hz (most speakers 375 to 509)"));
    /* 90 % of a normal spread in ln F: 1.645 standard deviations to each side */
    expect_ratio(expected->resonances[0].high_hz / expected->resonances[0].hz,
                 exp(1.6449 * expected->sd_hz[0] / expected->resonances[0].hz), 1e-6);
}

/* "beat" opened to "eh" is "bet", a minimal pair of every English dictionary; "deep" becomes no word. */
static void test_other_words(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:beat C5:1:deep A3:1:beat", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) french = sheet_of("C5:1:lit", (aperta_sheet_options){.language = "fr"});
    const aperta_word_risk *risk = note_at(sheet, 0)->risk;
    g_autofree char *text = aperta_report_sheet_text(sheet, NULL);
    (void)state;
    assert_non_null(risk);
    assert_string_equal(risk->word, "bet");
    if (risk->instead != NULL)
        assert_string_not_equal(risk->instead->vowel->ipa, "ɛ");
    assert_null(note_at(sheet, 1)->risk);
    assert_null(note_at(sheet, 2)->risk); /* nothing is asked for */
    assert_non_null(strstr(text, "May be heard as another word: “beat” as “bet”; "));
    assert_non_null(strstr(text, "eh↓?"));
    assert_true(warned(french, "other-words")); /* no list of words, and said so */
}

/* Dictions that are shared say the same, and belong to the caller. */
static void test_shared_dictions(void **state)
{
    g_autoptr(aperta_dictions) dictions = aperta_dictions_create(NULL);
    const aperta_sheet_options options = {.dictions = dictions};
    (void)state;
    for (int i = 0; i < 2; i++) {
        g_autoptr(aperta_sheet) own = sheet_of("C5:1:beat A4:1:moon", (aperta_sheet_options){0});
        g_autoptr(aperta_sheet) shared = sheet_of("C5:1:beat A4:1:moon", options);
        g_autofree char *first = aperta_report_sheet_json(own), *second = aperta_report_sheet_json(shared);
        assert_string_equal(first, second);
    }
}

static void test_unknown_language(void **state)
{
    aperta_sheet_options options = {.voice = APERTA_VOICE_WOMAN};
    aperta_score *score = fixture_score("C5:1:hej");
    const aperta_score_note *note = &score->notes[0];
    g_autoptr(GError) error = NULL;
    (void)state;
    note->lyrics[0].language = g_strdup("sv");
    g_autoptr(aperta_sheet) sheet = sheet_of_score(score, &options, &error);
    assert_null(error);
    assert_true(warned(sheet, "language-unknown"));
    assert_non_null(note_at(sheet, 0)->syllable);
    assert_null(note_at(sheet, 0)->syllable->ipa);
    assert_null(note_at(sheet, 0)->expected);

    /* who typed the song can name another one */
    g_autoptr(aperta_sheet) none = NULL;
    score = fixture_score("C5:1:hej");
    score->format = APERTA_SCORE_TEXT;
    score->notes[0].lyrics[0].language = g_strdup("Svenska");
    none = sheet_of_score(score, &options, &error);
    assert_null(none);
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
    assert_non_null(
        strstr(error->message, "\"Svenska\" is none that Aperta can pronounce (there are en-US, en-GB, it"));
}

/* Words of another language than the one named. Lines made up for this test; in doubt (few words), nothing is said. */
static void test_doubtful_language(void **state)
{
    static const struct {
        const char *notes, *language;
        gboolean doubtful;
    } rows[] = {
        {"C4:1:when C4:1:we C4:1:were C4:1:young C4:1:the C4:1:moon C4:1:was C4:1:white", "de", TRUE},
        {"C4:1:when C4:1:we C4:1:were C4:1:young C4:1:the C4:1:moon C4:1:was C4:1:white", "en-GB", FALSE},
        {"C4:1:und C4:1:wenn C4:1:der C4:1:Mond C4:1:am C4:1:Him- C4:1:-mel C4:1:steht C4:1:nicht", "en-US", TRUE},
        {"C4:1:und C4:1:wenn C4:1:der C4:1:Mond C4:1:am C4:1:Him- C4:1:-mel C4:1:steht C4:1:nicht", "de", FALSE},
        {"C4:1:the C4:1:moon", "de", FALSE},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_sheet) sheet = sheet_of(rows[i].notes, (aperta_sheet_options){.language = rows[i].language});
        assert_int_equal(warned(sheet, "language-doubtful"), rows[i].doubtful);
    }
}

/* ---- renderings -------------------------------------------------------------------------------------------------- */

static int columns_of(const char *line)
{
    int columns = 0;

    for (; *line != '\0' && *line != '\n'; line = g_utf8_next_char(line)) {
        gunichar c = g_utf8_get_char(line);
        columns += g_unichar_iszerowidth(c) ? 0 : g_unichar_iswide(c) ? 2 : 1;
    }
    return columns;
}

/* No line is wider than the page, and every syllable stands exactly under its pitch, combining marks and Cyrillic
 * too. */
static void test_text_is_aligned(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C4:1:Вe̋- C4:1:-чер C4:1:éé D4:1:x C4:1:see C4:1:see C4:1:see "
                                             "C4:1:see C4:1:see C4:1:see C4:1:see C4:1:see C4:1:see C4:1:see C4:1:see "
                                             "C4:1:see C4:1:see C4:1:see C4:1:see C4:1:see C4:1:see",
                                             (aperta_sheet_options){0});
    const aperta_report_text_options options = {.columns = 60};
    g_autofree char *text = aperta_report_sheet_text(sheet, &options);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    const char *pitches = NULL, *words = NULL;
    (void)state;
    for (char **line = lines; *line != NULL; line++) {
        if (columns_of(*line) > 60)
            fail_msg("%d columns: %s", columns_of(*line), *line);
        if (words == NULL && strstr(*line, "чер") != NULL) {
            words = *line;
            pitches = line[-1];
        }
    }
    assert_non_null(words);
    const char *d4 = strstr(pitches, "D4"), *x = strstr(words, "x");
    g_autofree char *before_d4 = g_strndup(pitches, (gsize)(d4 - pitches)),
                    *before_x = g_strndup(words, (gsize)(x - words));
    assert_int_equal(columns_of(before_d4), columns_of(before_x));
}

static void test_json(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:see:ah D5:1 A3:1:moon:bed", (aperta_sheet_options){.verse = 1});
    g_autofree char *json = aperta_report_sheet_json(sheet);
    g_autoptr(JsonParser) parser = json_parser_new();
    g_autoptr(GError) error = NULL;
    (void)state;
    json_parser_load_from_data(parser, json, -1, &error);
    assert_null(error);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    assert_string_equal(json_object_get_string_member(root, "schema"), "aperta/sheet-1");
    JsonArray *notes = json_object_get_array_member(root, "notes");
    assert_int_equal(json_array_get_length(notes), 3);
    JsonObject *first = json_array_get_object_element(notes, 0), *second = json_array_get_object_element(notes, 1);
    JsonObject *syllable = json_object_get_object_member(first, "syllable");
    assert_string_equal(json_object_get_string_member(syllable, "text"), "see");
    assert_int_equal(json_object_get_int_member(syllable, "verse"), 1);
    assert_true(json_object_get_null_member(second, "syllable"));
    assert_string_equal(json_object_get_string_member(json_object_get_object_member(second, "vowel"), "intended"), "i");
}

static void test_csv_is_rectangular(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:see, A3:1:ah", (aperta_sheet_options){0});
    g_autofree char *csv = aperta_report_sheet_csv(sheet);
    guint fields[3] = {1, 1, 1}, line = 0;
    gboolean quoted = FALSE;
    (void)state;
    for (const char *at = csv; *at != '\0'; at++) {
        quoted = quoted != (*at == '"');
        fields[line] += !quoted && *at == ',';
        line += !quoted && *at == '\n';
    }
    assert_int_equal(line, 3);
    assert_int_equal(fields[0], fields[1]);
    assert_int_equal(fields[0], fields[2]);
}

static void test_marks(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:see:ah A3:1:moon:see C5:1:see:see", (aperta_sheet_options){0});
    g_autoptr(GArray) marks = aperta_report_sheet_marks(sheet);
    (void)state;
    assert_int_equal(marks->len, 2);
    assert_int_equal(g_array_index(marks, aperta_score_mark, 0).element, 0);
    assert_true(g_str_has_prefix(g_array_index(marks, aperta_score_mark, 0).text, "1: eh↓"));
    assert_int_equal(g_array_index(marks, aperta_score_mark, 1).element, 2);
    assert_true(g_str_has_prefix(g_array_index(marks, aperta_score_mark, 1).text, "eh↓")); /* the same in both */
}

/* A page without outside parts, whose markup is well formed (GLib's reader of simple markup), with every syllable. */
static void test_html(void **state)
{
    g_autoptr(aperta_sheet) sheet =
        sheet_of("C5:1:see&:<ah> A3:1:Вечер:“quo”", (aperta_sheet_options){.try_keys = TRUE});
    g_autofree char *html = aperta_report_sheet_html(sheet);
    const char *body = strstr(html, "<body>");
    const GMarkupParser none = {NULL};
    g_autoptr(GError) error = NULL;
    (void)state;
    assert_non_null(body);
    g_autofree char *markup = g_strndup(body, (gsize)(strstr(body, "</html>") - body));
    GMarkupParseContext *context = g_markup_parse_context_new(&none, 0, NULL, NULL);
    assert_true(g_markup_parse_context_parse(context, markup, -1, &error));
    assert_true(g_markup_parse_context_end_parse(context, &error));
    g_markup_parse_context_free(context);
    assert_null(strstr(html, "src="));
    assert_null(strstr(html, "href="));
    assert_non_null(strstr(html, "see&amp;"));
    assert_non_null(strstr(html, "&lt;ah&gt;"));
    assert_non_null(strstr(html, "Вечер"));
    assert_non_null(strstr(html, "prefers-color-scheme"));
    assert_non_null(strstr(html, "<div class=\"wide\">")); /* the rows are set twice, and one of them is hidden */
    assert_non_null(strstr(html, "<div class=\"narrow\">"));
    assert_non_null(strstr(html, ".narrow{display:none}"));
    assert_non_null(strstr(html, ".wide{display:none}"));
}

/* Pages of the right size; a long song needs more of them. */
static void test_pdf(void **state)
{
    static const struct {
        aperta_paper paper;
        const char *box;
    } papers[] = {{APERTA_PAPER_A4, "595.27"}, {APERTA_PAPER_LETTER, "612"}};
    g_autoptr(GString) notes = g_string_new(NULL);
    (void)state;
    for (int i = 0; i < 400; i++)
        g_string_append(notes, i % 8 == 7 ? "C5:1:see. " : "A4:1:moon ");
    g_autoptr(aperta_sheet) sheet = sheet_of(notes->str, (aperta_sheet_options){0});
    for (gsize i = 0; i < G_N_ELEMENTS(papers); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(GBytes) pdf = aperta_report_sheet_pdf(sheet, papers[i].paper, &error);
        assert_null(error);
        gsize n;
        const char *data = g_bytes_get_data(pdf, &n);
        assert_memory_equal(data, "%PDF-", 5);
        const char *box = memmem(data, n, "/MediaBox [ 0 0 ", strlen("/MediaBox [ 0 0 "));
        assert_non_null(box);
        assert_memory_equal(box + strlen("/MediaBox [ 0 0 "), papers[i].box, strlen(papers[i].box));
        const char *count = memmem(data, n, "/Count ", strlen("/Count "));
        assert_non_null(count);
        assert_true(g_ascii_strtoll(count + strlen("/Count "), NULL, 10) > 3);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_melisma_keeps_its_vowel),
        cmocka_unit_test(test_melisma_keeps_one_shape),
        cmocka_unit_test(test_verses),
        cmocka_unit_test(test_numbers_passed_over),
        cmocka_unit_test(test_without_words),
        cmocka_unit_test(test_grace_notes),
        cmocka_unit_test(test_weights),
        cmocka_unit_test(test_groups),
        cmocka_unit_test(test_keys),
        cmocka_unit_test(test_borrowed_y_stands_where_i_does),
        cmocka_unit_test(test_one_table_for_all_languages),
        cmocka_unit_test(test_a_named_table_is_used),
        cmocka_unit_test(test_table_of_another_voice_is_told),
        cmocka_unit_test(test_children_borrow_from_women),
        cmocka_unit_test(test_change_without_a_shape),
        cmocka_unit_test(test_rounded_stays_rounded),
        cmocka_unit_test(test_borrowed_vowels_are_told_once),
        cmocka_unit_test(test_remarks_on_settings),
        cmocka_unit_test(test_little_groups_are_brief),
        cmocka_unit_test(test_regional_and_partial_tables),
        cmocka_unit_test(test_expected_is_said),
        cmocka_unit_test(test_other_words),
        cmocka_unit_test(test_shared_dictions),
        cmocka_unit_test(test_unknown_language),
        cmocka_unit_test(test_doubtful_language),
        cmocka_unit_test(test_text_is_aligned),
        cmocka_unit_test(test_json),
        cmocka_unit_test(test_csv_is_rectangular),
        cmocka_unit_test(test_marks),
        cmocka_unit_test(test_html),
        cmocka_unit_test(test_pdf),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
