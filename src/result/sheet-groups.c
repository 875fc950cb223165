/* sheet-groups.c - notes that are told the same about the same vowel, the heaviest group first. */
#include "result/sheet-private.h"

#include <string.h>

static void group_free(gpointer data)
{
    aperta_sheet_group *group = data;

    g_ptr_array_unref(group->notes);
    g_free(group);
}

/* Of one level and one rule. With a shape the words are about one vowel and where it goes, whatever the jaw does;
 * without one they are about the pitch, and the same for all vowels. */
static gboolean belongs(const aperta_sheet_group *group, const aperta_sheet_note *note, const aperta_finding *finding)
{
    const aperta_shape *shape = group->finding->shape;

    if (group->level != finding->level || strcmp(group->finding->rule, finding->rule) != 0 ||
        (shape == NULL) != (finding->shape == NULL))
        return FALSE;
    return shape == NULL || (group->note->expected == note->expected && shape->vowel == finding->shape->vowel);
}

static void add_to_group(aperta_sheet *sheet, const aperta_sheet_note *note, const aperta_finding *finding)
{
    aperta_sheet_group *group = NULL;

    for (guint i = 0; i < sheet->groups->len && group == NULL; i++)
        if (belongs(g_ptr_array_index(sheet->groups, i), note, finding))
            group = g_ptr_array_index(sheet->groups, i);
    if (group == NULL) {
        group = g_new0(aperta_sheet_group, 1);
        group->notes = g_ptr_array_new();
        group->level = finding->level;
        g_ptr_array_add(sheet->groups, group);
    }
    if (group->note == NULL || note->weight_s > group->note->weight_s) {
        group->note = note;
        group->finding = finding;
    }
    group->weight_s += note->weight_s;
    g_ptr_array_add(group->notes, (gpointer)note);
}

static gint by_weight(gconstpointer a, gconstpointer b)
{
    const aperta_sheet_group *first = *(aperta_sheet_group *const *)a;
    const aperta_sheet_group *second = *(aperta_sheet_group *const *)b;

    if (first->level != second->level)
        return (int)second->level - (int)first->level;
    return (second->weight_s > first->weight_s) - (second->weight_s < first->weight_s);
}

void sheet_find_groups(aperta_sheet *sheet)
{
    sheet->groups = g_ptr_array_new_with_free_func(group_free);
    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        aperta_level level = aperta_findings_level(note->advice);
        if (note->expected != NULL && note->expected->known)
            sheet->weight_s += note->weight_s;
        if (level == APERTA_LEVEL_CHANGE)
            sheet->change_s += note->weight_s;
        if (level == APERTA_LEVEL_WATCH)
            sheet->watch_s += note->weight_s;
        for (guint f = 0; f < note->advice->len; f++) {
            const aperta_finding *finding = g_ptr_array_index(note->advice, f);
            if (finding->level > APERTA_LEVEL_FINE)
                add_to_group(sheet, note, finding);
        }
    }
    g_ptr_array_sort(sheet->groups, by_weight); /* stable: equal ones stay in order of time */
}
