/* tempo.c - from quarters to seconds through all tempo changes, and the weight of the beats. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <math.h>

/* From here on the tempo is bpm. */
typedef struct {
    double quarters;
    double seconds;
    double bpm;
} stretch;

struct score_clock {
    GArray *stretches; /* never empty; the first begins at 0 */
    gboolean written;  /* a tempo stands at or before the first change */
};

typedef struct {
    double quarters;
    gint64 step; /* of the grid */
    const score_tempo *tempo;
} placed_tempo;

gint64 score_grid_step(double quarters)
{
    return (gint64)floor(quarters / SCORE_SAME_QUARTERS + 0.5);
}

/* By place; of one place the printed mark first, so that the tempo for playback wins. */
static int by_place(gconstpointer a, gconstpointer b)
{
    const placed_tempo *first = a;
    const placed_tempo *second = b;

    if (first->step != second->step)
        return first->step < second->step ? -1 : 1;
    if (first->tempo->approximate != second->tempo->approximate)
        return first->tempo->approximate ? -1 : 1;
    return first->tempo < second->tempo ? -1 : first->tempo > second->tempo;
}

static double seconds_in(const stretch *from, double quarters)
{
    return from->seconds + (quarters - from->quarters) * 60.0 / from->bpm;
}

static void change_tempo(score_clock *clock, const placed_tempo *change)
{
    stretch *last = &g_array_index(clock->stretches, stretch, clock->stretches->len - 1);
    double bpm = change->tempo->ratio > 0.0 ? last->bpm * change->tempo->ratio : change->tempo->bpm;

    bpm = CLAMP(bpm, SCORE_TEMPO_MIN_BPM, SCORE_TEMPO_MAX_BPM);
    if (change->quarters - last->quarters <= SCORE_SAME_QUARTERS) {
        last->bpm = bpm;
        clock->written |= clock->stretches->len == 1;
        return;
    }
    stretch next = {change->quarters, seconds_in(last, change->quarters), bpm};
    g_array_append_val(clock->stretches, next);
}

score_clock *score_clock_new(const score_draft *draft, const double *bar_starts)
{
    g_autoptr(GArray) changes = g_array_new(FALSE, FALSE, sizeof(placed_tempo));
    score_clock *clock = g_new0(score_clock, 1);
    stretch start = {0.0, 0.0, SCORE_TEMPO_BPM};

    clock->stretches = g_array_new(FALSE, FALSE, sizeof(stretch));
    g_array_append_val(clock->stretches, start);
    for (guint i = 0; i < draft->tempi->len; i++) {
        const score_tempo *tempo = &g_array_index(draft->tempi, score_tempo, i);
        double quarters = MAX(bar_starts[tempo->bar] + tempo->offset, 0.0);
        placed_tempo placed = {quarters, score_grid_step(quarters), tempo};
        g_array_append_val(changes, placed);
    }
    g_array_sort(changes, by_place);
    for (guint i = 0; i < changes->len; i++)
        change_tempo(clock, &g_array_index(changes, placed_tempo, i));
    return clock;
}

double score_clock_seconds(const score_clock *clock, double quarters)
{
    guint low = 0;
    guint high = clock->stretches->len;

    while (high - low > 1) {
        guint middle = (low + high) / 2;
        if (g_array_index(clock->stretches, stretch, middle).quarters <= quarters)
            low = middle;
        else
            high = middle;
    }
    return seconds_in(&g_array_index(clock->stretches, stretch, low), quarters);
}

double score_clock_first_bpm(const score_clock *clock)
{
    if (clock->written)
        return g_array_index(clock->stretches, stretch, 0).bpm;
    return clock->stretches->len > 1 ? g_array_index(clock->stretches, stretch, 1).bpm : 0.0;
}

void score_clock_free(score_clock *clock)
{
    g_array_unref(clock->stretches);
    g_free(clock);
}

static gboolean is_whole(double value)
{
    return fabs(value - floor(value + 0.5)) < SCORE_SAME_QUARTERS;
}

/* length_before: quarters of the same printed bar that stand before this one, for an upbeat those not written. */
double score_stress(const score_bar *bar, double offset, double length_before)
{
    double beat_quarters = bar->meter.beat_type > 0 ? 4.0 / bar->meter.beat_type : 1.0;
    double beats = (offset + length_before) / beat_quarters;

    if (!is_whole(beats))
        return is_whole(2.0 * beats) && !bar->meter.compound ? SCORE_STRESS_HALF : SCORE_STRESS_OTHER;
    int beat = (int)floor(beats + 0.5);
    if (beat == 0)
        return SCORE_STRESS_FIRST;
    if (beat < bar->meter.n_beats && (bar->meter.groups >> beat & 1u) != 0)
        return SCORE_STRESS_GROUP;
    return bar->meter.compound ? SCORE_STRESS_HALF : SCORE_STRESS_BEAT;
}
