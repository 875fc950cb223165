/* first.c - what to try first, of all that is asked for: at most three things, chosen by how much of the singing they
 * touch, how sure they are and how small the first step is. */
#include "result/first.h"

#include "result/query.h"
#include "result/result-tuning.h"

#include <string.h>

/* ---- what asks for the same -------------------------------------------------------------------------------------- */

/* The vowel stays and the jaw opens. */
static gboolean keeps_vowel(const aperta_shape *shape)
{
    return shape->vowel == shape->from;
}

/* Groups differ in their level, and in the way of tongue and lips to a shape; one thing is what leads to one shape, or
 * keeps every vowel and opens the jaw, or what rules without a shape give as one remedy. */
static gboolean asks_the_same(const aperta_finding *a, const aperta_finding *b)
{
    if (a->level != b->level) /* what is sure is not mixed with what may be left */
        return FALSE;
    if (a->shape == NULL || b->shape == NULL)
        return a->shape == b->shape && g_strcmp0(a->remedy, b->remedy) == 0 &&
               (a->remedy != NULL || strcmp(a->rule, b->rule) == 0);
    if (keeps_vowel(a->shape) || keeps_vowel(b->shape))
        return keeps_vowel(a->shape) && keeps_vowel(b->shape);
    return a->shape->vowel == b->shape->vowel;
}

/* ---- how much it is worth ---------------------------------------------------------------------------------------- */

static double level_share(const aperta_finding *finding)
{
    if (finding->level == APERTA_LEVEL_CHANGE)
        return 1.0;
    return finding->shape != NULL ? RESULT_WATCH_SHARE : RESULT_BARE_WATCH_SHARE;
}

static double probability_of(const aperta_finding *finding)
{
    return finding->facts != NULL ? finding->facts->probability : 1.0;
}

/* 1 for no movement, 1/2 for RESULT_HALF_EASE_BARK, and for what asks for another way of singing. */
static double ease_of(const aperta_finding *finding)
{
    const aperta_shape *step = result_first_step(finding);

    return step != NULL ? 1.0 / (1.0 + step->moved_bark / RESULT_HALF_EASE_BARK) : 0.5;
}

const aperta_shape *result_first_step(const aperta_finding *finding)
{
    if (finding->ladder == NULL || finding->ladder->len == 0)
        return finding->shape;
    return g_ptr_array_index(finding->ladder, 0);
}

/* ---- gathering --------------------------------------------------------------------------------------------------- */

typedef struct {
    aperta_try *told;
    double weight_s; /* of the notes */
    double sure_s;   /* the same, each by its probability */
    double worth;
} candidate;

static void try_free(gpointer data)
{
    aperta_try *one = data;

    g_ptr_array_unref(one->notes);
    g_ptr_array_unref(one->findings);
    g_free(one);
}

/* How much of the singing a note is, in seconds, and whether note a comes before note b. */
typedef double (*weighing)(gconstpointer note);
typedef gboolean (*ordering)(gconstpointer a, gconstpointer b);

static candidate *candidate_of(GArray *candidates, const aperta_group *group)
{
    for (guint i = 0; i < candidates->len; i++) {
        candidate *one = &g_array_index(candidates, candidate, i);
        if (asks_the_same(one->told->finding, group->finding))
            return one;
    }
    candidate fresh = {.told = g_new0(aperta_try, 1)};
    fresh.told->level = group->level;
    fresh.told->finding = group->finding;
    fresh.told->notes = g_ptr_array_new();
    fresh.told->findings = g_ptr_array_new();
    g_array_append_val(candidates, fresh);
    return &g_array_index(candidates, candidate, candidates->len - 1);
}

static double step_of(const aperta_finding *finding)
{
    const aperta_shape *step = result_first_step(finding);

    return step != NULL ? step->moved_bark : 0.0;
}

static void add_group(GArray *candidates, const aperta_group *group, weighing weight)
{
    candidate *one = candidate_of(candidates, group);

    for (guint i = 0; i < group->notes->len; i++) {
        gconstpointer note = g_ptr_array_index(group->notes, i);
        const aperta_finding *finding = aperta_finding_at(group->findings, i);
        double note_s = weight(note);
        one->weight_s += note_s;
        one->sure_s += note_s * probability_of(finding);
        one->worth += note_s * probability_of(finding) * level_share(finding) * ease_of(finding);
        g_ptr_array_add(one->told->notes, (gpointer)note);
        g_ptr_array_add(one->told->findings, (gpointer)finding);
        if (step_of(finding) < step_of(one->told->finding))
            one->told->finding = finding;
    }
}

static gint by_worth(gconstpointer a, gconstpointer b)
{
    const candidate *first = a, *second = b;

    return (first->worth < second->worth) - (first->worth > second->worth);
}

/* Notes of several groups, in order of time. */
static void sort_notes(aperta_try *told, ordering order)
{
    for (guint i = 1; i < told->notes->len; i++)
        for (guint k = i; k > 0 && order(told->notes->pdata[k], told->notes->pdata[k - 1]); k--) {
            gpointer note = told->notes->pdata[k], finding = told->findings->pdata[k];
            told->notes->pdata[k] = told->notes->pdata[k - 1];
            told->findings->pdata[k] = told->findings->pdata[k - 1];
            told->notes->pdata[k - 1] = note;
            told->findings->pdata[k - 1] = finding;
        }
}

/* groups: of notes that weigh all_s with those that are in no group. */
static GPtrArray *find_first(const GPtrArray *groups, double all_s, weighing weight, ordering order)
{
    g_autoptr(GArray) candidates = g_array_new(FALSE, TRUE, sizeof(candidate));
    GPtrArray *first = g_ptr_array_new_with_free_func(try_free);

    for (guint i = 0; i < groups->len; i++)
        add_group(candidates, g_ptr_array_index(groups, i), weight);
    g_array_sort(candidates, by_worth);
    for (guint i = 0; i < candidates->len; i++) {
        candidate *one = &g_array_index(candidates, candidate, i);
        if (i >= APERTA_TRIES_MAX) {
            try_free(one->told);
            continue;
        }
        one->told->share = all_s > 0.0 ? MIN(one->weight_s / all_s, 1.0) : 0.0;
        one->told->confidence = one->weight_s > 0.0 ? one->sure_s / one->weight_s : 0.0;
        sort_notes(one->told, order);
        g_ptr_array_add(first, one->told);
    }
    return first;
}

/* ---- a take ------------------------------------------------------------------------------------------------------ */

static double sung_weight(gconstpointer data)
{
    const aperta_sung_note *note = data;

    return note->note.span.end_s - note->note.span.start_s;
}

static gboolean sung_before(gconstpointer a, gconstpointer b)
{
    return ((const aperta_sung_note *)a)->number < ((const aperta_sung_note *)b)->number;
}

void result_find_first(aperta_result *result)
{
    double all_s = 0.0;

    for (guint i = 0; i < result->notes->len; i++)
        all_s += sung_weight(result_note_at(result, i));
    result->first = find_first(result->groups, all_s, sung_weight, sung_before);
}

int result_try_lowest(const aperta_try *one)
{
    int lowest = G_MAXINT;

    for (guint i = 0; i < one->notes->len; i++)
        lowest = MIN(lowest, aperta_sung_note_at(one->notes, i)->midi);
    return lowest;
}

/* ---- a sheet ----------------------------------------------------------------------------------------------------- */

static double written_weight(gconstpointer note)
{
    return ((const aperta_sheet_note *)note)->weight_s;
}

static gboolean written_before(gconstpointer a, gconstpointer b)
{
    const aperta_sheet_note *first = a, *second = b;

    return first->verse != second->verse ? first->verse < second->verse : first->number < second->number;
}

void result_find_first_on_sheet(aperta_sheet *sheet)
{
    sheet->first = find_first(sheet->groups, sheet->weight_s, written_weight, written_before);
}

int result_try_lowest_on_sheet(const aperta_try *one)
{
    int lowest = G_MAXINT;

    for (guint i = 0; i < one->notes->len; i++)
        lowest = MIN(lowest, aperta_sheet_note_at(one->notes, i)->score_note->midi);
    return lowest;
}
