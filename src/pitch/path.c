/* path.c - one pitch a frame: the cheapest path through all candidates and silence (Viterbi 1967), so that an octave
 * error must pay for its jumps. Costs are explained in pitch-tuning.h. */
#include "pitch/pitch-private.h"

#include <math.h>

enum { UNVOICED = PITCH_CANDIDATES, N_STATES = PITCH_CANDIDATES + 1 };

typedef struct {
    double singing_db; /* level of the singing: 95th percentile of the periodic frames */
    double floor_db;   /* level of the quietest twentieth */
    double per_frame;  /* costs are per 10 ms */
} path_levels;

static int by_value(gconstpointer a, gconstpointer b)
{
    float x = *(const float *)a, y = *(const float *)b;

    return (x > y) - (x < y);
}

static double percentile(GArray *values, double share, double none)
{
    if (values->len == 0)
        return none;
    g_array_sort(values, by_value);
    return g_array_index(values, float, (guint)(share * (values->len - 1)));
}

static double best_voicing(const pitch_frame *frame)
{
    double best = 0.0;

    for (int i = 0; i < frame->n_candidates; i++)
        best = MAX(best, frame->candidates[i].voicing);
    return best;
}

static path_levels measure_levels(const pitch_frame *frames, guint n, double hop_s)
{
    g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(float));
    g_autoptr(GArray) periodic = g_array_new(FALSE, FALSE, sizeof(float));
    path_levels levels = {.per_frame = hop_s / PITCH_PER_S};

    for (guint i = 0; i < n; i++) {
        g_array_append_val(all, frames[i].level_db);
        if (best_voicing(&frames[i]) > PATH_PERIODIC_MIN)
            g_array_append_val(periodic, frames[i].level_db);
    }
    levels.floor_db = percentile(all, PATH_FLOOR_SHARE, PATH_NO_FRAMES_DB);
    levels.singing_db =
        percentile(periodic, PATH_SINGING_SHARE, percentile(all, PATH_SINGING_SHARE, PATH_NO_FRAMES_DB));
    return levels;
}

/* What it costs to call a frame voiced because it is so quiet. */
static double quiet_cost(const path_levels *levels, double level_db)
{
    double threshold_db = levels->singing_db - PITCH_QUIET_DB;

    /* a floor within reach of the singing is no silence at all, but the softest note of a take without rests */
    if (levels->floor_db < levels->singing_db - PATH_QUIET_FLOOR_DB)
        threshold_db = MAX(threshold_db, levels->floor_db + PITCH_OVER_FLOOR_DB);
    return level_db < threshold_db ? PITCH_QUIET_COST_PER_DB * (threshold_db - level_db) : 0.0;
}

static double preference(const pitch_candidate *c)
{
    return c->strength + PITCH_OCTAVE_BIAS * log2(c->f0_hz);
}

/* Strength chooses among the candidates of a frame, so only how far one lies behind the best counts; voicing alone
 * decides between them and silence. */
static double local_cost(const path_levels *levels, const pitch_frame *frame, int state)
{
    if (state == UNVOICED)
        return levels->per_frame * PITCH_VOICING_WEIGHT * (1.0 - PITCH_VOICED_AT);
    const pitch_candidate *c = &frame->candidates[state];
    double behind = preference(&frame->candidates[0]) - preference(c); /* they come sorted */
    double cost = behind + PITCH_VOICING_WEIGHT * (1.0 - c->voicing) + quiet_cost(levels, frame->level_db);
    return levels->per_frame * cost;
}

/* The pitch that the best path into silence came from. Without it a path would pass through one silent frame wherever
 * it wants to jump for less: the creak at a note's end became a pitch two octaves higher. */
typedef struct {
    double last_hz; /* 0: none yet */
    guint frames;   /* since then */
} path_memory;

static double jump_cost(double from_hz, double to_hz)
{
    return PITCH_JUMP_COST * fabs(log2(from_hz / to_hz));
}

static double return_cost(const path_levels *levels, const path_memory *memory, double to_hz)
{
    double silent_s = PITCH_PER_S * levels->per_frame * memory->frames;

    if (memory->last_hz <= 0.0)
        return PITCH_SWITCH_COST;
    return PITCH_SWITCH_COST + exp(-silent_s / PITCH_MEMORY_S) * jump_cost(memory->last_hz, to_hz);
}

static double transition_cost(const path_levels *levels, const path_memory *memory, const pitch_candidate *from,
                              const pitch_candidate *to)
{
    if (to == NULL)
        return from == NULL ? 0.0 : PITCH_SWITCH_COST;
    return from == NULL ? return_cost(levels, memory, to->f0_hz) : jump_cost(from->f0_hz, to->f0_hz);
}

/* NULL where the state is silence. */
static const pitch_candidate *candidate_of(const pitch_frame *frame, int state)
{
    return state == UNVOICED ? NULL : &frame->candidates[state];
}

static gboolean exists(const pitch_frame *frame, int state)
{
    return state == UNVOICED || state < frame->n_candidates;
}

/* Extends all best paths by one frame; back[b] is where the best path into b came from. */
static void step(const path_levels *levels, path_memory *memory, const pitch_frame *from, const pitch_frame *to,
                 double cost[N_STATES], guint8 back[N_STATES])
{
    double next[N_STATES];

    for (int b = 0; b < N_STATES; b++) {
        next[b] = HUGE_VAL;
        if (!exists(to, b))
            continue;
        for (int a = 0; a < N_STATES; a++) {
            if (!exists(from, a))
                continue;
            double sum = cost[a] + transition_cost(levels, memory, candidate_of(from, a), candidate_of(to, b));
            if (sum < next[b]) {
                next[b] = sum;
                back[b] = (guint8)a;
            }
        }
        next[b] += local_cost(levels, to, b);
    }
    for (int b = 0; b < N_STATES; b++)
        cost[b] = next[b];
    memory->frames++;
    if (back[UNVOICED] != UNVOICED)
        *memory = (path_memory){from->candidates[back[UNVOICED]].f0_hz, 1};
}

static void fill(const path_levels *levels, const pitch_frame *frame, int state, aperta_f0 *out)
{
    out->level_db = frame->level_db;
    out->voiced = state != UNVOICED;
    if (out->voiced)
        out->f0_hz = frame->candidates[state].f0_hz;
    double voicing = out->voiced ? frame->candidates[state].voicing : best_voicing(frame);
    out->confidence = (float)CLAMP(voicing - quiet_cost(levels, frame->level_db), 0.0, 1.0);
}

void pitch_path(const pitch_frame *frames, guint n, aperta_f0_track *track)
{
    if (n == 0)
        return;

    path_levels levels = measure_levels(frames, n, track->hop_s);
    g_autofree guint8(*back)[N_STATES] = g_malloc0_n(n, sizeof *back);
    path_memory memory = {0.0, 0};
    double cost[N_STATES];
    for (int s = 0; s < N_STATES; s++)
        cost[s] = exists(&frames[0], s) ? local_cost(&levels, &frames[0], s) : HUGE_VAL;
    for (guint i = 1; i < n; i++)
        step(&levels, &memory, &frames[i - 1], &frames[i], cost, back[i]);

    int state = UNVOICED;
    for (int s = 0; s < N_STATES; s++)
        if (cost[s] < cost[state])
            state = s;
    for (guint i = n; i-- > 0;) {
        fill(&levels, &frames[i], state, &track->frames[i]);
        state = back[i][state];
    }
}
