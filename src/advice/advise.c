/* advise.c - all rules of a style over one note. */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <string.h>

void aperta_finding_free(aperta_finding *finding)
{
    if (finding == NULL)
        return;
    g_free(finding->rule);
    g_free(finding->words);
    advice_facts_free(finding->facts);
    g_free(finding->brief);
    g_free(finding->remedy);
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
    advice_account_free(explanation->account);
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
            if (strcmp(advice_rule_at(spoken, k)->name, name) == 0)
                return name;
    }
    return NULL;
}

/* Words and hedge of a rule that speaks; softened: it asks for less than it would. */
static void set_words(aperta_finding *finding, const advice_rule *rule, const advice_case *which, gboolean softened)
{
    gboolean passing = softened && is_passing(which);
    gboolean unsure = softened && !passing;

    finding->words = g_strdup(unsure && rule->unsure != NULL ? rule->unsure : rule->words);
    if (passing)
        finding->hedge = APERTA_HEDGE_PASSING;
    else if (unsure && rule->unsure == NULL)
        finding->hedge = APERTA_HEDGE_LIKELY;
    finding->facts = advice_facts_of(which);
}

static aperta_finding *new_finding(const advice_rule *rule, const advice_case *which, aperta_shape *shape)
{
    aperta_finding *finding = g_new0(aperta_finding, 1);

    finding->rule = g_strdup(rule->name);
    finding->level = level_now(rule, which);
    set_words(finding, rule, which, finding->level < rule->level);
    finding->brief = g_strdup(rule->brief);
    finding->remedy = g_strdup(rule->remedy);
    finding->mark = g_strdup(rule->mark);
    finding->reason = g_strdup(rule->reason);
    finding->source = g_strdup(rule->source);
    finding->shape = shape;
    finding->ladder = shape != NULL ? advice_ladder(which, shape) : NULL;
    return finding;
}

/* Why a rule that speaks asks for no more than a watch. */
static void account_for_watch(advice_account *account, const advice_rule *rule, const advice_case *which)
{
    if (level_now(rule, which) == rule->level)
        return;
    if (is_passing(which)) {
        account->only_watch = ADVICE_ONLY_WATCH_PASSING;
    } else if (which->change_share < ADVICE_VOWELS_SURE) {
        account->only_watch = ADVICE_ONLY_WATCH_VOWELS;
        account->share = which->change_share;
        account->needed_share = ADVICE_VOWELS_SURE;
    } else {
        account->only_watch = ADVICE_ONLY_WATCH_CHANCE;
        account->share = which->probability;
        account->needed_share = share_setting(which, "change_at", ADVICE_CHANGE_AT);
    }
}

/* Why the rule spoke, or why not. */
static advice_account *account_of(const advice_rule *rule, const advice_case *which, gboolean spoke,
                                  const char *silencer)
{
    advice_account *account = advice_account_new();

    account->silenced_by = g_strdup(silencer);
    account->facts = advice_facts_of(which);
    if (silencer == NULL)
        advice_add_reasons(account->reasons, rule->when, which, spoke);
    if (spoke)
        account_for_watch(account, rule, which);
    return account;
}

static void add_explanation(GPtrArray *explanations, const advice_rule *rule, const advice_case *which, gboolean spoke,
                            const char *silencer)
{
    if (explanations == NULL)
        return;
    aperta_explanation *explanation = g_new0(aperta_explanation, 1);
    explanation->rule = g_strdup(rule->name);
    explanation->spoke = spoke;
    explanation->account = account_of(rule, which, spoke, silencer);
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
        const advice_rule *rule = advice_rule_at(which->rules->rules, i);
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
            aperta_finding *finding = aperta_finding_at(findings, i);
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
