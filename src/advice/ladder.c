/* ladder.c - the steps on the way to a shape.
 *
 * A far shape is not the first thing to try. First the vowel itself with the jaw wide, then what lies between it and
 * the shape in the F1-F2 plane, each as open as a jaw makes it, and at last the shape; by the distance from the vowel
 * as sung (Bark), and only where a step brings F1 noticeably nearer than the one before, and the
 * shape noticeably nearer than the last step. The singer stops at the first
 * that feels free. (That the next vowel is tried before the far one is common practice, no source.) */
#include "advice/advice-tuning.h"
#include "advice/shape-private.h"

#include <math.h>

static void free_shape(gpointer data)
{
    aperta_shape_free(data);
}

static int by_distance(gconstpointer a, gconstpointer b)
{
    double first = (*(const aperta_shape *const *)a)->moved_bark,
           second = (*(const aperta_shape *const *)b)->moved_bark;

    return (first > second) - (first < second);
}

/* A vowel with the jaw as wide as it goes, or as the aim needs. */
static aperta_shape *opened_step(const shape_search *search, const aperta_vowel *vowel, double f1_hz, double f2_hz)
{
    double reached_hz = fmin(f1_hz * (1.0 + search->opening), search->edge_hz);
    double share = search->opening > 0.0 ? fmax(reached_hz / f1_hz - 1.0, 0.0) / search->opening : 0.0;
    aperta_shape *step = g_new0(aperta_shape, 1);

    step->vowel = vowel;
    step->jaw_wide = reached_hz > f1_hz * (1.0 + ADVICE_JAW_WIDE_FROM);
    step->from = search->from;
    shape_set_way(step, search->from);
    step->f1_hz = reached_hz;
    step->f2_hz = f2_hz * pow(search->middle_hz / f2_hz, search->inward * share);
    step->moved_bark = aperta_vowel_distance_bark(search->sung_f1_hz, search->sung_f2_hz, step->f1_hz, step->f2_hz);
    return step;
}

/* Everything that might be a step: nearer than the shape, and no stranger to the tongue and the lips. */
static GPtrArray *possible_steps(const shape_search *search, const aperta_shape *shape)
{
    GPtrArray *steps = g_ptr_array_new_with_free_func(free_shape);

    if (search->row != NULL && shape->vowel != search->vowel && shape_is_aimed_at(search->vowel))
        g_ptr_array_add(steps, opened_step(search, search->vowel, search->row->hz[0], search->sung_f2_hz));
    for (guint i = 0; i < search->table->n_rows; i++) {
        const aperta_vowel_row *row = &search->table->rows[i];
        if (row->vowel != shape->vowel && shape_is_open_neighbour(search, row) &&
            row->vowel->height <= shape->vowel->height && !shape_is_far(search, row->vowel, row->hz[1]) &&
            shape_strangeness(search, row->vowel) <= shape_strangeness(search, shape->vowel))
            g_ptr_array_add(steps, opened_step(search, row->vowel, row->hz[0], row->hz[1]));
    }
    g_ptr_array_sort(steps, by_distance);
    return steps;
}

GPtrArray *advice_ladder(const advice_case *which, const aperta_shape *shape)
{
    GPtrArray *ladder = g_ptr_array_new_with_free_func(free_shape);
    shape_search search;

    if (advice_named_vowel(which) != NULL && shape_place_search(which, &search)) {
        g_autoptr(GPtrArray) steps = possible_steps(&search, shape);
        double reached_hz = search.sung_f1_hz;
        for (guint i = 0; i < steps->len && ladder->len < ADVICE_STEPS_MAX; i++) {
            const aperta_shape *step = aperta_shape_at(steps, i);
            if (step->moved_bark >= shape->moved_bark || step->f1_hz < reached_hz * ADVICE_STEP_RATIO ||
                step->f1_hz * ADVICE_STEP_RATIO > shape->f1_hz)
                continue;
            reached_hz = step->f1_hz;
            g_ptr_array_add(ladder, aperta_shape_copy(step));
        }
    }
    g_ptr_array_add(ladder, aperta_shape_copy(shape));
    return ladder;
}
