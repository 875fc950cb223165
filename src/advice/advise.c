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
    g_free(finding->mark);
    g_free(finding->reason);
    g_free(finding->source);
    aperta_shape_free(finding->shape);
    g_clear_pointer(&finding->ladder, g_ptr_array_unref);
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

static double share_setting(const advice_case *which, const char *name, double otherwise)
{
    const advice_setting *setting = advice_setting_for(which->rules, name, which->voice);

    return setting == NULL ? otherwise : setting->number;
}

double advice_speaks_at(const advice_case *which)
{
    return share_setting(which, "speaks_at", ADVICE_SPEAKS_AT) - 1e-9;
}

static gboolean speaks(const advice_case *which)
{
    return which->probability >= advice_speaks_at(which);
}

/* A syllable that passes before anybody hears its vowel. */
static gboolean is_passing(const advice_case *which)
{
    const advice_setting *setting = advice_setting_for(which->rules, "short_syllable", which->voice);

    return which->situation->unstressed && setting != NULL && which->situation->duration_s < setting->number;
}

/* A change is asked for where it is sure enough and the syllable is not passing, else the rule speaks as a watch. What
 * a table expects is a mean and no measurement: there the mean decides. */
static aperta_level level_now(const advice_rule *rule, const advice_case *which)
{
    double change_at = share_setting(which, "change_at", ADVICE_CHANGE_AT);

    if (rule->level < APERTA_LEVEL_CHANGE)
        return rule->level;
    if (is_passing(which) || which->change_share < ADVICE_VOWELS_SURE)
        return APERTA_LEVEL_WATCH;
    return which->situation->expected || which->probability >= change_at - 1e-9 ? rule->level : APERTA_LEVEL_WATCH;
}

/* The first rule named by unless that spoke (const advice_rule), or NULL. */
static const char *silenced_by(const advice_rule *rule, const GPtrArray *spoken)
{
    for (guint i = 0; i < rule->unless->len; i++) {
        const char *name = g_ptr_array_index(rule->unless, i);
        for (guint k = 0; k < spoken->len; k++)
            if (strcmp(((const advice_rule *)g_ptr_array_index(spoken, k))->name, name) == 0)
                return name;
    }
    return NULL;
}

static char *words_now(const advice_rule *rule, const advice_case *which, gboolean softened)
{
    if (!softened)
        return advice_words_fill(rule->words, which);
    if (is_passing(which)) {
        g_autofree char *passing = advice_words_fill(rule->words, which);
        return g_strconcat("A short unstressed syllable: it may pass as it is. ", passing, NULL);
    }
    if (rule->unsure != NULL)
        return advice_words_fill(rule->unsure, which);
    g_autofree char *words = advice_words_fill(rule->words, which);
    return g_strconcat("This is likely, not sure. ", words, NULL);
}

static aperta_finding *new_finding(const advice_rule *rule, advice_case *which, aperta_shape *shape)
{
    aperta_finding *finding = g_new0(aperta_finding, 1);

    finding->rule = g_strdup(rule->name);
    finding->level = level_now(rule, which);
    finding->ladder = shape != NULL ? advice_ladder(which, shape) : NULL;
    which->ladder = finding->ladder;
    finding->text = words_now(rule, which, finding->level < rule->level);
    finding->mark = g_strdup(rule->mark);
    finding->reason = g_strdup(rule->reason);
    finding->source = g_strdup(rule->source);
    finding->shape = shape;
    which->ladder = NULL;
    return finding;
}

/* Why the rule spoke, or why not; the caller frees. */
static char *because(const advice_rule *rule, const advice_case *which, gboolean spoke, const char *silencer)
{
    if (silencer != NULL)
        return g_strdup_printf("the rule %s spoke", silencer);
    g_autofree char *reason = advice_explain(rule->when, which, spoke);
    if (!spoke || level_now(rule, which) == rule->level)
        return g_steal_pointer(&reason);
    if (is_passing(which))
        return g_strdup_printf("%s; the syllable is short and unstressed: only watch", reason);
    if (which->change_share < ADVICE_VOWELS_SURE)
        return g_strdup_printf(
            "%s; vowels that want a change hold %.0f %% of the probability, and a change needs %.0f: "
            "only watch",
            reason, 100.0 * which->change_share, 100.0 * ADVICE_VOWELS_SURE);
    char all[G_ASCII_DTOSTR_BUF_SIZE], needed[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(all, sizeof all, "%.2f", which->probability);
    g_ascii_formatd(needed, sizeof needed, "%.2f", share_setting(which, "change_at", ADVICE_CHANGE_AT));
    return g_strdup_printf("%s; all this together has the probability %s, and a change needs %s: only watch", reason,
                           all, needed);
}

static void add_explanation(GPtrArray *explanations, const advice_rule *rule, const advice_case *which, gboolean spoke,
                            const char *silencer)
{
    if (explanations == NULL)
        return;
    aperta_explanation *explanation = g_new0(aperta_explanation, 1);
    explanation->rule = g_strdup(rule->name);
    explanation->spoke = spoke;
    explanation->because = because(rule, which, spoke, silencer);
    g_ptr_array_add(explanations, explanation);
}

/* Whether the rule speaks of the case, whose shape and probability are then the rule's; silencer: the rule that keeps
 * it from speaking, or NULL. *shape, which may be NULL, belongs to the caller. */
static gboolean weigh_rule(const advice_rule *rule, advice_case *which, const GPtrArray *spoken, const char **silencer,
                           aperta_shape **shape)
{
    *shape = NULL;
    which->aim = rule->aim;
    which->outcome = rule->aim != NULL ? advice_search(which, shape) : ADVICE_SEARCH_IMPOSSIBLE;
    which->shape = *shape;
    which->probability = advice_evaluate(rule->when, which).holds;
    *silencer = silenced_by(rule, spoken);
    return *silencer == NULL && speaks(which);
}

static void apply_rule(const advice_rule *rule, advice_case *which, GPtrArray *spoken, GPtrArray *findings,
                       GPtrArray *explanations)
{
    aperta_shape *shape;
    const char *silencer;
    gboolean speaks = weigh_rule(rule, which, spoken, &silencer, &shape);

    add_explanation(explanations, rule, which, speaks, silencer);
    if (speaks) {
        g_ptr_array_add(spoken, (gpointer)rule);
        g_ptr_array_add(findings, new_finding(rule, which, shape));
    } else {
        aperta_shape_free(shape);
    }
    which->shape = NULL;
}

/* Whether a change is asked for. */
static gboolean wants_change(advice_case *which)
{
    g_autoptr(GPtrArray) spoken = g_ptr_array_new();
    gboolean change = FALSE;

    for (guint i = 0; i < which->rules->rules->len && !change; i++) {
        const advice_rule *rule = g_ptr_array_index(which->rules->rules, i);
        aperta_shape *shape;
        const char *silencer;
        if (weigh_rule(rule, which, spoken, &silencer, &shape)) {
            g_ptr_array_add(spoken, (gpointer)rule);
            change = level_now(rule, which) == APERTA_LEVEL_CHANGE;
        }
        aperta_shape_free(shape);
    }
    return change;
}

/* Share of the vowels it may be, each taken for the one it is, that want a change. */
static double change_share(const advice_case *which)
{
    double share = 0.0;

    if (which->situation->n_shares == 0)
        return 1.0;
    for (guint i = 0; i < which->situation->n_shares; i++) {
        aperta_situation one = *which->situation;
        advice_case as_one = *which;
        one.vowel = one.shares[i].vowel;
        one.vowel_class.known = FALSE;
        one.n_shares = 0;
        as_one.situation = &one;
        as_one.change_share = 1.0;
        if (one.shares[i].share >= ADVICE_SHARE_MIN && wants_change(&as_one))
            share += one.shares[i].share;
    }
    return share;
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
    g_autoptr(GPtrArray) findings = g_ptr_array_new(), spoken = g_ptr_array_new();

    if (which.voice == APERTA_VOICE_UNKNOWN)
        which.voice = table->voice;
    if (explanations != NULL)
        *explanations = g_ptr_array_new_with_free_func(free_explanation);
    which.change_share = change_share(&which);
    for (guint i = 0; i < rules->rules->len; i++)
        apply_rule(g_ptr_array_index(rules->rules, i), &which, spoken, findings,
                   explanations == NULL ? NULL : *explanations);
    return sorted(findings);
}

/* Signs and four weeks, earlier for professional voices: clinical guideline on hoarseness of the American Academy of
 * Otolaryngology 2018 (Stachler et al., Otolaryngol Head Neck Surg 158(1S):S1-S42); two weeks for singers: what some
 * voice clinics advise (common practice); belting goes with very high pressure under the glottis (Sundberg, Gramming &
 * LoVetri 1993); loudness: NIOSH 1998. */
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
