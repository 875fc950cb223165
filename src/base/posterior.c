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

/* ---- from three intervals ---------------------------------------------------------------------------------------- */

static const double Z_90 = 1.6449;      /* a normal distribution holds 90 % within +- this many standard deviations */
static const double ONE_SIDED = 0.6931; /* ln; a limit is taken as: evenly spread over the octave on its known side */
static const double NOTHING_SD = 1.5;   /* ln; so wide that it says nothing, around a neutral tract's value: */
static const double NEUTRAL_HZ[APERTA_N_RESONANCES] = {500.0, 1500.0, 2500.0};

void aperta_posterior_of_resonances(const aperta_resonance resonances[APERTA_N_RESONANCES], aperta_posterior *posterior)
{
    aperta_mode mode = {.weight = 1.0};

    *posterior = (aperta_posterior){.n_modes = 0};
    if (resonances[0].status != APERTA_MEASURED && resonances[1].status != APERTA_MEASURED)
        return;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = &resonances[i];
        double sd = NOTHING_SD;
        mode.ln_hz[i] = log(NEUTRAL_HZ[i]);
        if (r->status == APERTA_MEASURED) {
            mode.ln_hz[i] = log(r->hz);
            sd = log(r->high_hz / r->low_hz) / (2.0 * Z_90);
        } else if (r->status == APERTA_BOUNDED) {
            mode.ln_hz[i] = r->has_high ? log(r->high_hz) - 0.5 * ONE_SIDED : log(r->low_hz) + 0.5 * ONE_SIDED;
            sd = ONE_SIDED / sqrt(12.0);
        }
        mode.covariance[i][i] = sd * sd;
    }
    posterior->n_modes = 1;
    posterior->modes[0] = mode;
}
