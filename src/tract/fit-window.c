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

enum { N = APERTA_N_RESONANCES, STARTS_MAX = FIT_ANCHORS_MAX + 1 };

static const double F_SDS[FIT_POLES] = {FIT_F_SDS};

static const guint32 FREE = 7u << FIT_F1 | 1u << FIT_TILT | 1u << FIT_GAIN | 1u << FIT_BEND_GAIN | 1u << FIT_BEND_TILT;
static const guint32 ALL = (1u << FIT_PARAMS) - 1u;

void tract_fit_forget(tract_fit *fit)
{
    fit->n_anchors = 0;
}

void fit_window_anchor(tract_fit *fit, const fit_minimum *minima, int n)
{
    for (int i = 0; i < MIN(n, FIT_ANCHORS_A_NOTE) && fit->n_anchors < FIT_ANCHORS_MAX; i++)
        fit->anchors[fit->n_anchors++] = minima[i];
}

static gboolean alike(const fit_minimum *a, const fit_minimum *b)
{
    for (int i = 0; i < N; i++)
        if (fabs(log(a->f_hz[i] / b->f_hz[i])) > FIT_ALIKE)
            return FALSE;
    return TRUE;
}

/* Finds the minimum next to a start and puts it among those found, best first. Returns their number. */
static int walk_from(tract_fit *fit, fit_model *model, const double *start, fit_minimum *found, int n)
{
    fit_minimum here;
    memcpy(here.x, start, sizeof here.x);
    model->first = FIT_F1;
    here.chi2 = dsp_nlls_run(fit->nlls, fit_model_chi2, model, ALL & ~FREE, here.x, 5, 0.3);
    model->first = 0;
    fit_model_poles(model, here.x, here.f_hz, NULL);
    for (int i = 0; i < n; i++)
        if (alike(&found[i], &here)) {
            if (here.chi2 >= found[i].chi2)
                return n;
            memmove(&found[i], &found[i + 1], sizeof *found * (gsize)(n - 1 - i));
            n--;
            break;
        }
    int place = n;
    for (; place > 0 && found[place - 1].chi2 > here.chi2; place--)
        found[place] = found[place - 1];
    found[place] = here;
    return n + 1;
}

/* The anchor nearest to a place, with its resonances moved there. */
static void start_at(const tract_fit *fit, const fit_model *model, const double *ln_hz, double *x)
{
    const fit_minimum *nearest = NULL;
    double least = INFINITY;
    for (int a = 0; a < fit->n_anchors; a++) {
        double sum = 0.0;
        for (int i = 0; i < N; i++)
            sum += fabs(log(fit->anchors[a].f_hz[i]) - ln_hz[i]);
        if (sum < least) {
            least = sum;
            nearest = &fit->anchors[a];
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
    fit_model_weigh(model, &fit->thin, m->x, fit->residual_db);
    dsp_nlls_run(fit->nlls, fit_model_chi2, model, ALL & ~FREE, m->x, 4, 0.1);
    fit_model_chi2(m->x, gradient, curvature, model);
    for (int i = 0; i < N; i++) {
        double factor[FIT_PARAMS * FIT_PARAMS], column[FIT_PARAMS] = {0};
        memcpy(factor, curvature, sizeof factor);
        column[FIT_F1 + i] = 1.0;
        dsp_solve_spd(factor, column, FIT_PARAMS);
        window->places[at].variance[i] = F_SDS[i] * F_SDS[i] * MAX(column[FIT_F1 + i], 1e-6) / FIT_CANDOUR;
    }
    m->chi2 = fit_model_weigh(model, &fit->thin, m->x, fit->residual_db);
    fit_model_poles(model, m->x, m->f_hz, NULL);
    for (int i = 0; i < N; i++)
        window->places[at].ln_hz[i] = log(m->f_hz[i]);
    window->places[at].cost = 0.5 * FIT_CANDOUR * m->chi2;
    for (guint i = 0; i < fit->thin.n_cells; i++)
        fit->thin.cells[i].trust = 1.0;
    for (guint g = 0; g < fit->thin.n_groups; g++)
        fit->thin.groups[g].trust = 1.0;
}

void tract_fit_window(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames, const tract_window *before,
                      tract_window *window)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->thin};
    fit_minimum found[STARTS_MAX];
    double x[FIT_PARAMS], time_s = 0.0;
    int n = 0;
    for (guint i = 0; i < n_frames; i++)
        time_s += frames[i].time_s / n_frames;
    *window = (tract_window){.time_s = time_s};
    if (fit->n_anchors == 0 ||
        !fit_cells_fill(&fit->cells, frames, n_frames, fit->config.band_hz, fit->voice.neutral_hz, fit->scratch))
        return;
    fit_cells_thin(&fit->cells, FIT_THIN_CELLS, &fit->thin);
    for (int a = 0; a < fit->n_anchors; a++)
        n = walk_from(fit, &model, fit->anchors[a].x, found, n);
    if (before != NULL && before->n > 0) {
        start_at(fit, &model, before->places[0].ln_hz, x);
        n = walk_from(fit, &model, x, found, n);
    }
    for (int i = 0; i < n && window->n < TRACT_WINDOW_PLACES_MAX && found[i].chi2 < found[0].chi2 + FIT_WINDOW_DEPTH;
         i++)
        read_place(fit, &model, &found[i], window);
}
