/* functions.c - the normal and the chi-squared distribution, a Bessel function, and how GSL tells errors. */
#include "dsp/dsp.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_bessel.h>

#include "dsp/gsl-errors.h"

void dsp_gsl_errors_return(void)
{
    static gsize done; /* the handler is the process's: set once, by whichever thread is first */

    if (g_once_init_enter(&done)) {
        gsl_set_error_handler_off();
        g_once_init_leave(&done, 1);
    }
}

double dsp_normal_cdf(double z)
{
    return gsl_cdf_ugaussian_P(z);
}

double dsp_normal_quantile(double share)
{
    return gsl_cdf_ugaussian_Pinv(share);
}

double dsp_chi_squared_quantile(double share, guint freedom)
{
    dsp_gsl_errors_return();
    return gsl_cdf_chisq_Pinv(share, freedom);
}

double dsp_bessel_i0(double x)
{
    dsp_gsl_errors_return();
    return gsl_sf_bessel_I0(x);
}
