/* posterior.c - what a mixture of normal distributions says of one resonance. */
#include <aperta/base.h>

#include <math.h>

double aperta_posterior_below(const aperta_posterior *posterior, int i, double hz)
{
    double sum = 0.0;

    for (int m = 0; m < posterior->n_modes; m++) {
        const aperta_mode *mode = &posterior->modes[m];
        double sd = sqrt(mode->covariance[i][i]);
        sum += mode->weight * 0.5 * erfc(-(log(hz) - mode->ln_hz[i]) / (sd * G_SQRT2));
    }
    return sum;
}

double aperta_posterior_quantile_hz(const aperta_posterior *posterior, int i, double share)
{
    const double reach_sds = 6.0;
    double low = INFINITY, high = -INFINITY;

    for (int m = 0; m < posterior->n_modes; m++) {
        const aperta_mode *mode = &posterior->modes[m];
        double reach = reach_sds * sqrt(mode->covariance[i][i]);
        low = fmin(low, mode->ln_hz[i] - reach);
        high = fmax(high, mode->ln_hz[i] + reach);
    }
    for (int step = 0; step < 40; step++) {
        double middle = 0.5 * (low + high);
        if (aperta_posterior_below(posterior, i, exp(middle)) < share)
            low = middle;
        else
            high = middle;
    }
    return exp(0.5 * (low + high));
}
