/* test-silence.c - why no rule speaks. That a note is low is said only where every rule for the voice begins above it.
 */
#include "advice-case.h"

/* From where a style's rules can speak: settings `high` of belt and legit (common practice, no source); classical has
 * rules for women at any pitch. */
static void test_reasons(void **state)
{
    static const struct {
        const char *style;
        aperta_voice voice;
        const char *ipa, *pitch;
        aperta_silence silence;
        const char *reach;
    } rows[] = {
        {"belt", APERTA_VOICE_WOMAN, "i", "E4", APERTA_SILENCE_LOW, "F4"},
        {"belt", APERTA_VOICE_ALTO, "ɑ", "A3", APERTA_SILENCE_LOW, "F4"},
        {"belt", APERTA_VOICE_TENOR, "i", "B3", APERTA_SILENCE_LOW, "C4"},
        {"belt", APERTA_VOICE_CHILD, "i", "F4", APERTA_SILENCE_LOW, "F#4"},
        {"classical", APERTA_VOICE_SOPRANO, "ɑ", "C#5", APERTA_SILENCE_NOTHING, NULL},
        {"classical", APERTA_VOICE_WOMAN, "i", "A3", APERTA_SILENCE_NOTHING, NULL},
        {"classical", APERTA_VOICE_TENOR, "ɛ", "A4", APERTA_SILENCE_NOTHING, NULL},
        {"classical", APERTA_VOICE_TENOR, "ɑ", "E5", APERTA_SILENCE_NOTHING, NULL},
        {"legit", APERTA_VOICE_MAN, "ɑ", "A3", APERTA_SILENCE_LOW, "C4"},
        {"legit", APERTA_VOICE_MEZZO, "ɑ", "A3", APERTA_SILENCE_NOTHING, NULL}, /* a note may pass F1 anywhere */
    };
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_rules) rules = case_rules(rows[i].style);
        g_autoptr(aperta_vowel_table) table = case_table(aperta_vowel_table_for_voice(rows[i].voice));
        aperta_situation note = case_note(table, rows[i].voice, rows[i].ipa, rows[i].pitch);
        g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, NULL);
        int reach = 0, expected = 0;
        assert_int_equal(findings->len, 0);
        if (aperta_advise_silence(rules, table, &note, &reach) != rows[i].silence)
            fail_msg("%s of a %s on %s in %s", rows[i].ipa, aperta_voice_word(rows[i].voice), rows[i].pitch,
                     rows[i].style);
        if (rows[i].reach != NULL)
            assert_true(aperta_pitch_parse(rows[i].reach, &expected));
        assert_int_equal(reach, expected);
    }
}

/* What a rule asks and nobody knows is no "nothing". */
static void test_not_known(void **state)
{
    g_autoptr(aperta_rules) rules = case_rules("classical");
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-men");
    aperta_situation note = case_note(table, APERTA_VOICE_TENOR, "ɛ", "A4");
    int reach = 0;
    (void)state;

    note.resonances[1].status = APERTA_UNKNOWN; /* F2 by the third harmonic would be fine */
    assert_int_equal(aperta_advise_silence(rules, table, &note, &reach), APERTA_SILENCE_UNTOLD);
    note.resonances[0].status = APERTA_UNKNOWN;
    assert_int_equal(aperta_advise_silence(rules, table, &note, &reach), APERTA_SILENCE_UNTOLD);
}

/* Rules of one's own: any pitches, any mixture of and, or, not. */
static void test_own_rules(void **state)
{
    static const char text[] =
        "[style]\nname = own\ntitle = Own\n[settings]\nlow_end = C4\n"
        "[rule low]\nwhen = not (pitch >= low_end or voice is man) and f1 < 5000 Hz\nlevel = watch\n"
        "words = Low.\nreason = A test.\nsource = common practice, no source\n"
        "[rule men]\nwhen = voice is man and f0 > 500 Hz\nlevel = watch\n"
        "words = High.\nreason = A test.\nsource = common practice, no source\n";
    GError *error = NULL;
    g_autoptr(aperta_rules) rules = case_load_text(text, &error);
    g_autoptr(aperta_vowel_table) women = case_table("hillenbrand1995-women");
    g_autoptr(aperta_vowel_table) men = case_table("hillenbrand1995-men");
    (void)state;
    assert_non_null(rules);
    aperta_situation woman = case_note(women, APERTA_VOICE_WOMAN, "i", "A4");
    aperta_situation man = case_note(men, APERTA_VOICE_MAN, "i", "A4");
    int reach = 0;

    assert_int_equal(aperta_advise_silence(rules, women, &woman, &reach), APERTA_SILENCE_HIGH);
    assert_int_equal(reach, 59); /* B3 */
    assert_int_equal(aperta_advise_silence(rules, men, &man, &reach), APERTA_SILENCE_LOW);
    assert_int_equal(reach, 72); /* C5, 523 Hz, is the first above 500 Hz */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reasons),
        cmocka_unit_test(test_not_known),
        cmocka_unit_test(test_own_rules),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
