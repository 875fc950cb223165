/* Slices of the posterior of F1.
 *
 * Intervals from the curvature at the minimum alone are wrong where they matter: with F1 near or below f0 the posterior
 * is skewed and wide. So F1 is moved away from each minimum in steps, everything else follows to its best value, and
 * the rest is integrated as a normal distribution around it, whose volume comes from the curvature there: Laplace's
 * method, nested in F1 (Tierney & Kadane 1986, J. Am. Stat. Assoc. 81:82; Rue, Martino & Chopin 2009, J. R. Stat. Soc.
 * B 71:319).
 */
#include <math.h>
#include <string.h>

#include "dsp/dsp.h"
#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

static const double F_SDS[FIT_POLES] = {FIT_F_SDS};

/* F3 and all above also move with the tract's length: d ln F by it, in units of d ln F by their own parameter. */
static double length_share(const fit_model *model, int pole)
{
    return pole >= 2 ? model->voice.length_sd / F_SDS[pole] : 0.0;
}

/* Covariance of ln F of resonance i with that whose column this is, in units of their parameters. */
static double with_length(const fit_model *model, const double *column, int i)
{
    return column[FIT_F1 + i] + length_share(model, i) * column[FIT_LENGTH];
}

/* Log determinant of the curvature at x, one parameter (>= 0) left out, and the covariances of ln F1, ln F2, ln F3 with
 * all parameters. */
static double curvature_at(fit_model *model, const double *x, int without,
                           double covariance[APERTA_N_RESONANCES * FIT_PARAMS])
{
    double gradient[FIT_PARAMS], curvature[FIT_PARAMS * FIT_PARAMS], log_det = 0.0;
    fit_model_chi2(x, gradient, curvature, model);
    if (without >= 0)
        for (int i = 0; i < FIT_PARAMS; i++) {
            curvature[without * FIT_PARAMS + i] = curvature[i * FIT_PARAMS + without] = 0.0;
            curvature[without * FIT_PARAMS + without] = 1.0;
        }
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        double factor[FIT_PARAMS * FIT_PARAMS];
        memcpy(factor, curvature, sizeof factor);
        double *column = covariance + i * FIT_PARAMS;
        memset(column, 0, sizeof *column * FIT_PARAMS);
        column[FIT_F1 + i] = 1.0;
        column[FIT_LENGTH] = length_share(model, i);
        dsp_solve_spd(factor, column, FIT_PARAMS);
        if (i == 0)
            for (int p = 0; p < FIT_PARAMS; p++)
                log_det += 2.0 * log(factor[p * FIT_PARAMS + p]);
    }
    return log_det;
}

static void add_slice(tract_fit *fit, fit_model *model, const double *x, int mode, double chi2, double step)
{
    fit_posterior *posterior = &fit->posterior;
    if (posterior->n_slices >= FIT_SLICES_MAX)
        return;
    double covariance[APERTA_N_RESONANCES * FIT_PARAMS], hz[FIT_POLES];
    double log_det = curvature_at(model, x, FIT_F1, covariance);
    fit_model_poles(model, x, hz, NULL);
    fit_slice *slice = &posterior->slices[posterior->n_slices++];
    slice->mode = mode;
    slice->ln_f1 = log(hz[0]);
    slice->half_width = 0.5 * step * F_SDS[0];
    slice->log_weight = -0.5 * FIT_TEMPERING * chi2 - 0.5 * log_det + log(step);
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        slice->mean[i] = log(hz[i]);
        double variance = with_length(model, covariance + i * FIT_PARAMS, i);
        slice->sd[i] = F_SDS[i] * sqrt(MAX(variance, 1e-8) / FIT_TEMPERING);
    }
    slice->cross = F_SDS[1] * F_SDS[2] * with_length(model, covariance + FIT_PARAMS, 2) / FIT_TEMPERING;
}

static gboolean already_sliced(const fit_posterior *posterior, const fit_minimum *m)
{
    for (int j = 0; j < posterior->n_slices; j++) {
        const fit_slice *slice = &posterior->slices[j];
        if (fabs(slice->ln_f1 - log(m->f_hz[0])) <= FIT_SLICED_WIDTHS * slice->half_width &&
            fabs(slice->mean[1] - log(m->f_hz[1])) < FIT_ALIKE && fabs(slice->mean[2] - log(m->f_hz[2])) < FIT_ALIKE)
            return TRUE;
    }
    return FALSE;
}

/* The way may lead down through a valley and up again, onto another hill: all beyond the valley, which begins with
 * slice first_beyond, is a mode of its own then, so that no value lies between two hills. */
typedef struct {
    double deepest; /* log weight */
    int first_beyond;
} valley;

/* Takes notice of the last slice; returns the mode of the next one. */
static int pass_valley(fit_posterior *posterior, valley *v)
{
    fit_slice *last = &posterior->slices[posterior->n_slices - 1];
    if (last->log_weight < v->deepest) {
        *v = (valley){last->log_weight, posterior->n_slices};
    } else if (last->log_weight > v->deepest + FIT_VALLEY && posterior->n_modes < FIT_MODES_PARTED) {
        for (int j = v->first_beyond; j < posterior->n_slices; j++)
            posterior->slices[j].mode = posterior->n_modes;
        posterior->n_modes++;
        v->deepest = last->log_weight;
        v->first_beyond = posterior->n_slices;
    }
    return last->mode;
}

/* Follows the best fit as F1 moves one way (the profile of the likelihood). least: the reweighted chi squared at the
 * start, whose robust one is start->chi2; lean: their regression on F1 there. */
static void follow(tract_fit *fit, fit_model *model, const fit_minimum *start, double least, const double *lean,
                   double step, int mode)
{
    valley v = {INFINITY, fit->posterior.n_slices};
    double x[FIT_PARAMS];
    memcpy(x, start->x, sizeof x);
    for (int i = 1; i <= FIT_SLICES_EACH_WAY; i++) {
        for (int p = 0; i == 1 && p < FIT_PARAMS; p++)
            x[p] += step * lean[p];
        if (i > 1)
            x[FIT_F1] += step;
        double chi2 = dsp_nlls_run(fit->nlls, fit_model_chi2, model, 1u << FIT_F1, x, FIT_LM_SLICE);
        add_slice(fit, model, x, mode, start->chi2 + chi2 - least, fabs(step));
        mode = pass_valley(&fit->posterior, &v);
        if (chi2 - least > FIT_SLICE_DEPTH)
            break;
    }
}

void fit_slice_minimum(tract_fit *fit, const fit_minimum *m)
{
    fit_model model = {.source = &fit->source, .voice = fit->voice, .cells = &fit->cells};
    double covariance[APERTA_N_RESONANCES * FIT_PARAMS], lean[FIT_PARAMS];
    fit_minimum start = *m;
    if (already_sliced(&fit->posterior, m))
        return;
    int mode = fit->posterior.n_modes++;
    fit_model_irls_weights(&model, &fit->cells, start.x, fit->residual_db);
    double least = dsp_nlls_run(fit->nlls, fit_model_chi2, &model, 0, start.x, FIT_LM_SLICED);
    curvature_at(&model, start.x, -1, covariance);
    double step = CLAMP(FIT_SLICE_STEP * sqrt(covariance[FIT_F1]), FIT_SLICE_STEP_MIN, FIT_SLICE_STEP_MAX);
    for (int p = 0; p < FIT_PARAMS; p++)
        lean[p] = covariance[p] / covariance[FIT_F1];
    add_slice(fit, &model, start.x, mode, start.chi2, step);
    follow(fit, &model, &start, least, lean, -step, mode);
    follow(fit, &model, &start, least, lean, step, mode);
}
