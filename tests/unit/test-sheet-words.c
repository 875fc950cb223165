/* test-sheet-words.c - what a sheet says of syllables in passing, of many vowels at once, and of keys that are alike.
 */
#include "sheet-of.h"

#include <aperta/report.h>
#include <string.h>

/* "-er" passes in half a second and is only watched; held, or in a stressed syllable, "er" is told to open. Words of
 * different levels do not share a group. */
static void test_passing_syllables(void **state)
{
    g_autoptr(aperta_sheet) sheet =
        sheet_of("A4:1:wa- A4:1:-ter A4:1:wa- A4:4:-ter A4:1:bird", (aperta_sheet_options){0});
    static const aperta_level levels[] = {APERTA_LEVEL_WATCH, APERTA_LEVEL_CHANGE, APERTA_LEVEL_CHANGE};
    static const guint numbers[] = {1, 3, 4};
    g_autofree char *text = aperta_report_sheet_text(sheet, NULL);
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(numbers); i++)
        assert_int_equal(aperta_findings_level(aperta_sheet_note_at(sheet->notes, numbers[i])->advice), levels[i]);
    for (guint i = 0; i < sheet->groups->len; i++) {
        const aperta_group *group = aperta_group_at(sheet->groups, i);
        for (guint n = 0; n < group->notes->len; n++)
            assert_int_equal(aperta_findings_level(aperta_sheet_note_at(group->notes, n)->advice), group->level);
    }
    assert_non_null(strstr(text, "A short unstressed syllable"));
}

/* Of many vowels in one group each is told its words. */
static void test_many_vowels_in_a_group(void **state)
{
    g_autoptr(aperta_sheet) sheet = sheet_of("D5:2:see D5:2:moon D5:2:bed", (aperta_sheet_options){0});
    g_autofree char *text = aperta_report_sheet_text(sheet, &(aperta_report_text_options){.columns = 160});
    (void)state;
    assert_int_equal(sheet->groups->len, 1);
    assert_non_null(strstr(text, "In: “ee”: see (D5); “oo”: moon (D5); “eh”: bed (D5)."));
    assert_non_null(strstr(text, "100 % of the singing wants a change (not another vowel, but “lighter”)."));
}

/* Low notes ask for nothing in any of these keys; without words only the range is told. */
static void test_keys_that_do_not_differ(void **state)
{
    const aperta_sheet_options options = {
        .try_keys = TRUE, .keys_low = -2, .keys_high = 2, .range_low = 50, .range_high = 61};
    g_autoptr(aperta_sheet) low = sheet_of("A3:1:see C4:1:moon", options);
    g_autoptr(aperta_sheet) mute = sheet_of("A3:1 C4:1", options);
    g_autofree char *alike = aperta_report_sheet_text(low, NULL), *range = aperta_report_sheet_text(mute, NULL);
    (void)state;
    assert_non_null(strstr(alike, "do not differ"));
    assert_null(strstr(alike, "Easiest"));
    assert_non_null(strstr(range, "  Within the range: B♭ major, 2 down; B major, 1 down; C major, as written; D♭"));
    assert_null(strstr(range, "0 %"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_passing_syllables),
        cmocka_unit_test(test_many_vowels_in_a_group),
        cmocka_unit_test(test_keys_that_do_not_differ),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
