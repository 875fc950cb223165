/* roots.c - roots of a real polynomial.
 *
 * A fresh polynomial goes to GSL (eigenvalues of the companion matrix by QR). A polynomial close to the one before is
 * solved by Ehrlich-Aberth iteration from the roots before (Aberth 1973, Math. Comp. 27:339-344): every root takes a
 * Newton step corrected for the pull of the others. It converges cubically, costs about a quarter of the QR method, and
 * whatever does not converge quickly goes to GSL. */
#include "dsp/dsp.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_poly.h>
#include <string.h>

#include "dsp/gsl-errors.h"

#define STEPS_MAX  12
#define STEP_SMALL 1e-10 /* relative to the unit circle; the step after such a one is below rounding */
#define NUDGE      1e-3 /* turns the start a little: from two real roots no real step would ever reach a complex pair */

struct dsp_roots {
    guint degree;
    gsl_poly_complex_workspace *workspace;
    gboolean warm; /* before holds the roots of the last call */
    double complex before[DSP_LPC_ORDER_MAX];
};

dsp_roots *dsp_roots_create(guint degree)
{
    g_return_val_if_fail(degree >= 2 && degree <= DSP_LPC_ORDER_MAX, NULL);

    dsp_gsl_errors_return();
    dsp_roots *roots = g_new0(dsp_roots, 1);
    roots->degree = degree;
    roots->workspace = gsl_poly_complex_workspace_alloc(degree + 1);
    return roots;
}

void dsp_roots_destroy(dsp_roots *roots)
{
    if (roots == NULL)
        return;
    gsl_poly_complex_workspace_free(roots->workspace);
    g_free(roots);
}

void dsp_roots_reset(dsp_roots *roots)
{
    roots->warm = FALSE;
}

static gboolean solve_fresh(dsp_roots *roots, const double *a, double complex *z)
{
    double reversed[DSP_LPC_ORDER_MAX + 1];
    double packed[2 * DSP_LPC_ORDER_MAX];

    for (guint i = 0; i <= roots->degree; i++)
        reversed[i] = a[roots->degree - i];
    if (gsl_poly_complex_solve(reversed, roots->degree + 1, roots->workspace, packed) != GSL_SUCCESS)
        return FALSE;
    for (guint i = 0; i < roots->degree; i++)
        z[i] = packed[2 * i] + I * packed[2 * i + 1];
    return TRUE;
}

static double norm2(double complex z)
{
    return creal(z) * creal(z) + cimag(z) * cimag(z);
}

/* Plain complex arithmetic: the C library's operators check every product for infinities, which costs more than the
 * product. Here nothing is infinite unless the iteration has failed, and then the step is not small. */
static double complex times(double complex x, double complex y)
{
    return (creal(x) * creal(y) - cimag(x) * cimag(y)) + I * (creal(x) * cimag(y) + cimag(x) * creal(y));
}

static double complex inverse(double complex x)
{
    double scale = 1 / norm2(x);
    return creal(x) * scale - I * (cimag(x) * scale);
}

/* Value and slope of the polynomial at z by Horner's rule. */
static void evaluate(const double *a, guint degree, double complex z, double complex *value, double complex *slope)
{
    *value = a[0];
    *slope = 0;
    for (guint i = 1; i <= degree; i++) {
        *slope = times(*slope, z) + *value;
        *value = times(*value, z) + a[i];
    }
}

/* One round over all roots; returns the square of the largest step. */
static double improve(const double *a, guint degree, double complex *z)
{
    double largest = 0;

    for (guint i = 0; i < degree; i++) {
        double complex value, slope, pull = 0;
        evaluate(a, degree, z[i], &value, &slope);
        if (norm2(value) == 0)
            continue;
        for (guint j = 0; j < degree; j++)
            if (j != i)
                pull += inverse(z[i] - z[j]);
        double complex step = inverse(times(slope, inverse(value)) - pull);
        z[i] -= step;
        if (!(norm2(step) <= largest))
            largest = norm2(step);
    }
    return largest;
}

static gboolean solve_near(dsp_roots *roots, const double *a, double complex *z)
{
    for (guint i = 0; i < roots->degree; i++)
        z[i] = roots->before[i] * (1 + NUDGE * I);
    for (int step = 0; step < STEPS_MAX; step++) {
        double largest = improve(a, roots->degree, z);
        if (largest <= STEP_SMALL * STEP_SMALL)
            return TRUE;
        if (!(largest < 4))
            return FALSE;
    }
    return FALSE;
}

gboolean dsp_roots_solve(dsp_roots *roots, const double *a, double complex *z)
{
    gboolean solved = (roots->warm && solve_near(roots, a, z)) || solve_fresh(roots, a, z);

    roots->warm = solved;
    if (solved)
        memcpy(roots->before, z, roots->degree * sizeof *z);
    return solved;
}
