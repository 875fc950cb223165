/* note-groups.c - notes that are told the same thing are told it once. */
#include "report/take/text-private.h"

static void group_free(gpointer data)
{
    note_group *group = data;

    g_free(group->key);
    g_ptr_array_unref(group->notes);
    g_ptr_array_unref(group->findings);
    g_free(group);
}

GPtrArray *note_groups_new(void)
{
    return g_ptr_array_new_with_free_func(group_free);
}

void note_groups_add(GPtrArray *groups, char *key, const aperta_sung_note *note, const aperta_finding *finding)
{
    note_group *group = NULL;

    for (guint i = 0; i < groups->len && group == NULL; i++) {
        note_group *candidate = g_ptr_array_index(groups, i);
        if (g_str_equal(candidate->key, key))
            group = candidate;
    }
    if (group == NULL) {
        group = g_new0(note_group, 1);
        group->key = g_strdup(key);
        group->notes = g_ptr_array_new();
        group->findings = g_ptr_array_new();
        g_ptr_array_add(groups, group);
    }
    g_ptr_array_add(group->notes, (gpointer)note);
    g_ptr_array_add(group->findings, (gpointer)finding);
    g_free(key);
}
