/* test-first.c - what a sheet says to try first: which of many, in what order, and in what words. */
#include "result/first.h"
#include "sheet-of.h"
#include "words/first-words.h"

#include <aperta/report.h>
#include <string.h>

static const aperta_try *try_of(const aperta_sheet *sheet, guint index)
{
    assert_true(index < sheet->first->len);
    return g_ptr_array_index(sheet->first, index);
}

static const char *first_word(const aperta_sheet *sheet, guint index)
{
    return aperta_sheet_note_at(try_of(sheet, index)->notes, 0)->word;
}

/* Of two things as sure, what touches more of the singing goes first. */
static void test_more_singing_first(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) see = sheet_of("C5:4:see C5:1:moon A3:3:ah", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) moon = sheet_of("C5:1:see C5:4:moon A3:3:ah", (aperta_sheet_options){0});

    assert_int_equal(see->first->len, 2);
    assert_string_equal(first_word(see, 0), "see");
    assert_string_equal(first_word(moon, 0), "moon");
    assert_true(try_of(see, 0)->share > try_of(see, 1)->share);
    assert_true(try_of(see, 0)->confidence > 0.5 && try_of(see, 0)->confidence <= 1.0);
}

/* At most three, and the notes of groups that lead to one shape are one thing, in order of time. */
static void test_at_most_three(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) sheet =
        sheet_of("C5:2:see C5:2:moon C5:2:bed C5:2:day B4:2:sit E5:2:see F5:2:moon D5:1:go", (aperta_sheet_options){0});

    assert_true(sheet->groups->len > 3);
    assert_int_equal(sheet->first->len, 3);
    for (guint i = 0; i < 3; i++) {
        const GPtrArray *notes = try_of(sheet, i)->notes;
        assert_int_equal(notes->len, try_of(sheet, i)->findings->len);
        for (guint n = 1; n < notes->len; n++)
            assert_true(aperta_sheet_note_at(notes, n - 1)->number < aperta_sheet_note_at(notes, n)->number);
    }
}

/* Low in the voice nothing is to be tried, and without words nothing can be. */
static void test_nothing(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) low = sheet_of("A3:1:see A3:1:ah", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) wordless = sheet_of("C5:1 C5:1", (aperta_sheet_options){0});
    g_autofree char *text = aperta_report_sheet_text(low, NULL), *none = aperta_report_sheet_text(wordless, NULL);

    assert_int_equal(low->first->len, 0);
    assert_non_null(strstr(text, "Nothing asks to be tried first"));
    assert_int_equal(wordless->first->len, 0);
    assert_null(strstr(none, "tried first"));
}

/* A ladder of several steps is told by its first and by where it leads; numbers are told nowhere. */
static void test_words(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:4:see A3:4:ah", (aperta_sheet_options){0});
    g_autoptr(words_first) first = words_first_on_sheet(sheet, 0);
    g_autofree char *where = words_try_on_sheet(sheet, try_of(sheet, 0));
    const aperta_sheet_note *see = aperta_sheet_note_at(sheet->notes, 0);
    g_autofree char *wanted =
        g_strdup_printf("“see” on C5: %.0f %% of the singing.", 100.0 * see->weight_s / sheet->weight_s);

    assert_string_equal(where, wanted);
    assert_string_equal(first->matter, "Much too closed for belt this high: it tends to turn hooty or pushed.");
    assert_string_equal(first->step,
                        "First step: “ee” with the jaw wide. If that is not enough, go on toward “eh” with "
                        "the jaw wide.");
    /* C5, a third below it, and a fifth below each: five notes up */
    assert_string_equal(first->exercise, "Exercise: five notes that way from C♯4; if free, from F4; then the phrase.");
    assert_null(strstr(first->how, "Hz"));
}

/* One vowel keeps its name and the way of its lips; of several each keeps its own. */
static void test_several_vowels(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:4:bed C5:2:bell A3:3:ah", (aperta_sheet_options){0});
    g_autoptr(aperta_sheet) mixed = sheet_of("C5:4:bed C5:4:hut A3:3:ah", (aperta_sheet_options){0});
    g_autoptr(words_first) one = words_first_on_sheet(sheet, 0);
    g_autoptr(words_first) several = words_first_on_sheet(mixed, 0);

    assert_string_equal(one->step, "Try this: “eh” with the jaw wide.");
    assert_string_equal(several->step, "Try this: keep each vowel, and let the jaw hang wide.");
    assert_non_null(strstr(several->how, "as for each vowel"));
}

/* What is the matter is said once where two things after one another have it. */
static void test_matter_once(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:4:see C5:3:moon A3:3:ah", (aperta_sheet_options){0});
    g_autofree char *text = aperta_report_sheet_text(sheet, &(aperta_report_text_options){.columns = 160});
    const char *matter = strstr(text, "closed for belt this high");

    assert_int_equal(sheet->first->len, 2);
    assert_non_null(matter);
    assert_null(strstr(matter + 1, "closed for belt this high"));
}

/* Where a rule finds no shape its remedy is told, and no place of jaw and tongue. */
static void test_remedy(void **state)
{
    (void)state;
    g_autoptr(aperta_sheet) sheet = sheet_of("F5:4:see A3:1:ah", (aperta_sheet_options){0});
    g_autoptr(words_first) first = words_first_on_sheet(sheet, 0);

    assert_string_equal(first->matter, "Above C5 opening further is not known to help.");
    assert_true(g_str_has_prefix(first->step, "Sing it lighter"));
    assert_null(first->how);
    assert_non_null(first->exercise);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_more_singing_first),
        cmocka_unit_test(test_at_most_three),
        cmocka_unit_test(test_nothing),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_several_vowels),
        cmocka_unit_test(test_matter_once),
        cmocka_unit_test(test_remedy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
