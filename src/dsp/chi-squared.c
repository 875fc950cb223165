/* chi-squared.c - a quantile of the chi-squared distribution. */
#include "dsp/dsp.h"

#include <gsl/gsl_cdf.h>

double dsp_chi_squared_quantile(double share, guint freedom)
{
    return gsl_cdf_chisq_Pinv(share, freedom);
}
