/* test-rules-file.c - the reader of rules files: what it accepts, and every fault with its place. */
#include "advice-case.h"

#define STYLE "[style]\nname = own\ntitle = My own\n"
/* lines 4 .. 9, when stands on line 5 */
#define RULE(when) "[rule a]\nwhen = " when "\nlevel = watch\nwords = w\nreason = r\nsource = s\n"
#define SEARCH     "[settings]\nf1_ceiling = 1000 Hz\nopening = 25 %\ninward = 10%\nsideways = 3 Bark\n"

static const struct {
    const char *text;
    const char *message; /* behind the file's path */
} faults[] = {
    /* lines and sections */
    {"", ":1:1: expected a section [style]"},
    {STYLE, ":1:1: expected a section [rule NAME]"},
    {"name = own\n", ":1:1: expected a section such as [style] first, found \"name = own\""},
    {STYLE "hello\n", ":4:1: expected [section] or NAME = VALUE, found \"hello\""},
    {STYLE "= x\n", ":4:1: expected [section] or NAME = VALUE"},
    {"\n  stray\n" STYLE,
     ":2:3: expected [section] or NAME = VALUE at the beginning of a line, found an indented \"stray\""},
    {STYLE "[rule b\n", ":4:8: expected ']' at the end of the section's name, found the end of the line"},
    {STYLE "[rule b] c\n", ":4:10: expected nothing behind ']', found \"c\""},
    {STYLE "[recipe b]\n", ":4:1: expected [style], [settings], [settings VOICE] or [rule NAME], found \"[recipe b]\""},
    {STYLE "[rule]\n", ":4:6: expected a name behind \"rule\", found none"},
    {STYLE "[rule a b]\n", ":4:7: expected a name of letters, digits, - and _, found \"a b\""},
    {STYLE RULE("pitch > A4") RULE("pitch > A4"), ":10:7: expected each rule once, found \"a\" again"},
    {STYLE "name = again\n", ":4:1: expected each name once in a section, found \"name\" again"},
    {"[style]\nname =\ntitle = t\n", ":2:1: expected a value behind \"name =\", found nothing"},
    {"[style]\nname = n\n", ":1:1: expected \"title\" in [style], found none"},
    {STYLE "[style]\nname = n\ntitle = t\n", ":4:1: expected one section [style], found another"},
    {"[style]\ntitle = t\n[style]\ntitle = t\n", ":3:1: expected one section [style], found another"},
    {STYLE "colour = red\n", ":4:1: expected one of name, title, found \"colour\""},
    {"\xff", ":1:1: expected text in UTF-8"},
    /* rules */
    {STYLE "[rule a]\nwhen = pitch > A4\n", ":4:1: expected \"level\" in the rule \"a\", found none"},
    {STYLE RULE("pitch > A4") "colour = red\n",
     ":10:1: expected one of when, level, aim, unless, words, unsure, brief, remedy, mark, reason, source"},
    {STYLE "[rule a]\nlevel = loud\n", ":5:9: expected fine, watch or change, found \"loud\""},
    {STYLE "[rule a]\nwords = On {pich}\n", ":5:12: expected a placeholder such as {pitch}"},
    {STYLE "[rule a]\nwords = On {pitch\n", ":5:12: expected '}' behind '{', found none"},
    {STYLE RULE("pitch > A4") "unless = b\n", ":10:10: expected the name of a rule that stands above, found \"b\""},
    {STYLE RULE("pitch > A4") "aim = f2 >= 900 Hz\n", ":10:7: expected an aim for F1 with >="},
    {STYLE RULE("pitch > A4") "aim = f1 < 900 Hz\n", ":10:7: expected an aim for F1 with >="},
    {STYLE RULE("pitch > A4") "aim = f1 >= 900 Hz\n",
     ":4:1: expected the settings that a rule with an aim needs, found no value of f1_ceiling"},
    {STYLE RULE("shape is found"), ":4:1: expected an \"aim\" in the rule \"a\", which asks for a shape, found none"},
    /* conditions */
    {STYLE RULE("pich > A4"), ":5:8: expected pitch, f0, f1"},
    {STYLE RULE("f4 > 900 Hz"), ":5:8: expected pitch, f0, f1"},
    {STYLE RULE("f1_to_f1 > 9 st"), ":5:8: expected pitch, f0, f1"},
    {STYLE RULE("f1_to_1f0 > 9 st"), ":5:8: expected pitch, f0, f1"},
    {STYLE RULE("pitch"), ":5:13: expected a comparison (<, <=, > or >=), found the end of the value"},
    {STYLE RULE("pitch = A4"), ":5:14: expected a comparison (<, <=, > or >=), found \"=\""},
    {STYLE RULE("pitch >"), ":5:15: expected a note name or a setting, found the end of the value"},
    {STYLE RULE("pitch > 69"), ":5:18: expected a note name instead of \"69\", found the end of the value"},
    {STYLE RULE("pitch > 440 Hz"), ":5:16: expected a note name or a setting, found one in Hz"},
    {STYLE RULE("f1 > A4"), ":5:13: expected a number in Hz or a setting, found one in a note name"},
    {STYLE RULE("f1 > 900"), ":5:16: expected the unit Hz behind \"900\", found the end of the value"},
    {STYLE RULE("f1 > 900 and pitch > A4"), ":5:17: expected the unit Hz behind \"900\", found \"and\""},
    {STYLE RULE("f1_to_2f0 < -3.5 Hz"), ":5:20: expected a number in st or a setting, found one in Hz"},
    {STYLE RULE("duration > 3 minutes"), ":5:21: expected the unit s behind \"3\", found \"minutes\""},
    {STYLE RULE("f1 > )"), ":5:13: expected a number in Hz or a setting, found \")\""},
    {STYLE RULE("f1 is loud"), ":5:14: expected one of unknown, measured, bounded, found \"loud\""},
    {STYLE RULE("vowel close"), ":5:14: expected \"is\" or \"in\", found \"close\""},
    {STYLE RULE("vowel is wide"), ":5:17: expected one of close, mid, open"},
    {STYLE RULE("vowel in i, q"), ":5:20: expected a vowel in IPA or respelled (ɛ or eh), found \"q\""},
    {STYLE RULE("vowel in i,"), ":5:19: expected a vowel in IPA or respelled (ɛ or eh), found the end of the value"},
    {STYLE RULE("vowel in ɔ, ɑ or q"), ":5:25: expected pitch"},
    {STYLE RULE("voice in woman"), ":5:14: expected \"is\", found \"in\""},
    {STYLE RULE("voice is robot"), ":5:17: expected a voice (woman, man, child"},
    {STYLE RULE("shape is lost"), ":5:17: expected one of none, found, found \"lost\""},
    {STYLE RULE("vibrato is wide"), ":5:19: expected one of too_short, straight, measured"},
    {STYLE RULE("pitch > A4 pitch < C5"),
     ":5:19: expected \"and\", \"or\" or the end of the condition, found \"pitch\""},
    {STYLE RULE("(pitch > A4"), ":5:19: expected \"and\", \"or\" or \")\", found the end of the value"},
    {STYLE RULE("pitch > A4)"), ":5:18: expected \"and\", \"or\" or the end of the condition, found \")\""},
    {STYLE RULE("pitch > A4 and"),
     ":5:22: expected a condition (such as pitch >= A4, or vowel is close), found the end"},
    {STYLE RULE("pitch > A4 and\n   f1 > x9 st"), ":6:12: expected \"and\", \"or\" or the end"},
    {STYLE RULE("not"), ":5:11: expected a condition"},
    {STYLE RULE("((((((((((((((((((((((((((((((((((((((((((pitch > A4"),
     ": expected fewer parentheses inside each other"},
    /* settings */
    {STYLE RULE("pitch > high"),
     ":5:16: expected a setting that is given for every voice, found \"high\", which no [settings] gives"},
    {STYLE RULE("pitch > high") "[settings woman]\nhigh = F4\n",
     ":11:1: expected a value for every voice, found none for a man: high (write [settings man], or [settings]"},
    {STYLE RULE("f1_to_f0 > edge") "[settings]\nedge = -3\n",
     ":11:1: expected edge in st, as line 5 compares it, found \"-3\""},
    {STYLE RULE("f1 < 900 Hz") "aim = f1 >= 900 Hz\n",
     ":4:1: expected the settings that a rule with an aim needs, found no value of f1_ceiling, opening, inward, "
     "sideways"},
    {STYLE RULE("pitch > high") "[settings]\nhigh = 440 Hz\n",
     ":5:16: expected a note name, found the setting \"high\" in Hz (line 11)"},
    {STYLE RULE("pitch > A4") "[settings]\nhigh = F4\n",
     ":11:1: expected a setting that a rule or the shape search uses"},
    {STYLE RULE("pitch > A4") "[settings robot]\n", ":10:11: expected a voice"},
    {STYLE RULE("pitch > high") "[settings]\nhigh = loud\n",
     ":11:8: expected a number with its unit, or a note name, found \"loud\""},
    {STYLE RULE("pitch > high") "[settings]\nhigh = F4 since it is so\n",
     ":11:11: expected \"because\" and a reason, or the end of the value"},
    {STYLE RULE("pitch > A4") "[settings]\nopening = 3 st\n", ":11:1: expected opening in %, found \"3 st\""},
    {STYLE RULE("pitch > A4") "[settings]\nspeaks_at = 2\n",
     ":11:1: expected speaks_at between 0.01 and 1, found \"2\""},
};

static void test_faults_name_line_and_column(void **state)
{
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(faults); i++) {
        g_autoptr(GError) error = NULL;
        aperta_rules *rules = case_load_text(faults[i].text, &error);
        if (rules != NULL)
            fail_msg("case %zu is accepted: %s", i, faults[i].text);
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
        if (strstr(error->message, faults[i].message) == NULL)
            fail_msg("case %zu: \"%s\" lacks \"%s\"", i, error->message, faults[i].message);
    }
}

/* A slip of the pen is told once, where it is, with what was meant: its first message is the one that helps. */
static void test_misspelt_names(void **state)
{
    static const struct {
        const char *text;
        const char *message; /* the first one, behind the file's path */
    } rows[] = {
        {STYLE "[settings]\nf1_ceiling = 1000 Hz\nopning = 25 %\ninward = 10%\nsideways = 3 Bark\n" RULE(
             "f1 < 900 Hz") "aim = f1 >= 900 Hz\n",
         ":6:1: expected a setting that a rule or the shape search uses (f1_ceiling, opening, inward, sideways, "
         "stretch, jaw_last, short_syllable, speaks_at, change_at), found \"opning\"; did you mean \"opening\"?"},
        {STYLE RULE("f1 < 900 Hz") "aim = f1 >= 900 Hz\n" SEARCH "speak_at = 0.6\n",
         ":16:1: expected a setting that a rule or the shape search uses (f1_ceiling, opening, inward, sideways, "
         "stretch, jaw_last, short_syllable, speaks_at, change_at), found \"speak_at\"; did you mean \"speaks_at\"?"},
        {STYLE RULE("pitch >= high") "[settings]\nhihg = F4\n",
         ":11:1: expected a setting that a rule or the shape search uses (f1_ceiling, opening, inward, sideways, "
         "stretch, jaw_last, short_syllable, speaks_at, change_at), found \"hihg\"; did you mean \"high\"?"},
        {STYLE RULE("pitch >= hihg and pitch < high") "[settings]\nhigh = F4\n",
         ":5:17: expected a setting that is given for every voice, found \"hihg\", which no [settings] gives; did you "
         "mean \"high\"?"},
        {STYLE RULE("pitch >= hoch") "[settings]\nhigh = F4\n",
         ":5:17: expected a setting that is given for every voice, found \"hoch\", which no [settings] gives"},
        {STYLE RULE("pitch >= high and pitch > top and pitch < hoch or pitch > hoch") "[settings woman]\nhigh = F4\n"
                                                                                      "top = C5\n[settings man]\n"
                                                                                      "high = C4\ntop = G4\nhoch = A3\n"
                                                                                      "[settings woman]\nhoch = A4\n",
         ":14:1: expected a value for every voice, found none for a child: high, top, hoch (write [settings child], "
         "or [settings] for all)"},
        {STYLE RULE("pitch >= high and f1_to_2f0 < -3") "[settings]\nhigh = F4\n",
         ":5:40: expected the unit st behind \"-3\", found the end of the value"},
        {STYLE RULE("f1_to_f0 < edge or f1_to_2f0 < edge or f1_to_3f0 < edge") "[settings]\nedge = -3 because so\n",
         ":11:1: expected edge in st, as line 5 compares it, found \"-3\""},
        {STYLE RULE("pitch >= high or pitch < high") "[settings womn]\nhigh = F4\n",
         ":10:11: expected a voice (woman, man, child, soprano, mezzo, alto, tenor, baritone, bass) or ']', found "
         "\"womn\""},
        {STYLE "[rule a]\nwhen = pitch > A4\nlevl = watch\nwords = w\nreason = r\nsource = s\n",
         ":6:1: expected one of when, level, aim, unless, words, unsure, brief, remedy, mark, reason, source, found "
         "\"levl\"; "
         "did you mean \"level\"?"},
        {"[stlye]\nname = own\ntitle = t\n" RULE("pitch > A4"),
         ":1:1: expected [style], [settings], [settings VOICE] or [rule NAME], found \"[stlye]\"; did you mean "
         "\"style\"?"},
        {STYLE RULE("durration > 1 s"),
         ":5:8: expected pitch, f0, f1, f2, f3, f1_to_f0, f1_to_2f0 ..., f1_to_spoken, duration, vibrato_rate, "
         "vibrato_extent, vowel, voice, vibrato or shape, found \"durration\"; did you mean \"duration\"?"},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(GError) error = NULL;
        assert_null(case_load_text(rows[i].text, &error));
        const char *message = strstr(error->message, ".rules") + strlen(".rules");
        if (strcmp(message, rows[i].message) != 0)
            fail_msg("case %zu: \"%s\" is not \"%s\"", i, message, rows[i].message);
    }
}

/* One file, several faults: all are told, in order. */
static void test_all_faults_at_once(void **state)
{
    g_autoptr(GError) error = NULL;
    (void)state;
    assert_null(case_load_text("[style]\nname = n\n[rule a]\nwhen = pich > A4\nlevel = loud\nwords = {x}\n", &error));
    static const char *const parts[] = {":1:1:", ":3:1:", ":4:8:", ":5:9:", ":6:9:"};
    const char *at = error->message;
    for (gsize i = 0; i < G_N_ELEMENTS(parts); i++) {
        at = strstr(at, parts[i]);
        assert_non_null(at);
    }
    g_auto(GStrv) lines = g_strsplit(error->message, "\n", -1);
    for (char **line = lines; *line != NULL; line++)
        assert_non_null(strstr(*line, ".rules:"));
}

static void test_too_large(void **state)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *text = g_strnfill(2 * 1024 * 1024, '#');
    (void)state;
    assert_null(case_load_text(text, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
}

static void test_missing_files(void **state)
{
    static const struct {
        const char *name;
        int code;
        const char *words;
    } rows[] = {{"yodel", APERTA_ERROR_NOT_FOUND, "belt, classical, legit"},
                {"/no/such.rules", APERTA_ERROR_NOT_FOUND, "no such file"},
                {"/", APERTA_ERROR_FORMAT, "this is a folder"}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(GError) error = NULL;
        assert_null(aperta_rules_load(rows[i].name, &error));
        assert_true(g_error_matches(error, APERTA_ERROR, rows[i].code));
        assert_non_null(strstr(error->message, rows[i].words));
    }
}

static void test_accepts(void **state)
{
    static const char *const conditions[] = {
        "pitch >= A4",
        "pitch > Bb3 and not pitch > F♯5",
        "f1_to_2f0 < -3.5 st or (f2_to_3f0 > .5 st and f3 <= 2.6e3 Hz)",
        "f1 is bounded or f2 is unknown",
        "vowel in i, ee, ɪ, iː and vowel is r-coloured",
        "voice is tenor and duration > 0.4 s",
        "vibrato is measured and vibrato_rate > 7 Hz and vibrato_extent < 120 cents",
        "not not f1_to_spoken > +2 st",
        "pitch>=A4 and\n   # a remark between\n   f0<500Hz",
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(conditions); i++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *text = g_strconcat(STYLE "[rule a]\r\nwhen = ", conditions[i],
                                            "\nlevel = watch\nwords = w\nreason = r\nsource = s\n", NULL);
        g_autoptr(aperta_rules) rules = case_load_text(text, &error);
        if (rules == NULL)
            fail_msg("\"%s\": %s", conditions[i], error->message);
        assert_string_equal(aperta_rules_style(rules), "own");
        assert_string_equal(aperta_rules_title(rules), "My own");
    }
}

/* A description holds what a teacher needs to judge each rule and setting. */
static void test_describe(void **state)
{
    g_auto(GStrv) names = aperta_rules_names(NULL);
    (void)state;
    assert_int_equal(g_strv_length(names), 3);
    for (char **name = names; *name != NULL; name++) {
        g_autoptr(aperta_rules) rules = case_rules(*name);
        g_autofree char *text = aperta_rules_describe(rules);
        assert_string_equal(aperta_rules_style(rules), *name);
        assert_non_null(strstr(text, aperta_rules_title(rules)));
        assert_non_null(strstr(text, "source "));
        assert_non_null(strstr(text, "f1_ceiling = "));
        assert_null(strstr(text, "no reason given"));
    }
    g_autoptr(aperta_rules) own = case_load_text(STYLE SEARCH RULE("f1 < 900 Hz") "aim = f1 >= 900 Hz\n", NULL);
    g_autofree char *text = aperta_rules_describe(own);
    assert_non_null(strstr(text, "no reason given"));
    assert_non_null(strstr(text, "Rule a: watch\n  when    f1 < 900 Hz\n  aim     f1 >= 900 Hz\n"));
}

/* ---- mutated files ----------------------------------------------------------------------------------------------- */

#define N_MUTATIONS 1500

static void mutate(GRand *random, GString *text)
{
    static const char *const splices[] = {"(", ")", "not ", "[",         "]", "=", "\n", "{",
                                          "}", "-", " st",  "vowel in ", "ɔ", "9", "\t", "#"};
    gsize at = (gsize)g_rand_int_range(random, 0, (gint32)text->len);
    gsize length;

    switch (g_rand_int_range(random, 0, 4)) {
    case 0:
        text->str[at] = (char)g_rand_int_range(random, 0, 256);
        break;
    case 1:
        length = (gsize)g_rand_int_range(random, 1, 40);
        length = MIN(length, text->len - at);
        g_string_erase(text, (gssize)at, (gssize)length);
        break;
    case 2:
        g_string_insert(text, (gssize)at, splices[g_rand_int_range(random, 0, G_N_ELEMENTS(splices))]);
        break;
    default: {
        g_autofree char *piece = g_strndup(text->str + at, 60);
        g_string_insert(text, (gssize)g_rand_int_range(random, 0, (gint32)text->len), piece);
        break;
    }
    }
}

/* Whatever the file: rules that can be used, or a message with a place. */
static void check_mutated(const GString *text, const aperta_vowel_table *table)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = case_write(text->str, (gssize)text->len);
    g_autoptr(aperta_rules) rules = aperta_rules_load(path, &error);

    g_unlink(path);
    if (rules == NULL) {
        g_autofree char *prefix = g_strconcat(path, ":", NULL);
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
        assert_true(g_str_has_prefix(error->message, prefix));
        assert_true(g_ascii_isdigit(error->message[strlen(prefix)]));
        return;
    }
    aperta_situation note = case_note(table, APERTA_VOICE_WOMAN, "i", "C5");
    GPtrArray *explanations = NULL;
    g_autoptr(GPtrArray) findings = aperta_advise(rules, table, &note, &explanations);
    g_autofree char *text_of = aperta_rules_describe(rules);
    assert_non_null(findings);
    assert_non_null(text_of);
    g_ptr_array_unref(explanations);
}

static void test_mutated_files(void **state)
{
    const char *given = g_getenv("APERTA_TEST_SEED");
    guint32 seed = given != NULL ? (guint32)g_ascii_strtoull(given, NULL, 10) : g_random_int();
    GRand *random = g_rand_new_with_seed(seed);
    g_autofree char *path = g_build_filename(aperta_refdata_dir(), "rules", "belt.rules", NULL);
    g_autofree char *good = NULL;
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    (void)state;
    print_message("repeat with APERTA_TEST_SEED=%u\n", seed);
    assert_true(g_file_get_contents(path, &good, NULL, NULL));
    for (int i = 0; i < N_MUTATIONS; i++) {
        GString *text = g_string_new(good);
        for (int n = g_rand_int_range(random, 1, 6); n > 0 && text->len > 0; n--)
            mutate(random, text);
        check_mutated(text, table);
        g_string_free(text, TRUE);
    }
    g_rand_free(random);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_faults_name_line_and_column),
        cmocka_unit_test(test_misspelt_names),
        cmocka_unit_test(test_all_faults_at_once),
        cmocka_unit_test(test_too_large),
        cmocka_unit_test(test_missing_files),
        cmocka_unit_test(test_accepts),
        cmocka_unit_test(test_describe),
        cmocka_unit_test(test_mutated_files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
