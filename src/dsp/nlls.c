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

#include "dsp/gsl-errors.h"

struct dsp_nlls {
    guint p;
    guint n_free, free[DSP_NLLS_PARAMS_MAX]; /* the parameters that may move: GSL sees no others */
    double x[DSP_NLLS_PARAMS_MAX];           /* of all */
    gboolean last;                           /* nobody will use the derivatives at the end of this step */
    dsp_nlls_model model;
    void *data;
    gsl_multilarge_nlinear_workspace *workspaces[DSP_NLLS_PARAMS_MAX + 1]; /* by n_free */
    double gradient[DSP_NLLS_PARAMS_MAX];
    double curvature[DSP_NLLS_PARAMS_MAX * DSP_NLLS_PARAMS_MAX];
};

static void spread(dsp_nlls *nlls, const gsl_vector *x)
{
    for (guint i = 0; i < nlls->n_free; i++)
        nlls->x[nlls->free[i]] = gsl_vector_get(x, i);
}

static int residuals(const gsl_vector *x, void *data, gsl_vector *f)
{
    dsp_nlls *nlls = data;
    spread(nlls, x);
    double sum = nlls->model(nlls->x, NULL, NULL, nlls->data);
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
    if (nlls->last)
        return GSL_SUCCESS;
    spread(nlls, x);
    nlls->model(nlls->x, nlls->gradient, nlls->curvature, nlls->data);
    for (guint i = 0; i < nlls->n_free; i++) {
        const double *from = nlls->curvature + nlls->free[i] * nlls->p;
        double *to = jtj != NULL ? gsl_matrix_ptr(jtj, i, 0) : NULL;
        if (v != NULL)
            gsl_vector_set(v, i, nlls->gradient[nlls->free[i]]);
        for (guint j = 0; to != NULL && j < nlls->n_free; j++)
            to[j] = from[nlls->free[j]];
    }
    return GSL_SUCCESS;
}

dsp_nlls *dsp_nlls_create(guint p)
{
    g_assert(p >= 1 && p <= DSP_NLLS_PARAMS_MAX);
    dsp_gsl_errors_return();
    dsp_nlls *nlls = g_new0(dsp_nlls, 1);
    gsl_multilarge_nlinear_parameters parameters = gsl_multilarge_nlinear_default_parameters();
    parameters.trs = gsl_multilarge_nlinear_trs_lm;
    parameters.solver = gsl_multilarge_nlinear_solver_cholesky;
    parameters.scale = gsl_multilarge_nlinear_scale_levenberg;
    nlls->p = p;
    for (guint n = 1; n <= p; n++)
        nlls->workspaces[n] = gsl_multilarge_nlinear_alloc(gsl_multilarge_nlinear_trust, &parameters, n, n);
    return nlls;
}

void dsp_nlls_destroy(dsp_nlls *nlls)
{
    if (nlls == NULL)
        return;
    for (guint n = 1; n <= nlls->p; n++)
        gsl_multilarge_nlinear_free(nlls->workspaces[n]);
    g_free(nlls);
}

static double sum_of_squares(const gsl_multilarge_nlinear_workspace *workspace)
{
    double length = gsl_vector_get(workspace->f, 0);
    return length * length;
}

double dsp_nlls_run(dsp_nlls *nlls, dsp_nlls_model model, void *data, guint32 held, double *x, guint steps_max,
                    double enough)
{
    double start[DSP_NLLS_PARAMS_MAX];
    nlls->model = model;
    nlls->data = data;
    nlls->n_free = 0;
    nlls->last = FALSE;
    memcpy(nlls->x, x, sizeof *x * nlls->p);
    for (guint i = 0; i < nlls->p; i++)
        if (!(held >> i & 1)) {
            start[nlls->n_free] = x[i];
            nlls->free[nlls->n_free++] = i;
        }
    guint n = nlls->n_free;
    g_return_val_if_fail(n > 0, NAN);
    gsl_multilarge_nlinear_workspace *workspace = nlls->workspaces[n];
    gsl_multilarge_nlinear_fdf fdf = {.f = residuals, .df = normal_equations, .n = n, .p = n, .params = nlls};
    gsl_vector_const_view view = gsl_vector_const_view_array(start, n);
    gsl_multilarge_nlinear_init(&view.vector, &fdf, workspace);
    double sum = sum_of_squares(workspace);
    for (guint step = 0; step < steps_max; step++) {
        nlls->last = step + 1 == steps_max;
        if (gsl_multilarge_nlinear_iterate(workspace) != GSL_SUCCESS)
            break;
        double before = sum;
        sum = sum_of_squares(workspace);
        if (before - sum < enough)
            break;
    }
    for (guint i = 0; i < n; i++)
        x[nlls->free[i]] = gsl_vector_get(workspace->x, i);
    return sum;
}
