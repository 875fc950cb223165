/* test-report-words.c - that what the text report says is true of the made-up take it says it of. */
#define _GNU_SOURCE /* wcswidth */
#include "expect.h"
#include "report-fixture.h"

#include <aperta/report.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#define assert_has(text, part) assert_non_null(strstr((text), (part)))

static char *text_of(aperta_result *result, int columns, int table_columns)
{
    aperta_report_text_options options = {.columns = columns, .table_columns = table_columns};

    return aperta_report_text(result, &options);
}

/* The same on one line. */
static char *unwrapped(const char *text)
{
    g_auto(GStrv) words = g_strsplit_set(text, " \n", -1);
    GString *line = g_string_new(NULL);

    for (char **word = words; *word != NULL; word++)
        if (**word != '\0')
            g_string_append_printf(line, "%s%s", line->len > 0 ? " " : "", *word);
    return g_string_free(line, FALSE);
}

/* Width by the C library, which knows wide and combining characters by its own tables. */
static int width_of(const char *line)
{
    wchar_t wide[1024];
    size_t n = mbstowcs(wide, line, G_N_ELEMENTS(wide));

    assert_true(n < G_N_ELEMENTS(wide));
    return wcswidth(wide, n);
}

/* ---- the vowel told ---------------------------------------------------------------------------------------------- */

/* Told and heard stand side by side, and nothing is doubted that the advice does not rest on. */
static void test_told_beside_heard(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    (void)state;

    g_autofree char *before = text_of(take, 80, 0);
    assert_null(strstr(before, "Vowels told"));
    assert_null(strstr(before, "i ee  "));
    assert_has(before, "the vowel may be ɪ “ih” (sit) or e “ay” (day)");
    for (guint i = 0; i < take->notes->len; i++) {
        aperta_sung_note *note = aperta_sung_note_at(take->notes, i);
        if (note->intended_from == APERTA_INTENDED_CORRECTION)
            continue;
        note->intended = aperta_vowel_by_ipa("i");
        note->intended_from = APERTA_INTENDED_TOLD;
    }
    g_autofree char *text = text_of(take, 80, 120);
    assert_has(text, "i ee  ɑ ah sure");
    assert_has(text, "i ee  i ee sure");
    assert_has(text, "i ee  ɑ ah→ɪ ih");
    assert_has(text, "      e ay given"); /* a correction is no vowel told */
    assert_has(text, "Vowels told by you");
    assert_has(text, "Aperta heard 3 of 11 so");
    assert_has(text, "Notes 1, 3 and 6: told i “ee” (see); heard ɑ “ah” (father).");
    assert_has(text, "Note 8: told i “ee” (see); heard ɑ “ah”, then ɪ “ih”.");
    assert_has(text, "told i “ee” (see); none could be heard.");
    assert_null(strstr(text, "the vowel may be"));
    assert_null(strstr(text, "the vowel cannot be told"));
    g_autofree char *json = aperta_report_json(take);
    assert_has(json, "\"heard\": \"ɑ\", \"confidence\": 0.93, \"next\": null, \"intended\": \"i\", "
                     "\"intended_from\": \"told\", \"corrected\": false");
    assert_has(json, "\"intended\": \"e\", \"intended_from\": \"correction\", \"corrected\": true");
    g_autofree char *csv = aperta_report_csv(take);
    assert_has(csv, ",heard,confidence,next,intended,intended_from,corrected,");
    assert_has(csv, ",ɑ,0.93,,i,told,no,whole,");
}

/* ---- a wider page ------------------------------------------------------------------------------------------------ */

static void assert_table_fits(const char *text, int columns)
{
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    int width = 0;

    assert_has(text, "Note by note");
    for (char **line = lines; *line != NULL && !g_str_has_prefix(*line, "What to try"); line++)
        width = MAX(width, width_of(*line));
    assert_in_range(width, 0, columns);
}

/* What is said of a wider page is true of a page of that width, and nothing is said where all is shown. */
static void test_text_promises_of_wider_pages(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    aperta_sung_note *note = aperta_sung_note_at(take->notes, 0);
    (void)state;

    /* intervals as wide as high notes have them, so that not all fits on 80 columns */
    note->tract.resonances[0].high_hz = 1432.0;
    note->tract.resonances[1].high_hz = 2410.0;
    if (setlocale(LC_CTYPE, "C.UTF-8") == NULL)
        skip();
    for (int columns = 60; columns <= 80; columns += 4) {
        g_autofree char *text = text_of(take, columns, 0);
        g_autofree char *said = unwrapped(text);
        const char *promise = strstr(said, "a terminal of ");
        assert_int_equal(promise != NULL, strstr(said, "No room was left for ") != NULL);
        if (promise == NULL)
            continue;
        int wide = atoi(promise + strlen("a terminal of "));
        assert_in_range(wide, columns + 1, 120);
        for (int more = 0; more < 2; more++) { /* it shows all of it, a narrower one does not */
            g_autofree char *wider = text_of(take, columns, wide - more);
            assert_int_equal(strstr(wider, "No room was left") != NULL, more == 1);
            assert_int_equal(strstr(wider, "ɑ ah sure") != NULL, more == 0);
            assert_table_fits(wider, wide - more);
        }
    }
    for (int columns = 110; columns <= 220; columns += 110) {
        g_autofree char *text = text_of(take, 80, columns);
        assert_null(strstr(text, "No room was left"));
        assert_null(strstr(text, "wider page"));
        assert_has(text, "880–1432");
        assert_has(text, "5.6 ±63");
    }
    setlocale(LC_CTYPE, "C");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_told_beside_heard),
        cmocka_unit_test(test_text_promises_of_wider_pages),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
