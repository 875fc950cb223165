/* Where F1, F2 and F3 are during a tenth of a second or so of a note whose vowel moves.
 *
 * So few frames cannot tell source and tract apart, but they need not: whole parts of the same note were fitted before,
 * and bandwidths, upper resonances, length and pulse stay as they were there ("anchors"). F1, F2, F3, tilt and gain are
 * free. Each anchor, and the window before, is a start; the different minima they lead to are kept, and which of them
 * is the track is left to who sees all windows (track.c).
 */
#include <math.h>
#include <string.h>

#include "dsp/dsp.h"
#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

enum { N = APERTA_N_RESONANCES };

G_STATIC_ASSERT(TRACT_ENDS *FIT_ANCHORS_AN_END + 1 <= FIT_MINIMA_MAX); /* and the window before */

static const double F_SDS[FIT_POLES] = {FIT_F_SDS};

static const guint32 FREE = 7u << FIT_F1 | 1u << FIT_TILT | 1u << FIT_GAIN | 1u << FIT_BEND_GAIN | 1u << FIT_BEND_TILT;
static const guint32 ALL = (1u << FIT_PARAMS) - 1u;

/* Minima of both ends from which windows are searched, the better ones of each. */
typedef struct {
    int n;
    const fit_minimum *of[TRACT_ENDS * FIT_ANCHORS_AN_END];
} anchors;

static anchors anchors_of(const fit_minima ends[TRACT_ENDS])
{
    anchors a = {.n = 0};
    for (int end = 0; end < TRACT_ENDS; end++)
        for (int i = 0; i < MIN(ends[end].n, FIT_ANCHORS_AN_END); i++)
            a.of[a.n++] = &ends[end].of[i];
    return a;
}

/* Finds the minimum next to a start and puts it among those found. */
static void minimise_from(tract_fit *fit, fit_model *model, const double *start, fit_minima *found)
{
    fit_minimum here;
    memcpy(here.x, start, sizeof here.x);
    model->first = FIT_F1;
    here.chi2 = dsp_nlls_run(fit->nlls, fit_model_chi2, model, ALL & ~FREE, here.x, FIT_LM_WINDOW);
    model->first = 0;
    fit_model_poles(model, here.x, here.f_hz, NULL);
    fit_minima_keep(found, FIT_MINIMA_MAX, &here);
}

/* The anchor nearest to a place, with its resonances moved there. */
static void start_at(const anchors *from, const fit_model *model, const double *ln_hz, double *x)
{
    const fit_minimum *nearest = NULL;
    double least = INFINITY;
    for (int a = 0; a < from->n; a++) {
        double sum = 0.0;
        for (int i = 0; i < N; i++)
            sum += fabs(log(from->of[a]->f_hz[i]) - ln_hz[i]);
        if (sum < least) {
            least = sum;
            nearest = from->of[a];
        }
    }
    memcpy(x, nearest->x, sizeof nearest->x);
    for (int i = 0; i < N; i++)
        x[FIT_F1 + i] = fit_model_x_of_hz(model, x, i, exp(ln_hz[i]));
}

/* Finishes a minimum with robust errors and reads its variances, everything but the source's shape being free. */
static void read_place(tract_fit *fit, fit_model *model, fit_minimum *m, tract_window *window)
{
    double gradient[FIT_PARAMS], curvature[FIT_PARAMS * FIT_PARAMS];
    int at = window->n++;
    fit_model_irls_weights(model, &fit->thin, m->x, fit->residual_db);
    dsp_nlls_run(fit->nlls, fit_model_chi2, model, ALL & ~FREE, m->x, FIT_LM_PLACE);
    fit_model_chi2(m->x, gradient, curvature, model);
    for (int i = 0; i < N; i++) {
        double factor[FIT_PARAMS * FIT_PARAMS], column[FIT_PARAMS] = {0};
        memcpy(factor, curvature, sizeof factor);
        column[FIT_F1 + i] = 1.0;
        dsp_solve_spd(factor, column, FIT_PARAMS);
        window->places[at].variance[i] = F_SDS[i] * F_SDS[i] * MAX(column[FIT_F1 + i], 1e-6) / FIT_TEMPERING;
    }
    m->chi2 = fit_model_irls_weights(model, &fit->thin, m->x, fit->residual_db);
    fit_model_poles(model, m->x, m->f_hz, NULL);
    for (int i = 0; i < N; i++)
        window->places[at].ln_hz[i] = log(m->f_hz[i]);
    window->places[at].cost = 0.5 * FIT_TEMPERING * m->chi2;
    fit_cells_reset_weights(&fit->thin);
}

void tract_fit_window(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames,
                      const fit_minima ends[TRACT_ENDS], const tract_window *before, tract_window *window)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->thin};
    anchors from = anchors_of(ends);
    fit_minima found = {.n = 0};
    double x[FIT_PARAMS], time_s = 0.0;
    for (guint i = 0; i < n_frames; i++)
        time_s += frames[i].time_s / n_frames;
    *window = (tract_window){.time_s = time_s};
    if (from.n == 0 ||
        !fit_cells_fill(&fit->cells, frames, n_frames, fit->config.band_hz, fit->voice.neutral_hz, fit->scratch))
        return;
    fit_cells_thin(&fit->cells, FIT_THIN_CELLS, &fit->thin);
    for (int a = 0; a < from.n; a++)
        minimise_from(fit, &model, from.of[a]->x, &found);
    if (before != NULL && before->n > 0) {
        start_at(&from, &model, before->places[0].ln_hz, x);
        minimise_from(fit, &model, x, &found);
    }
    for (int i = 0;
         i < found.n && window->n < TRACT_WINDOW_PLACES_MAX &&
         found.of[i].chi2 < found.of[0].chi2 + FIT_WINDOW_DEPTH; /* that of the best is finished from i 1 on */
         i++)
        read_place(fit, &model, &found.of[i], window);
}
