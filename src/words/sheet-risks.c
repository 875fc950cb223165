/* sheet-risks.c - other words that the shapes of a group would make, and what to do instead. */
#include "words/sheet-words.h"

/* Notes of one group that have the same answer. */
typedef struct {
    const aperta_sheet_note *note; /* the first of them */
    GPtrArray *pairs;              /* char *: "“see” as “say”", each once */
} answer;

static void answer_free(gpointer data)
{
    answer *one = data;

    g_ptr_array_unref(one->pairs);
    g_free(one);
}

static gboolean same_answer(const aperta_word_risk *a, const aperta_word_risk *b)
{
    if (a->instead == NULL || b->instead == NULL)
        return a->instead == b->instead;
    return words_shapes_named_alike(a->instead, b->instead);
}

static void add_risk(GPtrArray *answers, const aperta_sheet_note *note)
{
    g_autofree char *word = aperta_shown(note->word);
    g_autofree char *lower = g_utf8_strdown(word, -1);
    char *pair = g_strdup_printf("“%s” as “%s”", lower, note->risk->word);
    answer *one = NULL;

    for (guint i = 0; i < answers->len && one == NULL; i++) {
        answer *other = g_ptr_array_index(answers, i);
        one = same_answer(other->note->risk, note->risk) ? other : NULL;
    }
    if (one == NULL) {
        one = g_new0(answer, 1);
        one->note = note;
        one->pairs = g_ptr_array_new_with_free_func(g_free);
        g_ptr_array_add(answers, one);
    }
    if (g_ptr_array_find_with_equal_func(one->pairs, pair, g_str_equal, NULL))
        g_free(pair);
    else
        g_ptr_array_add(one->pairs, pair);
}

static char *risk_sentence(const answer *one)
{
    const aperta_shape *instead = one->note->risk->instead;

    g_ptr_array_add(one->pairs, NULL);
    g_autofree char *pairs = g_strjoinv(", ", (char **)one->pairs->pdata);
    if (instead == NULL)
        return g_strdup_printf("May be heard as another word: %s; keep the vowel and only let the jaw open as far as "
                               "it goes easily.",
                               pairs);
    g_autofree char *shape = words_shape_label(instead, TRUE);
    return g_strdup_printf("May be heard as another word: %s; keep the vowel and only let the jaw open. Else try %s, "
                           "which makes no word we know.",
                           pairs, shape);
}

char **words_sheet_group_risks(const aperta_group *group)
{
    g_autoptr(GPtrArray) answers = g_ptr_array_new_with_free_func(answer_free);
    GPtrArray *list = g_ptr_array_new();

    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_sheet_note *note = aperta_sheet_note_at(group->notes, i);
        if (note->risk != NULL && group->finding->shape != NULL)
            add_risk(answers, note);
    }
    for (guint i = 0; i < answers->len; i++)
        g_ptr_array_add(list, risk_sentence(g_ptr_array_index(answers, i)));
    g_ptr_array_add(list, NULL);
    return (char **)g_ptr_array_free(list, FALSE);
}
