/* From slices of the posterior to values, intervals and statuses. */
#include <math.h>

#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

static double normal_cdf(double z)
{
    return 0.5 * erfc(-z / G_SQRT2);
}

/* Probability that resonance i lies below, within one mode or, mode < 0, in all; weights sum to 1 in all. */
static double below(const fit_posterior *posterior, int i, int mode, double ln_hz)
{
    double sum = 0.0;
    for (int j = 0; j < posterior->n_slices; j++) {
        const fit_slice *slice = &posterior->slices[j];
        if (mode >= 0 && slice->mode != mode)
            continue;
        double share = i == 0 ? CLAMP((ln_hz - slice->ln_f1) / (2.0 * slice->half_width) + 0.5, 0.0, 1.0)
                              : normal_cdf((ln_hz - slice->mean[i]) / slice->sd[i]);
        sum += exp(slice->log_weight) * share;
    }
    return sum;
}

static double quantile(const fit_posterior *posterior, int i, int mode, double share)
{
    double low = log(50.0), high = log(9000.0), whole = below(posterior, i, mode, high);
    for (int step = 0; step < 40; step++) {
        double middle = 0.5 * (low + high);
        if (below(posterior, i, mode, middle) < share * whole)
            low = middle;
        else
            high = middle;
    }
    return exp(0.5 * (low + high));
}

static void normalise(fit_posterior *posterior)
{
    double most = -INFINITY, sum = 0.0;
    for (int j = 0; j < posterior->n_slices; j++)
        most = MAX(most, posterior->slices[j].log_weight);
    for (int j = 0; j < posterior->n_slices; j++)
        sum += exp(posterior->slices[j].log_weight - most);
    for (int j = 0; j < posterior->n_slices; j++)
        posterior->slices[j].log_weight -= most + log(sum);
}

static void read_one(const fit_posterior *posterior, int i, const double *mode_weight, int best,
                     aperta_resonance *resonance)
{
    *resonance = (aperta_resonance){.status = APERTA_MEASURED, .has_low = TRUE, .has_high = TRUE};
    resonance->hz = quantile(posterior, i, best, 0.5);
    resonance->low_hz = MIN(quantile(posterior, i, -1, 0.05), resonance->hz);
    resonance->high_hz = MAX(quantile(posterior, i, -1, 0.95), resonance->hz);
    for (int mode = 0; mode < posterior->n_modes && resonance->n_alternatives < APERTA_ALTERNATIVES_MAX; mode++) {
        if (mode == best || mode_weight[mode] < FIT_ALTERNATIVE_MIN)
            continue;
        double hz = quantile(posterior, i, mode, 0.5);
        if (fabs(log(hz / resonance->hz)) > FIT_ALTERNATIVE_APART)
            resonance->alternatives[resonance->n_alternatives++] = (aperta_alternative){hz, mode_weight[mode]};
    }
}

void fit_posterior_read(fit_posterior *posterior, double f0_hz, aperta_resonance resonances[APERTA_N_RESONANCES])
{
    double mode_weight[FIT_MODES_ALL] = {0};
    int best = 0; /* the first is the one that fits best */
    normalise(posterior);
    for (int j = 0; j < posterior->n_slices; j++)
        mode_weight[posterior->slices[j].mode] += exp(posterior->slices[j].log_weight);
    for (int mode = 1; mode < posterior->n_modes; mode++)
        if (mode_weight[mode] > (best == 0 ? FIT_OUTWEIGHS : 1.0) * mode_weight[best])
            best = mode;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        read_one(posterior, i, mode_weight, best, &resonances[i]);
        if (resonances[i].high_hz > FIT_KNOWN_RATIO * resonances[i].low_hz && i > 0)
            resonances[i] = (aperta_resonance){.status = APERTA_UNKNOWN};
    }
    if (below(posterior, 0, -1, log(f0_hz)) > FIT_BOUNDED_SHARE) {
        double high_hz = quantile(posterior, 0, -1, FIT_BOUND_QUANTILE);
        resonances[0] = (aperta_resonance){.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = high_hz};
    }
}
