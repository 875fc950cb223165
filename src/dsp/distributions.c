/* distributions.c - the normal and the chi-squared distribution. */
#include "dsp/dsp.h"

#include <gsl/gsl_cdf.h>

double dsp_normal_below(double z)
{
    return gsl_cdf_ugaussian_P(z);
}

double dsp_normal_quantile(double share)
{
    return gsl_cdf_ugaussian_Pinv(share);
}

double dsp_chi_squared_quantile(double share, guint freedom)
{
    return gsl_cdf_chisq_Pinv(share, freedom);
}
