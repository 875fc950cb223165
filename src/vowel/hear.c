/* hear.c - names a vowel from its resonances.
 *
 * Each vowel of each accent is a hypothesis: ln F of each resonance is normal about its mean, with the speakers' spread
 * and an allowance for singing. Its evidence is the integral of that over the posterior of F1, F2 and F3 together, a
 * mixture of normal distributions; the wide prior that the reader of the resonances had is divided out first, or it
 * would count twice where little was measured. Bayes' rule gives each vowel's probability, and the sums over close, mid
 * and open, front, central and back those of the classes. (With one table and exact resonances this is the quadratic
 * discriminant of Hillenbrand et al. 1995, without the covariances, which tables do not print. On that paper's 1668
 * tokens, F1-F3 at one moment, it names 79 % as meant; the paper's discriminant, 81 %.)
 */
#include "vowel/vowel-private.h"
#include "vowel/vowel-tuning.h"

#include <math.h>

enum { N = APERTA_N_RESONANCES };

static const double PRIOR_NARROWER = 0.8; /* a target wider than this share of the prior's variance keeps the prior */

/* ---- evidence ------------------------------------------------------------------------------------------------------
 */

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
        if (!posterior->has_prior || variance > PRIOR_NARROWER * prior)
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

/* Is any mode near any target? */
static gboolean anything_fits(const aperta_vowel_ear *ear, const aperta_posterior *posterior)
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

/* ---- names ---------------------------------------------------------------------------------------------------------
 */

/* Share of the confidence that listeners keep at a pitch. */
static double listener_share(const double *shares, double f0_hz)
{
    static const double points_hz[] = {VOWEL_LISTENER_POINTS_HZ};

    if (f0_hz <= points_hz[0])
        return shares[0];
    for (gsize i = 1; i < G_N_ELEMENTS(points_hz); i++) {
        if (f0_hz < points_hz[i]) {
            double t = log(f0_hz / points_hz[i - 1]) / log(points_hz[i] / points_hz[i - 1]);
            return shares[i - 1] + t * (shares[i] - shares[i - 1]);
        }
    }
    return shares[G_N_ELEMENTS(points_hz) - 1];
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

static guint most_probable(const double *probability, guint n, guint but)
{
    guint best = but == 0 ? 1 : 0;

    for (guint v = 0; v < n; v++)
        if (v != but && probability[v] > probability[best])
            best = v;
    return best;
}

/* Where accents differ, the most probable vowel of the most probable kin: two names for nearly the same vowel share its
 * probability, and a third, that is far from both, must not win by that. */
static guint best_of_best_kin(const aperta_vowel_ear *ear, const double *probability)
{
    guint best = 0;
    double most = -1.0;

    for (guint v = 0; v < ear->vowels->len; v++) {
        double kin = vowel_sum_of_kin(ear, probability, v);
        if (kin > most || (kin == most && probability[v] > probability[best])) {
            best = v;
            most = kin;
        }
    }
    return best;
}

/* The finest class that is probable enough: height and place, then either. */
static aperta_vowel_class class_of(const aperta_vowel_hearing *hearing, double both[3][3])
{
    aperta_vowel_class found = {.has_height = TRUE, .has_place = TRUE};
    guint height = most_probable(hearing->heights, 3, 3), place = most_probable(hearing->places, 3, 3);

    for (guint h = 0; h < 3; h++)
        for (guint p = 0; p < 3; p++)
            if (both[h][p] > found.confidence) {
                found.confidence = both[h][p];
                found.height = h;
                found.place = p;
            }
    if (found.confidence < VOWEL_CLASS_MIN) {
        found.has_height = hearing->heights[height] >= hearing->places[place];
        found.has_place = !found.has_height;
        found.height = found.has_height ? height : 0;
        found.place = found.has_place ? place : 0;
        found.confidence = fmax(hearing->heights[height], hearing->places[place]);
    }
    found.known = hearing->confidence < VOWEL_NAME_MIN && found.confidence >= VOWEL_CLASS_MIN;
    return found.known ? found : (aperta_vowel_class){.known = FALSE};
}

static void fill_classes(const aperta_vowel_ear *ear, const double *probability, double share,
                         aperta_vowel_hearing *hearing)
{
    double both[3][3] = {{0.0}};

    for (guint v = 0; v < ear->vowels->len; v++) {
        const aperta_vowel *vowel = g_ptr_array_index(ear->vowels, v);
        hearing->heights[vowel->height] += share * probability[v];
        hearing->places[vowel->place] += share * probability[v];
        both[vowel->height][vowel->place] += share * probability[v];
    }
    hearing->vowel_class = class_of(hearing, both);
}

/* The most probable vowels, in order. */
static void fill_shares(const aperta_vowel_ear *ear, const double *probability, aperta_vowel_hearing *hearing)
{
    g_autofree gboolean *taken = g_new0(gboolean, ear->vowels->len);

    hearing->n_shares = MIN(ear->vowels->len, APERTA_VOWEL_SHARES_MAX);
    for (guint i = 0; i < hearing->n_shares; i++) {
        guint best = G_MAXUINT;
        for (guint v = 0; v < ear->vowels->len; v++)
            if (!taken[v] && (best == G_MAXUINT || probability[v] > probability[best]))
                best = v;
        taken[best] = TRUE;
        hearing->shares[i] = (aperta_vowel_share){g_ptr_array_index(ear->vowels, best), probability[best]};
    }
}

aperta_vowel_hearing aperta_vowel_hear(const aperta_vowel_ear *ear, const aperta_posterior *posterior, double f0_hz)
{
    static const double name_shares[] = {VOWEL_LISTENER_SHARES}, class_shares[] = {VOWEL_LISTENER_CLASS_SHARES};
    aperta_vowel_hearing hearing = {.heard = NULL};
    g_autofree double *probability = g_new0(double, ear->vowels->len);

    if (posterior->n_modes == 0 || !anything_fits(ear, posterior))
        return hearing;
    vowel_weigh(ear, posterior, probability);
    guint best = ear->accents->len > 1 ? best_of_best_kin(ear, probability)
                                       : most_probable(probability, ear->vowels->len, ear->vowels->len);
    hearing.heard = g_ptr_array_index(ear->vowels, best);
    hearing.confidence = probability[best] * listener_share(name_shares, f0_hz);
    if (ear->vowels->len > 1)
        hearing.next = g_ptr_array_index(ear->vowels, most_probable(probability, ear->vowels->len, best));
    fill_classes(ear, probability, listener_share(class_shares, f0_hz), &hearing);
    fill_shares(ear, probability, &hearing);
    return hearing;
}
