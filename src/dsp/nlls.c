/* Nonlinear least squares by Levenberg and Marquardt (Marquardt 1963, J. SIAM 11:431-441), the solver being GSL's
 * gsl_multilarge_nlinear with the Cholesky factor of the normal equations.
 *
 * GSL asks a model for its residuals f and for J^T u; it uses f only through |f|^2 and J^T f. A model with nuisance
 * parameters that are eliminated in closed form knows its sum of squares, J^T f and J^T J directly, without residuals
 * to show: f is handed over as the vector (|f|, 0, 0, ...).
 */
#include "dsp/nlls.h"

#include <gsl/gsl_multilarge_nlinear.h>
#include <math.h>
#include <string.h>

struct dsp_nlls {
    guint p;
    guint32 held;
    dsp_nlls_model model;
    void *data;
    gsl_multilarge_nlinear_workspace *workspace;
    gsl_multilarge_nlinear_fdf fdf;
    double gradient[DSP_NLLS_PARAMS_MAX];
    double curvature[DSP_NLLS_PARAMS_MAX * DSP_NLLS_PARAMS_MAX];
};

static int residuals(const gsl_vector *x, void *data, gsl_vector *f)
{
    dsp_nlls *nlls = data;
    double sum = nlls->model(x->data, NULL, NULL, nlls->data);
    gsl_vector_set_zero(f);
    gsl_vector_set(f, 0, sqrt(sum));
    return isfinite(sum) ? GSL_SUCCESS : GSL_EBADFUNC;
}

static int normal_equations(CBLAS_TRANSPOSE_t transposed, const gsl_vector *x, const gsl_vector *u, void *data,
                            gsl_vector *v, gsl_matrix *jtj)
{
    (void)transposed;
    (void)u; /* always f: GSL multiplies by nothing else without geodesic acceleration */
    dsp_nlls *nlls = data;
    guint p = nlls->p;
    nlls->model(x->data, nlls->gradient, nlls->curvature, nlls->data);
    for (guint i = 0; i < p; i++) {
        gboolean held = nlls->held >> i & 1;
        if (v != NULL)
            gsl_vector_set(v, i, held ? 0.0 : nlls->gradient[i]);
        double *row = jtj != NULL ? gsl_matrix_ptr(jtj, i, 0) : NULL;
        for (guint j = 0; row != NULL && j < p; j++)
            row[j] = held || (nlls->held >> j & 1) ? (double)(i == j) : nlls->curvature[i * p + j];
    }
    return GSL_SUCCESS;
}

dsp_nlls *dsp_nlls_create(guint p)
{
    g_assert(p >= 1 && p <= DSP_NLLS_PARAMS_MAX);
    dsp_nlls *nlls = g_new0(dsp_nlls, 1);
    gsl_multilarge_nlinear_parameters parameters = gsl_multilarge_nlinear_default_parameters();
    parameters.trs = gsl_multilarge_nlinear_trs_lm;
    parameters.solver = gsl_multilarge_nlinear_solver_cholesky;
    parameters.scale = gsl_multilarge_nlinear_scale_levenberg;
    nlls->p = p;
    nlls->workspace = gsl_multilarge_nlinear_alloc(gsl_multilarge_nlinear_trust, &parameters, p, p);
    nlls->fdf = (gsl_multilarge_nlinear_fdf){.f = residuals, .df = normal_equations, .n = p, .p = p, .params = nlls};
    return nlls;
}

void dsp_nlls_destroy(dsp_nlls *nlls)
{
    if (nlls == NULL)
        return;
    gsl_multilarge_nlinear_free(nlls->workspace);
    g_free(nlls);
}

static double sum_of_squares(const dsp_nlls *nlls)
{
    double length = gsl_vector_get(nlls->workspace->f, 0);
    return length * length;
}

double dsp_nlls_run(dsp_nlls *nlls, dsp_nlls_model model, void *data, guint32 held, double *x, guint steps_max,
                    double enough)
{
    nlls->model = model;
    nlls->data = data;
    nlls->held = held;
    gsl_vector_const_view start = gsl_vector_const_view_array(x, nlls->p);
    gsl_multilarge_nlinear_init(&start.vector, &nlls->fdf, nlls->workspace);
    double sum = sum_of_squares(nlls);
    for (guint step = 0; step < steps_max; step++) {
        if (gsl_multilarge_nlinear_iterate(nlls->workspace) != GSL_SUCCESS)
            break;
        double before = sum;
        sum = sum_of_squares(nlls);
        if (before - sum < enough)
            break;
    }
    memcpy(x, nlls->workspace->x->data, sizeof *x * nlls->p);
    return sum;
}
