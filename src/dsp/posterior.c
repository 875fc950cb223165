/* posterior.c - what a mixture of normal distributions says of one resonance. */
#include <aperta/base.h>
#include <math.h>

#include "dsp/dsp.h"
#include "dsp/posterior-tuning.h"

double aperta_posterior_below(const aperta_posterior *posterior, int i, double hz)
{
    double sum = 0.0;

    for (int m = 0; m < posterior->n_modes; m++) {
        const aperta_mode *mode = &posterior->modes[m];
        sum += mode->weight * dsp_normal_cdf((log(hz) - mode->ln_hz[i]) / sqrt(mode->covariance[i][i]));
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

aperta_resonance aperta_posterior_resonance(const aperta_posterior *posterior, int i, aperta_status status)
{
    aperta_resonance r = {.status = status};

    if (status == APERTA_BOUNDED) {
        r.has_high = TRUE;
        r.high_hz = aperta_posterior_quantile_hz(posterior, i, 0.95);
    } else if (status == APERTA_MEASURED) {
        r.hz = aperta_posterior_quantile_hz(posterior, i, 0.5);
        r.has_low = r.has_high = TRUE;
        r.low_hz = aperta_posterior_quantile_hz(posterior, i, 0.05);
        r.high_hz = aperta_posterior_quantile_hz(posterior, i, 0.95);
    }
    return r;
}

/* ---- from three intervals ---------------------------------------------------------------------------------------- */

static const double NEUTRAL_HZ[APERTA_N_RESONANCES] = {POSTERIOR_NEUTRAL_HZ};

void dsp_posterior_of_resonances(const aperta_resonance resonances[APERTA_N_RESONANCES], aperta_posterior *posterior)
{
    aperta_mode mode = {.weight = 1.0};

    *posterior = (aperta_posterior){.n_modes = 0};
    if (resonances[0].status != APERTA_MEASURED && resonances[1].status != APERTA_MEASURED)
        return;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = &resonances[i];
        double sd = POSTERIOR_NOTHING_SD;
        mode.ln_hz[i] = log(NEUTRAL_HZ[i]);
        if (r->status == APERTA_MEASURED) {
            mode.ln_hz[i] = log(r->hz);
            sd = log(r->high_hz / r->low_hz) / (2.0 * dsp_normal_quantile(0.95));
        } else if (r->status == APERTA_BOUNDED) {
            mode.ln_hz[i] =
                r->has_high ? log(r->high_hz) - 0.5 * POSTERIOR_ONE_SIDED : log(r->low_hz) + 0.5 * POSTERIOR_ONE_SIDED;
            sd = POSTERIOR_ONE_SIDED / sqrt(12.0);
        }
        mode.covariance[i][i] = sd * sd;
    }
    posterior->n_modes = 1;
    posterior->modes[0] = mode;
}
