/* dsp/nlls.h - nonlinear least squares for models that bring their own normal equations. */
#ifndef DSP_NLLS_H
#define DSP_NLLS_H

#include <glib.h>

#define DSP_NLLS_PARAMS_MAX 32

/* Sum of squares at x[0..p-1]. With gradient not NULL also gradient[i] = (J^T f)_i and, row after row, curvature =
 * J^T J, for residuals f whose derivatives J the model knows. Both may be wrong where a parameter is held. */
typedef double (*dsp_nlls_model)(const double *x, double *gradient, double *curvature, void *data);

typedef struct dsp_nlls dsp_nlls;

dsp_nlls *dsp_nlls_create(guint p);    /* 1 .. DSP_NLLS_PARAMS_MAX */
void dsp_nlls_destroy(dsp_nlls *nlls); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(dsp_nlls, dsp_nlls_destroy)

/* Walks x to a minimum nearby and returns the sum of squares there: at most so many steps, fewer when one lowers the
 * sum by less than enough. Parameters whose bit is set in held keep their value. Allocates nothing. */
double dsp_nlls_run(dsp_nlls *nlls, dsp_nlls_model model, void *data, guint32 held, double *x, guint steps_max,
                    double enough);

#endif
