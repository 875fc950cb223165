/* From slices of the posterior to values, intervals and statuses.
 *
 * The value of a resonance is the middle of the place that holds most of the probability; the other places are its
 * alternatives. Places are told apart for each resonance by itself: minima that differ in F2 alone are one in F1. */
#include <math.h>

#include "dsp/dsp.h"
#include "tract/fit-private.h"
#include "tract/fit-tuning.h"
#include "tract/tract-private.h"

#define ALL_MODES (~0u)

/* Probability that resonance i lies below, within some modes (bits 1 << mode); weights sum to 1 in all. */
static double cdf(const fit_posterior *posterior, int i, guint modes, double ln_hz)
{
    double sum = 0.0;
    for (int j = 0; j < posterior->n_slices; j++) {
        const fit_slice *slice = &posterior->slices[j];
        if ((modes & 1u << slice->mode) == 0)
            continue;
        double share = i == 0 ? CLAMP((ln_hz - slice->ln_f1) / (2.0 * slice->half_width) + 0.5, 0.0, 1.0)
                              : dsp_normal_cdf((ln_hz - slice->mean[i]) / slice->sd[i]);
        sum += exp(slice->log_weight) * share;
    }
    return sum;
}

static double quantile(const fit_posterior *posterior, int i, guint modes, double share)
{
    double low = log(FIT_RANGE_LOW_HZ), high = log(FIT_RANGE_HIGH_HZ), whole = cdf(posterior, i, modes, high);
    for (int step = 0; step < 40; step++) {
        double middle = 0.5 * (low + high);
        if (cdf(posterior, i, modes, middle) < share * whole)
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

/* Modes that lie together in one resonance, whatever the others do, are one place of it. */
typedef struct {
    double weight, ln_hz; /* share of the probability; the middle of it */
    guint modes;          /* bit 1 << mode */
} place;

static int by_ln_hz(gconstpointer a, gconstpointer b)
{
    double apart = ((const place *)a)->ln_hz - ((const place *)b)->ln_hz;
    return apart < 0.0 ? -1 : apart > 0.0;
}

static int by_weight(gconstpointer a, gconstpointer b)
{
    double more = ((const place *)b)->weight - ((const place *)a)->weight;
    return more < 0.0 ? -1 : more > 0.0;
}

/* The places of resonance i, the heaviest first; returns their number. */
static int find_places(const fit_posterior *posterior, int i, const double *mode_weight, place places[FIT_MODES_ALL])
{
    int n = 0;
    for (int mode = 0; mode < posterior->n_modes; mode++)
        if (mode_weight[mode] > 0.0)
            places[n++] = (place){mode_weight[mode], log(quantile(posterior, i, 1u << mode, 0.5)), 1u << mode};
    qsort(places, (gsize)n, sizeof *places, by_ln_hz);
    int last = 0;
    for (int p = 1; p < n; p++) {
        if (places[p].ln_hz - places[last].ln_hz > FIT_ALTERNATIVE_APART) {
            places[++last] = places[p];
            continue;
        }
        places[last].weight += places[p].weight;
        places[last].modes |= places[p].modes;
        places[last].ln_hz = log(quantile(posterior, i, places[last].modes, 0.5));
    }
    n = n > 0 ? last + 1 : 0;
    qsort(places, (gsize)n, sizeof *places, by_weight);
    return n;
}

static void read_one(const fit_posterior *posterior, int i, const double *mode_weight, aperta_resonance *resonance)
{
    place places[FIT_MODES_ALL];
    int n = find_places(posterior, i, mode_weight, places);
    *resonance = (aperta_resonance){.status = APERTA_MEASURED, .has_low = TRUE, .has_high = TRUE};
    resonance->hz = exp(places[0].ln_hz);
    resonance->low_hz = MIN(quantile(posterior, i, ALL_MODES, 0.05), resonance->hz);
    resonance->high_hz = MAX(quantile(posterior, i, ALL_MODES, 0.95), resonance->hz);
    for (int p = 1; p < n && resonance->n_alternatives < APERTA_ALTERNATIVES_MAX; p++)
        if (places[p].weight >= FIT_ALTERNATIVE_MIN)
            resonance->alternatives[resonance->n_alternatives++] =
                (aperta_alternative){exp(places[p].ln_hz), places[p].weight};
}

void fit_posterior_read(fit_posterior *posterior, double f0_hz, aperta_resonance resonances[APERTA_N_RESONANCES])
{
    double mode_weight[FIT_MODES_ALL] = {0};
    normalise(posterior);
    for (int j = 0; j < posterior->n_slices; j++)
        mode_weight[posterior->slices[j].mode] += exp(posterior->slices[j].log_weight);
    double below_f0 = cdf(posterior, 0, ALL_MODES, log(f0_hz));
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        aperta_resonance *r = &resonances[i];
        read_one(posterior, i, mode_weight, r);
        aperta_status status = tract_status(i, r->high_hz / r->low_hz, below_f0);
        if (status == APERTA_UNKNOWN)
            *r = (aperta_resonance){.status = status};
        else if (status == APERTA_BOUNDED)
            *r = (aperta_resonance){
                .status = status, .has_high = TRUE, .high_hz = quantile(posterior, i, ALL_MODES, FIT_BOUND_QUANTILE)};
    }
}
