/* sharpen.c - the resonances of a note whose vowel somebody named.
 *
 * No new fit: the modes of the posterior are multiplied by where that vowel lies, in each accent as far as it is
 * believed. A mode far from the vowel loses its weight, a wide one is drawn toward it. The result rests on the name and
 * must not be used to judge whether the name is right. */
#include "vowel/vowel-private.h"

#include <math.h>

/* Mean and covariance of several modes of one posterior mode together; weights are logarithms. */
typedef struct {
    double ln_most, sum;
    aperta_mode sums; /* weighted sums of ln Hz and of their squares */
} pool;

static void add_to_pool(pool *p, const aperta_mode *product, double ln_weight)
{
    double keep = 1.0;

    if (ln_weight > p->ln_most) {
        keep = exp(p->ln_most - ln_weight);
        p->ln_most = ln_weight;
    }
    double weight = exp(ln_weight - p->ln_most);
    p->sum = keep * p->sum + weight;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        p->sums.ln_hz[i] = keep * p->sums.ln_hz[i] + weight * product->ln_hz[i];
        for (int j = 0; j < APERTA_N_RESONANCES; j++)
            p->sums.covariance[i][j] = keep * p->sums.covariance[i][j] +
                                       weight * (product->covariance[i][j] + product->ln_hz[i] * product->ln_hz[j]);
    }
}

static aperta_mode mode_of_pool(const pool *p, double ln_most)
{
    aperta_mode mode = {.weight = p->sum * exp(p->ln_most - ln_most)};

    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        mode.ln_hz[i] = p->sums.ln_hz[i] / p->sum;
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        for (int j = 0; j < APERTA_N_RESONANCES; j++)
            mode.covariance[i][j] = p->sums.covariance[i][j] / p->sum - mode.ln_hz[i] * mode.ln_hz[j];
    return mode;
}

static void multiply_all(const aperta_vowel_ear *ear, const aperta_posterior *posterior, guint place, pool *pools)
{
    for (int m = 0; m < posterior->n_modes; m++)
        pools[m] = (pool){.ln_most = -INFINITY};
    for (guint t = 0; t < ear->targets->len; t++) {
        const vowel_target *target = &g_array_index(ear->targets, vowel_target, t);
        aperta_mode products[APERTA_MODES_MAX];
        if (target->place != place)
            continue;
        vowel_multiply(ear, posterior, target, products);
        for (int m = 0; m < posterior->n_modes; m++)
            add_to_pool(&pools[m], &products[m], products[m].weight + vowel_ln_weight(ear, t));
    }
}

static aperta_resonance resonance_of(const aperta_posterior *posterior, int i)
{
    return (aperta_resonance){.status = APERTA_MEASURED,
                              .hz = aperta_posterior_quantile_hz(posterior, i, 0.5),
                              .has_low = TRUE,
                              .has_high = TRUE,
                              .low_hz = aperta_posterior_quantile_hz(posterior, i, 0.05),
                              .high_hz = aperta_posterior_quantile_hz(posterior, i, 0.95)};
}

void aperta_vowel_sharpen(const aperta_vowel_ear *ear, const aperta_posterior *posterior, const aperta_vowel *vowel,
                          aperta_resonance sharpened[APERTA_N_RESONANCES])
{
    aperta_posterior product = {.n_modes = posterior->n_modes};
    pool pools[APERTA_MODES_MAX];
    double ln_most = -INFINITY, sum = 0.0;
    guint place;

    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        sharpened[i] = (aperta_resonance){.status = APERTA_UNKNOWN};
    if (posterior->n_modes == 0 || !g_ptr_array_find(ear->vowels, vowel, &place))
        return;
    multiply_all(ear, posterior, place, pools);
    for (int m = 0; m < product.n_modes; m++)
        ln_most = fmax(ln_most, pools[m].ln_most);
    for (int m = 0; m < product.n_modes; m++) {
        product.modes[m] = mode_of_pool(&pools[m], ln_most);
        sum += product.modes[m].weight;
    }
    for (int m = 0; m < product.n_modes; m++)
        product.modes[m].weight /= sum;
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        sharpened[i] = resonance_of(&product, i);
}
