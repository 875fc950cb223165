/* hear.c - names a vowel from its resonances.
 *
 * Each row of the table is a hypothesis: ln F of each resonance is normal about the row's mean, with the speakers'
 * spread, the measurement's own spread (from its 90 % interval) and an allowance for singing added in quadrature.
 * Bayes' rule with equal weights gives each row's probability. A resonance known from one side contributes the
 * probability of lying on that side; an unknown one contributes nothing. (The quadratic discriminant of Hillenbrand et
 * al. 1995, without the covariances, which tables do not print. On that paper's
 * 1668 tokens, F1-F3 at one moment, it names 79 % as meant; the paper's discriminant, 81 %.)
 */
#include "vowel/vowel-tuning.h"

#include <aperta/vowel.h>

#include <math.h>

#define Z_90 1.6449 /* a normal distribution holds 90 % within +- this many standard deviations */

typedef struct {
    double log_density; /* natural log of the likelihood, up to a constant */
    double squares;     /* sum of squared distances in standard deviations */
    int n_measured;     /* resonances behind that sum */
} row_fit;

static double normal_cdf(double z)
{
    return 0.5 * erfc(-z * M_SQRT1_2);
}

static double measuring_spread(const aperta_resonance *resonance)
{
    double spread = 0.0;

    if (resonance->has_low && resonance->has_high && resonance->low_hz > 0.0 && resonance->high_hz > resonance->low_hz)
        spread = log(resonance->high_hz / resonance->low_hz) / (2.0 * Z_90);
    return fmax(spread, VOWEL_MEASURING_SPREAD_MIN);
}

static void add_measured(row_fit *fit, const aperta_resonance *resonance, double mean_hz, double spread)
{
    double sd = hypot(spread, measuring_spread(resonance));
    double z = log(resonance->hz / mean_hz) / sd;

    fit->log_density += -0.5 * z * z - log(sd);
    fit->squares += z * z;
    fit->n_measured++;
}

static void add_bounded(row_fit *fit, const aperta_resonance *resonance, double mean_hz, double spread)
{
    double p = 1.0;

    if (resonance->has_high)
        p = normal_cdf(log(resonance->high_hz / mean_hz) / spread);
    else if (resonance->has_low)
        p = normal_cdf(log(mean_hz / resonance->low_hz) / spread);
    fit->log_density += log(fmax(p, 1e-6)); /* the limit itself is only 95 % sure */
}

/* Densities of rows compare only over the same resonances: one that a row lacks is left out for all. */
static gboolean all_rows_have(const aperta_vowel_table *table, int resonance)
{
    for (guint i = 0; i < table->n_rows; i++)
        if (!table->rows[i].has[resonance])
            return FALSE;
    return TRUE;
}

static row_fit fit_row(const aperta_vowel_row *row, const aperta_resonance resonances[APERTA_N_RESONANCES],
                       int n_resonances)
{
    static const double singing[APERTA_N_RESONANCES] = {VOWEL_SINGING_SPREADS};
    row_fit fit = {0.0, 0.0, 0};

    for (int i = 0; i < n_resonances; i++) {
        double spread = hypot(row->sd_hz[i] / row->hz[i], singing[i]);
        if (resonances[i].status == APERTA_MEASURED)
            add_measured(&fit, &resonances[i], row->hz[i], spread);
        else if (resonances[i].status == APERTA_BOUNDED)
            add_bounded(&fit, &resonances[i], row->hz[i], spread);
    }
    return fit;
}

/* Share of the confidence that listeners keep at a pitch. */
static double listener_share(double f0_hz)
{
    static const double points_hz[] = {VOWEL_LISTENER_POINTS_HZ};
    static const double shares[G_N_ELEMENTS(points_hz)] = {VOWEL_LISTENER_SHARES};

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

static double most_confidence(const aperta_resonance resonances[APERTA_N_RESONANCES])
{
    if (resonances[0].status == APERTA_BOUNDED)
        return VOWEL_ONE_SIDED_CONFIDENCE;
    if (resonances[0].status != APERTA_MEASURED || resonances[1].status != APERTA_MEASURED)
        return VOWEL_ONE_RESONANCE_CONFIDENCE;
    return 1.0;
}

static gboolean too_far(const row_fit *fit)
{
    return fit->n_measured == 0 || fit->squares > VOWEL_FAR_SD * VOWEL_FAR_SD * fit->n_measured;
}

aperta_vowel_hearing aperta_vowel_hear(const aperta_vowel_table *table,
                                       const aperta_resonance resonances[APERTA_N_RESONANCES], double f0_hz)
{
    aperta_vowel_hearing hearing = {NULL, 0.0, NULL};
    gboolean placed = resonances[0].status == APERTA_MEASURED || resonances[1].status == APERTA_MEASURED;
    if (!placed || table->n_rows == 0)
        return hearing;

    g_autofree row_fit *fits = g_new(row_fit, table->n_rows);
    int n_resonances = all_rows_have(table, 2) ? 3 : 2; /* F1 and F2 are in every row */
    guint best = 0;
    for (guint i = 0; i < table->n_rows; i++) {
        fits[i] = fit_row(&table->rows[i], resonances, n_resonances);
        if (fits[i].log_density > fits[best].log_density)
            best = i;
    }
    if (too_far(&fits[best]))
        return hearing;

    double sum = 0.0;
    double next_density = -INFINITY;
    for (guint i = 0; i < table->n_rows; i++) {
        sum += exp(fits[i].log_density - fits[best].log_density);
        if (i != best && fits[i].log_density > next_density) {
            next_density = fits[i].log_density;
            hearing.next = table->rows[i].vowel;
        }
    }
    hearing.heard = table->rows[best].vowel;
    hearing.confidence = fmin(1.0 / sum, most_confidence(resonances)) * listener_share(f0_hz);
    return hearing;
}
