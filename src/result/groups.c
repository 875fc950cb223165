/* groups.c - notes that are told the same, in a take and on a sheet.
 *
 * Two findings tell the same if they are of one level and one rule and ask for the same change. Without a shape the
 * words are about the pitch rather than about one vowel. */
#include "result/sheet-private.h"

#include <string.h>

/* What the notes of a group have in common; compared field by field. */
typedef struct {
    aperta_level level;
    const char *rule;
    const aperta_vowel *shape; /* NULL: none is asked for */
    const void *from;          /* the vowel, where it matters which; else NULL */
    gboolean rounded;          /* of the vowel: lips are changed on the way */
    gboolean r_coloured;       /* the tip of the tongue is */
} group_key;

static gboolean key_equal(const group_key *a, const group_key *b)
{
    return a->level == b->level && strcmp(a->rule, b->rule) == 0 && a->shape == b->shape && a->from == b->from &&
           a->rounded == b->rounded && a->r_coloured == b->r_coloured;
}

typedef struct {
    GArray *keys;      /* group_key, one a group */
    GPtrArray *groups; /* aperta_group */
} grouping;

static void group_free(gpointer data)
{
    aperta_group *group = data;

    g_ptr_array_unref(group->notes);
    g_ptr_array_unref(group->findings);
    g_free(group);
}

static grouping grouping_new(void)
{
    return (grouping){g_array_new(FALSE, FALSE, sizeof(group_key)), g_ptr_array_new_with_free_func(group_free)};
}

static aperta_group *group_of(grouping *found, const group_key *key)
{
    for (guint i = 0; i < found->keys->len; i++)
        if (key_equal(&g_array_index(found->keys, group_key, i), key))
            return g_ptr_array_index(found->groups, i);
    aperta_group *group = g_new0(aperta_group, 1);
    group->level = key->level;
    group->notes = g_ptr_array_new();
    group->findings = g_ptr_array_new();
    g_array_append_val(found->keys, *key);
    g_ptr_array_add(found->groups, group);
    return group;
}

static void add(aperta_group *group, gconstpointer note, const aperta_finding *finding)
{
    g_ptr_array_add(group->notes, (gpointer)note);
    g_ptr_array_add(group->findings, (gpointer)finding);
}

static gint by_weight(gconstpointer a, gconstpointer b)
{
    const aperta_group *first = *(aperta_group *const *)a;
    const aperta_group *second = *(aperta_group *const *)b;

    if (first->level != second->level)
        return (int)second->level - (int)first->level;
    return (second->weight_s > first->weight_s) - (second->weight_s < first->weight_s);
}

/* Those that want a change first, the heaviest of them first; equal ones stay in order of time (the sort is stable). */
static GPtrArray *sorted(grouping *found)
{
    g_array_unref(found->keys);
    g_ptr_array_sort(found->groups, by_weight);
    return found->groups;
}

/* "ee" and "ih" go to "eh" in one way, "oo" and "er" to "uh" in two: lips, or the tip of the tongue. */
static group_key key_in_take(const aperta_sung_note *note, const aperta_finding *finding)
{
    const aperta_vowel *vowel = aperta_sung_note_told(note);
    group_key key = {.level = finding->level, .rule = finding->rule};

    if (finding->shape == NULL)
        return key;
    key.shape = finding->shape->vowel;
    if (key.shape == vowel) {
        key.from = vowel;
        return key;
    }
    key.rounded = vowel != NULL && vowel->rounded;
    key.r_coloured = vowel != NULL && vowel->r_coloured;
    return key;
}

void result_find_groups(aperta_result *result)
{
    grouping found = grouping_new();

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        for (guint f = 0; f < result_length(note->advice); f++) {
            const aperta_finding *finding = g_ptr_array_index(note->advice, f);
            if (finding->level == APERTA_LEVEL_FINE)
                continue;
            group_key key = key_in_take(note, finding);
            aperta_group *group = group_of(&found, &key);
            if (group->finding == NULL) {
                group->finding = finding;
                group->sung = note;
            }
            add(group, note, finding);
        }
    }
    result->groups = sorted(&found);
}

/* With a shape the words are about one vowel and where it goes, whatever the jaw does. */
static group_key key_on_sheet(const aperta_sheet_note *note, const aperta_finding *finding)
{
    group_key key = {.level = finding->level, .rule = finding->rule};

    if (finding->shape != NULL) {
        key.shape = finding->shape->vowel;
        key.from = note->expected;
    }
    return key;
}

static void weigh(aperta_sheet *sheet, const aperta_sheet_note *note)
{
    aperta_level level = aperta_findings_level(note->advice);

    if (note->expected != NULL && note->expected->known)
        sheet->weight_s += note->weight_s;
    if (level == APERTA_LEVEL_CHANGE)
        sheet->change_s += note->weight_s;
    if (level == APERTA_LEVEL_WATCH)
        sheet->watch_s += note->weight_s;
}

void sheet_find_groups(aperta_sheet *sheet)
{
    grouping found = grouping_new();

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        weigh(sheet, note);
        for (guint f = 0; f < note->advice->len; f++) {
            const aperta_finding *finding = g_ptr_array_index(note->advice, f);
            if (finding->level == APERTA_LEVEL_FINE)
                continue;
            group_key key = key_on_sheet(note, finding);
            aperta_group *group = group_of(&found, &key);
            if (group->note == NULL || note->weight_s > group->note->weight_s) {
                group->note = note;
                group->finding = finding;
            }
            group->weight_s += note->weight_s;
            add(group, note, finding);
        }
    }
    sheet->groups = sorted(&found);
}

/* ---- by the vowel ------------------------------------------------------------------------------------------------ */

/* Whether two notes are told to be on the same vowel, or on one as little known. */
static gboolean is_told_alike(const aperta_sung_note *a, const aperta_sung_note *b)
{
    const aperta_vowel *first = aperta_sung_note_told(a), *second = aperta_sung_note_told(b);

    if (first != NULL || second != NULL)
        return first == second;
    return result_same_class(&a->vowel.vowel_class, &b->vowel.vowel_class) &&
           (a->vowel.heard == NULL) == (b->vowel.heard == NULL);
}

static void free_notes(gpointer data)
{
    g_ptr_array_unref(data);
}

GPtrArray *result_by_vowel(const GPtrArray *notes)
{
    GPtrArray *by_vowel = g_ptr_array_new_with_free_func(free_notes);

    for (guint i = 0; i < notes->len; i++) {
        GPtrArray *alike = NULL;
        for (guint k = 0; k < by_vowel->len && alike == NULL; k++) {
            GPtrArray *one = g_ptr_array_index(by_vowel, k);
            if (is_told_alike(g_ptr_array_index(one, 0), g_ptr_array_index(notes, i)))
                alike = one;
        }
        if (alike == NULL) {
            alike = g_ptr_array_new();
            g_ptr_array_add(by_vowel, alike);
        }
        g_ptr_array_add(alike, g_ptr_array_index(notes, i));
    }
    return by_vowel;
}
