/* lpc-path.c - which pole is which formant: dynamic programming (Viterbi 1967) over the frames of a note.
 *
 * Every frame offers a few poles; a state gives each of F1 < F2 < F3 one of them, or leaves one formant without. The
 * cheapest chain of states is found, a state costing by bandwidth, by distance from the voice's mean formants and by
 * the narrow poles it passes over, a transition by the movement in Bark. (Talkin 1987, J. Acoust. Soc. Am. 82 S1:S55,
 * from memory, unchecked, does the same with other costs; ours are in tract-tuning.h.) */
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <math.h>

#define NONE       TRACT_POLES_MAX /* in place of a pole: the formant has none */
#define STATES_MAX 65              /* 20 ways to choose three of six, and three times 15 to choose two */

typedef struct {
    guint8 pole[APERTA_N_RESONANCES];
} state;

struct tract_path {
    double nominal_bark[APERTA_N_RESONANCES];
    guint n_states;
    state states[STATES_MAX];
    double cost[2]
               [STATES_MAX]; /* of the cheapest chain that ends here; infinite: the frame lacks a pole of the state */
    guint8 from[TRACT_STRETCH_MAX][STATES_MAX];
};

/* Means over the twelve vowels of Hillenbrand et al. 1995 (JASA 97:3099-3111), Hz. */
static const double nominal_man_hz[] = {524, 1508, 2512};
static const double nominal_woman_hz[] = {617, 1762, 2857};
static const double nominal_child_hz[] = {650, 1947, 3105};

static const double *nominal_of(aperta_voice group)
{
    switch (group) {
    case APERTA_VOICE_MAN:
        return nominal_man_hz;
    case APERTA_VOICE_CHILD:
        return nominal_child_hz;
    default:
        return nominal_woman_hz;
    }
}

/* All choices, upward, with at most one formant left out. */
static void list_states(tract_path *path)
{
    for (guint8 a = 0; a <= NONE; a++)
        for (guint8 b = 0; b <= NONE; b++)
            for (guint8 c = 0; c <= NONE; c++) {
                guint absent = (a == NONE) + (b == NONE) + (c == NONE);
                gboolean upward = (a == NONE || b == NONE || a < b) && (b == NONE || c == NONE || b < c) &&
                                  (a == NONE || c == NONE || a < c);
                if (absent <= 1 && upward)
                    path->states[path->n_states++] = (state){{a, b, c}};
            }
    g_assert(path->n_states == STATES_MAX);
}

tract_path *tract_path_create(aperta_voice group)
{
    tract_path *path = g_new0(tract_path, 1);
    const double *nominal_hz = nominal_of(group);

    for (guint f = 0; f < APERTA_N_RESONANCES; f++)
        path->nominal_bark[f] = aperta_hz_to_bark(nominal_hz[f]);
    list_states(path);
    return path;
}

void tract_path_destroy(tract_path *path)
{
    g_free(path);
}

/* What a state costs in one frame; infinite if the frame lacks one of its poles. */
static double local_cost(const tract_path *path, const state *s, const tract_poles *poles)
{
    double cost = 0;
    guint next = 0; /* the first pole not yet passed */

    for (guint f = 0; f < APERTA_N_RESONANCES; f++) {
        guint p = s->pole[f];
        if (p == NONE) {
            cost += TRACT_COST_ABSENT;
            continue;
        }
        if (p >= poles->n)
            return INFINITY;
        cost += TRACT_COST_BANDWIDTH * poles->bandwidth_hz[p] / 100;
        cost += TRACT_COST_NOMINAL * fabs(poles->bark[p] - path->nominal_bark[f]);
        for (; next < p; next++)
            cost += TRACT_COST_SKIPPED * fmax(0, 1 - poles->bandwidth_hz[next] / TRACT_SKIPPED_WIDE_HZ);
        next = p + 1;
    }
    return cost;
}

/* moves[f][p][q]: formant f going from pole p of one frame to pole q of the next. To and from nothing costs as much as
 * one Bark. */
typedef double move_table[TRACT_POLES_MAX + 1][TRACT_POLES_MAX + 1];

static void tabulate_transitions(const tract_poles *from, const tract_poles *to, move_table moves)
{
    for (guint p = 0; p <= NONE; p++)
        for (guint q = 0; q <= NONE; q++) {
            if (p < from->n && q < to->n)
                moves[p][q] = fmin(TRACT_COST_MOVE * fabs(from->bark[p] - to->bark[q]), TRACT_COST_MOVE_MAX);
            else
                moves[p][q] = p == q ? 0 : TRACT_COST_MOVE;
        }
}

static void step(tract_path *path, const tract_poles *before, const tract_poles *poles, guint i)
{
    const double *cost_before = path->cost[(i - 1) % 2];
    double *cost = path->cost[i % 2];
    guint8 open[STATES_MAX]; /* states the frame before can be in */
    guint n_open = 0;
    move_table moves;

    tabulate_transitions(before, poles, moves);
    for (guint s = 0; s < path->n_states; s++)
        if (cost_before[s] < INFINITY)
            open[n_open++] = (guint8)s;
    for (guint t = 0; t < path->n_states; t++) {
        const guint8 *to = path->states[t].pole;
        double best = INFINITY;
        cost[t] = local_cost(path, &path->states[t], poles);
        for (guint o = 0; cost[t] < INFINITY && o < n_open; o++) {
            const guint8 *from = path->states[open[o]].pole;
            double sum = cost_before[open[o]] + moves[from[0]][to[0]] + moves[from[1]][to[1]] + moves[from[2]][to[2]];
            if (sum < best) {
                best = sum;
                path->from[i][t] = open[o];
            }
        }
        cost[t] += best;
    }
}

static void write_frame(const state *s, const tract_poles *poles, aperta_tract_frame *frame)
{
    frame->known = 0;
    for (guint f = 0; f < APERTA_N_RESONANCES; f++) {
        gboolean known = s->pole[f] < poles->n;
        frame->hz[f] = known ? (float)poles->hz[s->pole[f]] : 0;
        frame->known |= (guint8)(known << f);
    }
}

void tract_path_find(tract_path *path, const tract_poles *poles, guint n, aperta_tract_frame *frames)
{
    guint best = 0;

    if (n == 0)
        return;
    for (guint s = 0; s < path->n_states; s++)
        path->cost[0][s] = local_cost(path, &path->states[s], &poles[0]);
    for (guint i = 1; i < n; i++)
        step(path, &poles[i - 1], &poles[i], i);
    for (guint s = 1; s < path->n_states; s++)
        if (path->cost[(n - 1) % 2][s] < path->cost[(n - 1) % 2][best])
            best = s;
    for (guint i = n; i-- > 0; best = path->from[i][best])
        write_frame(&path->states[best], &poles[i], &frames[i]);
}
