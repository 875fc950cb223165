/* complete.c - values to expect for vowels that a table has not: y, ø, a and others beside an English table.
 *
 * The cardinal vowels of Catford 1988 are one man's. For women and children they are scaled as a whole by the ratio of
 * tract lengths that the means of Hillenbrand et al. 1995 tell (VOWEL_SCALES); a uniform tube's resonances go with 1 /
 * length. Central vowels lie in the middle, on a log scale, between their neighbours of the chart of the International
 * Phonetic Association; ə and ɜ are the neutral tube's, (2n - 1) c / 4 L (Fant 1960) for a man's tract of 17.5 cm.
 */
#include "vowel/vowel-tuning.h"

#include <aperta/vowel.h>

#include <math.h>
#include <string.h>

#define CARDINAL_TABLE "catford1988-cardinal"

/* Vowels between two cardinal ones. */
static const struct {
    const char *ipa;
    const char *between[2];
} middles[] = {
    {"a", {"a", "ɑ"}}, /* "cara": the central one, as our vowel a is */
    {"ʏ", {"y", "ø"}}, {"ɪ", {"i", "e"}}, {"ʊ", {"u", "o"}}, {"ɨ", {"i", "ɯ"}}, {"ʉ", {"y", "u"}}, {"æ", {"a", "ɛ"}},
};

static const char *const neutral[] = {"ə", "ɜ"};

static double scale_of(aperta_voice voice)
{
    static const double scales[] = {VOWEL_SCALES};

    switch (aperta_voice_group(voice)) {
    case APERTA_VOICE_WOMAN:
        return scales[1];
    case APERTA_VOICE_CHILD:
        return scales[2];
    default:
        return scales[0];
    }
}

static void add_row(GArray *rows, const char *ipa, double f1_hz, double f2_hz)
{
    static const double shares[] = {VOWEL_EXPECTED_SPREADS};
    aperta_vowel_row row = {.vowel = aperta_vowel_by_ipa(ipa), .expected = TRUE};

    for (guint i = 0; i < rows->len; i++)
        if (g_array_index(rows, aperta_vowel_row, i).vowel == row.vowel)
            return;
    row.has[0] = row.has[1] = TRUE;
    row.hz[0] = f1_hz;
    row.hz[1] = f2_hz;
    for (int i = 0; i < 2; i++)
        row.sd_hz[i] = shares[i] * row.hz[i];
    g_array_append_val(rows, row);
}

static void add_middles(GArray *rows, const aperta_vowel_table *cardinal, double scale)
{
    for (gsize i = 0; i < G_N_ELEMENTS(middles); i++) {
        const aperta_vowel_row *a = aperta_vowel_table_row(cardinal, aperta_vowel_by_ipa(middles[i].between[0]));
        const aperta_vowel_row *b = aperta_vowel_table_row(cardinal, aperta_vowel_by_ipa(middles[i].between[1]));
        if (a != NULL && b != NULL)
            add_row(rows, middles[i].ipa, scale * sqrt(a->hz[0] * b->hz[0]), scale * sqrt(a->hz[1] * b->hz[1]));
    }
}

/* The cardinal vowels and what lies between them, for a voice, as a table. */
static aperta_vowel_table *cardinals_for(aperta_voice voice, GError **error)
{
    g_autoptr(aperta_vowel_table) cardinal = aperta_vowel_table_load(CARDINAL_TABLE, error);
    if (cardinal == NULL)
        return NULL;
    double scale = scale_of(voice);
    GArray *rows = g_array_new(FALSE, TRUE, sizeof(aperta_vowel_row));

    add_middles(rows, cardinal, scale);
    for (gsize i = 0; i < G_N_ELEMENTS(neutral); i++)
        add_row(rows, neutral[i], scale * VOWEL_NEUTRAL_F1_HZ, scale * 3.0 * VOWEL_NEUTRAL_F1_HZ);
    for (guint i = 0; i < cardinal->n_rows; i++)
        add_row(rows, cardinal->rows[i].vowel->ipa, scale * cardinal->rows[i].hz[0], scale * cardinal->rows[i].hz[1]);
    g_free(cardinal->rows);
    cardinal->n_rows = rows->len;
    cardinal->rows = (aperta_vowel_row *)(gpointer)g_array_free(rows, FALSE);
    return g_steal_pointer(&cardinal);
}

static void put_row(GArray *rows, const aperta_vowel_row *row)
{
    for (guint i = 0; i < rows->len; i++) {
        if (g_array_index(rows, aperta_vowel_row, i).vowel == row->vowel) {
            g_array_index(rows, aperta_vowel_row, i) = *row;
            return;
        }
    }
    g_array_append_vals(rows, row, 1);
}

aperta_vowel_table *aperta_vowel_table_with(const aperta_vowel_table *table, const aperta_vowel_row *rows, guint n_rows)
{
    aperta_vowel_table *joined = g_memdup2(table, sizeof *table);
    GArray *all = g_array_new(FALSE, TRUE, sizeof(aperta_vowel_row));

    joined->name = g_strdup(table->name);
    joined->title = g_strdup(table->title);
    joined->source = g_strdup(table->source);
    joined->status = g_strdup(table->status);
    g_array_append_vals(all, table->rows, table->n_rows);
    for (guint i = 0; i < n_rows; i++)
        put_row(all, &rows[i]);
    joined->n_rows = all->len;
    joined->rows = (aperta_vowel_row *)(gpointer)g_array_free(all, FALSE);
    return joined;
}

aperta_vowel_table *aperta_vowel_table_complete(const aperta_vowel_table *table, GError **error)
{
    g_autoptr(aperta_vowel_table) cardinal = cardinals_for(table->voice, error);
    if (cardinal == NULL)
        return NULL;
    g_autoptr(GArray) rows = g_array_new(FALSE, FALSE, sizeof(aperta_vowel_row));

    for (guint i = 0; i < cardinal->n_rows; i++) {
        const aperta_vowel *vowel = cardinal->rows[i].vowel;
        aperta_vowel_row row;
        if (aperta_vowel_table_row(table, vowel) == NULL && aperta_vowel_table_borrow(table, cardinal, vowel, &row))
            g_array_append_val(rows, row);
    }
    return aperta_vowel_table_with(table, (const aperta_vowel_row *)(gpointer)rows->data, rows->len);
}
