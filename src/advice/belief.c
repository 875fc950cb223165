/* belief.c - what is known of a resonance, as probability between limits.
 *
 * Every comparison of a resonance with an exact number is a limit on its frequency, so a condition only asks between
 * which limits the resonance lies. The probability of each such cell:
 *
 *   measured   the interval's ends are its 5 % and 95 % quantiles; the value is the middle of the main fit, and what
 *              fits nearly as well lies on one side of it or the other; between and beyond these three points the
 *              normal score of the probability is a straight line over ln F
 *   bounded    by the posterior, where it is given; else 95 % of the probability lies on the known side, even in ln F
 *              up to the end of the range where such a resonance can lie at all; 5 % lie beyond the limit
 *   unknown    no cells
 *
 * The posterior's few normal distributions were tried for measured ones too, and were worse on make bench-verdicts:
 * synthetic notes told 71.2 -> 70.7 % (belt), 88.0 -> 85.3 % (legit, classical); people who chose no setting, changes
 * right in legit 9 of 10 -> 9 of 12. The value and the interval were read from the posterior before it was reduced.
 *
 * The vowel's name is no evidence here: it was itself read from these resonances, or says what was meant and not what
 * was sung.
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"
#include "dsp/dsp.h"

#include <math.h>

static double clamp01(double x)
{
    return fmin(fmax(x, 0.0), 1.0);
}

static gboolean has_interval(const aperta_resonance *what)
{
    return what->has_low && what->has_high && what->low_hz > 0.0 && what->high_hz > what->low_hz;
}

static gboolean is_exact(const aperta_resonance *what)
{
    return what->status == APERTA_MEASURED && what->n_alternatives == 0 && !has_interval(what);
}

/* Probability of the values below hz, the main one counted as main_share of itself when it is hz. */
static double weight_below(const aperta_resonance *what, double hz, double main_share)
{
    double others = 0.0;
    double sum = 0.0;

    for (int i = 0; i < what->n_alternatives; i++) {
        others += what->alternatives[i].weight;
        sum += what->alternatives[i].hz < hz ? what->alternatives[i].weight : 0.0;
    }
    double share = what->hz < hz ? 1.0 : what->hz > hz ? 0.0 : main_share;
    return clamp01(sum + (1.0 - clamp01(others)) * share);
}

static double measured_below(const aperta_resonance *what, double hz)
{
    if (!has_interval(what))
        return weight_below(what, hz, 0.0);
    double from = log(what->low_hz), to = log(what->high_hz), at = log(hz);
    double from_z = dsp_normal_quantile(0.05), to_z = -from_z;
    double middle = log(what->hz), share = weight_below(what, what->hz, 0.5);
    gboolean inside = middle > from && middle < to && share > 0.05 && share < 0.95;
    double middle_z = inside ? dsp_normal_quantile(share) : 0.0;
    if (inside && at < middle) {
        to = middle;
        to_z = middle_z;
    } else if (inside) {
        from = middle;
        from_z = middle_z;
    }
    return dsp_normal_cdf(from_z + (to_z - from_z) * (at - from) / (to - from));
}

static double bounded_above_below(double limit_hz, double end_hz, double hz)
{
    double end = fmin(end_hz, limit_hz / 2.0);

    if (hz < limit_hz)
        return ADVICE_BOUND_SURE * clamp01(log(hz / end) / log(limit_hz / end));
    return ADVICE_BOUND_SURE +
           (1.0 - ADVICE_BOUND_SURE) * clamp01(aperta_semitones_between(limit_hz, hz) / ADVICE_BEYOND_BOUND_ST);
}

/* The mirror image of a bound from above. */
static double bounded_from_below(double limit_hz, double end_hz, double hz)
{
    double end = fmax(end_hz, limit_hz * 2.0);

    if (hz > limit_hz)
        return 1.0 - ADVICE_BOUND_SURE * clamp01(log(end / hz) / log(end / limit_hz));
    return (1.0 - ADVICE_BOUND_SURE) * (1.0 - clamp01(aperta_semitones_between(hz, limit_hz) / ADVICE_BEYOND_BOUND_ST));
}

static double below(const aperta_resonance *what, int resonance, const aperta_posterior *posterior, double hz)
{
    static const double range_low_hz[APERTA_N_RESONANCES] = {ADVICE_RANGE_LOW_HZ};
    static const double range_high_hz[APERTA_N_RESONANCES] = {ADVICE_RANGE_HIGH_HZ};

    if (what->status == APERTA_MEASURED)
        return measured_below(what, hz);
    if (posterior != NULL && posterior->n_modes > 0)
        return aperta_posterior_below(posterior, resonance, hz);
    if (what->has_high)
        return bounded_above_below(what->high_hz, range_low_hz[resonance], hz);
    return bounded_from_below(what->low_hz, range_high_hz[resonance], hz);
}

static int by_value(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;

    return (first > second) - (first < second);
}

guint advice_belief_cells(const aperta_resonance *what, int resonance, const aperta_posterior *posterior,
                          double *limits_hz, guint n, advice_cell *cells)
{
    if (what->status == APERTA_UNKNOWN || (what->status == APERTA_BOUNDED && !what->has_low && !what->has_high))
        return 0;
    if (is_exact(what) || n == 0) {
        cells[0] = (advice_cell){what->status == APERTA_MEASURED ? what->hz : 1.0, 1.0};
        return 1;
    }
    qsort(limits_hz, n, sizeof *limits_hz, by_value);
    double before = 0.0;
    guint n_cells = 0;
    for (guint i = 0; i <= n; i++) {
        double until = i < n ? below(what, resonance, posterior, limits_hz[i]) : 1.0;
        double from_hz = i > 0 ? limits_hz[i - 1] : limits_hz[0] / 4.0;
        double to_hz = i < n ? limits_hz[i] : limits_hz[n - 1] * 4.0;
        if (until > before)
            cells[n_cells++] = (advice_cell){sqrt(from_hz * to_hz), until - before};
        before = fmax(before, until);
    }
    return n_cells;
}
