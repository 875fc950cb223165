/* line.c - the best straight line through points (GSL's least squares). */
#include "dsp/dsp.h"

#include <gsl/gsl_fit.h>
#include <math.h>

double dsp_line_rms(const double *x, const double *y, guint n, double *slope)
{
    double height, height_variance, covariance, slope_variance, sum_of_squares;

    gsl_fit_linear(x, 1, y, 1, n, &height, slope, &height_variance, &covariance, &slope_variance, &sum_of_squares);
    return sqrt(sum_of_squares / n);
}
