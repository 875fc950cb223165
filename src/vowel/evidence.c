/* evidence.c - how probable a note makes each vowel.
 *
 * Each vowel of each accent is a hypothesis: ln F of each resonance is normal about its mean, with the speakers' spread
 * and an allowance for singing. Its evidence is the integral of that over the posterior of F1, F2 and F3 together, a
 * mixture of normal distributions; the wide prior that the reader of the resonances had is divided out first, or it
 * would count twice where little was measured. Bayes' rule gives each vowel's probability. (With one table and exact
 * resonances this is the quadratic discriminant of Hillenbrand et al. 1995, without the covariances, which tables do
 * not print. On that paper's 1668 tokens, F1-F3 at one moment, it names 79 % as meant; the paper's discriminant, 81 %.)
 */
#include "vowel/vowel-private.h"
#include "vowel/vowel-tuning.h"

#include <math.h>

enum { N = APERTA_N_RESONANCES };

/* A target with the reader's prior divided out: normal again, times a constant. */
typedef struct {
    double ln_hz[N];
    double variance[N];
    double ln_constant;
} divided;

static divided divide_by_prior(const vowel_target *target, const aperta_posterior *posterior, int n)
{
    divided d = {.ln_constant = 0.0};

    for (int i = 0; i < n; i++) {
        double variance = target->variance[i], prior = posterior->prior_sd[i] * posterior->prior_sd[i];
        d.ln_hz[i] = target->ln_hz[i];
        d.variance[i] = variance;
        if (!posterior->has_prior || variance > VOWEL_PRIOR_NARROWER * prior)
            continue;
        double from_prior = target->ln_hz[i] - posterior->prior_ln_hz[i];
        d.variance[i] = 1.0 / (1.0 / variance - 1.0 / prior);
        double moved = d.variance[i] * from_prior / variance;
        d.ln_hz[i] = posterior->prior_ln_hz[i] + moved;
        d.ln_constant += 0.5 * (moved * moved / d.variance[i] - from_prior * from_prior / variance) +
                         0.5 * log(d.variance[i] * prior / variance);
    }
    return d;
}

/* Multiplies a mode by a normal target, resonance after resonance as a Kalman filter takes in observations. Returns the
 * squared distance in standard deviations of both; ln_variance: sum of the logarithms of their variances. */
static double take_in(aperta_mode *mode, const double *ln_hz, const double *variance, int n, double *ln_variance)
{
    double squares = 0.0;

    *ln_variance = 0.0;
    for (int i = 0; i < n; i++) {
        double apart = ln_hz[i] - mode->ln_hz[i], both = mode->covariance[i][i] + variance[i], gain[N];
        squares += apart * apart / both;
        *ln_variance += log(both);
        for (int j = 0; j < N; j++)
            gain[j] = mode->covariance[j][i] / both;
        for (int j = 0; j < N; j++) {
            mode->ln_hz[j] += gain[j] * apart;
            for (int k = 0; k <= j; k++)
                mode->covariance[j][k] -= gain[j] * gain[k] * both;
        }
        for (int j = 0; j < N; j++)
            for (int k = 0; k < j; k++)
                mode->covariance[k][j] = mode->covariance[j][k];
    }
    return squares;
}

/* No reader is better than the tables' own measuring. */
static aperta_mode with_least_spread(const aperta_mode *mode)
{
    aperta_mode wide = *mode;

    for (int i = 0; i < N; i++)
        wide.covariance[i][i] = fmax(wide.covariance[i][i], VOWEL_MEASURING_SPREAD_MIN * VOWEL_MEASURING_SPREAD_MIN);
    return wide;
}

void vowel_multiply(const aperta_vowel_ear *ear, const aperta_posterior *posterior, const vowel_target *target,
                    aperta_mode products[APERTA_MODES_MAX])
{
    divided d = divide_by_prior(target, posterior, ear->n_resonances);

    for (int m = 0; m < posterior->n_modes; m++) {
        double ln_variance;
        products[m] = with_least_spread(&posterior->modes[m]);
        double squares = take_in(&products[m], d.ln_hz, d.variance, ear->n_resonances, &ln_variance);
        products[m].weight = log(posterior->modes[m].weight) + d.ln_constant - 0.5 * (squares + ln_variance);
    }
}

double vowel_ln_evidence(const aperta_vowel_ear *ear, const aperta_posterior *posterior, const vowel_target *target)
{
    aperta_mode products[APERTA_MODES_MAX];
    double most = -INFINITY, sum = 0.0;

    vowel_multiply(ear, posterior, target, products);
    for (int m = 0; m < posterior->n_modes; m++)
        most = fmax(most, products[m].weight);
    for (int m = 0; m < posterior->n_modes; m++)
        sum += exp(products[m].weight - most);
    return most + log(sum);
}

gboolean vowel_anything_fits(const aperta_vowel_ear *ear, const aperta_posterior *posterior)
{
    double most = VOWEL_FAR_SD * VOWEL_FAR_SD * ear->n_resonances, ignored;

    for (guint t = 0; t < ear->targets->len; t++)
        for (int m = 0; m < posterior->n_modes; m++) {
            const vowel_target *target = &g_array_index(ear->targets, vowel_target, t);
            aperta_mode mode = with_least_spread(&posterior->modes[m]);
            if (take_in(&mode, target->ln_hz, target->variance, ear->n_resonances, &ignored) <= most)
                return TRUE;
        }
    return FALSE;
}

double vowel_ln_weight(const aperta_vowel_ear *ear, guint target)
{
    const vowel_target *t = &g_array_index(ear->targets, vowel_target, target);

    return g_array_index(ear->accents, vowel_accent, t->accent).ln_weight + log(t->weight) +
           (ear->ln_use != NULL ? ear->ln_use[t->place] : 0.0);
}

void vowel_weigh(const aperta_vowel_ear *ear, const aperta_posterior *posterior, double *probability)
{
    g_autofree double *ln = g_new(double, ear->targets->len);
    double most = -INFINITY, sum = 0.0;

    for (guint i = 0; i < ear->targets->len; i++) {
        ln[i] =
            vowel_ln_weight(ear, i) + vowel_ln_evidence(ear, posterior, &g_array_index(ear->targets, vowel_target, i));
        most = fmax(most, ln[i]);
    }
    for (guint i = 0; i < ear->targets->len; i++) {
        double share = exp(ln[i] - most);
        probability[g_array_index(ear->targets, vowel_target, i).place] += share;
        sum += share;
    }
    for (guint v = 0; v < ear->vowels->len; v++)
        probability[v] /= sum;
}
