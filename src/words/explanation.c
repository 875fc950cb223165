/* explanation.c - why a rule spoke, or why not. */
#include "advice/account.h"
#include "words/finding.h"
#include "words/take-words.h"

#include <math.h>
#include <string.h>

/* The chance of what is said, where it is neither 0 nor 1: " (probability 0.93)". */
static char *chance_words(double p)
{
    if (p <= 0.005 || p >= 0.995)
        return g_strdup("");
    g_autofree char *number = words_number(p, "%.2f");
    return g_strdup_printf(" (probability %s)", number);
}

static char *limit_words(const advice_reason *reason)
{
    if (reason->limit_pitch[0] != '\0')
        return g_strdup(reason->limit_pitch);
    g_autofree char *number = words_number(reason->limit, "%.4g");
    return g_strdup_printf("%s %s", number, advice_unit_word(advice_quantity_unit(&reason->quantity)));
}

/* "f1_to_2f0 is -9.3 st,", "f1_to_2f0 is -20.3 to -2.7 st,", "f1_to_2f0 is at most -9.6 st," */
static char *distance_words(const advice_reason *reason, const advice_facts *facts)
{
    const aperta_resonance *what = &facts->resonances[reason->quantity.resonance];
    double from_hz = advice_facts_reference_hz(facts, &reason->quantity);

    if (!facts->expected && aperta_resonance_is_wide(what)) {
        g_autofree char *low = words_number(aperta_semitones_between(from_hz, what->low_hz), "%.1f");
        g_autofree char *high = words_number(aperta_semitones_between(from_hz, what->high_hz), "%.1f");
        return g_strdup_printf("%s is %s to %s st,", reason->text, low, high);
    }
    const char *format = "%s is %s st,";
    double hz = what->hz;
    if (what->status == APERTA_BOUNDED) {
        format = what->has_high ? "%s is at most %s st," : "%s is at least %s st,";
        hz = what->has_high ? what->high_hz : what->low_hz;
    }
    g_autofree char *st = words_number(aperta_semitones_between(from_hz, hz), "%.1f");
    return g_strdup_printf(format, reason->text, st);
}

/* The same of any quantity: "pitch C5 is" */
static char *value_words(const advice_reason *reason, const advice_facts *facts)
{
    if (reason->quantity.kind > ADVICE_RESONANCE)
        return distance_words(reason, facts);
    g_autofree char *words = words_quantity(facts, &reason->quantity);
    if (reason->quantity.kind == ADVICE_PITCH)
        return g_strdup_printf(facts->other_pitch[0] != '\0' ? "%s %s are" : "%s %s is", reason->text, words);
    return g_strdup_printf("%s is %s,", reason->text, words);
}

static char *comparison_words(const advice_reason *reason, const advice_facts *facts)
{
    static const char *const holds[] = {"%s below %s%s", "%s at or below %s%s", "%s above %s%s", "%s at or above %s%s"};
    static const char *const fails[] = {"%s not below %s%s", "%s not at or below %s%s", "%s not above %s%s",
                                        "%s not at or above %s%s"};

    if (reason->untold)
        return g_strdup_printf("%s cannot be told", reason->text);
    g_autofree char *value = value_words(reason, facts);
    g_autofree char *limit = limit_words(reason);
    g_autofree char *sure = chance_words(reason->chance);
    return g_strdup_printf((reason->holds ? holds : fails)[reason->relation], value, limit, sure);
}

static char *vowel_told(const advice_facts *facts)
{
    g_autofree char *told = aperta_vowel_class_words(&facts->vowel_class);

    if (told != NULL)
        return g_strdup_printf("%s, which one is not told", told);
    return g_strdup(facts->vowel == NULL ? "unknown" : facts->vowel->ipa);
}

static char *vowel_sentence(const advice_reason *reason, const advice_facts *facts)
{
    const char *format = reason->untold  ? "vowel is %s: \"%s\" cannot be told"
                         : reason->holds ? "vowel is %s: \"%s\" holds"
                                         : "vowel is %s: \"%s\" does not hold";
    g_autofree char *vowel = vowel_told(facts);

    return g_strdup_printf(format, vowel, reason->text);
}

static const char *outcome_sentence(advice_search_outcome outcome)
{
    switch (outcome) {
    case ADVICE_SEARCH_FOUND:
        return "a shape is found";
    case ADVICE_SEARCH_NONE:
        return "no shape within reach is found";
    default:
        return "no one shape can be named without the vowel's name";
    }
}

static char *reason_sentence(const advice_reason *reason, const advice_facts *facts)
{
    static const char *const status[] = {"%s is not known", "%s is measured", "%s is known only from one side"};
    static const char *const vibrato[] = {"vibrato is too short to tell", "vibrato is straight", "vibrato is measured"};

    switch (reason->kind) {
    case ADVICE_REASON_COMPARED:
        return comparison_words(reason, facts);
    case ADVICE_REASON_STATUS:
        return g_strdup_printf(status[facts->resonances[reason->quantity.resonance].status], reason->text);
    case ADVICE_REASON_VOICE:
        return g_strdup_printf("voice is %s", aperta_voice_word(facts->voice));
    case ADVICE_REASON_SHAPE:
        return g_strdup(outcome_sentence(reason->outcome));
    case ADVICE_REASON_VIBRATO:
        return g_strdup(vibrato[facts->vibrato.status]);
    default:
        return vowel_sentence(reason, facts);
    }
}

/* What of an account's reasons decides; each is said once. */
static char *reasons_words(const advice_account *account)
{
    g_autoptr(GPtrArray) said = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; i < account->reasons->len; i++) {
        char *sentence = reason_sentence(g_ptr_array_index(account->reasons, i), account->facts);
        if (g_ptr_array_find_with_equal_func(said, sentence, g_str_equal, NULL))
            g_free(sentence);
        else
            g_ptr_array_add(said, sentence);
    }
    return words_join(said, "; ", "; ");
}

char *aperta_explanation_because(const aperta_explanation *explanation)
{
    const advice_account *account = explanation->account;

    if (account->silenced_by != NULL)
        return g_strdup_printf("the rule %s spoke", account->silenced_by);
    g_autofree char *reasons = reasons_words(account);
    g_autofree char *share = words_number(account->share, "%.2f");
    g_autofree char *needed = words_number(account->needed_share, "%.2f");
    switch (account->only_watch) {
    case ADVICE_ONLY_WATCH_PASSING:
        return g_strdup_printf("%s; the syllable is short and unstressed: only watch", reasons);
    case ADVICE_ONLY_WATCH_VOWELS:
        return g_strdup_printf(
            "%s; vowels that want a change hold %.0f %% of the probability, and a change needs %.0f: "
            "only watch",
            reasons, 100.0 * account->share, 100.0 * account->needed_share);
    case ADVICE_ONLY_WATCH_CHANCE:
        return g_strdup_printf("%s; all this together has the probability %s, and a change needs %s: only watch",
                               reasons, share, needed);
    default:
        return g_steal_pointer(&reasons);
    }
}

static void free_line(gpointer data)
{
    words_explanation *line = data;

    g_free(line->text);
    g_free(line);
}

/* The rules that gave the answer of the first, with the first. */
static char *rules_like(const GPtrArray *explanations, guint first, gboolean *done)
{
    const aperta_explanation *one = aperta_explanation_at(explanations, first);
    g_autoptr(GPtrArray) rules = g_ptr_array_new();

    g_ptr_array_add(rules, one->rule);
    for (guint k = first + 1; k < explanations->len; k++) {
        const aperta_explanation *other = aperta_explanation_at(explanations, k);
        if (done[k] || other->spoke != one->spoke || !advice_account_same(one->account, other->account))
            continue;
        g_ptr_array_add(rules, other->rule);
        done[k] = TRUE;
    }
    return words_join(rules, ", ", ", ");
}

GPtrArray *words_explanations(const GPtrArray *explanations)
{
    g_autofree gboolean *done = g_new0(gboolean, explanations->len);
    GPtrArray *lines = g_ptr_array_new_with_free_func(free_line);

    for (guint i = 0; i < explanations->len; i++) {
        const aperta_explanation *one = aperta_explanation_at(explanations, i);
        if (done[i])
            continue;
        words_explanation *line = g_new0(words_explanation, 1);
        g_autofree char *because = aperta_explanation_because(one);
        g_autofree char *rules = rules_like(explanations, i, done);
        line->spoke = one->spoke;
        line->text = g_strdup_printf(one->spoke ? "%s spoke: %s" : "%s did not speak: %s", rules, because);
        g_ptr_array_add(lines, line);
    }
    return lines;
}

char *words_explained_note(const aperta_sung_note *note)
{
    g_autofree char *vowel = words_note_vowel_label(note, FALSE);

    return g_strdup_printf("Note %d (%s), %s", note->number, note->name, vowel);
}
