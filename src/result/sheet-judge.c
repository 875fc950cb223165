/* sheet-judge.c - what the rules say of a vowel on a pitch, and which other words a shape would make.
 *
 * A song asks the same question again and again (this vowel, this pitch, this length), and trying keys asks it a dozen
 * times over: every answer is kept. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <math.h>
#include <string.h>

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
    const sheet_expect *from;
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

sheet_judge *sheet_judge_new(aperta_sheet *sheet, const aperta_rules *rules, const sheet_expect *from)
{
    sheet_judge *judge = g_new0(sheet_judge, 1);

    judge->sheet = sheet;
    judge->rules = rules;
    judge->from = from;
    judge->verdicts = g_hash_table_new_full(key_hash, key_equal, g_free, (GDestroyNotify)g_ptr_array_unref);
    return judge;
}

void sheet_judge_free(sheet_judge *judge)
{
    if (judge == NULL)
        return;
    g_hash_table_unref(judge->verdicts);
    g_free(judge);
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
    return aperta_advise(judge->rules, sheet_expect_ground(judge->from, question->expected), &situation, NULL);
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
