/* The minima of one note's chi squared.
 *
 * Levels at a few harmonics can be explained in several ways: a strong harmonic is F1 in one and F2 in the other. The
 * search starts from vowel shapes all over the plane, on a coarse copy of the note; each start first finds the source
 * and gain that suit it, then its frequencies, then all. The best few that differ are finished on the whole
 * note with robust errors (Student's, by iteratively reweighted least squares: Lange, Little & Taylor 1989, J. Am.
 * Stat. Assoc. 84:881), whose scale is first fitted to the note: a dry, steady take is believed to a fraction of a
 * decibel, a room is not.
 */
#include <math.h>
#include <string.h>

#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

static const double STARTS[][3] = FIT_STARTS;

static const double HIGH[][FIT_POLES - 3] = FIT_HIGH_STARTS;

enum { N_STARTS = G_N_ELEMENTS(STARTS) };

static const guint32 HOLD_BANDWIDTHS = ((1u << FIT_POLES) - 1u) << FIT_B1;
static const guint32 HOLD_TRACT = (2u << FIT_LENGTH) - 1u; /* all but source and gain */

/* ---- one start -------------------------------------------------------------------------------------------------- */

static void set_tract(const fit_model *model, const double *shape, const double *high, double *x)
{
    memset(x, 0, sizeof *x * FIT_PARAMS);
    for (int i = 0; i < FIT_POLES; i++) {
        double ratio = i < 3 ? shape[i] : MAX(high[i - 3], (FIT_HIGH_FIRST + FIT_HIGH_EACH * (i - 3)) * shape[2]);
        x[FIT_F1 + i] = fit_model_x_of_hz(model, x, i, ratio * model->voice.neutral_hz);
    }
}

/* Finds the source and gain that suit the tract of x best; chi squared with them. */
static double match_source(tract_fit *fit, fit_model *model, double *x)
{
    fit_model_tract_db(model, x, fit->tract_db);
    model->tract_db = fit->tract_db;
    model->first = FIT_SHAPE;
    double chi2 = dsp_nlls_run(fit->nlls, fit_model_chi2, model, HOLD_TRACT, x, FIT_LM_SOURCE);
    model->tract_db = NULL;
    model->first = 0;
    return chi2;
}

/* Sets x to a vowel shape with those of the high resonances, source and gain that suit it best. */
static void set_start(tract_fit *fit, fit_model *model, const double *shape, double *x)
{
    double least = INFINITY;
    for (gsize i = 0; i < G_N_ELEMENTS(HIGH); i++) {
        double here[FIT_PARAMS];
        set_tract(model, shape, HIGH[i], here);
        double chi2 = match_source(fit, model, here);
        if (chi2 < least) {
            least = chi2;
            memcpy(x, here, sizeof here);
        }
    }
}

static double minimise(tract_fit *fit, fit_model *model, guint32 held, double *x, guint steps, double enough)
{
    return dsp_nlls_run(fit->nlls, fit_model_chi2, model, held, x, steps, enough);
}

/* From found->x to a minimum of the thin copy; FALSE if the way there does not look like one below most. */
static gboolean descend(tract_fit *fit, fit_model *model, double most, fit_minimum *found)
{
    model->first = FIT_F1;
    minimise(fit, model, HOLD_BANDWIDTHS, found->x, FIT_LM_TRACT);
    model->first = 0;
    if (fit_model_irls_weights(model, &fit->thin, found->x, fit->residual_db) > most)
        return FALSE;
    minimise(fit, model, 0, found->x, FIT_LM_COARSE);
    found->chi2 = fit_model_irls_weights(model, &fit->thin, found->x, fit->residual_db);
    fit_model_poles(model, found->x, found->f_hz, NULL);
    return TRUE;
}

/* From one vowel shape. */
static gboolean search_from(tract_fit *fit, const double *shape, double most, fit_minimum *found)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->thin};
    fit_cells_reset_weights(&fit->thin);
    set_start(fit, &model, shape, found->x);
    return descend(fit, &model, most, found);
}

static void search_coarsely(tract_fit *fit, const aperta_resonance *hint, fit_minima *minima)
{
    fit_minimum found;
    double shape[APERTA_N_RESONANCES];
    int hinted = 0;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        shape[i] = hint[i].hz / fit->voice.neutral_hz;
        hinted += hint[i].status == APERTA_MEASURED;
    }
    if (hinted == APERTA_N_RESONANCES) {
        search_from(fit, shape, INFINITY, &found);
        fit_minima_keep(minima, FIT_MODES_MAX, &found);
    }
    for (int i = 0; i < N_STARTS; i++) {
        double most = minima->n > 0 ? FIT_HOPE_SHARE * minima->of[0].chi2 + FIT_HOPE_DEPTH : INFINITY;
        if (search_from(fit, STARTS[i], most, &found))
            fit_minima_keep(minima, FIT_MODES_MAX, &found);
    }
}

/* ---- an upper resonance elsewhere -----------------------------------------------------------------------------------
 *
 * A minimum may have two resonances where the tract has one, and none where it has another: no way downhill leads out,
 * as resonances do not pass each other. Source and tilt then make up for it, and F1 is wrong with them.
 */

enum { UPPER = APERTA_N_RESONANCES };

/* Takes resonance out of m away and puts one into a gap of the others, source and gain following. */
static fit_minimum moved(tract_fit *fit, fit_model *model, const fit_minimum *m, int out, int gap)
{
    fit_minimum result = *m;
    double hz[FIT_POLES];
    memcpy(hz, m->f_hz, sizeof hz);
    memmove(&hz[out], &hz[out + 1], sizeof *hz * (gsize)(FIT_POLES - 1 - out));
    memmove(&hz[gap + 1], &hz[gap], sizeof *hz * (gsize)(FIT_POLES - 1 - gap));
    hz[gap] = gap + 1 < FIT_POLES ? sqrt(hz[gap - 1] * hz[gap + 1]) : FIT_ABOVE * hz[gap - 1];
    for (int i = UPPER; i < FIT_POLES; i++) {
        result.x[FIT_F1 + i] = fit_model_x_of_hz(model, result.x, i, hz[i]);
        result.x[FIT_B1 + i] = 0.0;
    }
    fit_cells_reset_weights(&fit->thin);
    match_source(fit, model, result.x);
    result.chi2 = fit_model_irls_weights(model, &fit->thin, result.x, fit->residual_db);
    return result;
}

/* The best moves of one minimum, best first. */
static void best_moves(tract_fit *fit, fit_model *model, const fit_minimum *m, fit_minimum best[FIT_MOVES_MAX])
{
    for (int i = 0; i < FIT_MOVES_MAX; i++)
        best[i].chi2 = INFINITY;
    for (int out = UPPER; out < FIT_POLES; out++)
        for (int gap = UPPER; gap < FIT_POLES; gap++) {
            if (gap == out)
                continue;
            fit_minimum here = moved(fit, model, m, out, gap);
            for (int i = 0; i < FIT_MOVES_MAX; i++)
                if (here.chi2 < best[i].chi2) {
                    fit_minimum worse = best[i];
                    best[i] = here;
                    here = worse;
                }
        }
}

/* Adds what is found where the best minima have an upper resonance elsewhere. */
static void move_upper_resonances(tract_fit *fit, fit_minima *minima)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->thin};
    fit_minimum from[FIT_MOVED_MAX], best[FIT_MOVES_MAX];
    int n_from = MIN(minima->n, FIT_MOVED_MAX);
    memcpy(from, minima->of, sizeof *from * (gsize)n_from);
    for (int i = 0; i < n_from; i++) {
        best_moves(fit, &model, &from[i], best);
        for (int j = 0; j < FIT_MOVES_MAX; j++) {
            fit_cells_reset_weights(&fit->thin);
            descend(fit, &model, INFINITY, &best[j]);
            fit_minima_keep(minima, FIT_MODES_MAX, &best[j]);
        }
    }
}

/* ---- scale of the errors ----------------------------------------------------------------------------------------- */

/* Mean square of the normalised residuals around the harmonics' own means, drawn toward 1. */
static double cell_scale(const tract_fit *fit)
{
    double sum = 0.0, n = -FIT_SCALE_SPENT_DF;
    for (guint g = 0; g < fit->cells.n_groups; g++) {
        const fit_group *group = &fit->cells.groups[g];
        if (group->n < 2 || group->doubt_db2 > FIT_SCALE_DOUBT_DB2 || group->beside_db2 > FIT_SCALE_DOUBT_DB2)
            continue;
        n += group->n - 1.0;
        for (guint i = group->first; i < group->first + group->n; i++) {
            const fit_cell *cell = &fit->cells.cells[i];
            sum += cell->irls_weight * fit->residual_db[i] * fit->residual_db[i] / cell->variance_db2;
        }
    }
    return CLAMP((FIT_SCALE_PRIOR_DF + sum) / (FIT_SCALE_PRIOR_DF + MAX(n, 0.0)), FIT_SCALE_MIN, FIT_SCALE_MAX);
}

static double ripple_scale(const tract_fit *fit, const double *ripple_db)
{
    double sum = 0.0, n = -FIT_RIPPLE_SPENT_DF;
    for (guint g = 0; g < fit->cells.n_groups; g++) {
        const fit_group *group = &fit->cells.groups[g];
        if (group->doubt_db2 > FIT_SCALE_DOUBT_DB2 || group->beside_db2 > FIT_SCALE_DOUBT_DB2)
            continue;
        n += 1.0;
        sum += group->irls_weight * ripple_db[g] * ripple_db[g] / group->ripple_db2;
    }
    return (FIT_RIPPLE_PRIOR_DF + sum) / (FIT_RIPPLE_PRIOR_DF + MAX(n, 0.0));
}

/* Rooms, shimmer and sources differ from take to take: sets the variances by the residuals of a first fit. */
static void rescale_errors(tract_fit *fit, fit_model *model, const double *start)
{
    double x[FIT_PARAMS], ripple_db[APERTA_HARMONICS_MAX];
    memcpy(x, start, sizeof x);
    fit_cells_reset_weights(&fit->cells);
    minimise(fit, model, 0, x, FIT_LM_SCALE);
    fit_model_irls_weights(model, &fit->cells, x, fit->residual_db);
    minimise(fit, model, 0, x, FIT_LM_SCALE_AGAIN);
    fit_model_residuals(model, x, fit->residual_db, ripple_db);
    double cells = cell_scale(fit), ripples = ripple_scale(fit, ripple_db);
    for (guint g = 0; g < fit->cells.n_groups; g++) {
        fit_group *group = &fit->cells.groups[g];
        group->ripple_db2 *= ripples;
        for (guint i = group->first; i < group->first + group->n; i++) {
            fit_cell *cell = &fit->cells.cells[i];
            cell->variance_db2 = (cell->variance_db2 - cell->beside_db2) * cells + group->doubt_db2 + cell->beside_db2;
        }
    }
}

/* ---- search ------------------------------------------------------------------------------------------------------ */

static void finish(tract_fit *fit, fit_model *model, fit_minimum *m)
{
    fit_cells_reset_weights(&fit->cells);
    for (int round = 0; round < FIT_ROUNDS; round++) {
        if (round == 0)
            minimise(fit, model, 0, m->x, FIT_LM_FIRST);
        else
            minimise(fit, model, 0, m->x, FIT_LM_NEXT);
        m->chi2 = fit_model_irls_weights(model, &fit->cells, m->x, fit->residual_db);
    }
    fit_model_poles(model, m->x, m->f_hz, NULL);
}

/* Is a quick minimum not so far behind the best that it need not be looked at again? */
static gboolean is_promising(const fit_minima *rough, int i)
{
    double best = rough->of[0].chi2;
    return rough->of[i].chi2 < best + FIT_MINIMA_DEPTH + FIT_MINIMA_SHARE * best;
}

void fit_search(tract_fit *fit, const aperta_resonance hint[APERTA_N_RESONANCES], fit_minima *minima)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->cells};
    fit_minima rough = {.n = 0};
    search_coarsely(fit, hint, &rough);
    move_upper_resonances(fit, &rough);
    rescale_errors(fit, &model, rough.of[0].x);
    minima->n = 0;
    for (int i = 0; i < rough.n && is_promising(&rough, i); i++) {
        fit_minimum found = rough.of[i];
        finish(fit, &model, &found);
        fit_minima_keep(minima, FIT_MODES_MAX, &found);
    }
    while (minima->n > 1 && minima->of[minima->n - 1].chi2 > minima->of[0].chi2 + FIT_MODES_DEPTH)
        minima->n--;
}
