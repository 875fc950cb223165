/* accents.c - which vowels an ear knows, and how they are spoken elsewhere.
 *
 * A table holds one accent, measured in speech; a singer may have another, and most sing with one that is nobody's
 * speech: an "e" sung in Italian lies where Michigan has its "ih", an "ah" where it has its "aw". When nobody says
 * whose vowels to expect, each published table of that voice is one hypothesis of the accent, with all its vowels
 * equally probable within it, and every note of the take is evidence for some of them (a mixture whose weights are
 * learnt as speaker adaptation learns them: Bayes' rule, the vowel summed out). Tables of men stand in, scaled, where a
 * publication has no women or children. Each accent is also tried as classical singers bring it: with F2 and F3 of
 * front vowels lowered (Sundberg 1972, STL-QPSR 13(1):45-53). Aims of singing that nobody measured are no evidence of
 * how people sing and do not vote. And since the tract of a tenor or an alto may be as long as the other group's, or
 * the voice only guessed, the tables of the other group are tried too. */
#include "vowel/vowel-private.h"
#include "vowel/vowel-tuning.h"

#include <math.h>

static const double singing[APERTA_N_RESONANCES] = {VOWEL_SINGING_SPREADS};

/* ---- create, destroy --------------------------------------------------------------------------------------------- */

static gboolean all_rows_have_f3(const aperta_vowel_table *table)
{
    for (guint i = 0; i < table->n_rows; i++)
        if (!table->rows[i].has[2])
            return FALSE;
    return TRUE;
}

/* Where the row leaves out F3, that of fallback stands in. */
static vowel_target target_of(const aperta_vowel_row *row, const double *ratio, const vowel_target *fallback)
{
    vowel_target target = {0};

    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        if (row->has[i]) {
            double spread = hypot(row->sd_hz[i] / row->hz[i], singing[i]);
            target.ln_hz[i] = log(row->hz[i] * ratio[i]);
            target.variance[i] = spread * spread;
        } else if (fallback != NULL) {
            target.ln_hz[i] = fallback->ln_hz[i];
            target.variance[i] = fallback->variance[i];
        }
    }
    return target;
}

aperta_vowel_ear *aperta_vowel_ear_new(const aperta_vowel_table *table)
{
    static const double as_printed[APERTA_N_RESONANCES] = {1.0, 1.0, 1.0};
    aperta_vowel_ear *ear = g_new0(aperta_vowel_ear, 1);
    vowel_accent own = {.voice = table->voice};

    ear->voice = table->voice;
    ear->source = g_strdup(table->source);
    ear->n_resonances = all_rows_have_f3(table) ? 3 : 2; /* densities compare only over the same resonances */
    ear->vowels = g_ptr_array_new();
    ear->targets = g_array_new(FALSE, FALSE, sizeof(vowel_target));
    ear->accents = g_array_new(FALSE, FALSE, sizeof(vowel_accent));
    g_array_append_val(ear->accents, own);
    for (guint i = 0; i < table->n_rows; i++) {
        vowel_target target = target_of(&table->rows[i], as_printed, NULL);
        target.place = i;
        target.weight = 1.0 / table->n_rows;
        g_ptr_array_add(ear->vowels, (gpointer)table->rows[i].vowel);
        g_array_append_val(ear->targets, target);
    }
    return ear;
}

void aperta_vowel_ear_free(aperta_vowel_ear *ear)
{
    if (ear == NULL)
        return;
    g_free(ear->source);
    g_free(ear->ln_use);
    g_ptr_array_unref(ear->vowels);
    g_array_unref(ear->targets);
    g_array_unref(ear->accents);
    g_free(ear);
}

/* ---- other accents ----------------------------------------------------------------------------------------------- */

static GPtrArray *load_all(GError **error)
{
    g_auto(GStrv) names = aperta_vowel_table_names(error);
    if (names == NULL)
        return NULL;
    g_autoptr(GPtrArray) tables = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_vowel_table_free);
    for (char **name = names; *name != NULL; name++) {
        aperta_vowel_table *table = aperta_vowel_table_load(*name, error);
        if (table == NULL)
            return NULL;
        g_ptr_array_add(tables, table);
    }
    return g_steal_pointer(&tables);
}

/* A measured table of this voice, or one of men from a publication that has none of this voice. */
static gboolean serves(const GPtrArray *tables, const aperta_vowel_table *table, aperta_voice voice)
{
    if (table->sung || table->speakers < VOWEL_ACCENT_SPEAKERS_MIN)
        return FALSE;
    if (table->voice == voice)
        return TRUE;
    if (table->voice != APERTA_VOICE_MAN)
        return FALSE;
    for (guint i = 0; i < tables->len; i++) {
        const aperta_vowel_table *other = g_ptr_array_index(tables, i);
        if (other->voice == voice && g_strcmp0(other->source, table->source) == 0)
            return FALSE;
    }
    return TRUE;
}

static const double *ratios_of(aperta_voice from, aperta_voice to)
{
    static const double alike[] = {1.0, 1.0, 1.0}, woman[] = {VOWEL_WOMAN_OVER_MAN}, child[] = {VOWEL_CHILD_OVER_MAN};

    if (from == to)
        return alike;
    return to == APERTA_VOICE_CHILD ? child : woman;
}

/* The ear's vowel that a row of another table speaks of: itself, or ɑ for the one open vowel of a language that does
 * not tell a from ɑ. */
static gboolean find_place(const aperta_vowel_ear *ear, const aperta_vowel *vowel, guint *place)
{
    if (g_ptr_array_find(ear->vowels, vowel, place))
        return TRUE;
    return vowel == aperta_vowel_by_ipa("a") && g_ptr_array_find(ear->vowels, aperta_vowel_by_ipa("ɑ"), place);
}

static void add_accent(aperta_vowel_ear *ear, const aperta_vowel_table *table, aperta_voice voice)
{
    const double *ratios = ratios_of(table->voice, voice);
    guint first = ear->targets->len, place;

    for (guint i = 0; i < table->n_rows; i++) {
        if (!find_place(ear, table->rows[i].vowel, &place))
            continue;
        vowel_target target = target_of(&table->rows[i], ratios, &g_array_index(ear->targets, vowel_target, place));
        target.place = place;
        target.accent = ear->accents->len;
        g_array_append_val(ear->targets, target);
    }
    guint n = ear->targets->len - first;
    if (n < VOWEL_ACCENT_ROWS_MIN) {
        g_array_set_size(ear->targets, first);
        return;
    }
    for (guint i = first; i < ear->targets->len; i++)
        g_array_index(ear->targets, vowel_target, i).weight = 1.0 / n;
    vowel_accent accent = {.voice = voice};
    g_array_append_val(ear->accents, accent);
}

/* The accents of a group of voices share a weight; but: the source of a table that is left out, or NULL. */
static void add_voice(aperta_vowel_ear *ear, const GPtrArray *tables, aperta_voice voice, const char *but,
                      double weight)
{
    guint first = ear->accents->len;

    for (guint i = 0; i < tables->len; i++) {
        const aperta_vowel_table *table = g_ptr_array_index(tables, i);
        if (serves(tables, table, voice) && g_strcmp0(table->source, but) != 0)
            add_accent(ear, table, voice);
    }
    for (guint a = first; a < ear->accents->len; a++)
        g_array_index(ear->accents, vowel_accent, a).ln_weight = log(weight / (ear->accents->len - first));
}

/* Each accent once more as it is sung with a low larynx and a wide throat: F2 and F3 of front vowels are lower. */
static void add_low_larynx(aperta_vowel_ear *ear)
{
    guint n_accents = ear->accents->len, n_targets = ear->targets->len;

    for (guint a = 0; a < n_accents; a++) {
        vowel_accent lowered = g_array_index(ear->accents, vowel_accent, a);
        g_array_index(ear->accents, vowel_accent, a).ln_weight += log(1.0 - VOWEL_LOW_LARYNX);
        lowered.ln_weight += log(VOWEL_LOW_LARYNX);
        g_array_append_val(ear->accents, lowered);
    }
    for (guint t = 0; t < n_targets; t++) {
        vowel_target target = g_array_index(ear->targets, vowel_target, t);
        const aperta_vowel *vowel = g_ptr_array_index(ear->vowels, target.place);
        target.accent += n_accents;
        if (vowel->place == APERTA_PLACE_FRONT) {
            target.ln_hz[1] += log(VOWEL_LOW_LARYNX_F2);
            target.ln_hz[2] += log(VOWEL_LOW_LARYNX_F3);
        }
        g_array_append_val(ear->targets, target);
    }
}

static aperta_voice other_voice(aperta_voice voice)
{
    return voice == APERTA_VOICE_MAN ? APERTA_VOICE_WOMAN : voice == APERTA_VOICE_WOMAN ? APERTA_VOICE_MAN : voice;
}

gboolean aperta_vowel_ear_add_accents(aperta_vowel_ear *ear, double doubt, GError **error)
{
    g_autoptr(GPtrArray) tables = load_all(error);

    if (tables == NULL)
        return FALSE;
    aperta_voice other = other_voice(ear->voice);
    double of_other = other != ear->voice ? CLAMP(doubt, VOWEL_VOICE_DOUBT, 1.0) : 0.0;
    g_array_index(ear->accents, vowel_accent, 0).ln_weight = log((1.0 - of_other) * VOWEL_OWN_ACCENT);
    add_voice(ear, tables, ear->voice, ear->source, (1.0 - of_other) * (1.0 - VOWEL_OWN_ACCENT));
    if (of_other > 0.0)
        add_voice(ear, tables, other, NULL, of_other);
    add_low_larynx(ear);
    return TRUE;
}

aperta_voice aperta_vowel_ear_voice(const aperta_vowel_ear *ear)
{
    double most = -INFINITY, own = 0.0, other = 0.0;

    for (guint a = 0; a < ear->accents->len; a++)
        most = fmax(most, g_array_index(ear->accents, vowel_accent, a).ln_weight);
    for (guint a = 0; a < ear->accents->len; a++) {
        const vowel_accent *accent = &g_array_index(ear->accents, vowel_accent, a);
        *(accent->voice == ear->voice ? &own : &other) += exp(accent->ln_weight - most);
    }
    return own >= other ? ear->voice : other_voice(ear->voice);
}

void aperta_vowel_ear_listen(aperta_vowel_ear *ear, const aperta_posterior *posterior)
{
    guint n = ear->accents->len;
    g_autofree double *most = g_new(double, n), *sum = g_new0(double, n);

    if (posterior->n_modes == 0 || n == 1)
        return;
    for (guint a = 0; a < n; a++)
        most[a] = -INFINITY;
    for (guint i = 0; i < ear->targets->len; i++) { /* sum of exponentials, kept in range */
        const vowel_target *target = &g_array_index(ear->targets, vowel_target, i);
        double ln = log(target->weight) + vowel_ln_evidence(ear, posterior, target), *top = &most[target->accent];
        double rise = ln - *top;
        sum[target->accent] = rise > 0.0 ? sum[target->accent] * exp(-rise) + 1.0 : sum[target->accent] + exp(rise);
        *top = fmax(*top, ln);
    }
    for (guint a = 0; a < n; a++)
        g_array_index(ear->accents, vowel_accent, a).ln_weight += VOWEL_ACCENT_CANDOUR * (most[a] + log(sum[a]));
}
