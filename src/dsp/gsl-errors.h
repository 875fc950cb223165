/* dsp/gsl-errors.h - for the files that call GSL. */
#ifndef DSP_GSL_ERRORS_H
#define DSP_GSL_ERRORS_H

/* GSL's own handler ends the program: from now on its functions return an error, or not a number. To be called before
 * any that can fail. */
void dsp_gsl_errors_return(void);

#endif
