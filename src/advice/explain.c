/* explain.c - why a condition holds, or the first part of it that does not. */
#include "advice/advice-private.h"

#include <string.h>

/* The chance of a leaf, where it is neither 0 nor 1: " (probability 0.93)". */
static char *chance_words(double p)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];

    if (p <= 0.005 || p >= 0.995)
        return g_strdup("");
    g_ascii_formatd(digits, sizeof digits, "%.2f", p);
    return g_strdup_printf(" (probability %s)", digits);
}

static char *limit_words(const advice_node *node, const advice_case *which)
{
    advice_unit unit = advice_quantity_unit(&node->quantity);
    double limit = advice_limit(node, which);

    if (unit == ADVICE_UNIT_PITCH) {
        char name[APERTA_PITCH_NAME_MAX];
        aperta_pitch_spell((int)limit, which->situation->key, name);
        return g_strdup(name);
    }
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(digits, sizeof digits, "%.4g", limit);
    return g_strdup_printf("%s %s", digits, advice_unit_word(unit));
}

/* "f1_to_2f0 is -9.3 st", "f1_to_2f0 is -20.3 to -2.7 st", "f1_to_2f0 is at most -9.6 st", "pitch C5 is" */
static char *value_words(const advice_node *node, const advice_case *which)
{
    const aperta_resonance *what = &which->situation->resonances[node->quantity.resonance];
    char digits[G_ASCII_DTOSTR_BUF_SIZE];

    if (node->quantity.kind <= ADVICE_RESONANCE) {
        g_autofree char *words = advice_quantity_words(&node->quantity, which);
        return g_strdup_printf(node->quantity.kind == ADVICE_PITCH ? "%s %s is" : "%s is %s,", node->quantity_name,
                               words);
    }
    double from_hz = advice_reference_hz(&node->quantity, which);
    if (!which->situation->expected && advice_is_wide(what)) {
        char high[G_ASCII_DTOSTR_BUF_SIZE];
        g_ascii_formatd(digits, sizeof digits, "%.1f", aperta_semitones_between(from_hz, what->low_hz));
        g_ascii_formatd(high, sizeof high, "%.1f", aperta_semitones_between(from_hz, what->high_hz));
        return g_strdup_printf("%s is %s to %s st,", node->quantity_name, digits, high);
    }
    const char *side = "";
    double hz = what->hz;
    if (what->status == APERTA_BOUNDED) {
        side = what->has_high ? "at most " : "at least ";
        hz = what->has_high ? what->high_hz : what->low_hz;
    }
    double st = aperta_semitones_between(from_hz, hz);
    g_ascii_formatd(digits, sizeof digits, "%.1f", st);
    return g_strdup_printf("%s is %s%s st,", node->quantity_name, side, digits);
}

static char *explain_compare(const advice_node *node, const advice_case *which, advice_chance chance)
{
    static const char *const relations[] = {"below", "at or below", "above", "at or above"};

    if (chance.unknown > 0.5)
        return g_strdup_printf("%s cannot be told", node->quantity_name);
    gboolean holds = chance.holds >= 0.5;
    g_autofree char *value = value_words(node, which);
    g_autofree char *limit = limit_words(node, which);
    g_autofree char *sure = chance_words(holds ? chance.holds : 1.0 - chance.holds);
    return g_strdup_printf("%s %s%s %s%s", value, holds ? "" : "not ", relations[node->operation], limit, sure);
}

static char *vowel_name(const advice_case *which)
{
    g_autofree char *told = aperta_vowel_class_words(&which->situation->vowel_class);

    if (told != NULL)
        return g_strdup_printf("%s, which one is not told", told);
    return g_strdup(which->situation->vowel == NULL ? "unknown" : which->situation->vowel->ipa);
}

static const char *outcome_words(advice_search_outcome outcome)
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

static char *explain_leaf(const advice_node *node, const advice_case *which)
{
    static const char *const status_words[] = {"not known", "measured", "known only from one side"};
    static const char *const vibrato_words[] = {"too short to tell", "straight", "measured"};
    advice_chance chance = advice_evaluate(node, which);
    gboolean holds = chance.holds >= 0.5;

    switch (node->kind) {
    case ADVICE_COMPARE:
        return explain_compare(node, which, chance);
    case ADVICE_STATUS:
        return g_strdup_printf("%s is %s", node->quantity_name,
                               status_words[which->situation->resonances[node->quantity.resonance].status]);
    case ADVICE_VOICE:
        return g_strdup_printf("voice is %s", aperta_voice_word(which->voice));
    case ADVICE_SHAPE:
        return g_strdup(outcome_words(which->outcome));
    case ADVICE_VIBRATO:
        return g_strdup_printf("vibrato is %s", vibrato_words[which->situation->vibrato.status]);
    default:
        break;
    }
    g_autofree char *name = vowel_name(which);
    return g_strdup_printf("vowel is %s: \"%s\" %s", name, node->text,
                           chance.unknown > 0.5 ? "cannot be told"
                           : holds              ? "holds"
                                                : "does not hold");
}

static char *explain_all(const advice_node *node, const advice_case *which, gboolean holds)
{
    GString *text = g_string_new(NULL);

    for (guint i = 0; i < node->children->len; i++) {
        g_autofree char *child = advice_explain(g_ptr_array_index(node->children, i), which, holds);
        if (strstr(text->str, child) == NULL) /* say nothing twice */
            g_string_append_printf(text, "%s%s", text->len > 0 ? "; " : "", child);
    }
    return g_string_free(text, FALSE);
}

/* The first child that decides: of OR one that holds, of AND one that does not. */
static const advice_node *deciding_child(const advice_node *node, const advice_case *which, gboolean holds)
{
    for (guint i = 0; i < node->children->len; i++) {
        const advice_node *child = g_ptr_array_index(node->children, i);
        if ((advice_evaluate(child, which).holds >= 0.5) == holds)
            return child;
    }
    return NULL;
}

char *advice_explain(const advice_node *node, const advice_case *which, gboolean holds)
{
    const advice_node *child = NULL;

    if (node->kind == ADVICE_NOT)
        return advice_explain(g_ptr_array_index(node->children, 0), which, !holds);
    if (node->kind != ADVICE_AND && node->kind != ADVICE_OR)
        return explain_leaf(node, which);
    if ((node->kind == ADVICE_OR) == holds)
        child = deciding_child(node, which, holds);
    return child == NULL ? explain_all(node, which, holds) : advice_explain(child, which, holds);
}
