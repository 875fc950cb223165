/* test-advice-words.c - how sure the words are: a vowel's class alone, a note that passes F1, syllables in passing, and
 * the first steps to a shape. */
#include "advice-case.h"
#include "said.h"

static const char *const styles[] = {"belt", "legit", "classical"};

/* ---- the vowel's class alone ------------------------------------------------------------------------------------- */

static aperta_situation class_note(const aperta_vowel_table *table, const char *nearest, aperta_vowel_class told,
                                   const char *pitch)
{
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, nearest, pitch);

    told.known = TRUE;
    note.vowel_class = told;
    note.resonances[0] = case_measured(500.0, 0.02);
    return note;
}

/* A vowel whose name is not told is never named: not in the words, not in the explanations. */
static void test_a_class_is_not_named(void **state)
{
    static const char *const pitches[] = {"A4", "C5", "D5", "F5"};
    const aperta_vowel_class told = {.has_place = TRUE, .place = APERTA_PLACE_FRONT};
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        g_autoptr(aperta_rules) rules = case_rules(styles[s]);
        for (gsize p = 0; p < G_N_ELEMENTS(pitches); p++) {
            aperta_situation note = class_note(table, "i", told, pitches[p]);
            g_autoptr(GPtrArray) explanations = NULL;
            g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, &explanations);
            assert_int_not_equal(findings->len, 0);
            for (guint i = 0; i < findings->len; i++) {
                const aperta_finding *finding = aperta_finding_at(findings, i);
                assert_non_null(strstr(said_text(finding), "his front vowel"));
                assert_null(strstr(said_text(finding), "“ee”"));
            }
            for (guint i = 0; i < explanations->len; i++)
                assert_null(strstr(said_because(aperta_explanation_at(explanations, i)), "vowel is i:"));
        }
    }
}

/* In belt "ee" and "ih" both go to "eh" on C5 (common practice, no source), so a close front vowel does; "ee" and "aa"
 * do not go one way, so of a front vowel only the opening is told. */
static void test_a_class_has_a_shape_if_its_vowels_agree(void **state)
{
    const aperta_vowel_class close_front = {
        .has_height = TRUE, .has_place = TRUE, .height = APERTA_HEIGHT_CLOSE, .place = APERTA_PLACE_FRONT};
    const aperta_vowel_class front = {.has_place = TRUE, .place = APERTA_PLACE_FRONT};
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    aperta_situation note = class_note(table, "i", close_front, "C5");
    g_autoptr(GPtrArray) agreed = aperta_advise(rules, table, &note, NULL);
    assert_non_null(case_finding(agreed, "belt-open"));
    assert_null(case_finding(agreed, "belt-unnamed"));
    assert_string_equal(case_shape(agreed)->vowel->ipa, "ɛ");
    note = class_note(table, "i", front, "C5");
    g_autoptr(GPtrArray) mixed = aperta_advise(rules, table, &note, NULL);
    assert_non_null(case_finding(mixed, "belt-unnamed"));
    assert_null(case_shape(mixed));
}

/* ---- syllables in passing ---------------------------------------------------------------------------------------- */

/* "-ter" on G4: a change where it is held or stressed, only a watch where it passes (common practice, no source). */
static void test_passing_syllables(void **state)
{
    static const struct {
        double duration_s;
        gboolean unstressed;
        aperta_level level;
    } rows[] = {
        {0.3, TRUE, APERTA_LEVEL_WATCH},
        {0.3, FALSE, APERTA_LEVEL_CHANGE},
        {0.8, TRUE, APERTA_LEVEL_CHANGE},
        {0.8, FALSE, APERTA_LEVEL_CHANGE},
    };
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɝ", "G4");
        note.duration_s = rows[i].duration_s;
        note.unstressed = rows[i].unstressed;
        g_autoptr(GPtrArray) explanations = NULL;
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, &explanations);
        assert_int_equal(case_level(findings), rows[i].level);
        const char *text = said_text(case_finding(findings, "belt-open"));
        assert_int_equal(strstr(text, "short unstressed syllable") != NULL, rows[i].level == APERTA_LEVEL_WATCH);
    }
}

static gboolean leads_over(const GPtrArray *ladder, const char *ipa)
{
    for (guint i = 0; i + 1 < ladder->len; i++)
        if (strcmp(aperta_shape_at(ladder, i)->vowel->ipa, ipa) == 0)
            return TRUE;
    return FALSE;
}

/* Teachers lead "ee" over "ih" and "oo" over "uu" (common practice, no source); the aim stays. */
static void test_first_steps(void **state)
{
    static const struct {
        const char *ipa, *aim, *step;
    } rows[] = {{"i", "ɛ", "ɪ"}, {"u", "ɔ", "ʊ"}, {"e", "ɛ", "e"}, {"ɪ", "ɛ", "ɪ"}};
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, rows[i].ipa, "C5");
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        const aperta_finding *finding = case_finding(findings, "belt-open");
        assert_non_null(finding);
        assert_string_equal(finding->shape->vowel->ipa, rows[i].aim);
        assert_true(leads_over(finding->ladder, rows[i].step));
    }
}

/* ---- the note and F1 --------------------------------------------------------------------------------------------- */

/* Words and level follow what is known, and a lower F1 never reads weaker: on D5 the note has 587 Hz. */
static void test_passing_f1_is_monotone(void **state)
{
    static const struct {
        aperta_resonance f1;
        const char *words;
        aperta_level level;
    } rows[] = {
        {{.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = 500.0}, "has passed", APERTA_LEVEL_CHANGE},
        {{.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = 581.0}, "has passed", APERTA_LEVEL_CHANGE},
        {{.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = 660.0}, "has probably passed", APERTA_LEVEL_CHANGE},
        {{.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = 900.0}, "may have passed", APERTA_LEVEL_WATCH},
        {{.status = APERTA_MEASURED, .hz = 575.0, .has_low = TRUE, .low_hz = 565.0, .has_high = TRUE, .high_hz = 584.0},
         "has passed",
         APERTA_LEVEL_WATCH},
        {{.status = APERTA_MEASURED, .hz = 600.0, .has_low = TRUE, .low_hz = 595.0, .has_high = TRUE, .high_hz = 605.0},
         "stands at",
         APERTA_LEVEL_WATCH},
        {{.status = APERTA_MEASURED, .hz = 680.0, .has_low = TRUE, .low_hz = 670.0, .has_high = TRUE, .high_hz = 690.0},
         "comes close to",
         APERTA_LEVEL_WATCH},
    };
    static const char *const followers[] = {"legit", "classical"};
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(followers); s++) {
        g_autoptr(aperta_rules) rules = case_rules(followers[s]);
        for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
            aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɪ", "D5");
            note.resonances[0] = rows[i].f1;
            g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
            const aperta_finding *first = aperta_finding_at(findings, 0);
            if (first->level != rows[i].level || strstr(said_text(first), rows[i].words) == NULL)
                fail_msg("%s, F1 %zu: %s: %s", followers[s], i, aperta_level_word(first->level), said_text(first));
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_class_is_not_named),
        cmocka_unit_test(test_a_class_has_a_shape_if_its_vowels_agree),
        cmocka_unit_test(test_passing_f1_is_monotone),
        cmocka_unit_test(test_passing_syllables),
        cmocka_unit_test(test_first_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
