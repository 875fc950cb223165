/* evaluate.c - the probability that a condition holds.
 *
 * What is exact (pitch, vowel, voice, a status) is true, false or, where there is nothing to ask, unknown. A resonance
 * is cut into cells at the limits that the condition compares it with; the condition is evaluated once in every
 * combination of cells and the masses of those where it holds are added. So "and", "or" and "not" over comparisons of
 * one resonance are right, not multiplied as if they were independent; F1, F2 and F3 are taken as independent of each
 * other. Unknown follows Kleene's logic: false and unknown is false, true or unknown is true, all else with unknown is
 * unknown.
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>

typedef enum { TRUTH_FALSE, TRUTH_TRUE, TRUTH_UNKNOWN } truth;

static truth truth_of(gboolean yes)
{
    return yes ? TRUTH_TRUE : TRUTH_FALSE;
}

static gboolean of_resonance(const advice_node *node)
{
    return node->kind == ADVICE_COMPARE && node->quantity.kind >= ADVICE_RESONANCE;
}

double advice_limit(const advice_node *node, const advice_case *which)
{
    if (node->setting == NULL)
        return node->number;
    return advice_setting_for(which->rules, node->setting, which->voice)->number; /* checked when the file was read */
}

gboolean advice_limit_hz(const advice_node *node, const advice_case *which, double *hz)
{
    double limit = advice_limit(node, which);
    const aperta_vowel_row *row;

    switch (node->quantity.kind) {
    case ADVICE_RESONANCE_TO_HARMONIC:
        *hz = node->quantity.harmonic * which->situation->f0_hz * exp2(limit / 12.0);
        return TRUE;
    case ADVICE_RESONANCE_TO_SPOKEN:
        row = aperta_vowel_table_row(which->table, advice_named_vowel(which));
        if (row == NULL || !row->has[node->quantity.resonance])
            return FALSE;
        *hz = row->hz[node->quantity.resonance] * exp2(limit / 12.0);
        return TRUE;
    default:
        *hz = fmax(limit, 1.0);
        return TRUE;
    }
}

const aperta_vowel *advice_named_vowel(const advice_case *which)
{
    return which->situation->vowel_class.known ? NULL : which->situation->vowel;
}

guint advice_candidates(const advice_case *which, const aperta_vowel *candidates[ADVICE_CANDIDATES_MAX])
{
    const aperta_situation *situation = which->situation;
    double sum = 0.0;
    guint n = 0;

    for (guint i = 0; i < situation->n_shares && sum < ADVICE_VOWELS_SURE; i++) {
        candidates[n++] = situation->shares[i].vowel;
        sum += situation->shares[i].share;
    }
    if (situation->n_shares > 0 || !situation->vowel_class.known)
        return sum < ADVICE_VOWELS_SURE ? 0 : n;
    for (guint i = 0; i < which->table->n_rows && n < ADVICE_CANDIDATES_MAX; i++)
        if (aperta_vowel_class_has(&situation->vowel_class, which->table->rows[i].vowel))
            candidates[n++] = which->table->rows[i].vowel;
    return n;
}

/* ---- leaves ---------------------------------------------------------------------------------------------------- */

static truth compare(double value, advice_operator operation, double limit)
{
    switch (operation) {
    case ADVICE_LESS:
        return truth_of(value < limit);
    case ADVICE_LESS_EQUAL:
        return truth_of(value <= limit);
    case ADVICE_MORE:
        return truth_of(value > limit);
    default:
        return truth_of(value >= limit);
    }
}

static truth compare_exact(const advice_node *node, const advice_case *which)
{
    const aperta_situation *situation = which->situation;
    gboolean has_vibrato = situation->vibrato.status == APERTA_VIBRATO_MEASURED;
    double value;

    switch (node->quantity.kind) {
    case ADVICE_PITCH:
        value = situation->midi;
        break;
    case ADVICE_F0:
        value = situation->f0_hz;
        break;
    case ADVICE_DURATION:
        value = situation->duration_s;
        break;
    case ADVICE_VIBRATO_RATE:
        value = has_vibrato ? situation->vibrato.rate_hz : NAN;
        break;
    default:
        value = has_vibrato ? situation->vibrato.extent_cents : NAN;
        break;
    }
    return isnan(value) ? TRUTH_UNKNOWN : compare(value, node->operation, advice_limit(node, which));
}

static truth compare_resonance(const advice_node *node, const advice_case *which, const double *hz)
{
    double value_hz = hz[node->quantity.resonance];
    double limit_hz;

    if (isnan(value_hz) || !advice_limit_hz(node, which, &limit_hz))
        return TRUTH_UNKNOWN;
    return compare(value_hz, node->operation, limit_hz);
}

static truth in_class(const aperta_vowel *vowel, advice_vowel_class class)
{
    if (class == ADVICE_CLASS_KNOWN || class == ADVICE_CLASS_UNKNOWN)
        return truth_of((vowel != NULL) == (class == ADVICE_CLASS_KNOWN));
    if (vowel == NULL)
        return TRUTH_UNKNOWN;
    if (class <= ADVICE_CLASS_OPEN)
        return truth_of((int)vowel->height == (int)class - (int)ADVICE_CLASS_CLOSE);
    if (class <= ADVICE_CLASS_BACK)
        return truth_of((int)vowel->place == (int)class - (int)ADVICE_CLASS_FRONT);
    return truth_of(class == ADVICE_CLASS_ROUNDED ? vowel->rounded : vowel->r_coloured);
}

static truth of_vowel(const advice_node *node, const aperta_vowel *vowel)
{
    if (node->kind == ADVICE_VOWEL_CLASS)
        return in_class(vowel, (advice_vowel_class)node->word);
    return vowel == NULL ? TRUTH_UNKNOWN : truth_of(g_ptr_array_find(node->vowels, vowel, NULL));
}

/* Where the name is not told: what holds of all vowels it may be, or of none. */
static truth of_vowels(const advice_node *node, const advice_case *which)
{
    const aperta_vowel *candidates[ADVICE_CANDIDATES_MAX];
    gboolean asks_name = node->kind == ADVICE_VOWEL_CLASS && node->word >= ADVICE_CLASS_KNOWN;
    guint n, n_true = 0;

    if (advice_named_vowel(which) != NULL || asks_name)
        return of_vowel(node, advice_named_vowel(which));
    n = advice_candidates(which, candidates);
    for (guint i = 0; i < n; i++)
        n_true += of_vowel(node, candidates[i]) == TRUTH_TRUE;
    return n > 0 && (n_true == 0 || n_true == n) ? truth_of(n_true == n) : TRUTH_UNKNOWN;
}

static truth is_voice(aperta_voice voice, aperta_voice asked)
{
    return truth_of(voice == asked || aperta_voice_group(voice) == asked);
}

static truth is_shape(advice_search_outcome outcome, int word)
{
    if (outcome == ADVICE_SEARCH_IMPOSSIBLE)
        return TRUTH_UNKNOWN;
    return truth_of((outcome == ADVICE_SEARCH_FOUND) == (word == 1));
}

/* ---- trees ----------------------------------------------------------------------------------------------------- */

static truth evaluate_at(const advice_node *node, const advice_case *which, const double *hz);

/* AND with decisive = FALSE, OR with decisive = TRUE. */
static truth evaluate_children(const advice_node *node, const advice_case *which, const double *hz, truth decisive)
{
    truth result = decisive == TRUTH_TRUE ? TRUTH_FALSE : TRUTH_TRUE;

    for (guint i = 0; i < node->children->len; i++) {
        truth child = evaluate_at(g_ptr_array_index(node->children, i), which, hz);
        if (child == decisive)
            return decisive;
        if (child == TRUTH_UNKNOWN)
            result = TRUTH_UNKNOWN;
    }
    return result;
}

static truth negated(truth of)
{
    return of == TRUTH_UNKNOWN ? of : truth_of(of == TRUTH_FALSE);
}

static truth evaluate_at(const advice_node *node, const advice_case *which, const double *hz)
{
    const aperta_situation *situation = which->situation;

    switch (node->kind) {
    case ADVICE_AND:
        return evaluate_children(node, which, hz, TRUTH_FALSE);
    case ADVICE_OR:
        return evaluate_children(node, which, hz, TRUTH_TRUE);
    case ADVICE_NOT:
        return negated(evaluate_at(g_ptr_array_index(node->children, 0), which, hz));
    case ADVICE_COMPARE:
        return of_resonance(node) ? compare_resonance(node, which, hz) : compare_exact(node, which);
    case ADVICE_STATUS:
        return truth_of((int)situation->resonances[node->quantity.resonance].status == node->word);
    case ADVICE_VOWEL_CLASS:
    case ADVICE_VOWEL_LIST:
        return of_vowels(node, which);
    case ADVICE_VOICE:
        return is_voice(which->voice, (aperta_voice)node->word);
    case ADVICE_SHAPE:
        return is_shape(which->outcome, node->word);
    case ADVICE_VIBRATO:
        break;
    }
    return truth_of((int)situation->vibrato.status == node->word);
}

/* ---- whatever is measured ---------------------------------------------------------------------------------------- */

static truth by_pitch_and_voice(const advice_node *node, const advice_case *which)
{
    gboolean by_pitch = node->kind == ADVICE_COMPARE && node->quantity.kind <= ADVICE_F0;
    truth decisive = node->kind == ADVICE_OR ? TRUTH_TRUE : TRUTH_FALSE;
    truth result = negated(decisive);

    if (node->children == NULL)
        return by_pitch || node->kind == ADVICE_VOICE ? evaluate_at(node, which, NULL) : TRUTH_UNKNOWN;
    if (node->kind == ADVICE_NOT)
        return negated(by_pitch_and_voice(g_ptr_array_index(node->children, 0), which));
    for (guint i = 0; i < node->children->len; i++) {
        truth child = by_pitch_and_voice(g_ptr_array_index(node->children, i), which);
        if (child == decisive)
            return decisive;
        result = child == TRUTH_UNKNOWN ? child : result;
    }
    return result;
}

gboolean advice_is_possible(const advice_node *node, const advice_case *which)
{
    return by_pitch_and_voice(node, which) != TRUTH_FALSE;
}

/* ---- cells ----------------------------------------------------------------------------------------------------- */

typedef struct {
    const advice_case *which;
    double limits_hz[APERTA_N_RESONANCES][ADVICE_LIMITS_MAX];
    guint n_limits[APERTA_N_RESONANCES];
} limit_list;

static void collect_limit(const advice_node *node, void *data)
{
    limit_list *list = data;
    int resonance = node->quantity.resonance;
    double hz;

    if (of_resonance(node) && list->n_limits[resonance] < ADVICE_LIMITS_MAX && advice_limit_hz(node, list->which, &hz))
        list->limits_hz[resonance][list->n_limits[resonance]++] = hz;
}

typedef struct {
    advice_cell cells[APERTA_N_RESONANCES][ADVICE_LIMITS_MAX + 1];
    guint n_cells[APERTA_N_RESONANCES];
} cell_grid;

static void fill_grid(const advice_node *node, const advice_case *which, cell_grid *grid)
{
    limit_list list = {.which = which};

    advice_node_walk(node, collect_limit, &list);
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        grid->n_cells[i] = advice_belief_cells(&which->situation->resonances[i], i, which->situation->posterior,
                                               list.limits_hz[i], list.n_limits[i], grid->cells[i]);
        if (grid->n_cells[i] == 0) {
            grid->cells[i][0] = (advice_cell){NAN, 1.0};
            grid->n_cells[i] = 1;
        }
    }
}

advice_chance advice_evaluate(const advice_node *node, const advice_case *which)
{
    advice_chance chance = {0.0, 0.0};
    cell_grid grid;

    fill_grid(node, which, &grid);
    for (guint i = 0; i < grid.n_cells[0]; i++) {
        for (guint j = 0; j < grid.n_cells[1]; j++) {
            for (guint k = 0; k < grid.n_cells[2]; k++) {
                double hz[] = {grid.cells[0][i].hz, grid.cells[1][j].hz, grid.cells[2][k].hz};
                double mass = grid.cells[0][i].mass * grid.cells[1][j].mass * grid.cells[2][k].mass;
                truth result = evaluate_at(node, which, hz);
                if (result == TRUTH_TRUE)
                    chance.holds += mass;
                else if (result == TRUTH_UNKNOWN)
                    chance.unknown += mass;
            }
        }
    }
    return chance;
}
