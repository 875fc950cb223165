/* line.c - of all that a part writes, the line that one singer sings.
 *
 * A part may hold several voices on a staff, and a singer sings one: the voice with most words (or, without words, with
 * most notes). Where that voice is silent for a whole bar and another one sings, the line goes on in the other: printed
 * scores move a melody between voices. Notes that begin together are a chord, of which the top note is read. Tied notes
 * are joined here. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <math.h>
#include <string.h>

typedef struct {
    guint n_notes;
    guint n_syllables;
} voice_count;

static void count_voices(const score_part *part, voice_count *counts)
{
    for (guint i = 0; i < part->events->len; i++) {
        const score_event *event = &g_array_index(part->events, score_event, i);
        counts[event->voice].n_notes++;
        if (event->syllables != NULL)
            counts[event->voice].n_syllables += event->syllables->len;
    }
}

static guint richest_voice(const voice_count *counts, guint n)
{
    guint best = 0;

    for (guint i = 1; i < n; i++)
        if (counts[i].n_syllables > counts[best].n_syllables ||
            (counts[i].n_syllables == counts[best].n_syllables && counts[i].n_notes > counts[best].n_notes))
            best = i;
    return best;
}

/* Which voice sings in each bar. */
typedef struct {
    guint n_bars;
    gint *voices; /* -1: none; the caller's main voice wherever it sings */
} bar_plan;

static guint bars_of(const score_part *part)
{
    guint n = 0;

    for (guint i = 0; i < part->events->len; i++)
        n = MAX(n, g_array_index(part->events, score_event, i).bar + 1);
    return n;
}

/* A voice steps in for a silent main voice only with words of its own, or to end what it began in the bar before. */
static bar_plan plan_bars(const score_part *part, guint main_voice, const voice_count *counts)
{
    guint n = bars_of(part);
    bar_plan plan = {n, g_new(gint, n)};
    g_autofree gint *candidate = g_new(gint, n);

    for (guint i = 0; i < n; i++)
        plan.voices[i] = candidate[i] = -1;
    for (guint i = 0; i < part->events->len; i++) {
        const score_event *event = &g_array_index(part->events, score_event, i);
        gint voice = (gint)event->voice;
        if (event->voice == main_voice)
            plan.voices[event->bar] = voice;
        else if (counts[voice].n_syllables > 0 && (event->syllables != NULL || candidate[event->bar] < 0) &&
                 (event->syllables != NULL || (event->bar > 0 && candidate[event->bar - 1] == voice)))
            candidate[event->bar] = voice;
    }
    for (guint i = 0; i < n; i++)
        if (plan.voices[i] < 0)
            plan.voices[i] = candidate[i];
    return plan;
}

static int by_time(gconstpointer a, gconstpointer b)
{
    const score_event *first = *(const score_event *const *)a;
    const score_event *second = *(const score_event *const *)b;

    if (first->bar != second->bar)
        return first->bar < second->bar ? -1 : 1;
    if (fabs(first->offset - second->offset) > SCORE_SAME_QUARTERS)
        return first->offset < second->offset ? -1 : 1;
    return first->element < second->element ? -1 : first->element > second->element;
}

static gboolean begin_together(const score_event *a, const score_event *b)
{
    return a->bar == b->bar && fabs(a->offset - b->offset) <= SCORE_SAME_QUARTERS && a->length > 0.0 && b->length > 0.0;
}

/* Two notes of the line at one time, not written as a chord: the higher one stays in a, with the words of both. */
static void merge_simultaneous(score_event *a, score_event *b)
{
    GPtrArray *syllables = score_syllables_join(a->syllables, g_steal_pointer(&b->syllables));
    guint element = MIN(a->element, b->element);

    if (b->midi > a->midi)
        *a = *b;
    a->syllables = syllables;
    a->element = element;
}

static GPtrArray *collect(score_part *part, const bar_plan *plan)
{
    GPtrArray *line = g_ptr_array_new();
    GPtrArray *merged = g_ptr_array_new();

    for (guint i = 0; i < part->events->len; i++) {
        score_event *event = &g_array_index(part->events, score_event, i);
        if (plan->voices[event->bar] == (gint)event->voice)
            g_ptr_array_add(line, event);
    }
    g_ptr_array_sort(line, by_time);
    for (guint i = 0; i < line->len; i++) {
        score_event *event = g_ptr_array_index(line, i);
        score_event *last = merged->len > 0 ? g_ptr_array_index(merged, merged->len - 1) : NULL;
        if (last != NULL && begin_together(last, event)) {
            merge_simultaneous(last, event);
            part->met[SCORE_MET_SIMULTANEOUS]++;
        } else {
            g_ptr_array_add(merged, event);
        }
    }
    g_ptr_array_unref(line);
    return merged;
}

static const char *voice_name(const score_part *part, guint voice)
{
    return g_ptr_array_index(part->voices, voice);
}

static void tell_voices(const score_part *part, guint main_voice, const voice_count *counts, const bar_plan *plan,
                        GPtrArray *warnings)
{
    g_autofree voice_count *taken = g_new0(voice_count, part->voices->len);
    guint others = 0;

    for (guint i = 0; i < part->events->len; i++) {
        const score_event *event = &g_array_index(part->events, score_event, i);
        if (plan->voices[event->bar] != (gint)event->voice)
            continue;
        taken[event->voice].n_notes++;
        taken[event->voice].n_syllables += event->syllables != NULL ? event->syllables->len : 0;
    }
    for (guint v = 0; v < part->voices->len; v++) {
        guint left = counts[v].n_syllables - taken[v].n_syllables;
        others += v != main_voice && counts[v].n_notes > 0;
        if (v != main_voice && taken[v].n_notes > 0)
            g_ptr_array_add(warnings,
                            g_strdup_printf("voice %s goes on in bars where voice %s is silent (%u notes)",
                                            voice_name(part, v), voice_name(part, main_voice), taken[v].n_notes));
        if (left > 0)
            g_ptr_array_add(warnings, g_strdup_printf("voice %s has %u syllables of its own that are not read (part "
                                                      "\"%s/%s\" is that voice)",
                                                      voice_name(part, v), left, part->id, voice_name(part, v)));
    }
    if (others > 0)
        g_ptr_array_add(warnings, g_strdup_printf("the part has %u voices; voice %s was read, which has most %s",
                                                  others + 1, voice_name(part, main_voice),
                                                  counts[main_voice].n_syllables > 0 ? "words" : "notes"));
}

static double start_of(const score_event *event, const double *bar_starts)
{
    return bar_starts[event->bar] + event->offset;
}

static gboolean goes_on_in(const score_event *last, const score_event *event, const double *bar_starts)
{
    double gap = start_of(event, bar_starts) - start_of(last, bar_starts) - last->length;

    return last->tie_start && event->tie_stop && event->midi == last->midi && event->syllables == NULL &&
           event->length > 0.0 && fabs(gap) <= SCORE_TIE_GAP_QUARTERS;
}

/* A tied note becomes one, but never over a note that has a syllable of its own in any verse. */
static GPtrArray *join_ties(GPtrArray *line, const double *bar_starts)
{
    GPtrArray *joined = g_ptr_array_new();
    score_event *last = NULL; /* that takes time: a grace note between the two does not part them */

    for (guint i = 0; i < line->len; i++) {
        score_event *event = g_ptr_array_index(line, i);
        if (last != NULL && goes_on_in(last, event, bar_starts)) {
            last->length = start_of(event, bar_starts) + event->length - start_of(last, bar_starts);
            last->tie_start = event->tie_start;
            continue;
        }
        g_ptr_array_add(joined, event);
        if (event->length > 0.0)
            last = event;
    }
    g_ptr_array_unref(line);
    return joined;
}

GPtrArray *score_line(score_part *part, int voice, const double *bar_starts, GPtrArray *warnings)
{
    guint n = part->voices->len;
    g_autofree voice_count *counts = g_new0(voice_count, n + 1);

    count_voices(part, counts);
    guint main_voice = voice >= 0 ? (guint)voice : richest_voice(counts, n);
    bar_plan plan = plan_bars(part, main_voice, counts);
    if (voice >= 0)
        for (guint i = 0; i < plan.n_bars; i++)
            plan.voices[i] = voice;
    else if (warnings != NULL)
        tell_voices(part, main_voice, counts, &plan, warnings);
    GPtrArray *line = collect(part, &plan);
    g_free(plan.voices);
    return join_ties(line, bar_starts);
}
