/* test-sheet-mark.c - what stands at a note of a sheet: the record, and how it is spelled. */
#include "sheet-of.h"

#include "result/sheet-mark.h"
#include "words/sheet-words.h"

#include <aperta/report.h>
#include <string.h>

/* A finding of a level; vowel NULL: without a shape. The array that it goes into frees it. */
static void add_finding(GPtrArray *advice, aperta_level level, const char *word, const char *vowel, gboolean jaw_wide)
{
    aperta_finding *finding = g_new0(aperta_finding, 1);

    finding->rule = g_strdup("test");
    finding->level = level;
    finding->words = g_strdup("Try it.");
    finding->mark = g_strdup(word);
    if (vowel != NULL) {
        finding->shape = g_new0(aperta_shape, 1);
        finding->shape->vowel = aperta_vowel_by_ipa(vowel);
        finding->shape->from = aperta_vowel_by_ipa("i");
        finding->shape->jaw_wide = jaw_wide;
        finding->shape->f1_hz = 700.0;
        finding->shape->f2_hz = 1900.0;
    }
    g_ptr_array_add(advice, finding);
}

typedef struct {
    aperta_level level;
    const char *word, *vowel, *before;
    gboolean jaw_wide, risk;
    result_mark_kind kind;
    const char *sign;
} mark_case;

static void test_kinds(void **state)
{
    static const mark_case cases[] = {
        {APERTA_LEVEL_FINE, NULL, NULL, NULL, FALSE, FALSE, RESULT_MARK_NONE, NULL},
        {APERTA_LEVEL_FINE, NULL, "ɛ", NULL, FALSE, FALSE, RESULT_MARK_NONE, NULL},
        {APERTA_LEVEL_WATCH, NULL, NULL, NULL, FALSE, FALSE, RESULT_MARK_WORD, "watch"},
        {APERTA_LEVEL_WATCH, "lighter", NULL, NULL, FALSE, FALSE, RESULT_MARK_WORD, "watch"},
        {APERTA_LEVEL_CHANGE, "lighter", NULL, NULL, FALSE, FALSE, RESULT_MARK_WORD, "lighter"},
        {APERTA_LEVEL_CHANGE, NULL, NULL, NULL, FALSE, FALSE, RESULT_MARK_WORD, "change"},
        {APERTA_LEVEL_CHANGE, "open", "ɛ", NULL, FALSE, FALSE, RESULT_MARK_SING, "eh"},
        {APERTA_LEVEL_CHANGE, NULL, "ɛ", NULL, TRUE, TRUE, RESULT_MARK_SING, "eh↓?"},
        {APERTA_LEVEL_CHANGE, NULL, "i", NULL, FALSE, FALSE, RESULT_MARK_SING, "ee↓"},
        {APERTA_LEVEL_CHANGE, NULL, "ɛ", "i", FALSE, FALSE, RESULT_MARK_SING, "ee›eh"},
        {APERTA_LEVEL_WATCH, NULL, "ɛ", NULL, FALSE, FALSE, RESULT_MARK_TRY, "(eh)"},
        {APERTA_LEVEL_WATCH, NULL, "ɛ", "i", TRUE, TRUE, RESULT_MARK_TRY, "(ee›eh↓)?"},
    };
    aperta_expectation expected = {.vowel = aperta_vowel_by_ipa("i")};
    aperta_word_risk risk = {0};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        const mark_case *it = &cases[i];
        g_autoptr(GPtrArray) advice = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_finding_free);
        aperta_sheet_note note = {.expected = &expected, .advice = advice, .risk = it->risk ? &risk : NULL};
        add_finding(advice, it->level, it->word, it->vowel, it->jaw_wide);
        if (it->before != NULL)
            aperta_finding_at(advice, 0)->shape->before = aperta_vowel_by_ipa(it->before);
        result_sheet_mark mark = result_sheet_mark_of(&note);
        g_autofree char *sign = words_sheet_mark(&mark);
        assert_int_equal(mark.kind, it->kind);
        if (it->sign == NULL)
            assert_null(sign);
        else
            assert_string_equal(sign, it->sign);
    }
}

/* Marks are one where they look alike, wherever exactly the shapes aim. */
static void test_equal(void **state)
{
    const aperta_shape eh = {.vowel = aperta_vowel_by_ipa("ɛ"), .f1_hz = 700.0};
    const aperta_shape lower_eh = {.vowel = aperta_vowel_by_ipa("ɛ"), .f1_hz = 760.0};
    const aperta_shape aw = {.vowel = aperta_vowel_by_ipa("ɔ"), .f1_hz = 700.0};
    const result_sheet_mark sing = {RESULT_MARK_SING, APERTA_LEVEL_CHANGE, NULL, &eh, FALSE, FALSE};
    result_sheet_mark other = sing;
    (void)state;

    other.shape = &lower_eh;
    assert_true(result_sheet_mark_equal(&sing, &other));
    other.shape = &aw;
    assert_false(result_sheet_mark_equal(&sing, &other));
    other = sing;
    other.jaw_down = TRUE;
    assert_false(result_sheet_mark_equal(&sing, &other));
    other = sing;
    other.other_word = TRUE;
    assert_false(result_sheet_mark_equal(&sing, &other));
    other = sing;
    other.kind = RESULT_MARK_TRY;
    assert_false(result_sheet_mark_equal(&sing, &other));
}

/* A change without a shape hides a shape that may only be tried: then nothing speaks of a shape at the note. */
static void test_hidden_shape(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("D5:2:see", (aperta_sheet_options){0});
    aperta_sheet_note *note = aperta_sheet_note_at(sheet->notes, 0);
    (void)state;

    assert_int_equal(aperta_findings_level(note->advice), APERTA_LEVEL_CHANGE);
    assert_null(aperta_finding_at(note->advice, 0)->shape);
    add_finding(note->advice, APERTA_LEVEL_WATCH, NULL, "ɛ", FALSE);
    g_autofree char *legend = words_sheet_legend(sheet), *page = aperta_report_sheet_html(sheet);
    assert_non_null(strstr(legend, "lighter: no other shape to sing, see below"));
    assert_null(strstr(legend, "the vowel shape to sing"));
    assert_non_null(strstr(page, "see D5 (lighter)"));
    assert_null(strstr(page, "see D5 (change: eh)"));
    assert_null(strstr(page, "<g class=\"ap-way\">"));
    assert_non_null(strstr(page, "wants a change (not another vowel, but “lighter”)."));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_kinds),
        cmocka_unit_test(test_equal),
        cmocka_unit_test(test_hidden_shape),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
