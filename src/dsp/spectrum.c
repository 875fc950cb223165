/* spectrum.c - what is read from a part of a power spectrum. */
#include "dsp/dsp.h"
#include "dsp/pair.h"

#include <math.h>

/* The inverse cosine sum, trapezoidal at both ends because the spectrum goes on as its mirror image there. The cosines
 * of one bin follow each other by Chebyshev's recurrence: a few dozen lags lose no accuracy that matters. Two bins at a
 * time, the last one perhaps beside an empty one. */
void dsp_autocorrelation_of_band(const double *power, guint n_bins, guint order, double *r)
{
    guint last = n_bins - 1;
    double complex turn = cexp(I * G_PI / last), twice = turn * turn, at = 1;
    dsp_pair sums[DSP_LPC_ORDER_MAX + 1] = {{0}};

    for (guint k = 0; k <= last; k += 2) {
        dsp_pair now = {k == 0 || k == last ? 0.5 * power[k] : power[k], k + 1 > last    ? 0.0
                                                                         : k + 1 == last ? 0.5 * power[k + 1]
                                                                                         : power[k + 1]};
        dsp_pair cosine = {creal(at), creal(at * turn)};
        dsp_pair twice_cos = 2 * cosine, before = now * cosine;
        for (guint lag = 0; lag <= order; lag++) {
            sums[lag] += now;
            dsp_pair next = twice_cos * now - before;
            before = now;
            now = next;
        }
        at *= twice;
    }
    for (guint lag = 0; lag <= order; lag++)
        r[lag] = (sums[lag][0] + sums[lag][1]) / last;
}

double dsp_log_power_at(const double *power, guint n_bins, double bin)
{
    guint middle = (guint)CLAMP(lround(bin), 1, (long)n_bins - 2);
    double x = bin - middle;
    double low = log(power[middle - 1] + 1e-300);
    double mid = log(power[middle] + 1e-300);
    double high = log(power[middle + 1] + 1e-300);

    return mid + 0.5 * x * (high - low) + 0.5 * x * x * (high - 2 * mid + low);
}

double dsp_parabolic_peak(double before, double middle, double after, double *shift)
{
    double curve = before - 2.0 * middle + after;

    *shift = curve < 0.0 ? CLAMP(0.5 * (before - after) / curve, -0.5, 0.5) : 0.0;
    return middle - 0.25 * (before - after) * *shift;
}

void dsp_envelope_of_harmonics(const double *power, guint n_bins, double spacing, double drop, double *envelope,
                               guint n_envelope)
{
    double right = dsp_log_power_at(power, n_bins, fmin(spacing, n_bins - 1));
    double left = right - drop;
    guint i = 0;

    for (guint k = 0; i < n_envelope; k++) {
        double slope = (right - left) / spacing;
        double value = exp(left + slope * (i - k * spacing));
        double ratio = exp(slope); /* a straight line in the logarithm: each bin is a multiple of the one before */
        for (; i < n_envelope && i < (k + 1) * spacing; i++) {
            envelope[i] = value;
            value *= ratio;
        }
        left = right;
        if ((k + 2) * spacing <= n_bins - 1)
            right = dsp_log_power_at(power, n_bins, (k + 2) * spacing);
    }
}
