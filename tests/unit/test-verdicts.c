/* test-verdicts.c - how sure a verdict is, who shares it, and the steps to a shape.
 *
 * Posteriors are made up; where vowels lie is what Hillenbrand et al. 1995 (JASA 97:3099-3111) print of 48 women. */
#include "advice-case.h"
#include "result/result-private.h"
#include "said.h"

#include <math.h>

/* A normal posterior of F1, F2, F3 with these spreads, ln. */
static aperta_posterior posterior(double f1_hz, double f1_sd, double f2_hz, double f2_sd)
{
    aperta_posterior p = {.n_modes = 1};
    const double hz[] = {f1_hz, f2_hz, 2900.0}, sd[] = {f1_sd, f2_sd, 0.06};

    p.modes[0].weight = 1.0;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        p.modes[0].ln_hz[i] = log(hz[i]);
        p.modes[0].covariance[i][i] = sd[i] * sd[i];
    }
    return p;
}

typedef struct {
    aperta_result *result;
    aperta_rules *rules;
    aperta_vowel_ear *ear;
} judging;

static judging judging_of(const char *style)
{
    judging j = {g_new0(aperta_result, 1), case_rules(style), NULL};

    j.result->settings.voice = APERTA_VOICE_WOMAN;
    j.result->a4_hz = 440.0;
    j.result->settings.table = case_table("hillenbrand1995-women");
    j.result->notes = g_ptr_array_new_with_free_func((GDestroyNotify)result_note_free);
    j.ear = aperta_vowel_ear_new(j.result->settings.table);
    return j;
}

static void judging_clear(judging *j)
{
    aperta_result_free(j->result);
    aperta_rules_free(j->rules);
    aperta_vowel_ear_free(j->ear);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(judging, judging_clear)

static aperta_resonance resonance_of(const aperta_posterior *p, int i, gboolean bounded)
{
    aperta_resonance r = {.status = bounded ? APERTA_BOUNDED : APERTA_MEASURED,
                          .hz = bounded ? 0.0 : aperta_posterior_quantile_hz(p, i, 0.5),
                          .has_low = !bounded,
                          .low_hz = bounded ? 0.0 : aperta_posterior_quantile_hz(p, i, 0.05),
                          .has_high = TRUE,
                          .high_hz = aperta_posterior_quantile_hz(p, i, 0.95)};

    return r;
}

/* A note on a pitch; F1 bounded from above or measured. */
static aperta_sung_note *sing(judging *j, const char *pitch, aperta_posterior p, gboolean bounded)
{
    double start_s = 2.0 * j->result->notes->len;
    aperta_note heard = {.span = {start_s, start_s + 1.0}, .steady = {start_s, start_s + 1.0}};
    int midi;

    assert_true(aperta_pitch_parse(pitch, &midi));
    heard.f0_hz = aperta_midi_to_hz(midi, 440.0);
    aperta_sung_note *note = result_note_new((int)j->result->notes->len + 1, &heard, j->result);
    note->tract.posterior = p;
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        note->tract.resonances[i] = resonance_of(&p, i, bounded && i == 0);
    result_hear_vowel(note, j->ear);
    g_ptr_array_add(j->result->notes, note);
    return note;
}

static const aperta_finding *first_finding(const aperta_sung_note *note)
{
    assert_true(note->advice->len > 0);
    return g_ptr_array_index(note->advice, 0);
}

static void assert_names_no_vowel(const aperta_finding *finding)
{
    const char *text = said_text(finding);
    gsize n;
    const aperta_vowel *all = aperta_vowel_all(&n);

    for (gsize i = 0; i < n; i++) {
        g_autofree char *named = g_strdup_printf("%s “%s”", all[i].ipa, all[i].respelling);
        if (strstr(text, named) != NULL)
            fail_msg("\"%s\" names %s", text, all[i].ipa);
    }
}

/* A bound of F1 and no idea of F2: on E4 (belt band from 537 Hz) as on G♯5, no vowel is named and none opened. */
static void test_unsure_vowel_is_not_named(void **state)
{
    static const char *const pitches[] = {"E4", "A4", "G#5"};
    static const char *const styles[] = {"belt", "legit", "classical"};
    (void)state;

    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++)
        for (gsize i = 0; i < G_N_ELEMENTS(pitches); i++) {
            g_auto(judging) j = judging_of(styles[s]);
            aperta_sung_note *note = sing(&j, pitches[i], posterior(430.0, 0.2, 1400.0, 0.4), TRUE);
            result_judge_notes(j.result, j.rules, j.ear, FALSE);
            assert_true(note->vowel.confidence < 0.5);
            assert_null(aperta_sung_note_told(note));
            if (strcmp(styles[s], "belt") == 0 && i > 0)
                assert_true(note->advice->len > 0); /* above F4 F1 lies far below the band, whatever the vowel */
            for (guint f = 0; f < note->advice->len; f++) {
                const aperta_finding *finding = aperta_finding_at(note->advice, f);
                assert_names_no_vowel(finding);
                assert_null(finding->shape); /* front and back vowels come to no one shape */
            }
        }
}

/* At -5 st from the second harmonic ɔ and ɑ keep the belt, all else does not (wide_edge, narrow_edge of the style). */
static void test_change_needs_nearly_all_vowels(void **state)
{
    static const struct {
        double front, dark;
        aperta_level level;
    } rows[] = {{0.97, 0.03, APERTA_LEVEL_CHANGE}, {0.93, 0.07, APERTA_LEVEL_WATCH}, {0.6, 0.4, APERTA_LEVEL_WATCH}};
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɛ", "C5");
        const aperta_vowel_share shares[] = {{aperta_vowel_by_ipa("ɛ"), rows[i].front},
                                             {aperta_vowel_by_ipa("ɑ"), rows[i].dark}};
        note.resonances[0] = case_measured(2.0 * note.f0_hz * exp2(-5.0 / 12.0), 0.0);
        note.shares = shares;
        note.n_shares = G_N_ELEMENTS(shares);
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        assert_int_equal(case_level(findings), rows[i].level);
    }
}

/* Five times the same sound on C5, read a little higher and lower across the edge of the band (854 Hz). */
static void test_one_sound_has_one_verdict(void **state)
{
    static const double f1_hz[] = {780.0, 880.0, 830.0, 900.0, 800.0};
    g_auto(judging) j = judging_of("belt");
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(f1_hz); i++)
        sing(&j, "C5", posterior(f1_hz[i], 0.08, 2063.0, 0.05), FALSE);
    sing(&j, "C5", posterior(460.0, 0.04, 2700.0, 0.03), FALSE); /* another vowel */
    sing(&j, "G4", posterior(830.0, 0.08, 2063.0, 0.05), FALSE); /* another pitch */
    result_judge_notes(j.result, j.rules, j.ear, FALSE);
    const aperta_sung_note *first = aperta_sung_note_at(j.result->notes, 0);
    assert_true(first->judged_with > 0);
    for (guint i = 1; i < G_N_ELEMENTS(f1_hz); i++) {
        const aperta_sung_note *note = aperta_sung_note_at(j.result->notes, i);
        assert_int_equal(note->judged_with, first->judged_with);
        assert_ptr_equal(note->vowel.heard, first->vowel.heard);
        assert_string_equal(said_text(first_finding(note)), said_text(first_finding(first)));
    }
    for (guint i = G_N_ELEMENTS(f1_hz); i < j.result->notes->len; i++)
        assert_int_equal(aperta_sung_note_at(j.result->notes, i)->judged_with, 0);
}

/* The second verse is sung more open by a fifth of F1, read to 3 %: that stays. */
static void test_real_differences_stay(void **state)
{
    g_auto(judging) j = judging_of("belt");
    (void)state;

    for (int i = 0; i < 4; i++)
        sing(&j, "C5", posterior(i < 2 ? 740.0 : 900.0, 0.03, 2000.0, 0.03), FALSE);
    result_judge_notes(j.result, j.rules, j.ear, FALSE);
    const aperta_sung_note *first = aperta_sung_note_at(j.result->notes, 0),
                           *third = g_ptr_array_index(j.result->notes, 2);
    assert_int_not_equal(first->judged_with, third->judged_with);
    assert_int_equal(aperta_sung_note_level(first), APERTA_LEVEL_CHANGE);
    assert_true(aperta_sung_note_level(third) < APERTA_LEVEL_CHANGE);
}

/* What a teacher told apart is not judged together, however alike it was read. */
static void test_told_vowels_part_notes(void **state)
{
    g_auto(judging) j = judging_of("belt");
    (void)state;

    for (int i = 0; i < 2; i++)
        sing(&j, "C5", posterior(830.0, 0.1, 1500.0, 0.1), FALSE)->intended = aperta_vowel_by_ipa(i == 0 ? "ɑ" : "ʌ");
    result_judge_notes(j.result, j.rules, j.ear, FALSE);
    for (guint i = 0; i < 2; i++)
        assert_int_equal(aperta_sung_note_at(j.result->notes, i)->judged_with, 0);
}

/* Notes that were told one vowel are judged together, and each is still heard as it was. */
static void test_told_notes_keep_what_was_heard(void **state)
{
    g_auto(judging) j = judging_of("belt");
    (void)state;

    aperta_sung_note *front = sing(&j, "C5", posterior(700.0, 0.12, 1850.0, 0.09), FALSE);
    aperta_sung_note *dark = sing(&j, "C5", posterior(780.0, 0.12, 1550.0, 0.09), FALSE);
    const aperta_vowel *first = front->vowel.heard, *second = dark->vowel.heard;
    assert_ptr_not_equal(first, second);
    front->intended = dark->intended = aperta_vowel_by_ipa("ɛ");
    result_judge_notes(j.result, j.rules, j.ear, FALSE);
    assert_true(front->judged_with > 0 && front->judged_with == dark->judged_with);
    assert_ptr_equal(front->vowel.heard, first);
    assert_ptr_equal(dark->vowel.heard, second);
    assert_non_null(strstr(said_text(first_finding(front)), "over 2 notes together"));
}

/* Two equal normal readings whose errors are independent halve the variance (any textbook); ours correlate, so less. */
static void test_pool(void **state)
{
    aperta_posterior one = posterior(600.0, 0.1, 1500.0, 0.1), two = posterior(660.0, 0.1, 1500.0, 0.1), both;
    const aperta_posterior *notes[] = {&one, &two};
    (void)state;

    assert_true(result_pool(notes, 2, &both));
    assert_int_equal(both.n_modes, 1);
    assert_float_equal(both.modes[0].ln_hz[0], log(sqrt(600.0 * 660.0)), 1e-9);
    double variance = both.modes[0].covariance[0][0];
    assert_true(variance > 0.5 * 0.01 && variance < 0.01);
    assert_true(result_pool(notes, 1, &both)); /* one alone is itself */
    assert_float_equal(both.modes[0].covariance[0][0], 0.01, 1e-9);
}

/* "oo" on A4 goes to "aw" in steps: nearer ones first, each opens more than the one before, the shape last. */
static void test_ladder(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "u", "A4");
    (void)state;

    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_finding *finding = case_finding(findings, "belt-open");
    assert_non_null(finding);
    assert_string_equal(finding->shape->vowel->ipa, "ɔ");
    assert_true(finding->ladder->len >= 3);
    for (guint i = 0; i < finding->ladder->len; i++) {
        const aperta_shape *step = aperta_shape_at(finding->ladder, i);
        const aperta_shape *before = i == 0 ? NULL : g_ptr_array_index(finding->ladder, i - 1);
        if (before != NULL) {
            assert_true(step->f1_hz > before->f1_hz);
            assert_true(step->moved_bark > before->moved_bark);
        }
    }
    const aperta_shape *last = aperta_shape_at(finding->ladder, finding->ladder->len - 1);
    assert_ptr_equal(last->vowel, finding->shape->vowel);
    assert_non_null(strstr(said_text(finding), "stop at the first that feels free: “oo” with the jaw wide"));
    assert_non_null(strstr(said_text(finding), "“uu”"));
}

/* An "ee" that was told, read with an F2 that is no ee's: it still opens as an ee does, not over the place of the
 * tongue. */
static void test_misread_f2_keeps_the_tongue(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
    (void)state;

    note.resonances[1] = case_measured(1200.0, 0.1);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_shape *shape = case_shape(findings);
    assert_non_null(shape);
    assert_int_equal(shape->vowel->place, APERTA_PLACE_FRONT);
}

/* An "ee" that was told on a sound whose F1 no jaw takes an ee to (it is an ah): it is not to be kept there. */
static void test_no_jaw_takes_ee_to_ah(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
    (void)state;

    note.resonances[0] = (aperta_resonance){.status = APERTA_MEASURED,
                                            .hz = 880.0,
                                            .has_low = TRUE,
                                            .low_hz = 250.0,
                                            .has_high = TRUE,
                                            .high_hz = 1100.0,
                                            .n_alternatives = 1,
                                            .alternatives = {{400.0, 0.4}}};
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_shape *shape = case_shape(findings);
    assert_non_null(shape);
    assert_ptr_not_equal(shape->vowel, note.vowel);
}

/* A tone above the turning point it is said where that lies, and that it is no law. */
static void test_turning_point_is_told(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɛ", "D5");
    (void)state;

    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_finding *finding = case_finding(findings, "belt-lighter");
    assert_non_null(finding);
    assert_non_null(strstr(said_text(finding), "Above C5"));
    assert_non_null(strstr(said_text(finding), "common practice"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_unsure_vowel_is_not_named),
        cmocka_unit_test(test_change_needs_nearly_all_vowels),
        cmocka_unit_test(test_one_sound_has_one_verdict),
        cmocka_unit_test(test_real_differences_stay),
        cmocka_unit_test(test_told_vowels_part_notes),
        cmocka_unit_test(test_told_notes_keep_what_was_heard),
        cmocka_unit_test(test_pool),
        cmocka_unit_test(test_ladder),
        cmocka_unit_test(test_misread_f2_keeps_the_tongue),
        cmocka_unit_test(test_no_jaw_takes_ee_to_ah),
        cmocka_unit_test(test_turning_point_is_told),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
