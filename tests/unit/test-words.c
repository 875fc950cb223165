/* test-words.c - that what is said of findings follows their records, and reads as one sentence. */
#include "advice-case.h"
#include "said.h"

/* ---- why a rule spoke -------------------------------------------------------------------------------------------- */

/* Of notes judged together both pitches are told: they are, it is. */
static void test_two_pitches_are(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "F5");
    (void)state;

    for (int together = 0; together < 2; together++) {
        g_autoptr(GPtrArray) explanations = NULL;
        note.n_notes = together ? 2 : 1;
        note.other_pitch_name = together ? "F♯5" : NULL;
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, &explanations);
        guint n_told = 0;
        for (guint i = 0; i < explanations->len; i++) {
            const char *because = said_because(aperta_explanation_at(explanations, i));
            n_told += strstr(because, together ? "pitch F5 and F♯5 are " : "pitch F5 is ") != NULL;
            assert_null(strstr(because, "F♯5 is "));
        }
        assert_int_not_equal(n_told, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_two_pitches_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
