/* dsp/dsp.h - the signal mathematics that the analysing folders share; the only door to FFTW and GSL.
 *
 * Whatever allocates or plans does so in a create function; no run function allocates, locks or fails for lack of
 * memory. An object serves one thread at a time; creating may happen in several threads.
 *
 *   window.c             windows
 *   fft.c                real FFT
 *   spectrum.c           autocorrelation from a part of a power spectrum, peaks
 *   linear-prediction.c  linear prediction
 *   roots.c              roots of a real polynomial
 *   solve.c              small dense systems
 *   functions.c          normal and chi-squared distribution, Bessel
 *   line.c               the best straight line
 *   posterior.c          aperta_posterior_* of base.h: they need the normal distribution
 */
#ifndef DSP_DSP_H
#define DSP_DSP_H

#include <aperta/base.h>
#include <complex.h>
#include <glib.h>

/* ---- windows (window.c) --------------------------------------------------------------------------------------- */

/* Symmetric about (n - 1) / 2, largest value 1 (n odd: at the middle sample). n >= 1. */
void dsp_window_hann(double *window, gsize n);     /* zero one step outside both ends */
void dsp_window_blackman(double *window, gsize n); /* 0.42, 0.5, 0.08; zero one step outside both ends */
/* Gaussian whose standard deviation is sigma half-lengths, lowered and rescaled so that it is zero one step outside
 * both ends. sigma > 0; 0.4 keeps the side lobes below -50 dB. */
void dsp_window_gauss(double *window, gsize n, double sigma);

/* ---- real FFT (fft.c) ------------------------------------------------------------------------------------------ */

typedef struct dsp_fft dsp_fft;

/* n: a power of two, 8..65536 (FFTW was seen to allocate while running at some other sizes). */
dsp_fft *dsp_fft_create(guint n);
void dsp_fft_destroy(dsp_fft *fft); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(dsp_fft, dsp_fft_destroy)
guint dsp_fft_size(const dsp_fft *fft);

/* bins[k] = sum over i of samples[i] exp(-2 pi j k i / n), k = 0 .. n/2; samples and bins may be NULL for the plan's
 * own buffers, below, which saves a copy. */
void dsp_fft_forward(dsp_fft *fft, const double *samples, double complex *bins);
/* The exact inverse of forward (divided by n). Destroys the plan's own bins. */
void dsp_fft_inverse(dsp_fft *fft, const double complex *bins, double *samples);
double *dsp_fft_samples(dsp_fft *fft);      /* n of them */
double complex *dsp_fft_bins(dsp_fft *fft); /* n/2 + 1 of them */

/* |bins|^2 of forward, n/2 + 1 values. samples may be NULL as above. */
void dsp_fft_power(dsp_fft *fft, const double *samples, double *power);

/* ---- part of a spectrum (spectrum.c) --------------------------------------------------------------------------- */

#define DSP_LPC_ORDER_MAX 32

/* Autocorrelation r[0..order] of the signal whose power spectrum is power[0..n_bins-1], the last bin being its Nyquist
 * frequency: taken from the low bins of a longer spectrum this is what a perfect low-pass filter and a sampling-rate
 * change would have given (selective linear prediction: Makhoul 1975, Proc. IEEE 63:561-580, section V). n_bins >= 2,
 * order <= DSP_LPC_ORDER_MAX. */
void dsp_autocorrelation_of_band(const double *power, guint n_bins, guint order, double *r);

/* Parabolic interpolation: the top of the parabola through three neighbours, the middle one a peak; *shift: where it
 * is, from the middle one, -0.5..0.5. A middle that is no peak is given back. */
double dsp_parabolic_peak(double before, double middle, double after, double *shift);

/* Envelope of a harmonic spectrum, first n_envelope <= n_bins bins of it: log power read at the multiples of spacing
 * (bins, >= 2) and joined by straight lines; below the first harmonic it falls by drop (natural log) to 0 Hz, above the
 * last it stays. */
void dsp_envelope_of_harmonics(const double *power, guint n_bins, double spacing, double drop, double *envelope,
                               guint n_envelope);

/* Log power (natural) at a fractional bin by the parabola through the three nearest bins: exact at the peak of a
 * Gaussian window's line. 0 <= bin <= n_bins - 1, n_bins >= 3. */
double dsp_log_power_at(const double *power, guint n_bins, double bin);

/* ---- linear prediction (linear-prediction.c) --------------------------------------------------------------------- */

/* All of these find a[0] = 1, a[1..order] of the inverse filter A(z) = sum a[i] z^-i and return the power of the
 * residual relative to the signal, 0..1; 1 and a = {1, 0, ...} for silence. 1 <= order <= DSP_LPC_ORDER_MAX. */

/* Autocorrelation method, Levinson-Durbin recursion. r[0..order]. A(z) is minimum phase. */
double dsp_lpc_levinson(const double *r, guint order, double *a);
/* Burg's method: forward and backward error, minimum phase, no window needed. scratch holds 2 n. n > order. */
double dsp_lpc_burg(const double *samples, gsize n, guint order, double *a, double *scratch);
/* Covariance method, unwindowed or weighted: minimises the sum over i = order..n-1 of weight[i] e[i]^2, weight NULL
 * for 1. A(z) need not be minimum phase. n > 2 * order. */
double dsp_lpc_covariance(const double *samples, const double *weight, gsize n, guint order, double *a);

/* Cepstrum c[1..n] of 1 / A(z) (c[0] is set to 0), A minimum phase. */
void dsp_lpc_cepstrum(const double *a, guint order, double *c, guint n);

/* ---- roots (roots.c) ------------------------------------------------------------------------------------------- */

typedef struct dsp_roots dsp_roots;

/* For polynomials of one degree, 2 .. DSP_LPC_ORDER_MAX. */
dsp_roots *dsp_roots_create(guint degree);
void dsp_roots_destroy(dsp_roots *roots); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(dsp_roots, dsp_roots_destroy)

/* Roots of a[0] z^degree + a[1] z^(degree-1) + ... + a[degree] into z[0..degree-1], in no order; a[0] != 0. The roots
 * of the call before are tried as start, so a slowly changing polynomial is solved several times faster than a fresh
 * one. FALSE if they could not be found. */
gboolean dsp_roots_solve(dsp_roots *roots, const double *a, double complex *z);
/* Forgets the call before. */
void dsp_roots_reset(dsp_roots *roots);

/* ---- small dense systems (solve.c) ----------------------------------------------------------------------------- */

/* Solves m x = b, m symmetric positive definite n by n, row after row; only its lower triangle is read. m is
 * overwritten by its Cholesky factor (lower), b by x. FALSE if m is not positive definite. */
gboolean dsp_solve_spd(double *m, double *b, guint n);
/* The x of least |m x - b|^2, m rows by cols, row after row, rows >= cols; Householder. Overwrites m and b. FALSE if
 * the columns depend on each other. */
gboolean dsp_least_squares(double *m, double *b, guint rows, guint cols, double *x);

/* ---- order statistics ------------------------------------------------------------------------------------------ */

/* The share-quantile (0..1, linear between neighbours) of n >= 1 values; reorders them. share 0.5: the median. */
double dsp_quantile(double *values, gsize n, double share);

/* ---- functions (functions.c) ----------------------------------------------------------------------------------- */

/* Cumulative distribution function of the standard normal distribution, and its inverse (share 0..1, both ends left
 * out). */
double dsp_normal_cdf(double z);
double dsp_normal_quantile(double share);
/* The value that a chi-squared variable of so many degrees of freedom (1..) stays below with probability share, in
 * 0..1. */
double dsp_chi_squared_quantile(double share, guint freedom);
/* Modified Bessel function of the first kind, order 0. |x| < 700. */
double dsp_bessel_i0(double x);

/* A posterior from three values and their intervals, taken as independent: for readers that know no more. Without modes
 * when neither F1 nor F2 is measured. */
void dsp_posterior_of_resonances(const aperta_resonance resonances[APERTA_N_RESONANCES], aperta_posterior *posterior);

/* ---- straight lines (line.c) ------------------------------------------------------------------------------------- */

/* RMS distance of n >= 2 points, whose x differ, from their best straight line; *slope: its slope. */
double dsp_line_rms(const double *x, const double *y, guint n, double *slope);

#endif
