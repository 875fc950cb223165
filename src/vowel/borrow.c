/* borrow.c - a vowel of one table, brought to the scale of another.
 *
 * Tables differ by people, recording and measuring: the same women's "ee" stands at 306 Hz in one and at 437 in the
 * next, and a y of 305 Hz of the first must not stand a third below the "ee" of the second. The vowels that both
 * tables have tell how one becomes the other: per resonance a straight line over ln Hz that matches mean and standard
 * deviation (Lobanov 1971, JASA 49:606-608, in the logarithms of Nearey 1978, Phonetic Feature Systems for Vowels; both
 * cited from memory), and what is left over beside it, each shared vowel weighing by the inverse square of its distance
 * (Shepard 1968, Proc. 23rd ACM National Conference, 517-524). The vowel that differs by the lips alone decides by
 * itself, since tongue and jaw are the same: y stands where i stands, ø where e does (the chart of the International
 * Phonetic Association). F3 is only moved, for its range is narrow. */
#include "vowel/vowel-tuning.h"

#include <aperta/vowel.h>

#include <math.h>
#include <string.h>

/* Alike but for the lips, on the chart of the International Phonetic Association. */
static const char *const lip_pairs[][2] = {{"y", "i"}, {"ʏ", "ɪ"}, {"ø", "e"}, {"œ", "ɛ"},
                                           {"ɶ", "a"}, {"ɯ", "u"}, {"ɤ", "o"}, {"ɒ", "ɑ"}};

/* A vowel that both tables have. */
typedef struct {
    const aperta_vowel_row *from, *to;
    double weight;
} shared_vowel;

/* ln to = to_mean + slope * (ln from - from_mean), and the root mean square of what it misses. */
typedef struct {
    double from_mean, to_mean, slope, misfit;
} scale;

static gboolean is_placed(const aperta_vowel_row *row)
{
    return row != NULL && row->has[0] && row->has[1];
}

static gboolean is_lip_pair(const aperta_vowel *a, const aperta_vowel *b)
{
    for (gsize i = 0; i < G_N_ELEMENTS(lip_pairs); i++) {
        const char *rounded = lip_pairs[i][0], *spread = lip_pairs[i][1];
        if ((strcmp(a->ipa, rounded) == 0 && strcmp(b->ipa, spread) == 0) ||
            (strcmp(a->ipa, spread) == 0 && strcmp(b->ipa, rounded) == 0))
            return TRUE;
    }
    return FALSE;
}

/* The row of table that a vowel of other is compared with: of the same vowel, or the one open vowel of each where the
 * one writes a and the other ɑ; without it nothing would tell how wide the scales are. */
static const aperta_vowel_row *counterpart(const aperta_vowel_table *table, const aperta_vowel_table *other,
                                           const aperta_vowel *vowel)
{
    const aperta_vowel *front = aperta_vowel_by_ipa("a"), *back = aperta_vowel_by_ipa("ɑ");
    const aperta_vowel_row *same = aperta_vowel_table_row(table, vowel);

    if (same != NULL || (vowel != front && vowel != back))
        return same;
    const aperta_vowel *twin = vowel == front ? back : front;
    return aperta_vowel_table_row(other, twin) == NULL ? aperta_vowel_table_row(table, twin) : NULL;
}

/* A regional value tells nothing about the scale. */
static GArray *shared_vowels(const aperta_vowel_table *table, const aperta_vowel_table *other,
                             const aperta_vowel_row *asked)
{
    GArray *all = g_array_new(FALSE, FALSE, sizeof(shared_vowel));

    for (guint i = 0; i < other->n_rows; i++) {
        shared_vowel one = {.from = &other->rows[i]};
        one.to = counterpart(table, other, one.from->vowel);
        if (!is_placed(one.from) || !is_placed(one.to) || one.to->vowel == asked->vowel || !one.to->open_target)
            continue;
        double bark = aperta_vowel_distance_bark(asked->hz[0], asked->hz[1], one.from->hz[0], one.from->hz[1]);
        one.weight = 1.0 / fmax(bark * bark, VOWEL_BORROW_NEAREST_BARK * VOWEL_BORROW_NEAREST_BARK);
        g_array_append_val(all, one);
    }
    return all;
}

static void keep_lips_to_one(GArray *all, const aperta_vowel *vowel)
{
    gboolean has_pair = FALSE;

    for (guint i = 0; i < all->len; i++)
        has_pair = has_pair || is_lip_pair(g_array_index(all, shared_vowel, i).from->vowel, vowel);
    for (guint i = 0; has_pair && i < all->len; i++) {
        shared_vowel *one = &g_array_index(all, shared_vowel, i);
        one->weight = is_lip_pair(one->from->vowel, vowel) ? 1.0 : 0.0;
    }
}

/* Both are ln of the resonance in the two tables; FALSE: one of them lacks it. */
static gboolean ends_of(const shared_vowel *one, int resonance, double *from, double *to)
{
    if (!one->from->has[resonance] || !one->to->has[resonance])
        return FALSE;
    *from = log(one->from->hz[resonance]);
    *to = log(one->to->hz[resonance]);
    return TRUE;
}

static scale scale_of_tables(const GArray *all, int resonance)
{
    scale it = {.slope = 1.0};
    double from, to, from_squares = 0.0, to_squares = 0.0, missed = 0.0;
    guint n = 0;

    for (guint i = 0; i < all->len; i++) {
        if (!ends_of(&g_array_index(all, shared_vowel, i), resonance, &from, &to))
            continue;
        n++; /* means and sums of squares as they grow: Welford 1962, Technometrics 4:419-420 */
        double from_step = from - it.from_mean, to_step = to - it.to_mean;
        it.from_mean += from_step / n;
        it.to_mean += to_step / n;
        from_squares += from_step * (from - it.from_mean);
        to_squares += to_step * (to - it.to_mean);
    }
    if (n >= VOWEL_BORROW_SHARED_MIN && resonance < 2 && from_squares > 0.0)
        it.slope = CLAMP(sqrt(to_squares / from_squares), 1.0 / VOWEL_BORROW_SLOPE_MAX, VOWEL_BORROW_SLOPE_MAX);
    for (guint i = 0; i < all->len; i++)
        if (ends_of(&g_array_index(all, shared_vowel, i), resonance, &from, &to))
            missed += pow(to - it.to_mean - it.slope * (from - it.from_mean), 2.0) / n;
    static const double unfitted[APERTA_N_RESONANCES] = {VOWEL_EXPECTED_SPREADS, VOWEL_EXPECTED_F3_SPREAD};
    it.misfit = n >= VOWEL_BORROW_SHARED_MIN ? sqrt(missed) : unfitted[resonance];
    return it;
}

/* Where the vowel comes to lie, in ln Hz. */
static double moved(const GArray *all, int resonance, const scale *it, double ln_hz)
{
    double from, to, missed = 0.0, weights = 0.0;

    for (guint i = 0; i < all->len; i++) {
        const shared_vowel *one = &g_array_index(all, shared_vowel, i);
        if (!ends_of(one, resonance, &from, &to))
            continue;
        missed += one->weight * (to - it->to_mean - it->slope * (from - it->from_mean));
        weights += one->weight;
    }
    return it->to_mean + it->slope * (ln_hz - it->from_mean) + (weights > 0.0 ? missed / weights : 0.0);
}

gboolean aperta_vowel_table_borrow(const aperta_vowel_table *table, const aperta_vowel_table *other,
                                   const aperta_vowel *vowel, aperta_vowel_row *row)
{
    const aperta_vowel_row *asked = aperta_vowel_table_row(other, vowel);

    if (!is_placed(asked))
        return FALSE;
    g_autoptr(GArray) all = shared_vowels(table, other, asked);
    keep_lips_to_one(all, vowel);
    *row = *asked;
    row->expected = TRUE;
    row->sd_published = FALSE;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        if (!asked->has[i])
            continue;
        scale it = scale_of_tables(all, i);
        double spread = asked->sd_hz[i] / asked->hz[i];
        row->hz[i] = exp(moved(all, i, &it, log(asked->hz[i])));
        row->sd_hz[i] = row->hz[i] * (asked->expected ? spread : hypot(spread, it.misfit));
    }
    return TRUE;
}
