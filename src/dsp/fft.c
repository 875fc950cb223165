/* fft.c - real FFT through FFTW. Estimated plans: they are the same on every run, so results are too. */
#include "dsp/dsp.h"

#include <fftw3.h>
#include <string.h>

struct dsp_fft {
    guint n;
    double *samples;
    double complex *bins;
    fftw_plan forward;
    fftw_plan inverse;
};

G_LOCK_DEFINE_STATIC(planner); /* FFTW runs plans in any thread but makes them in one at a time */

dsp_fft *dsp_fft_create(guint n)
{
    g_return_val_if_fail(n >= 8 && n <= 65536 && (n & (n - 1)) == 0, NULL);

    dsp_fft *fft = g_new0(dsp_fft, 1);
    fft->n = n;
    G_LOCK(planner);
    fft->samples = fftw_alloc_real(n);
    fft->bins = fftw_alloc_complex(n / 2 + 1);
    fft->forward = fftw_plan_dft_r2c_1d((int)n, fft->samples, fft->bins, FFTW_ESTIMATE);
    fft->inverse = fftw_plan_dft_c2r_1d((int)n, fft->bins, fft->samples, FFTW_ESTIMATE);
    G_UNLOCK(planner);
    memset(fft->samples, 0, n * sizeof *fft->samples);
    return fft;
}

void dsp_fft_destroy(dsp_fft *fft)
{
    if (fft == NULL)
        return;
    G_LOCK(planner);
    fftw_destroy_plan(fft->forward);
    fftw_destroy_plan(fft->inverse);
    fftw_free(fft->samples);
    fftw_free(fft->bins);
    G_UNLOCK(planner);
    g_free(fft);
}

guint dsp_fft_size(const dsp_fft *fft)
{
    return fft->n;
}

double *dsp_fft_samples(dsp_fft *fft)
{
    return fft->samples;
}

double complex *dsp_fft_bins(dsp_fft *fft)
{
    return fft->bins;
}

void dsp_fft_forward(dsp_fft *fft, const double *samples, double complex *bins)
{
    if (samples != NULL)
        memcpy(fft->samples, samples, fft->n * sizeof *samples);
    fftw_execute(fft->forward);
    if (bins != NULL)
        memcpy(bins, fft->bins, (fft->n / 2 + 1) * sizeof *bins);
}

void dsp_fft_inverse(dsp_fft *fft, const double complex *bins, double *samples)
{
    if (bins != NULL)
        memcpy(fft->bins, bins, (fft->n / 2 + 1) * sizeof *bins);
    fftw_execute(fft->inverse);
    double share = 1.0 / fft->n; /* exact: n is a power of two */
    for (guint i = 0; i < fft->n; i++)
        fft->samples[i] *= share;
    if (samples != NULL)
        memcpy(samples, fft->samples, fft->n * sizeof *samples);
}

void dsp_fft_power(dsp_fft *fft, const double *samples, double *power)
{
    dsp_fft_forward(fft, samples, NULL);
    for (guint k = 0; k <= fft->n / 2; k++) {
        double re = creal(fft->bins[k]);
        double im = cimag(fft->bins[k]);
        power[k] = re * re + im * im;
    }
}
