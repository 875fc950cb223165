/* advise.c - all rules of a style over one note. */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <string.h>

void aperta_finding_free(aperta_finding *finding)
{
    if (finding == NULL)
        return;
    g_free(finding->rule);
    g_free(finding->text);
    g_free(finding->reason);
    g_free(finding->source);
    advice_shape_free(finding->shape);
    g_free(finding);
}

static void free_finding(gpointer data)
{
    aperta_finding_free(data);
}

void aperta_explanation_free(aperta_explanation *explanation)
{
    if (explanation == NULL)
        return;
    g_free(explanation->rule);
    g_free(explanation->because);
    g_free(explanation);
}

static void free_explanation(gpointer data)
{
    aperta_explanation_free(data);
}

static double speaks_at(const advice_case *which)
{
    const advice_setting *setting = advice_setting_for(which->rules, "speaks_at", which->voice);

    return setting == NULL ? ADVICE_SPEAKS_AT : setting->number;
}

/* The first rule named by unless that spoke, or NULL. */
static const char *silenced_by(const advice_rule *rule, GPtrArray *findings)
{
    for (guint i = 0; i < rule->unless->len; i++) {
        const char *name = g_ptr_array_index(rule->unless, i);
        for (guint k = 0; k < findings->len; k++)
            if (strcmp(((aperta_finding *)g_ptr_array_index(findings, k))->rule, name) == 0)
                return name;
    }
    return NULL;
}

static aperta_finding *new_finding(const advice_rule *rule, const advice_case *which, aperta_shape *shape)
{
    aperta_finding *finding = g_new0(aperta_finding, 1);

    finding->rule = g_strdup(rule->name);
    finding->level = rule->level;
    finding->text = advice_words_fill(rule->words, which);
    finding->reason = g_strdup(rule->reason);
    finding->source = g_strdup(rule->source);
    finding->shape = shape;
    return finding;
}

static void add_explanation(GPtrArray *explanations, const advice_rule *rule, const advice_case *which, gboolean spoke,
                            const char *silencer)
{
    if (explanations == NULL)
        return;
    aperta_explanation *explanation = g_new0(aperta_explanation, 1);
    explanation->rule = g_strdup(rule->name);
    explanation->spoke = spoke;
    explanation->because =
        silencer != NULL ? g_strdup_printf("the rule %s spoke", silencer) : advice_explain(rule->when, which, spoke);
    g_ptr_array_add(explanations, explanation);
}

static void apply_rule(const advice_rule *rule, advice_case *which, GPtrArray *findings, GPtrArray *explanations)
{
    aperta_shape *shape = NULL;

    which->aim = rule->aim;
    which->outcome = rule->aim != NULL ? advice_search(which, &shape) : ADVICE_SEARCH_IMPOSSIBLE;
    which->shape = shape;
    which->probability = advice_evaluate(rule->when, which).holds;
    const char *silencer = silenced_by(rule, findings);
    gboolean speaks = silencer == NULL && which->probability >= speaks_at(which) - 1e-9;
    add_explanation(explanations, rule, which, speaks, silencer);
    if (speaks)
        g_ptr_array_add(findings, new_finding(rule, which, shape));
    else
        advice_shape_free(shape);
    which->shape = NULL;
}

/* Highest level first, each level in the order of the file. */
static GPtrArray *sorted(GPtrArray *findings)
{
    GPtrArray *result = g_ptr_array_new_with_free_func(free_finding);

    for (int level = APERTA_LEVEL_CHANGE; level >= APERTA_LEVEL_FINE; level--) {
        for (guint i = 0; i < findings->len; i++) {
            aperta_finding *finding = g_ptr_array_index(findings, i);
            if ((int)finding->level == level)
                g_ptr_array_add(result, finding);
        }
    }
    return result;
}

GPtrArray *aperta_advise(const aperta_rules *rules, const aperta_vowel_table *table, const aperta_situation *situation,
                         GPtrArray **explanations)
{
    advice_case which = {.rules = rules, .table = table, .situation = situation, .voice = situation->voice};
    g_autoptr(GPtrArray) findings = g_ptr_array_new();

    if (which.voice == APERTA_VOICE_UNKNOWN)
        which.voice = table->voice;
    if (explanations != NULL)
        *explanations = g_ptr_array_new_with_free_func(free_explanation);
    for (guint i = 0; i < rules->rules->len; i++)
        apply_rule(g_ptr_array_index(rules->rules, i), &which, findings, explanations == NULL ? NULL : *explanations);
    return sorted(findings);
}

/* Signs and waiting times: clinical guideline on hoarseness of the American Academy of Otolaryngology 2018 (Stachler et
 * al., Otolaryngol Head Neck Surg 158(1S):S1-S42); belting goes with very high pressure under the glottis (Sundberg,
 * Gramming & LoVetri 1993); loudness: NIOSH 1998. */
const char *const *aperta_cautions(void)
{
    static const char *const cautions[] = {
        "Stop at once on pain, a sudden loss of voice or blood, and see a doctor now. Whispering is not rest.",
        "Hoarseness that lasts longer than two weeks belongs before a laryngologist; in no case wait longer than four.",
        "All advice here is a strategy to try at an easy loudness. If a shape works only with more pressure, leave it.",
        "Mind your hearing: strong singing in a small room is loud. Take breaks.",
        "This is not a medical device, and a teacher in the room knows more than a program does.",
        NULL,
    };

    return cautions;
}
