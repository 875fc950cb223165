/* swings.c - vibrato that is too uneven for a sine.
 *
 * Where the swing grows or the rate wanders within a cycle or two, no sine of one size fits (smooth.c). But the pitch
 * still turns, up and down by similar ways in similar times, about a middle that stays; a melody hardly does that at
 * such a rate. Chains of such turns are vibrato, from a quarter of a cycle before the first to as much after the last.
 */
#include "pitch/pitch-private.h"

#include <math.h>

typedef struct {
    guint at; /* frame */
    double cents;
} turn;

/* Where the curve turns, alternately up and down, by more than SWING_NOISE_CENTS. */
static GArray *find_turns(const double *cents, guint n)
{
    GArray *turns = g_array_new(FALSE, FALSE, sizeof(turn));
    guint low = 0, high = 0;
    int way = 0; /* 1: the pitch rises, and high is the next turn; -1: it falls; 0: not known yet */

    for (guint i = 1; i < n; i++) {
        if (cents[i] > cents[high])
            high = i;
        if (cents[i] < cents[low])
            low = i;
        gboolean falls = cents[high] - cents[i] > SWING_NOISE_CENTS;
        gboolean rises = cents[i] - cents[low] > SWING_NOISE_CENTS;
        if (way >= 0 && falls) {
            turn top = {high, cents[high]};
            g_array_append_val(turns, top);
            way = -1;
            low = i;
        } else if (way <= 0 && rises) {
            turn bottom = {low, cents[low]};
            g_array_append_val(turns, bottom);
            way = 1;
            high = i;
        }
    }
    return turns;
}

static gboolean alike(double a, double b, double ratio)
{
    return a <= ratio * b && b <= ratio * a;
}

static gboolean is_swing(const turn *from, double hop_s)
{
    double size = fabs(from[1].cents - from[0].cents), time_s = (from[1].at - from[0].at) * hop_s;

    return size >= SWING_MIN_CENTS && size <= SWING_MAX_CENTS && time_s >= SWING_MIN_S && time_s <= SWING_MAX_S;
}

/* The middle about a turn that has neighbours: exact for any swing that grows evenly. */
static double centre(const turn *t)
{
    return (t[-1].cents + 2.0 * t[0].cents + t[1].cents) / 4.0;
}

/* Whether the swing that ends at t[1] goes on from the one that ends at t[0]; first: of the chain. */
static gboolean goes_on(const turn *t, const turn *first)
{
    return alike(fabs(t[1].cents - t[0].cents), fabs(t[0].cents - t[-1].cents), SWING_CENTS_RATIO) &&
           alike(t[1].at - t[0].at, t[0].at - t[-1].at, SWING_TIME_RATIO) &&
           (t - first < 2 || fabs(centre(t) - centre(t - 1)) <= SWING_CENTRE_CENTS);
}

static void fill_chain(const turn *first, const turn *last, guint n, pitch_stretch *stretches)
{
    guint half_first = (first[1].at - first[0].at) / 2, half_last = (last[0].at - last[-1].at) / 2;
    guint from = first->at > half_first ? first->at - half_first : 0, to = MIN(last->at + half_last + 1, n);

    for (const turn *t = first; t < last; t++) {
        const turn *a = t > first ? t - 1 : t, *b = t + 1 < last ? t + 2 : t + 1;
        double cycle = 2.0 * (b->at - a->at) / (double)(b - a);
        guint begin = t == first ? from : t[0].at, end = t + 1 == last ? to : t[1].at;
        for (guint i = begin; i < end; i++)
            if (!(stretches[i].cycle > 0.0f))
                stretches[i] = (pitch_stretch){(float)cycle, 0.0f, from, to};
    }
}

void pitch_find_swings(const double *cents, guint n, double hop_s, pitch_stretch *stretches)
{
    g_autofree double *light = g_memdup2(cents, n * sizeof *cents);

    pitch_smooth(light, n, hop_s, NULL);
    g_autoptr(GArray) turns = find_turns(light, n);
    const turn *t = (const turn *)(void *)turns->data;
    for (guint first = 0, last; first + 1 < turns->len; first = MAX(last, first + 1)) {
        last = first;
        while (last + 1 < turns->len && is_swing(&t[last], hop_s) && (last == first || goes_on(&t[last], &t[first])))
            last++;
        if (last - first + 1 >= SWING_TURNS_MIN)
            fill_chain(&t[first], &t[last], n, stretches);
    }
}
