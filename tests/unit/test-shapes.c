/* test-shapes.c - properties of the shapes over all pitches and tables: what a teacher would call inconsistent. */
#include "advice-case.h"
#include "said.h"

#include <math.h>

static const char *const styles[] = {"belt", "legit", "classical"};

static void set_pitch(aperta_situation *note, int midi)
{
    note->midi = midi;
    note->f0_hz = aperta_midi_to_hz(midi, 440.0);
}

/* What a style asks for on one pitch: a shape, or to leave the vowel be and sing it lighter. */
typedef enum { ASKS_NOTHING, ASKS_SHAPE, ASKS_LIGHTER } asked;

static asked what_is_asked(GPtrArray *findings)
{
    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(findings, i);
        if (finding->shape != NULL)
            return ASKS_SHAPE;
        if (g_str_has_suffix(finding->rule, "-lighter") || g_str_has_suffix(finding->rule, "-no-room") ||
            g_str_has_suffix(finding->rule, "-high"))
            return ASKS_LIGHTER;
    }
    return ASKS_NOTHING;
}

static const char *const whole_tables[] = {
    "hillenbrand1995-women",   "hillenbrand1995-men",          "hillenbrand1995-children", "peterson-barney1952-women",
    "peterson-barney1952-men", "peterson-barney1952-children", "deterding1997-women",      "deterding1997-men",
    "wells1962-men",           "calliope1989-women",           "calliope1989-men",         "bradlow1995-spanish-men",
};

/* One pitch, one strategy: no vowel is sent to an open shape where another is told that none helps. */
static void test_one_strategy_for_one_pitch(void **state)
{
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        g_autoptr(aperta_rules) rules = case_rules(styles[s]);
        for (gsize t = 0; t < G_N_ELEMENTS(whole_tables); t++) {
            g_autoptr(aperta_vowel_table) table = case_table(whole_tables[t]);
            for (int midi = 57; midi <= 84; midi++) {
                asked first = ASKS_NOTHING;
                for (guint i = 0; i < table->n_rows; i++) {
                    aperta_situation note = case_note(table, table->voice, table->rows[i].vowel->ipa, "C4");
                    set_pitch(&note, midi);
                    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
                    asked now = what_is_asked(findings);
                    if (first == ASKS_NOTHING)
                        first = now;
                    if (now != ASKS_NOTHING && now != first)
                        fail_msg("%s, %s: midi %d asks two things, the second of %s", styles[s], whole_tables[t], midi,
                                 note.vowel->ipa);
                }
            }
        }
    }
}

/* No vowel is sent over the place of its tongue, or to a closer or tenser one, where one of its own kind would do. */
static void check_is_near(const char *style, const aperta_vowel_table *table, const aperta_situation *note,
                          const aperta_shape *shape)
{
    static const char lax[] = "ɪ ʊ ɛ ɔ æ ʌ ɑ ɒ œ a ɜ", tense[] = "i e o u y ø";

    assert_true(shape->vowel->height >= note->vowel->height);
    assert_null(strstr("ə ɨ ʉ ɯ ɤ ɶ", shape->vowel->ipa));
    if (strstr(lax, note->vowel->ipa) != NULL && strstr(tense, shape->vowel->ipa) != NULL)
        fail_msg("%s is sent to %s", note->vowel->ipa, shape->vowel->ipa);
    double most = (strcmp(style, "classical") == 0 ? 1.35 : 1.25) * exp2(1.0 / 12.0); /* opening and stretch */
    const aperta_vowel_row *own = aperta_vowel_table_row(table, note->vowel);
    if (shape->vowel->rounded != note->vowel->rounded && own->open_target && shape->f1_hz <= own->hz[0] * most)
        fail_msg("%s on midi %d changes its lips for %s", note->vowel->ipa, note->midi, shape->vowel->ipa);
    if (shape->vowel->place == note->vowel->place)
        return;
    for (guint i = 0; i < table->n_rows; i++) {
        const aperta_vowel_row *row = &table->rows[i];
        if (row->vowel->place == note->vowel->place && row->open_target && !row->vowel->r_coloured &&
            row->vowel->height >= note->vowel->height && (!row->vowel->rounded || note->vowel->rounded) &&
            fabs(aperta_hz_to_bark(row->hz[1]) - aperta_hz_to_bark(note->resonances[1].hz)) < 2.0 &&
            row->hz[0] >= note->resonances[0].hz && shape->f1_hz <= row->hz[0] * 1.25)
            fail_msg("%s on midi %d is sent to %s, though %s is near", note->vowel->ipa, note->midi, shape->vowel->ipa,
                     row->vowel->ipa);
    }
}

/* With rising pitch a vowel opens and never closes again: F1 of its shape rises, the vowel that it is named after never
 * becomes a closer one, and once there is no shape none comes back. */
static void test_shapes_open_with_pitch(void **state)
{
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        g_autoptr(aperta_rules) rules = case_rules(styles[s]);
        for (gsize t = 0; t < G_N_ELEMENTS(whole_tables); t++) {
            g_autoptr(aperta_vowel_table) table = case_table(whole_tables[t]);
            for (guint i = 0; i < table->n_rows; i++) {
                aperta_situation note = case_note(table, table->voice, table->rows[i].vowel->ipa, "C4");
                double f1_hz = 0.0, named_hz = 0.0;
                gboolean over = FALSE;
                for (int midi = 57; midi <= 84; midi++) {
                    set_pitch(&note, midi);
                    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
                    const aperta_shape *shape = case_shape(findings);
                    over = over || what_is_asked(findings) == ASKS_LIGHTER;
                    if (shape == NULL)
                        continue;
                    double now_hz = aperta_vowel_table_row(table, shape->vowel)->hz[0];
                    if (over || shape->f1_hz <= f1_hz || now_hz < named_hz)
                        fail_msg("%s, %s: %s turns back on midi %d", styles[s], whole_tables[t], note.vowel->ipa, midi);
                    f1_hz = shape->f1_hz;
                    named_hz = now_hz;
                    check_is_near(styles[s], table, &note, shape);
                }
            }
        }
    }
}

/* Singers do not aim at a schwa: a held one opens to a vowel that has a sound of its own. */
static void test_a_schwa_is_no_target(void **state)
{
    static const char *const tables[] = {"hillenbrand1995-women", "calliope1989-women"};
    g_autoptr(aperta_rules) rules = case_rules("belt");
    (void)state;
    for (gsize t = 0; t < G_N_ELEMENTS(tables); t++) {
        g_autoptr(aperta_vowel_table) table = case_table(tables[t]);
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ə", "A4");
        note.resonances[0] = case_measured(600.0, 0.02);
        note.resonances[1] = case_measured(1750.0, 0.02);
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        assert_non_null(case_shape(findings));
        assert_string_not_equal(case_shape(findings)->vowel->ipa, "ə");
    }
}

/* What is told first stands first: the jaw in belt, the tongue in classical singing and legit. */
static void test_order_of_what_to_do(void **state)
{
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        g_autoptr(aperta_rules) rules = case_rules(styles[s]);
        g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        const char *how = said_how(case_shape(findings));
        gboolean jaw_first = g_str_has_prefix(how, "Jaw: ");
        assert_int_equal(jaw_first, strcmp(styles[s], "belt") == 0);
        assert_int_equal(strstr(how, " Then the jaw: ") != NULL, !jaw_first);
        assert_non_null(strstr(said_text(aperta_finding_at(findings, 0)), how));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_strategy_for_one_pitch),
        cmocka_unit_test(test_shapes_open_with_pitch),
        cmocka_unit_test(test_a_schwa_is_no_target),
        cmocka_unit_test(test_order_of_what_to_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
