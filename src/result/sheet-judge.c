/* sheet-judge.c - where a vowel's resonances are expected, and what the rules say of it on a pitch.
 *
 * F1 and F2 come from the sheet's table, one for all languages: a singer does not change with the words. A vowel that
 * it lacks (English tables have no y) is borrowed from another table and brought to the scale of this one
 * (aperta_vowel_table_borrow), as is one that it has only as a region speaks it (the raised æ of Hillenbrand's), unless
 * the table was asked for by name. Tables of the same voice lend first, among them whole vowel systems and the better
 * known figures; last the cardinal vowels of one man. Where even they have none, it is not judged.
 *
 * Shapes are looked for among the table's vowels and the stations of the way up that it lacks: "eh" and "aw" for a
 * table of five vowels, and for a front rounded vowel ø and œ, since a German singer would else be sent to an unrounded
 * vowel though a rounded one is near.
 *
 * A song asks the same question again and again (this vowel, this pitch, this length), and trying keys asks it a dozen
 * times over: every answer is kept. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <math.h>
#include <string.h>

#define Z_90 1.6449 /* a normal distribution holds 90 % within +- this many standard deviations */

typedef struct {
    const aperta_expectation *expected;
    int midi;
    int duration_ms;
    gboolean unstressed;
    char pitch_name[APERTA_PITCH_NAME_MAX];
} verdict_key;

struct sheet_judge {
    aperta_sheet *sheet;
    const aperta_rules *rules;
    gboolean named;       /* the table was asked for: all its vowels count */
    GPtrArray *others;    /* aperta_vowel_table, in the order they are asked; NULL: not loaded yet */
    GHashTable *grounds;  /* aperta_expectation -> aperta_vowel_table where its shapes are looked for */
    GHashTable *verdicts; /* verdict_key -> GPtrArray of aperta_finding */
};

static guint key_hash(gconstpointer data)
{
    const verdict_key *key = data;

    return g_direct_hash(key->expected) ^ (guint)(key->midi * 7919) ^ (guint)((guint64)key->duration_ms * 31) ^
           g_str_hash(key->pitch_name);
}

static gboolean key_equal(gconstpointer a, gconstpointer b)
{
    const verdict_key *first = a, *second = b;

    return first->expected == second->expected && first->midi == second->midi &&
           first->duration_ms == second->duration_ms && first->unstressed == second->unstressed &&
           strcmp(first->pitch_name, second->pitch_name) == 0;
}

sheet_judge *sheet_judge_new(aperta_sheet *sheet, const aperta_rules *rules, gboolean named)
{
    sheet_judge *judge = g_new0(sheet_judge, 1);

    judge->sheet = sheet;
    judge->rules = rules;
    judge->named = named;
    judge->grounds = g_hash_table_new_full(NULL, NULL, NULL, (GDestroyNotify)aperta_vowel_table_free);
    judge->verdicts = g_hash_table_new_full(key_hash, key_equal, g_free, (GDestroyNotify)g_ptr_array_unref);
    return judge;
}

void sheet_judge_free(sheet_judge *judge)
{
    if (judge == NULL)
        return;
    if (judge->others != NULL)
        g_ptr_array_unref(judge->others);
    g_hash_table_unref(judge->grounds);
    g_hash_table_unref(judge->verdicts);
    g_free(judge);
}

/* ---- where a vowel is expected ----------------------------------------------------------------------------------- */

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
static void load_others(sheet_judge *judge)
{
    aperta_vowel_table *own = judge->sheet->settings.table;
    g_auto(GStrv) names = aperta_vowel_table_names(NULL);

    judge->others = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_vowel_table_free);
    for (char **name = names; name != NULL && *name != NULL; name++) {
        if (strcmp(*name, own->name) == 0 || strcmp(*name, RESULT_CARDINAL_TABLE) == 0)
            continue;
        g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(*name, NULL);
        if (table != NULL && !table->sung)
            g_ptr_array_add(judge->others, g_steal_pointer(&table));
    }
    g_ptr_array_sort_with_data(judge->others, by_trust, own);
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
static const aperta_vowel_table *borrow(sheet_judge *judge, const aperta_vowel *vowel, aperta_vowel_row *row)
{
    if (judge->others == NULL)
        load_others(judge);
    for (guint i = 0; i < judge->others->len; i++) {
        const aperta_vowel_table *other = g_ptr_array_index(judge->others, i);
        const aperta_vowel_row *its = usable_row(other, vowel);
        if (its != NULL && its->open_target &&
            aperta_vowel_table_borrow(judge->sheet->settings.table, other, vowel, row))
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

static gboolean borrow_cardinal(const sheet_judge *judge, const aperta_vowel *vowel, aperta_vowel_row *row)
{
    g_autoptr(aperta_vowel_table) complete = aperta_vowel_table_complete(judge->sheet->settings.table, NULL);
    const aperta_vowel_row *its = complete != NULL ? usable_row(complete, vowel) : NULL;

    if (its != NULL)
        *row = *its;
    return its != NULL;
}

/* The table's own value; a regional one only where the table was asked for, or no other knows better. borrowed: it is
 * not the table's own. */
static void expect(sheet_judge *judge, aperta_expectation *expected, aperta_vowel_row *row, gboolean *borrowed)
{
    const aperta_vowel_row *own = usable_row(judge->sheet->settings.table, expected->vowel);
    const aperta_vowel_table *lender = NULL;

    *borrowed = FALSE;
    if ((own == NULL || !(own->open_target || judge->named)) &&
        (lender = borrow(judge, expected->vowel, row)) != NULL) {
        expected->regional = own != NULL;
        name_lender(expected, lender, judge->sheet->settings.table->voice);
        *borrowed = TRUE;
    } else if (own != NULL) {
        *row = *own;
    } else if (borrow_cardinal(judge, expected->vowel, row)) {
        expected->lent = APERTA_LENT_CARDINAL;
        *borrowed = TRUE;
    } else {
        return;
    }
    expect_row(expected, row);
}

/* The sheet's table with the borrowed vowel itself, and with what it lacks of the vowels that others open towards. */
static aperta_vowel_table *ground_for(sheet_judge *judge, const aperta_vowel *vowel, const aperta_vowel_row *borrowed)
{
    static const char *const stations[] = {"ɛ", "ɔ", "ø", "œ"};
    gboolean is_ue = vowel->rounded && vowel->place == APERTA_PLACE_FRONT;
    aperta_vowel_row rows[G_N_ELEMENTS(stations) + 1];
    guint n = 0;

    for (gsize i = 0; i < G_N_ELEMENTS(stations); i++) {
        const aperta_vowel *station = aperta_vowel_by_ipa(stations[i]);
        gboolean wanted = is_ue || !(station->rounded && station->place == APERTA_PLACE_FRONT);
        if (wanted && station != vowel && usable_row(judge->sheet->settings.table, station) == NULL &&
            borrow(judge, station, &rows[n]) != NULL)
            n++;
    }
    if (borrowed != NULL)
        rows[n++] = *borrowed;
    return aperta_vowel_table_with(judge->sheet->settings.table, rows, n);
}

const aperta_expectation *sheet_judge_expect(sheet_judge *judge, const char *ipa)
{
    const aperta_vowel *vowel = ipa != NULL ? aperta_vowel_by_ipa(ipa) : NULL;
    GPtrArray *all = judge->sheet->expectations;

    if (vowel == NULL)
        return NULL;
    for (guint i = 0; i < all->len; i++)
        if (((aperta_expectation *)g_ptr_array_index(all, i))->vowel == vowel)
            return g_ptr_array_index(all, i);
    aperta_expectation *expected = g_new0(aperta_expectation, 1);
    aperta_vowel_row row;
    gboolean borrowed;
    expected->vowel = vowel;
    expect(judge, expected, &row, &borrowed);
    g_hash_table_insert(judge->grounds, expected, ground_for(judge, vowel, borrowed ? &row : NULL));
    g_ptr_array_add(all, expected);
    return expected;
}

/* ---- advice ------------------------------------------------------------------------------------------------------ */

static GPtrArray *advise(const sheet_judge *judge, const sheet_question *question, const aperta_vowel *const *avoid)
{
    const aperta_sheet *sheet = judge->sheet;
    aperta_situation situation =
        result_situation(&sheet->settings, &sheet->score->key, question->midi, aperta_midi_to_hz(question->midi, 440.0),
                         question->duration_s, question->expected->vowel, question->expected->resonances);

    situation.unstressed = question->unstressed;
    situation.expected = TRUE;
    situation.pitch_name = question->pitch_name;
    situation.avoid = avoid;
    return aperta_advise(judge->rules, g_hash_table_lookup(judge->grounds, question->expected), &situation, NULL);
}

GPtrArray *sheet_judge_advise(sheet_judge *judge, const sheet_question *question)
{
    verdict_key key = {question->expected, question->midi, (int)lround(1000.0 * question->duration_s),
                       question->unstressed, ""};

    if (question->pitch_name != NULL)
        g_strlcpy(key.pitch_name, question->pitch_name, sizeof key.pitch_name);
    GPtrArray *findings = g_hash_table_lookup(judge->verdicts, &key);
    if (findings == NULL) {
        findings = advise(judge, question, NULL);
        g_hash_table_insert(judge->verdicts, g_memdup2(&key, sizeof key), findings);
    }
    return findings;
}

const aperta_finding *sheet_shape_of(const GPtrArray *findings)
{
    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = g_ptr_array_index(findings, i);
        if (finding->shape != NULL)
            return finding;
    }
    return NULL;
}

/* ---- other words ------------------------------------------------------------------------------------------------- */

/* The word that a shape would make; NULL: none, or the vowel keeps its name. */
static char *word_made(const aperta_finding *finding, const aperta_vowel *vowel, aperta_diction *diction,
                       const aperta_diction_word *word, guint index)
{
    if (finding == NULL || finding->shape->vowel == vowel)
        return NULL;
    return aperta_diction_other_word(diction, word, index, finding->shape->vowel->ipa);
}

aperta_word_risk *sheet_judge_risk(sheet_judge *judge, const sheet_question *question, aperta_diction *diction,
                                   const aperta_diction_word *word, guint index)
{
    const aperta_vowel *vowel = question->expected->vowel;
    const aperta_vowel *avoid[RESULT_OTHER_SHAPES_MAX + 1] = {NULL};
    const aperta_finding *finding = sheet_shape_of(sheet_judge_advise(judge, question));
    char *made = word_made(finding, vowel, diction, word, index);

    if (made == NULL)
        return NULL;
    aperta_word_risk *risk = g_new0(aperta_word_risk, 1);
    risk->word = made;
    avoid[0] = finding->shape->vowel;
    for (int tried = 1; tried <= RESULT_OTHER_SHAPES_MAX; tried++) {
        g_autoptr(GPtrArray) findings = advise(judge, question, avoid);
        const aperta_finding *other = sheet_shape_of(findings);
        if (other == NULL)
            break;
        g_autofree char *also = word_made(other, vowel, diction, word, index);
        if (also == NULL) {
            risk->instead = aperta_shape_copy(other->shape);
            break;
        }
        if (tried < RESULT_OTHER_SHAPES_MAX)
            avoid[tried] = other->shape->vowel;
    }
    return risk;
}

void sheet_risk_free(aperta_word_risk *risk)
{
    if (risk == NULL)
        return;
    g_free(risk->word);
    aperta_shape_free(risk->instead);
    g_free(risk);
}
