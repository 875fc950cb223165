/* sheet-expect.c - where a vowel's resonances are expected.
 *
 * F1 and F2 come from the sheet's table, one for all languages: a singer does not change with the words. A vowel that
 * it lacks (English tables have no y) is borrowed from another table and brought to the scale of this one
 * (aperta_vowel_table_borrow), as is one that it has only as a region speaks it (the raised æ of Hillenbrand's), unless
 * the table was asked for by name. Tables of the same voice lend first, among them whole vowel systems and the better
 * known figures; last the cardinal vowels of one man. Where even they have none, it is not judged.
 *
 * Shapes are looked for among the table's vowels and the stations of the way up that it lacks: "eh" and "aw" for a
 * table of five vowels, and for a front rounded vowel ø and œ, since a German singer would else be sent to an unrounded
 * vowel though a rounded one is near. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <math.h>
#include <string.h>

#define Z_90 1.6449 /* a normal distribution holds 90 % within +- this many standard deviations */

struct sheet_expect {
    aperta_sheet *sheet;
    gboolean named;      /* the table was asked for: all its vowels count */
    GPtrArray *others;   /* aperta_vowel_table, in the order they are asked; NULL: not loaded yet */
    GHashTable *grounds; /* aperta_expectation -> aperta_vowel_table where its shapes are looked for */
};

sheet_expect *sheet_expect_new(aperta_sheet *sheet, gboolean named)
{
    sheet_expect *from = g_new0(sheet_expect, 1);

    from->sheet = sheet;
    from->named = named;
    from->grounds = g_hash_table_new_full(NULL, NULL, NULL, (GDestroyNotify)aperta_vowel_table_free);
    return from;
}

void sheet_expect_free(sheet_expect *from)
{
    if (from == NULL)
        return;
    if (from->others != NULL)
        g_ptr_array_unref(from->others);
    g_hash_table_unref(from->grounds);
    g_free(from);
}

static int trust(const aperta_vowel_table *table)
{
    return table->figures == APERTA_FIGURES_FROM_SOURCE ? 0 : table->figures == APERTA_FIGURES_SECONDARY ? 1 : 2;
}

/* The same voice first; else women, who stand between men and children. */
static int strangeness_of_voice(const aperta_vowel_table *table, aperta_voice own)
{
    aperta_voice voice = aperta_voice_group(table->voice);

    return voice == aperta_voice_group(own) ? 0 : voice == APERTA_VOICE_WOMAN ? 1 : voice == APERTA_VOICE_MAN ? 2 : 3;
}

static int shared_vowels(const aperta_vowel_table *a, const aperta_vowel_table *b)
{
    int n = 0;

    for (guint i = 0; i < a->n_rows; i++)
        n += aperta_vowel_table_row(b, a->rows[i].vowel) != NULL;
    return n;
}

/* Tables of whole vowel systems come first: one of a few vowels (of running speech, say) may hold reduced ones. Then
 * those of a system like the own one: the "aw" of a language that has no bright "ah" is opener than that "ah". */
static gint by_trust(gconstpointer a, gconstpointer b, gpointer data)
{
    const aperta_vowel_table *first = *(aperta_vowel_table *const *)a;
    const aperta_vowel_table *second = *(aperta_vowel_table *const *)b;
    const aperta_vowel_table *own = data;
    int stranger = strangeness_of_voice(first, own->voice) - strangeness_of_voice(second, own->voice);
    gboolean first_whole = first->n_rows >= RESULT_WHOLE_SYSTEM, second_whole = second->n_rows >= RESULT_WHOLE_SYSTEM;
    int first_shared = shared_vowels(first, own), second_shared = shared_vowels(second, own);

    if (stranger != 0)
        return stranger;
    if (first_whole != second_whole)
        return first_whole ? -1 : 1;
    if (first_shared != second_shared)
        return second_shared - first_shared;
    return trust(first) != trust(second) ? trust(first) - trust(second) : strcmp(first->name, second->name);
}

/* Other measured tables: neither aims of synthesis nor one man's cardinal vowels. What cannot be loaded is left out. */
static void load_others(sheet_expect *from)
{
    aperta_vowel_table *own = from->sheet->settings.table;
    g_auto(GStrv) names = aperta_vowel_table_names(NULL);

    from->others = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_vowel_table_free);
    for (char **name = names; name != NULL && *name != NULL; name++) {
        if (strcmp(*name, own->name) == 0 || strcmp(*name, RESULT_CARDINAL_TABLE) == 0)
            continue;
        g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(*name, NULL);
        if (table != NULL && !table->sung)
            g_ptr_array_add(from->others, g_steal_pointer(&table));
    }
    g_ptr_array_sort_with_data(from->others, by_trust, own);
}

static void expect_row(aperta_expectation *expected, const aperta_vowel_row *row)
{
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        if (!row->has[i])
            continue;
        double spread = row->sd_hz[i] / row->hz[i];
        expected->sd_hz[i] = row->sd_hz[i];
        expected->resonances[i] = (aperta_resonance){.status = APERTA_MEASURED,
                                                     .hz = row->hz[i],
                                                     .has_low = TRUE,
                                                     .has_high = TRUE,
                                                     .low_hz = row->hz[i] * exp(-Z_90 * spread),
                                                     .high_hz = row->hz[i] * exp(Z_90 * spread)};
    }
    expected->known = TRUE;
}

static const aperta_vowel_row *usable_row(const aperta_vowel_table *table, const aperta_vowel *vowel)
{
    const aperta_vowel_row *row = aperta_vowel_table_row(table, vowel);

    return row != NULL && row->has[0] && row->has[1] ? row : NULL;
}

/* The row that the first table which has the vowel lends; NULL: none has it as stages know it. */
static const aperta_vowel_table *borrow(sheet_expect *from, const aperta_vowel *vowel, aperta_vowel_row *row)
{
    if (from->others == NULL)
        load_others(from);
    for (guint i = 0; i < from->others->len; i++) {
        const aperta_vowel_table *other = g_ptr_array_index(from->others, i);
        const aperta_vowel_row *its = usable_row(other, vowel);
        if (its != NULL && its->open_target &&
            aperta_vowel_table_borrow(from->sheet->settings.table, other, vowel, row))
            return other;
    }
    return NULL;
}

static void name_lender(aperta_expectation *expected, const aperta_vowel_table *lender, aperta_voice own)
{
    expected->lent = APERTA_LENT_TABLE;
    expected->lender = g_strdup(lender->name);
    if (strangeness_of_voice(lender, own) > 0)
        expected->lender_voice = aperta_voice_group(lender->voice);
    if (trust(lender) > 1)
        expected->lender_status = g_strdup(lender->status);
}

static gboolean borrow_cardinal(const sheet_expect *from, const aperta_vowel *vowel, aperta_vowel_row *row)
{
    g_autoptr(aperta_vowel_table) complete = aperta_vowel_table_complete(from->sheet->settings.table, NULL);
    const aperta_vowel_row *its = complete != NULL ? usable_row(complete, vowel) : NULL;

    if (its != NULL)
        *row = *its;
    return its != NULL;
}

/* The table's own value; a regional one only where the table was asked for, or no other knows better. borrowed: it is
 * not the table's own. */
static void fill(sheet_expect *from, aperta_expectation *expected, aperta_vowel_row *row, gboolean *borrowed)
{
    const aperta_vowel_row *own = usable_row(from->sheet->settings.table, expected->vowel);
    const aperta_vowel_table *lender = NULL;

    *borrowed = FALSE;
    if ((own == NULL || !(own->open_target || from->named)) && (lender = borrow(from, expected->vowel, row)) != NULL) {
        expected->regional = own != NULL;
        name_lender(expected, lender, from->sheet->settings.table->voice);
        *borrowed = TRUE;
    } else if (own != NULL) {
        *row = *own;
    } else if (borrow_cardinal(from, expected->vowel, row)) {
        expected->lent = APERTA_LENT_CARDINAL;
        *borrowed = TRUE;
    } else {
        return;
    }
    expect_row(expected, row);
}

/* The sheet's table with the borrowed vowel itself, and with what it lacks of the vowels that others open towards. */
static aperta_vowel_table *ground_for(sheet_expect *from, const aperta_vowel *vowel, const aperta_vowel_row *borrowed)
{
    static const char *const stations[] = {"ɛ", "ɔ", "ø", "œ"};
    gboolean is_ue = vowel->rounded && vowel->place == APERTA_PLACE_FRONT;
    aperta_vowel_row rows[G_N_ELEMENTS(stations) + 1];
    guint n = 0;

    for (gsize i = 0; i < G_N_ELEMENTS(stations); i++) {
        const aperta_vowel *station = aperta_vowel_by_ipa(stations[i]);
        gboolean wanted = is_ue || !(station->rounded && station->place == APERTA_PLACE_FRONT);
        if (wanted && station != vowel && usable_row(from->sheet->settings.table, station) == NULL &&
            borrow(from, station, &rows[n]) != NULL)
            n++;
    }
    if (borrowed != NULL)
        rows[n++] = *borrowed;
    return aperta_vowel_table_with(from->sheet->settings.table, rows, n);
}

const aperta_expectation *sheet_expect_vowel(sheet_expect *from, const char *ipa)
{
    const aperta_vowel *vowel = ipa != NULL ? aperta_vowel_by_ipa(ipa) : NULL;
    GPtrArray *all = from->sheet->expectations;

    if (vowel == NULL)
        return NULL;
    for (guint i = 0; i < all->len; i++)
        if (aperta_expectation_at(all, i)->vowel == vowel)
            return g_ptr_array_index(all, i);
    aperta_expectation *expected = g_new0(aperta_expectation, 1);
    aperta_vowel_row row;
    gboolean borrowed;
    expected->vowel = vowel;
    fill(from, expected, &row, &borrowed);
    g_hash_table_insert(from->grounds, expected, ground_for(from, vowel, borrowed ? &row : NULL));
    g_ptr_array_add(all, expected);
    return expected;
}

result_question sheet_question(const sheet_expect *from, const aperta_sheet_note *note)
{
    const aperta_score_note *written = note->score_note;
    result_question question = {.situation = {.f0_hz = note->f0_hz,
                                              .midi = written->midi,
                                              .duration_s = written->end_s - written->start_s,
                                              .vowel = note->expected->vowel,
                                              .expected = TRUE,
                                              .unstressed = !note->sound->stressed,
                                              .pitch_name = written->name},
                                .ground = g_hash_table_lookup(from->grounds, note->expected)};

    memcpy(question.situation.resonances, note->expected->resonances, sizeof question.situation.resonances);
    return question;
}
