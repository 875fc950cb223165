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

/* Groups as they are found. What differs between takes and sheets is the caller's. */
typedef struct {
    GArray *entries;   /* entry, one a group */
    GPtrArray *groups; /* aperta_group */
    group_key (*key_of)(gconstpointer note, const aperta_finding *finding);
    void (*stand_for)(aperta_group *group, gconstpointer note);
} grouping;

typedef struct {
    group_key key;
    double heaviest_s; /* of the note that stands for the group */
} entry;

static void group_free(gpointer data)
{
    aperta_group *group = data;

    g_ptr_array_unref(group->notes);
    g_ptr_array_unref(group->findings);
    g_free(group);
}

static grouping grouping_new(void)
{
    return (grouping){.entries = g_array_new(FALSE, FALSE, sizeof(entry)),
                      .groups = g_ptr_array_new_with_free_func(group_free)};
}

static aperta_group *group_new(aperta_level level)
{
    aperta_group *group = g_new0(aperta_group, 1);

    group->level = level;
    group->notes = g_ptr_array_new();
    group->findings = g_ptr_array_new();
    return group;
}

/* Where the group of that key stands; there is one then. */
static guint place_of(grouping *found, const group_key *key)
{
    for (guint i = 0; i < found->entries->len; i++)
        if (key_equal(&g_array_index(found->entries, entry, i).key, key))
            return i;
    const entry one = {.key = *key};
    g_array_append_val(found->entries, one);
    g_ptr_array_add(found->groups, group_new(key->level));
    return found->entries->len - 1;
}

/* For a group stands the note that weighs most, the first of such. */
static void add(grouping *found, gconstpointer note, double weight_s, const aperta_finding *finding)
{
    group_key key = found->key_of(note, finding);
    guint place = place_of(found, &key);
    entry *own = &g_array_index(found->entries, entry, place);
    aperta_group *group = aperta_group_at(found->groups, place);

    if (group->finding == NULL || weight_s > own->heaviest_s) {
        own->heaviest_s = weight_s;
        group->finding = finding;
        found->stand_for(group, note);
    }
    group->weight_s += weight_s;
    g_ptr_array_add(group->notes, (gpointer)note);
    g_ptr_array_add(group->findings, (gpointer)finding);
}

/* A note goes into a group with each finding that asks for something. */
static void sort_in(grouping *found, gconstpointer note, double weight_s, const GPtrArray *advice)
{
    for (guint i = 0; i < result_length(advice); i++) {
        const aperta_finding *finding = aperta_finding_at(advice, i);
        if (finding->level != APERTA_LEVEL_FINE)
            add(found, note, weight_s, finding);
    }
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
    g_array_unref(found->entries);
    g_ptr_array_sort(found->groups, by_weight);
    return found->groups;
}

/* ---- in a take --------------------------------------------------------------------------------------------------- */

/* "ee" and "ih" go to "eh" in one way, "oo" and "er" to "uh" in two: lips, or the tip of the tongue. */
static group_key key_in_take(gconstpointer note, const aperta_finding *finding)
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

static void stand_for_sung(aperta_group *group, gconstpointer note)
{
    group->sung = note;
}

void result_find_groups(aperta_result *result)
{
    grouping found = grouping_new();

    found.key_of = key_in_take;
    found.stand_for = stand_for_sung;
    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        sort_in(&found, note, 0.0, note->advice); /* no note of a take weighs more than another */
    }
    result->groups = sorted(&found);
}

/* ---- on a sheet -------------------------------------------------------------------------------------------------- */

/* With a shape the words are about one vowel and where it goes, whatever the jaw does. */
static group_key key_on_sheet(gconstpointer note, const aperta_finding *finding)
{
    group_key key = {.level = finding->level, .rule = finding->rule};

    if (finding->shape != NULL) {
        key.shape = finding->shape->vowel;
        key.from = ((const aperta_sheet_note *)note)->expected;
    }
    return key;
}

static void stand_for_written(aperta_group *group, gconstpointer note)
{
    group->note = note;
}

void sheet_find_groups(aperta_sheet *sheet)
{
    grouping found = grouping_new();

    found.key_of = key_on_sheet;
    found.stand_for = stand_for_written;
    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        sort_in(&found, note, note->weight_s, note->advice);
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
