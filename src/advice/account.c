/* account.c - why a condition holds, or the first part of it that does not. */
#include "advice/advice-private.h"

#include <string.h>

static void free_reason(gpointer data)
{
    advice_reason *reason = data;

    g_free(reason->text);
    g_free(reason);
}

advice_account *advice_account_new(void)
{
    advice_account *account = g_new0(advice_account, 1);

    account->reasons = g_ptr_array_new_with_free_func(free_reason);
    return account;
}

void advice_account_free(advice_account *account)
{
    if (account == NULL)
        return;
    g_free(account->silenced_by);
    g_ptr_array_unref(account->reasons);
    advice_facts_free(account->facts);
    g_free(account);
}

advice_reason *advice_account_add(GPtrArray *reasons, advice_reason_kind kind, const char *text)
{
    advice_reason *reason = g_new0(advice_reason, 1);

    reason->kind = kind;
    reason->text = g_strdup(text);
    g_ptr_array_add(reasons, reason);
    return reason;
}

static gboolean same_reason(const advice_reason *a, const advice_reason *b)
{
    return a->kind == b->kind && g_strcmp0(a->text, b->text) == 0 && a->quantity.kind == b->quantity.kind &&
           a->quantity.resonance == b->quantity.resonance && a->quantity.harmonic == b->quantity.harmonic &&
           a->relation == b->relation && a->limit == b->limit && a->holds == b->holds && a->untold == b->untold &&
           a->chance == b->chance && a->outcome == b->outcome;
}

gboolean advice_account_same(const advice_account *a, const advice_account *b)
{
    if (a->silenced_by != NULL || b->silenced_by != NULL)
        return g_strcmp0(a->silenced_by, b->silenced_by) == 0;
    if (a->only_watch != b->only_watch || a->share != b->share || a->needed_share != b->needed_share ||
        a->reasons->len != b->reasons->len)
        return FALSE;
    for (guint i = 0; i < a->reasons->len; i++)
        if (!same_reason(g_ptr_array_index(a->reasons, i), g_ptr_array_index(b->reasons, i)))
            return FALSE;
    return TRUE;
}

static void add_comparison(GPtrArray *reasons, const advice_node *node, const advice_case *which, advice_chance chance)
{
    advice_reason *reason = advice_account_add(reasons, ADVICE_REASON_COMPARED, node->quantity_name);

    reason->quantity = node->quantity;
    reason->relation = node->operation;
    reason->limit = advice_limit(node, which);
    if (advice_quantity_unit(&node->quantity) == ADVICE_UNIT_PITCH)
        aperta_pitch_spell((int)reason->limit, which->situation->key, reason->limit_pitch);
    reason->untold = chance.unknown > 0.5;
    reason->holds = chance.holds >= 0.5;
    reason->chance = reason->holds ? chance.holds : 1.0 - chance.holds;
}

static void add_leaf(GPtrArray *reasons, const advice_node *node, const advice_case *which)
{
    advice_chance chance = advice_evaluate(node, which);
    advice_reason *reason;

    switch (node->kind) {
    case ADVICE_COMPARE:
        add_comparison(reasons, node, which, chance);
        break;
    case ADVICE_STATUS:
        reason = advice_account_add(reasons, ADVICE_REASON_STATUS, node->quantity_name);
        reason->quantity = node->quantity;
        break;
    case ADVICE_VOICE:
        advice_account_add(reasons, ADVICE_REASON_VOICE, NULL);
        break;
    case ADVICE_SHAPE:
        advice_account_add(reasons, ADVICE_REASON_SHAPE, NULL)->outcome = which->outcome;
        break;
    case ADVICE_VIBRATO:
        advice_account_add(reasons, ADVICE_REASON_VIBRATO, NULL);
        break;
    default:
        reason = advice_account_add(reasons, ADVICE_REASON_VOWEL, node->text);
        reason->untold = chance.unknown > 0.5;
        reason->holds = chance.holds >= 0.5;
    }
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

void advice_add_reasons(GPtrArray *reasons, const advice_node *node, const advice_case *which, gboolean holds)
{
    const advice_node *child = NULL;

    if (node->kind == ADVICE_NOT) {
        advice_add_reasons(reasons, g_ptr_array_index(node->children, 0), which, !holds);
        return;
    }
    if (node->kind != ADVICE_AND && node->kind != ADVICE_OR) {
        add_leaf(reasons, node, which);
        return;
    }
    if ((node->kind == ADVICE_OR) == holds)
        child = deciding_child(node, which, holds);
    if (child != NULL) {
        advice_add_reasons(reasons, child, which, holds);
        return;
    }
    for (guint i = 0; i < node->children->len; i++)
        advice_add_reasons(reasons, g_ptr_array_index(node->children, i), which, holds);
}
