/* test-condition.c - the probability that a condition holds. */
#include "advice-case.h"

#include "advice/advice-private.h"

typedef struct {
    aperta_vowel_table *table;
    aperta_rules rules; /* empty: no settings */
} fixture;

static int set_up(void **state)
{
    fixture *it = g_new0(fixture, 1);

    it->table = case_table("hillenbrand1995-women");
    it->rules.settings = g_ptr_array_new();
    *state = it;
    return 0;
}

static int tear_down(void **state)
{
    fixture *it = *state;

    aperta_vowel_table_free(it->table);
    g_ptr_array_unref(it->rules.settings);
    g_free(it);
    return 0;
}

/* Reads a condition through a section of a file, as rules do. */
static advice_node *parse(const char *condition)
{
    g_autofree char *text = g_strconcat("[rule a]\nwhen = ", condition, "\n", NULL);
    advice_problems problems;

    advice_problems_init(&problems, "test");
    g_autoptr(GPtrArray) sections = advice_sections_read(text, &problems);
    const advice_section *section = advice_section_at(sections, 0);
    const advice_entry *entry = advice_entry_at(section->entries, 0);
    advice_node *node = advice_condition_parse(&entry->value, &problems);
    if (node == NULL) {
        g_autofree char *list = advice_problems_text(&problems);
        fail_msg("%s", list);
    }
    advice_problems_clear(&problems);
    return node;
}

static advice_chance chance(const fixture *it, const char *condition, const aperta_situation *note)
{
    advice_case which = {.rules = &it->rules, .table = it->table, .situation = note, .voice = note->voice};
    advice_node *node = parse(condition);
    advice_chance result = advice_evaluate(node, &which);

    advice_node_free(node);
    return result;
}

/* An "ah" on A4 whose F1 is 900 Hz and F2 1500 Hz, each with a standard deviation of 10 % (log): the 90 % interval is
 * +-1.6449 of them. */
static aperta_situation uncertain(const fixture *it)
{
    aperta_situation note = case_note(it->table, APERTA_VOICE_SOPRANO, "ɑ", "A4");
    double share = exp(0.1 * 1.6449) - 1.0;

    note.resonances[0] = case_measured(900.0, share);
    note.resonances[1] = case_measured(1500.0, share);
    return note;
}

static void test_exact(void **state)
{
    static const struct {
        const char *condition;
        double holds;
    } rows[] = {
        {"pitch >= A4", 1},
        {"pitch > A4", 0},
        {"pitch < Bb4 and f0 <= 440.0001 Hz", 1},
        {"duration > 0.5 s and not duration > 0.7 s", 1},
        {"voice is woman", 1},
        {"voice is soprano", 1},
        {"voice is alto", 0},
        {"voice is man", 0},
        {"vowel is open and vowel is back", 1},
        {"vowel is rounded or vowel is r-coloured", 0},
        {"vowel in i, ah", 1},
        {"vowel is known and not vowel is unknown", 1},
        {"f1 is measured", 1},
        {"f1 is bounded or f1 is unknown", 0},
        {"vibrato is too_short", 1},
        {"f1 >= 900 Hz", 1},
        {"f1 > 900 Hz", 0},
        {"f1 <= 900 Hz and f1_to_2f0 > 0.3 st and f1_to_2f0 < 0.4 st", 1},
        {"f1 > 100 Hz and (f1 < 50 Hz or f1 < 950 Hz)", 1},
        {"f1_to_spoken < 0 st", 1},
    };
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    note.resonances[0] = case_measured(900.0, 0.0);
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        advice_chance result = chance(it, rows[i].condition, &note);
        if (result.holds != rows[i].holds || result.unknown != 0.0)
            fail_msg("\"%s\" is %g", rows[i].condition, result.holds);
    }
}

/* Areas under the normal curve, from any printed table: 0.1587 beyond one standard deviation, 0.6827 within one, 0.0228
 * beyond two. */
static void test_measured(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    const char *below = "f1 < 814.35 Hz"; /* 900 exp(-0.1) */
    expect_near(chance(it, below, &note).holds, 0.1587, 2e-4);
    expect_near(chance(it, "f1 >= 814.35 Hz", &note).holds, 1.0 - 0.1587, 2e-4);
    expect_near(chance(it, "f1 > 814.35 Hz and f1 < 994.65 Hz", &note).holds, 0.6827, 2e-4);
    expect_near(chance(it, "f1 < 814.35 Hz or f1 > 994.65 Hz", &note).holds, 1.0 - 0.6827, 2e-4);
    expect_near(chance(it, "not (f1 < 814.35 Hz or f1 > 994.65 Hz)", &note).holds, 0.6827, 2e-4);
    expect_near(chance(it, "f1 < 814.35 Hz and f1 > 994.65 Hz", &note).holds, 0.0, 1e-12);
    expect_near(chance(it, "f1 < 736.86 Hz", &note).holds, 0.0228, 2e-4);
    /* F1 and F2 are independent; a logical combination of one resonance with itself is not multiplied */
    expect_near(chance(it, "f1 > 900 Hz and f2 > 1500 Hz", &note).holds, 0.25, 1e-6);
    expect_near(chance(it, "f1 > 900 Hz or f2 > 1500 Hz", &note).holds, 0.75, 1e-6);
    expect_near(chance(it, "f1 > 900 Hz and f1_to_f0 > 0 st and f1 > 899.9 Hz", &note).holds, 0.5, 1e-3);
    /* 2f0 = 880 Hz: -1.7312 st (one standard deviation) below ln 900 stands -1.3421 st from it */
    expect_near(chance(it, "f1_to_2f0 < -1.342 st", &note).holds, 0.1587, 5e-4);
}

static void test_alternatives_take_their_weight(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    note.resonances[0].n_alternatives = 1;
    note.resonances[0].alternatives[0] = (aperta_alternative){450.0, 0.3};
    note.resonances[0].low_hz = 430.0;
    note.resonances[0].high_hz = 1000.0;
    /* the interval's ends hold by the data contract; half of the main value's 0.7 lies below it, and the other's 0.3 */
    expect_near(chance(it, "f1 < 430 Hz", &note).holds, 0.05, 1e-4);
    expect_near(chance(it, "f1 < 900 Hz", &note).holds, 0.65, 1e-4);
    expect_near(chance(it, "f1 < 1000 Hz", &note).holds, 0.95, 1e-4);
    note.resonances[0].alternatives[0].hz = 950.0;
    expect_near(chance(it, "f1 < 900 Hz", &note).holds, 0.35, 1e-4);
}

/* A lopsided interval: each side has its own spread. 0.8413 lies below one standard deviation. */
static void test_lopsided(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    note.resonances[0].low_hz = 900.0 * exp(-3.0 * 0.16449);
    note.resonances[0].high_hz = 900.0 * exp(0.16449);
    expect_near(chance(it, "f1 < 900 Hz", &note).holds, 0.5, 1e-6);
    expect_near(chance(it, "f1 < 994.65 Hz", &note).holds, 0.8413, 2e-4);
    expect_near(chance(it, "f1 < 666.74 Hz", &note).holds, 0.1587, 2e-4);
}

static void test_bounded(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    note.resonances[0] = case_below(500.0);
    expect_near(chance(it, "f1 < 500 Hz", &note).holds, 0.95, 1e-9); /* the contract: a one-sided 95 % limit */
    assert_true(chance(it, "f1 < 700 Hz", &note).holds > 0.95);
    assert_true(chance(it, "f1 < 400 Hz", &note).holds < 0.95);
    expect_near(chance(it, "f1 < 1500 Hz", &note).holds, 1.0, 1e-9);
    expect_near(chance(it, "f1 < 400 Hz or f1 >= 400 Hz", &note).holds, 1.0, 1e-9);
    note.resonances[0] = (aperta_resonance){.status = APERTA_BOUNDED, .has_low = TRUE, .low_hz = 500.0};
    expect_near(chance(it, "f1 > 500 Hz", &note).holds, 0.95, 1e-9);
    assert_true(chance(it, "f1 > 400 Hz", &note).holds > 0.95);
}

/* Where the whole posterior is given, it tells where below its limit F1 lies. 0.8413 of a normal distribution lies
 * below one standard deviation. */
static void test_bounded_by_posterior(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    aperta_posterior posterior = {.n_modes = 1,
                                  .modes = {{.weight = 1.0, .ln_hz = {log(400.0), log(1500.0), log(2800.0)}}}};
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        posterior.modes[0].covariance[i][i] = 0.01;
    note.resonances[0] = case_below(500.0);
    note.posterior = &posterior;
    expect_near(chance(it, "f1 < 400 Hz", &note).holds, 0.5, 1e-6);
    expect_near(chance(it, "f1 < 442.07 Hz", &note).holds, 0.8413, 2e-4); /* 400 exp(0.1) */
    note.resonances[0] = case_measured(900.0, 0.0);                       /* a measured one has its interval */
    expect_near(chance(it, "f1 < 400 Hz", &note).holds, 0.0, 1e-9);
}

static void test_unknown(void **state)
{
    static const struct {
        const char *condition;
        double holds, unknown;
    } rows[] = {
        {"f3 > 900 Hz", 0, 1},
        {"not f3 > 900 Hz", 0, 1},
        {"f3 > 900 Hz and pitch > C6", 0, 0},
        {"f3 > 900 Hz and pitch > C2", 0, 1},
        {"f3 > 900 Hz or pitch > C2", 1, 0},
        {"f3 > 900 Hz or pitch > C6", 0, 1},
        {"f3 is unknown", 1, 0},
        {"vowel is close", 0, 1},
        {"not vowel in i, u", 0, 1},
        {"vowel is unknown", 1, 0},
        {"f1_to_spoken > 1 st", 0, 1},
        {"vibrato_rate > 5 Hz", 0, 1},
        {"shape is found", 0, 1},
    };
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    note.vowel = NULL;
    note.resonances[2].status = APERTA_UNKNOWN;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        advice_chance result = chance(it, rows[i].condition, &note);
        if (fabs(result.holds - rows[i].holds) > 1e-9 || fabs(result.unknown - rows[i].unknown) > 1e-9)
            fail_msg("\"%s\": holds %g, unknown %g", rows[i].condition, result.holds, result.unknown);
    }
}

/* Direct and slow: draw F1 and F2 from their distributions and count. */
static void test_against_drawing(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    const int n = 200000;
    guint32 seed = 20240611;
    GRand *random = g_rand_new_with_seed(seed);
    int count = 0;

    for (int i = 0; i < n; i++) {
        double radius = sqrt(-2.0 * log(1.0 - g_rand_double(random)));
        double angle = 2.0 * G_PI * g_rand_double(random);
        double f1_hz = 900.0 * exp(0.1 * radius * cos(angle));
        double f2_hz = 1500.0 * exp(0.1 * radius * sin(angle));
        double st = aperta_semitones_between(880.0, f1_hz);
        count += (st > -1.0 && st < 2.0 && !(f2_hz > 1600.0)) || f1_hz > 1050.0 || (f2_hz < 1300.0 && f1_hz < 880.0);
    }
    g_rand_free(random);
    double holds = chance(it,
                          "(f1_to_2f0 > -1 st and f1_to_2f0 < 2 st and not f2 > 1600 Hz) or f1 > 1050 Hz or "
                          "(f2 < 1300 Hz and f1 < 880 Hz)",
                          &note)
                       .holds;
    expect_near(holds, (double)count / n, 4.0 * 0.5 / sqrt(n)); /* four standard errors at most */
}

/* More is never less probable: P(f1 < x) rises with x, whatever is known. */
static void test_monotone(void **state)
{
    const fixture *it = *state;
    aperta_situation note = uncertain(it);
    aperta_resonance kinds[] = {note.resonances[0],
                                case_below(600.0),
                                case_measured(700.0, 0.0),
                                {.status = APERTA_BOUNDED, .has_low = TRUE, .low_hz = 600.0}};
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        double before = 0.0;
        note.resonances[0] = kinds[i];
        for (int hz = 100; hz < 3000; hz += 25) {
            g_autofree char *condition = g_strdup_printf("f1 < %d Hz", hz);
            double holds = chance(it, condition, &note).holds;
            assert_true(holds >= before - 1e-12 && holds <= 1.0 + 1e-12);
            before = holds;
        }
        expect_near(before, 1.0, 1e-9);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_exact),
        cmocka_unit_test(test_measured),
        cmocka_unit_test(test_alternatives_take_their_weight),
        cmocka_unit_test(test_lopsided),
        cmocka_unit_test(test_bounded),
        cmocka_unit_test(test_bounded_by_posterior),
        cmocka_unit_test(test_unknown),
        cmocka_unit_test(test_against_drawing),
        cmocka_unit_test(test_monotone),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
