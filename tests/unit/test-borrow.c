/* test-borrow.c - vowels that a table lacks, from another table or from cardinal vowels. */
#include "table-case.h"

#include <aperta/vowel.h>
#include <math.h>
#include <string.h>

/* ---- values to expect -------------------------------------------------------------------------------------------- */

static double geometric_ratio(const aperta_vowel_table *to, const aperta_vowel_table *from)
{
    double sum = 0.0;

    for (guint i = 0; i < from->n_rows; i++) {
        const aperta_vowel_row *row = aperta_vowel_table_row(to, from->rows[i].vowel);
        for (int k = 0; k < 2; k++)
            sum += log(row->hz[k] / from->rows[i].hz[k]);
    }
    return exp(sum / (2 * from->n_rows));
}

/* With no vowel to go by, the scale is the voice's. Expected ratio: means of Hillenbrand et al. 1995, which are
 * shipped.
 */
static void test_scale_of_expected_rows(void **state)
{
    static const char *const names[] = {"hillenbrand1995-women", "hillenbrand1995-children"};
    g_autoptr(aperta_vowel_table) men = case_table("hillenbrand1995-men");
    g_autoptr(aperta_vowel_table) cardinal = case_table("catford1988-cardinal");
    const aperta_vowel *y = aperta_vowel_by_ipa("y");

    (void)state;
    assert_null(aperta_vowel_table_row(men, y));
    for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autoptr(aperta_vowel_table) table = case_table(names[i]);
        aperta_vowel_table empty = *table;
        empty.n_rows = 0;
        g_autoptr(aperta_vowel_table) complete = aperta_vowel_table_complete(&empty, NULL);
        const aperta_vowel_row *row = aperta_vowel_table_row(complete, y);
        const aperta_vowel_row *of_one_man = aperta_vowel_table_row(cardinal, y);
        assert_true(row->expected && !row->open_target && !row->sd_published && !row->has[2]);
        for (int k = 0; k < 2; k++)
            expect_ratio(row->hz[k], of_one_man->hz[k] * geometric_ratio(table, men), 0.001);
        expect_ratio(aperta_vowel_table_row(complete, aperta_vowel_by_ipa("ə"))->hz[1],
                     geometric_ratio(table, men) * 1500.0, 0.001);
    }
}

/* What a table has is kept; what it lacks is near to what French women say, Calliope 1989 (from memory, unchecked),
 * brought to the table's scale: F1 within the spread given. */
static void test_expected_rows(void **state)
{
    static const char *const french[] = {"a", "y", "ø", "œ"};
    g_autoptr(aperta_vowel_table) table = case_table("hillenbrand1995-women");
    g_autoptr(aperta_vowel_table) calliope = case_table("calliope1989-women");
    g_autoptr(aperta_vowel_table) complete = aperta_vowel_table_complete(table, NULL);

    (void)state;
    for (guint i = 0; i < table->n_rows; i++)
        assert_memory_equal(&complete->rows[i], &table->rows[i], sizeof *table->rows);
    for (gsize i = 0; i < G_N_ELEMENTS(french); i++) {
        const aperta_vowel *vowel = aperta_vowel_by_ipa(french[i]);
        const aperta_vowel_row *row = aperta_vowel_table_row(complete, vowel);
        aperta_vowel_row borrowed;
        assert_true(aperta_vowel_table_borrow(table, calliope, vowel, &borrowed));
        expect_near(row->hz[0], borrowed.hz[0], row->sd_hz[0]);
    }
    for (guint i = 0; i < complete->n_rows; i++)
        assert_true(complete->rows[i].hz[0] < complete->rows[i].hz[1]);
}

/* ---- borrowed vowels --------------------------------------------------------------------------------------------- */

/* A copy without one vowel, each resonance as factor * Hz ^ power. */
static aperta_vowel_table *rescaled(const aperta_vowel_table *table, const char *without, const double *factor,
                                    const double *power)
{
    aperta_vowel_table *copy = aperta_vowel_table_with(table, NULL, 0);
    guint n = 0;

    for (guint i = 0; i < table->n_rows; i++) {
        if (without != NULL && strcmp(table->rows[i].vowel->ipa, without) == 0)
            continue;
        copy->rows[n] = table->rows[i];
        for (int k = 0; k < APERTA_N_RESONANCES; k++)
            copy->rows[n].hz[k] = factor[k] * pow(table->rows[i].hz[k], power[k]);
        n++;
    }
    copy->n_rows = n;
    return copy;
}

/* Two tables that differ by a scale alone are one: every vowel comes back to its own place. */
static void test_borrowing_undoes_a_scale(void **state)
{
    static const double as_is[] = {1.0, 1.0, 1.0}, factor[] = {3.7, 0.25, 1.1}, power[] = {0.8, 1.2, 1.0};
    g_autoptr(aperta_vowel_table) whole = case_table("peterson-barney1952-women");
    g_autoptr(aperta_vowel_table) other = rescaled(whole, NULL, factor, power);

    (void)state;
    for (guint i = 0; i < whole->n_rows; i++) {
        const aperta_vowel *vowel = whole->rows[i].vowel;
        g_autoptr(aperta_vowel_table) table = rescaled(whole, vowel->ipa, as_is, as_is);
        aperta_vowel_row row;
        assert_null(aperta_vowel_table_row(table, vowel));
        assert_true(aperta_vowel_table_borrow(table, other, vowel, &row));
        assert_true(row.expected && !row.sd_published);
        for (int k = 0; k < APERTA_N_RESONANCES; k++)
            expect_ratio(row.hz[k], whole->rows[i].hz[k], 1e-9);
    }
}

/* Vowels that differ by the lips have one F1 in one table (Calliope 1989, from memory: y and i by 0.3 %, œ and ɛ by 2
 * %, ø and e by 13 %), and keep that, on whatever scale, as far as its width goes. */
static void test_lips_do_not_change_the_height(void **state)
{
    static const char *const names[] = {"hillenbrand1995-women", "hillenbrand1995-men", "hillenbrand1995-children",
                                        "escudero2009-brazil-women", "escudero2009-portugal-men"};
    static const char *const pairs[][2] = {{"y", "i"}, {"ø", "e"}, {"œ", "ɛ"}};
    g_autoptr(aperta_vowel_table) calliope = case_table("calliope1989-women");

    (void)state;
    for (gsize t = 0; t < G_N_ELEMENTS(names); t++) {
        g_autoptr(aperta_vowel_table) table = case_table(names[t]);
        for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++) {
            const aperta_vowel *rounded = aperta_vowel_by_ipa(pairs[i][0]), *spread = aperta_vowel_by_ipa(pairs[i][1]);
            const aperta_vowel_row *lent = aperta_vowel_table_row(calliope, rounded);
            const aperta_vowel_row *beside = aperta_vowel_table_row(table, spread);
            double apart = log(lent->hz[0] / aperta_vowel_table_row(calliope, spread)->hz[0]);
            aperta_vowel_row row;
            assert_true(aperta_vowel_table_borrow(table, calliope, rounded, &row));
            expect_near(log(row.hz[0] / beside->hz[0]), apart, 0.5 * fabs(apart));
            assert_true(row.hz[1] < beside->hz[1]); /* round lips lower F2 (Fant 1960) */
            for (int k = 0; k < 2; k++)
                assert_true(row.sd_hz[k] / row.hz[k] > lent->sd_hz[k] / lent->hz[k]);
        }
    }
}

static void test_borrowing_without_a_common_vowel(void **state)
{
    g_autoptr(aperta_vowel_table) table = case_table("sung-soprano");
    g_autoptr(aperta_vowel_table) calliope = case_table("calliope1989-women");
    const aperta_vowel *y = aperta_vowel_by_ipa("y");
    aperta_vowel_row row;

    (void)state;
    table->n_rows = 0;
    assert_true(aperta_vowel_table_borrow(table, calliope, y, &row));
    expect_ratio(row.hz[0], 305.0, 1e-9);
    assert_false(aperta_vowel_table_borrow(table, calliope, aperta_vowel_by_ipa("ɪ"), &row));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_scale_of_expected_rows),           cmocka_unit_test(test_expected_rows),
        cmocka_unit_test(test_borrowing_undoes_a_scale),         cmocka_unit_test(test_lips_do_not_change_the_height),
        cmocka_unit_test(test_borrowing_without_a_common_vowel),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
