/* test-advice.c - rules over notes: what speaks, what is said, and the shapes. */
#include "advice-case.h"
#include "said.h"

#include <math.h>

static const char *const vowels[] = {"i", "ɪ", "e", "ɛ", "æ", "ɑ", "ɔ", "o", "ʊ", "u", "ʌ", "ɝ"};
static const char *const styles[] = {"belt", "legit", "classical"};
static const aperta_voice voices[] = {APERTA_VOICE_WOMAN, APERTA_VOICE_MAN, APERTA_VOICE_CHILD, APERTA_VOICE_SOPRANO,
                                      APERTA_VOICE_TENOR};

static void set_pitch(aperta_situation *note, int midi)
{
    note->midi = midi;
    note->f0_hz = aperta_midi_to_hz(midi, 440.0);
}

/* ---- belt: the band ---------------------------------------------------------------------------------------------- */

/* Band edges by the style's own statement: -3.5 st, its margin a semitone inside; -6 st for ɑ. Levels at A4 (2f0 = 880
 * Hz). */
static void test_levels_at_the_edges(void **state)
{
    static const struct {
        const char *ipa;
        double f1_to_2f0_st;
        aperta_level level;
    } rows[] = {
        {"ɛ", -3.6, APERTA_LEVEL_CHANGE}, {"ɛ", -3.4, APERTA_LEVEL_WATCH}, {"ɛ", -2.6, APERTA_LEVEL_WATCH},
        {"ɛ", -2.4, APERTA_LEVEL_FINE},   {"ɛ", 0.0, APERTA_LEVEL_FINE},   {"ɛ", 3.4, APERTA_LEVEL_FINE},
        {"ɑ", -6.1, APERTA_LEVEL_CHANGE}, {"ɑ", -5.9, APERTA_LEVEL_WATCH}, {"ɑ", -5.1, APERTA_LEVEL_WATCH},
        {"ɑ", -4.9, APERTA_LEVEL_FINE},   {"ɔ", -4.9, APERTA_LEVEL_FINE},  {"ɔ", -6.1, APERTA_LEVEL_CHANGE},
        {"u", -4.9, APERTA_LEVEL_CHANGE}, {"ɒ", -4.9, APERTA_LEVEL_FINE},
    };
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, rows[i].ipa, "A4");
        note.resonances[0] = case_measured(880.0 * exp2(rows[i].f1_to_2f0_st / 12.0), 0.0);
        note.resonances[1] = case_measured(1500.0, 0.0);
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        if (case_level(findings) != rows[i].level)
            fail_msg("%s at %g st is %s", rows[i].ipa, rows[i].f1_to_2f0_st, aperta_level_word(case_level(findings)));
    }
}

/* High notes only: from F4 (women), C4 (men); common practice, no source. */
static void test_high_notes_only(void **state)
{
    static const struct {
        aperta_voice voice;
        const char *below, *from;
    } rows[] = {{APERTA_VOICE_WOMAN, "E4", "F4"}, {APERTA_VOICE_ALTO, "E4", "F4"}, {APERTA_VOICE_UNKNOWN, "E4", "F4"},
                {APERTA_VOICE_MAN, "B3", "C4"},   {APERTA_VOICE_BASS, "B3", "C4"}, {APERTA_VOICE_CHILD, "F4", "F#4"}};
    g_autoptr(aperta_rules) rules = case_rules("belt");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_vowel_table) table = case_table(aperta_vowel_table_for_voice(rows[i].voice));
        aperta_situation low = case_note(table, rows[i].voice, "i", rows[i].below);
        aperta_situation high = case_note(table, rows[i].voice, "i", rows[i].from);
        g_autoptr(GPtrArray) below = aperta_advise(rules, table, &low, NULL);
        g_autoptr(GPtrArray) from = aperta_advise(rules, table, &high, NULL);
        assert_int_equal(below->len, 0);
        assert_int_equal(case_level(from), APERTA_LEVEL_CHANGE);
    }
}

/* f0 above F1: only a limit is known, and it lies far below the band. */
static void test_bounded_f1_counts_as_below(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
    (void)state;
    note.resonances[0] = case_below(540.0);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_finding *finding = case_finding(findings, "belt-open");
    assert_non_null(finding);
    assert_string_equal(said_name(finding->shape), "eh, jaw wide");
    assert_non_null(strstr(said_text(finding), "somewhere below 540 Hz"));
}

static void test_vowel_not_known(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, NULL, "C5");
    (void)state;
    note.resonances[0] = case_measured(450.0, 0.05);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    assert_int_equal(findings->len, 1);
    assert_non_null(case_finding(findings, "belt-unnamed"));
    assert_null(case_shape(findings));
    note.resonances[0].status = APERTA_UNKNOWN;
    g_autoptr(GPtrArray) nothing = aperta_advise(rules, table, &note, NULL);
    assert_int_equal(nothing->len, 0);
}

/* A score alone: the table's spread is the interval; the verdicts are those of the means. */
static void test_expected_resonances(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
    (void)state;
    note.expected = TRUE;
    note.resonances[0] = case_measured(437.3, 0.15);
    note.resonances[1] = case_measured(2761.0, 0.09);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    assert_non_null(strstr(said_text(case_finding(findings, "belt-open")), "expected near 437 Hz"));
}

/* ---- how sure a change must be ----------------------------------------------------------------------------------- */

static aperta_resonance between(double low_hz, double hz, double high_hz)
{
    return (aperta_resonance){
        .status = APERTA_MEASURED, .hz = hz, .has_low = TRUE, .has_high = TRUE, .low_hz = low_hz, .high_hz = high_hz};
}

/* The belt band begins at 854 Hz on C5: a change is asked for from nine chances of ten on that F1
 * lies below. */
static void test_a_change_is_sure(void **state)
{
    static const struct {
        double low_hz, hz, high_hz;
        const char *part; /* of the text */
        aperta_level level;
    } rows[] = {
        {680.0, 727.0, 780.0, "about 727 Hz, 6.3 semitones below", APERTA_LEVEL_CHANGE},
        {300.0, 727.0, 850.0, "between 300 and 850 Hz, 21.6 to 3.6 semitones below", APERTA_LEVEL_CHANGE},
        {780.0, 820.0, 890.0, "about 820 Hz, 4.2 semitones below", APERTA_LEVEL_WATCH},
        {323.0, 743.0, 894.0, "between 323 and 894 Hz, 20.4 to 2.7 semitones below", APERTA_LEVEL_WATCH},
        {600.0, 800.0, 1100.0, "between 600 and 1100 Hz, from 9.6 semitones below to 0.9 above", APERTA_LEVEL_WATCH},
    };
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɛ", "C5");
        GPtrArray *explanations = NULL;
        note.resonances[0] = between(rows[i].low_hz, rows[i].hz, rows[i].high_hz);
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, &explanations);
        g_autoptr(GPtrArray) owned = explanations;
        const aperta_finding *finding = case_finding(findings, "belt-open");
        const aperta_explanation *first = aperta_explanation_at(owned, 0);
        assert_non_null(finding);
        assert_int_equal(finding->level, rows[i].level);
        if (strstr(said_text(finding), rows[i].part) == NULL)
            fail_msg("\"%s\" lacks \"%s\"", said_text(finding), rows[i].part);
        gboolean only_likely = rows[i].level == APERTA_LEVEL_WATCH;
        assert_int_equal(strstr(said_text(finding), "may lie") != NULL, only_likely);
        assert_int_equal(strstr(said_because(first), "a change needs 0.90: only watch") != NULL, only_likely);
        assert_true(first->spoke);
    }
}

/* Words for a change that is only likely are the rule's own, else they say so themselves; change_at is a setting. */
static void test_change_at(void **state)
{
    static const char text[] = "[style]\nname = own\ntitle = t\n[settings]\n%s[rule a]\nwhen = f1 < 800 Hz\n"
                               "level = change\nwords = Open.\n%sreason = r\nsource = s\n";
    static const struct {
        const char *settings, *unsure, *said;
        aperta_level level;
    } rows[] = {{"", "", "This is likely, not sure. Open.", APERTA_LEVEL_WATCH},
                {"", "unsure = Perhaps open.\n", "Perhaps open.", APERTA_LEVEL_WATCH},
                {"change_at = 0.6\n", "unsure = Perhaps open.\n", "Open.", APERTA_LEVEL_CHANGE}};
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɛ", "C5");
    (void)state;
    note.resonances[0] = between(600.0, 740.0, 900.0); /* below 800 Hz with a probability of about 0.75 */
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *filled = g_strdup_printf(text, rows[i].settings, rows[i].unsure);
        g_autoptr(aperta_rules) rules = case_load_text(filled, NULL);
        assert_non_null(rules);
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        assert_int_equal(case_level(findings), rows[i].level);
        assert_string_equal(said_text(case_finding(findings, "a")), rows[i].said);
    }
}

/* The vowel that is sung already is kept, and never changed into itself. */
static void test_kept_vowel(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɛ", "A4");
    (void)state;
    note.resonances[0] = case_measured(660.0, 0.03);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_finding *finding = aperta_finding_at(findings, 0);
    assert_int_equal(finding->level, APERTA_LEVEL_CHANGE);
    assert_string_equal(said_name(finding->shape), "eh, jaw a little wider");
    assert_non_null(strstr(said_text(finding), "try ɛ “eh” (bed) with the jaw a little wider, F1 near"));
}

/* f0 above F1, only a limit is known: every flag comes with something to do, in each style, for whatever limit. */
static void test_no_empty_advice_under_a_limit(void **state)
{
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        g_autoptr(aperta_rules) rules = case_rules(styles[s]);
        for (gsize v = 0; v < G_N_ELEMENTS(voices) * G_N_ELEMENTS(vowels); v++) {
            aperta_voice voice = voices[v % G_N_ELEMENTS(voices)];
            g_autoptr(aperta_vowel_table) table = case_table(aperta_vowel_table_for_voice(voice));
            aperta_situation note = case_note(table, voice, vowels[v / G_N_ELEMENTS(voices)], "C4");
            for (int midi = 60; midi <= 84; midi++) {
                set_pitch(&note, midi);
                for (double limit = 0.9; limit < 1.5; limit += 0.1) {
                    note.resonances[0] = case_below(note.f0_hz * limit);
                    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
                    for (guint k = 0; k < findings->len; k++) {
                        const aperta_finding *finding = aperta_finding_at(findings, k);
                        if (strstr(said_text(finding), "a more open shape") != NULL ||
                            strstr(said_text(finding), "  ") != NULL ||
                            (finding->shape != NULL && said_how(finding->shape)[0] == '\0'))
                            fail_msg("%s, limit %g f0: \"%s\"", styles[s], limit, said_text(finding));
                    }
                }
            }
        }
    }
}

/* A shape that is not wanted is not named; the next one still reaches the aim. */
static void test_avoided_shapes(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "u", "C5");
    const aperta_vowel *avoid[] = {aperta_vowel_by_ipa("ɔ"), NULL};
    (void)state;
    g_autoptr(GPtrArray) first = aperta_advise(rules, table, &note, NULL);
    note.avoid = avoid;
    note.pitch_name = "B♯4";
    g_autoptr(GPtrArray) second = aperta_advise(rules, table, &note, NULL);
    assert_ptr_equal(case_shape(first)->vowel, avoid[0]);
    assert_non_null(case_shape(second));
    assert_ptr_not_equal(case_shape(second)->vowel, avoid[0]);
    expect_near(case_shape(second)->f1_hz, case_shape(first)->f1_hz, 1e-6);
    assert_non_null(strstr(said_text(case_finding(second, "belt-open")), "B♯4")); /* as a score spells it */
}

/* ---- properties -------------------------------------------------------------------------------------------------- */

/* In belt, raising F1 up to the band's top never makes the verdict worse, whatever the interval. */
static void test_raising_f1_never_hurts(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    (void)state;
    for (gsize v = 0; v < 3; v++) {
        g_autoptr(aperta_vowel_table) table = case_table(aperta_vowel_table_for_voice(voices[v]));
        for (gsize i = 0; i < G_N_ELEMENTS(vowels); i++) {
            for (double share = 0.0; share < 0.3; share += 0.14) {
                aperta_situation note = case_note(table, voices[v], vowels[i], "G4");
                aperta_level before = APERTA_LEVEL_CHANGE;
                for (double st = -14.0; st <= 3.5; st += 0.25) {
                    note.resonances[0] = case_measured(2.0 * note.f0_hz * exp2(st / 12.0), share);
                    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
                    assert_true(case_level(findings) <= before);
                    before = case_level(findings);
                }
                assert_int_equal(before, APERTA_LEVEL_FINE);
            }
        }
    }
}

/* The aims and ceilings of the shipped styles, as their files state them. */
static double aim_hz(const aperta_finding *finding, const aperta_situation *note)
{
    if (g_str_has_prefix(finding->rule, "belt") || g_str_has_prefix(finding->rule, "legit-men"))
        return 2.0 * note->f0_hz * exp2(-3.5 / 12.0);
    return note->f0_hz * (g_str_has_prefix(finding->rule, "classical-men") ? exp2(1.0 / 12.0) : 1.0);
}

static double ceiling_hz(const char *style, aperta_voice voice)
{
    if (voice == APERTA_VOICE_SOPRANO && strcmp(style, "classical") == 0)
        return 1100.0;
    switch (aperta_voice_group(voice)) {
    case APERTA_VOICE_MAN:
        return 855.0;
    case APERTA_VOICE_CHILD:
        return 1070.0;
    default:
        return 1000.0;
    }
}

static void check_shape(const char *style, const aperta_finding *finding, const aperta_vowel_table *table,
                        const aperta_situation *note)
{
    const aperta_shape *shape = finding->shape;
    const aperta_vowel_row *row = aperta_vowel_table_row(table, shape->vowel);
    double f1_hz = note->resonances[0].hz;
    double f2_hz = note->resonances[1].hz;

    expect_ratio(shape->f1_hz, aim_hz(finding, note), 1e-9);      /* reaches the aim, and no more */
    assert_true(shape->f1_hz <= ceiling_hz(style, note->voice));  /* within the voice */
    assert_true(shape->f1_hz > f1_hz);                            /* opens, never closes */
    assert_true(row->open_target || shape->vowel == note->vowel); /* no regional vowel as a target */
    assert_true(!shape->vowel->r_coloured || note->vowel->r_coloured);
    assert_true(!shape->vowel->rounded || note->vowel->rounded);
    double opening = (strcmp(style, "classical") == 0 ? 1.35 : 1.25) * exp2(1.0 / 12.0); /* and the stretch, 1 st */
    assert_true(shape->f1_hz <= (row->open_target ? row->hz[0] : f1_hz) * opening + 1e-6);
    expect_near(shape->moved_bark, aperta_vowel_distance_bark(f1_hz, f2_hz, shape->f1_hz, shape->f2_hz), 1e-9);
    if (shape->jaw_wide)
        assert_true(shape->f1_hz > row->hz[0] && g_str_has_suffix(said_name(shape), ", jaw wide"));
    assert_non_null(strstr(said_name(shape), shape->vowel->respelling));
    assert_true(said_how(shape)[0] != '\0');
    assert_non_null(strstr(said_text(finding), shape->vowel->ipa));
    assert_non_null(strstr(said_text(finding), shape->vowel->key_word));
}

static void check_words(const aperta_finding *finding)
{
    static const char *const never[] = {"{", "}", "louder", " nan", "still more open", "  "};

    for (gsize i = 0; i < G_N_ELEMENTS(never); i++)
        if (strstr(said_text(finding), never[i]) != NULL)
            fail_msg("\"%s\" holds \"%s\"", said_text(finding), never[i]);
    int depth = 0;
    for (const char *at = said_text(finding); *at != '\0'; at++) { /* no brackets inside brackets */
        depth += *at == '(' ? 1 : *at == ')' ? -1 : 0;
        if (depth > 1)
            fail_msg("brackets in brackets: \"%s\"", said_text(finding));
    }
    assert_true(finding->reason[0] != '\0' && finding->source[0] != '\0');
    assert_true(g_utf8_validate(said_text(finding), -1, NULL));
}

/* Every style, voice, vowel and pitch: shapes keep their promises, texts are whole, the highest level comes first. */
static void test_everywhere(void **state)
{
    (void)state;
    for (gsize s = 0; s < G_N_ELEMENTS(styles); s++) {
        g_autoptr(aperta_rules) rules = case_rules(styles[s]);
        guint n_shapes = 0;
        for (gsize v = 0; v < G_N_ELEMENTS(voices); v++) {
            g_autoptr(aperta_vowel_table) table = case_table(aperta_vowel_table_for_voice(voices[v]));
            for (gsize i = 0; i < G_N_ELEMENTS(vowels); i++) {
                aperta_situation note = case_note(table, voices[v], vowels[i], "C4");
                for (int midi = 48; midi <= 84; midi++) {
                    set_pitch(&note, midi);
                    note.expected = midi % 2 == 0; /* as from a score, whose words hold brackets of their own */
                    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
                    aperta_level before = APERTA_LEVEL_CHANGE;
                    for (guint k = 0; k < findings->len; k++) {
                        const aperta_finding *finding = aperta_finding_at(findings, k);
                        assert_true(finding->level <= before);
                        before = finding->level;
                        check_words(finding);
                        if (finding->shape != NULL)
                            check_shape(styles[s], finding, table, &note);
                        n_shapes += finding->shape != NULL;
                    }
                }
            }
        }
        assert_true(n_shapes > 100);
    }
}

/* Singing the advised shape ends the advice to change. */
static void test_the_advised_shape_is_accepted(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(vowels); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, vowels[i], "C5");
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        const aperta_shape *shape = case_shape(findings);
        if (shape == NULL)
            continue;
        note.resonances[0] = case_measured(shape->f1_hz * 1.001, 0.0);
        note.resonances[1] = case_measured(shape->f2_hz, 0.0);
        g_autoptr(GPtrArray) after = aperta_advise(rules, table, &note, NULL);
        assert_int_equal(case_level(after), APERTA_LEVEL_WATCH);
    }
}

/* ---- shapes ------------------------------------------------------------------------------------------------------ */

/* A smile does not raise F1 of i or u (Fagel 2009): no shape promises it. */
static void test_no_smile_is_promised(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(vowels); i++) {
        aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, vowels[i], "C5");
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        const aperta_shape *shape = case_shape(findings);
        if (shape != NULL && strstr(said_how(shape), "smile") != NULL)
            assert_non_null(strstr(said_how(shape), "a smile does not open this vowel"));
    }
}

/* The vowel is not in the table: where it was sung is the start, and its own opening counts from there. */
static void test_vowel_that_the_table_lacks(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ø", "A4");
    (void)state;
    note.resonances[0] = case_measured(480.0, 0.02);
    note.resonances[1] = case_measured(1700.0, 0.02);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    const aperta_shape *shape = case_shape(findings);
    assert_non_null(shape);
    assert_true(shape->f1_hz >= 880.0 * exp2(-3.5 / 12.0) - 1e-6);
    note.resonances[1].status = APERTA_UNKNOWN;
    g_autoptr(GPtrArray) unplaced = aperta_advise(rules, table, &note, NULL);
    assert_null(case_shape(unplaced));
}

/* ---- speaking and explaining ------------------------------------------------------------------------------------- */

#define OWN(settings, when)                                                                                            \
    "[style]\nname = own\ntitle = t\n[settings]\n" settings "[rule a]\nwhen = " when                                   \
    "\nlevel = watch\nwords = {pitch} {vowel} {f1} {f1_to_2f0} {2f0} {duration} {voice} {probability} "                \
    "{vibrato_rate}\n"                                                                                                 \
    "reason = r\nsource = s\n"

static guint count_spoken(const char *text, const aperta_situation *note, const aperta_vowel_table *table)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_rules) rules = case_load_text(text, &error);

    if (rules == NULL)
        fail_msg("%s", error->message);
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, note, NULL);
    return findings->len;
}

static void test_speaks_at(void **state)
{
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "ɑ", "A4");
    (void)state;
    note.resonances[0] = case_measured(900.0, 0.2); /* below 850 Hz with a probability of about 0.3 */
    assert_int_equal(count_spoken(OWN("speaks_at = 0.5\n", "f1 < 850 Hz"), &note, table), 0);
    assert_int_equal(count_spoken(OWN("speaks_at = 0.2\n", "f1 < 850 Hz"), &note, table), 1);
    assert_int_equal(count_spoken(OWN("speaks_at = 1\n", "pitch > C2"), &note, table), 1);
}

/* A voice type's setting goes before its group's, and that before the one for all. */
static void test_settings_by_voice(void **state)
{
    static const char text[] =
        OWN("high = A4\n[settings woman]\nhigh = C5\n[settings alto]\nhigh = E4\n", "pitch >= high");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    static const struct {
        aperta_voice voice;
        const char *pitch;
        guint n;
    } rows[] = {{APERTA_VOICE_ALTO, "E4", 1},
                {APERTA_VOICE_SOPRANO, "B4", 0},
                {APERTA_VOICE_SOPRANO, "C5", 1},
                {APERTA_VOICE_MAN, "A4", 1},
                {APERTA_VOICE_MAN, "G4", 0}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        aperta_situation note = case_note(table, rows[i].voice, "ɑ", rows[i].pitch);
        assert_int_equal(count_spoken(text, &note, table), rows[i].n);
    }
}

static void test_words_are_filled(void **state)
{
    g_autoptr(aperta_rules) rules = case_load_text(OWN("", "pitch > C2"), NULL);
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_key key = {.known = TRUE, .tonic = 4, .confidence = 1.0}; /* E major */
    aperta_situation note = case_note(table, APERTA_VOICE_MEZZO, "ɛ", "Ab4");
    (void)state;
    note.key = &key;
    note.vibrato = (aperta_vibrato){APERTA_VIBRATO_MEASURED, 5.56, 60.0};
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
    assert_string_equal(said_text(aperta_finding_at(findings, 0)),
                        "G♯4 ɛ “eh” (bed) about 727 Hz 2.3 semitones below 831 Hz 0.60 s mezzo 1.00 5.6 Hz");
    note.key = NULL;
    note.vowel = NULL;
    note.vibrato.status = APERTA_VIBRATO_STRAIGHT;
    note.resonances[0] = case_below(400.0);
    g_autoptr(GPtrArray) unknown = aperta_advise(rules, table, &note, NULL);
    assert_string_equal(
        said_text(aperta_finding_at(unknown, 0)),
        "A♭4 this vowel somewhere below 400 Hz at least 12.7 semitones below 831 Hz 0.60 s mezzo 1.00 not known");
}

static const aperta_explanation *explanation_of(GPtrArray *explanations, const char *rule)
{
    for (guint i = 0; i < explanations->len; i++) {
        const aperta_explanation *explanation = aperta_explanation_at(explanations, i);
        if (strcmp(explanation->rule, rule) == 0)
            return explanation;
    }
    fail_msg("no explanation of %s", rule);
    return NULL;
}

static void test_explanations(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("belt");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
    GPtrArray *explanations = NULL;
    (void)state;
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, &explanations);
    const aperta_explanation *spoke = explanation_of(explanations, "belt-open");
    assert_true(spoke->spoke);
    assert_string_equal(
        said_because(spoke),
        "pitch C5 is at or above F4; pitch C5 is at or below C5; a shape is found; f1_to_2f0 is -15.1 st, below -6 st");
    assert_false(explanation_of(explanations, "belt-lighter")->spoke);
    assert_string_equal(said_because(explanation_of(explanations, "belt-lighter")), "pitch C5 is not above C5");
    assert_string_equal(said_because(explanation_of(explanations, "belt-no-room")), "a shape is found");
    assert_string_equal(said_because(explanation_of(explanations, "belt-fits")), "the rule belt-open spoke");
    g_ptr_array_unref(explanations);

    set_pitch(&note, 56);
    g_autoptr(GPtrArray) low = aperta_advise(rules, table, &note, &explanations);
    assert_int_equal(low->len, 0);
    for (guint i = 0; i < explanations->len; i++)
        assert_true(g_str_has_prefix(said_because(aperta_explanation_at(explanations, i)), "pitch A♭3 is not "));
    g_ptr_array_unref(explanations);

    set_pitch(&note, 72);
    note.resonances[0] = case_below(900.0);
    g_autoptr(GPtrArray) bounded = aperta_advise(rules, table, &note, &explanations);
    const char *because = said_because(explanation_of(explanations, "belt-open"));
    assert_non_null(strstr(because, "f1_to_2f0 is at most -2.6 st"));
    assert_non_null(strstr(because, "(probability 0."));
    g_ptr_array_unref(explanations);
}

static void test_cautions(void **state)
{
    const char *const *cautions = aperta_cautions();
    g_autofree char *all = g_strjoinv("\n", (char **)cautions);
    (void)state;
    /* pain or loss of voice, lasting hoarseness, loudness and hearing, no medical device, a teacher */
    static const char *const words[] = {"pain",    "loss of voice",  "laryngologist",
                                        "hearing", "medical device", "teacher"};
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
        assert_non_null(strstr(all, words[i]));
    assert_null(strstr(all, "louder"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_levels_at_the_edges),
        cmocka_unit_test(test_high_notes_only),
        cmocka_unit_test(test_bounded_f1_counts_as_below),
        cmocka_unit_test(test_vowel_not_known),
        cmocka_unit_test(test_expected_resonances),
        cmocka_unit_test(test_avoided_shapes),
        cmocka_unit_test(test_a_change_is_sure),
        cmocka_unit_test(test_change_at),
        cmocka_unit_test(test_kept_vowel),
        cmocka_unit_test(test_no_empty_advice_under_a_limit),
        cmocka_unit_test(test_raising_f1_never_hurts),
        cmocka_unit_test(test_everywhere),
        cmocka_unit_test(test_the_advised_shape_is_accepted),
        cmocka_unit_test(test_no_smile_is_promised),
        cmocka_unit_test(test_vowel_that_the_table_lacks),
        cmocka_unit_test(test_speaks_at),
        cmocka_unit_test(test_settings_by_voice),
        cmocka_unit_test(test_words_are_filled),
        cmocka_unit_test(test_explanations),
        cmocka_unit_test(test_cautions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
