/* belief.c - what is known of a resonance, as probability between limits.
 *
 * Every comparison of a resonance with an exact number is a limit on its frequency, so a condition only asks between
 * which limits the resonance lies. The probability of each such cell is exact:
 *   measured   ln F is normal about the value, its spread from the 90 % interval; other values that fit nearly as well
 *              take their weight from the main one
 *   bounded    95 % of the probability lies on the known side, even in ln F up to the end of the range where such a
 *              resonance can lie at all; 5 % lie beyond the limit
 *   unknown    no cells
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>

#define Z_90 1.6449 /* a normal distribution holds 90 % within +- this many standard deviations */

static double clamp01(double x)
{
    return fmin(fmax(x, 0.0), 1.0);
}

/* Standard deviation of ln F; 0: exact. */
static double log_spread(const aperta_resonance *what)
{
    if (!what->has_low || !what->has_high || what->low_hz <= 0.0 || what->high_hz <= what->low_hz)
        return 0.0;
    return log(what->high_hz / what->low_hz) / (2.0 * Z_90);
}

static gboolean is_exact(const aperta_resonance *what)
{
    return what->status == APERTA_MEASURED && what->n_alternatives == 0 && log_spread(what) == 0.0;
}

/* Probability of lying below hz for one value. */
static double value_below(double value_hz, double spread, double hz)
{
    if (spread == 0.0)
        return value_hz < hz ? 1.0 : 0.0;
    return 0.5 * erfc(-log(hz / value_hz) / spread * M_SQRT1_2);
}

static double measured_below(const aperta_resonance *what, double hz)
{
    double spread = log_spread(what);
    double others = 0.0;
    double below = 0.0;

    for (int i = 0; i < what->n_alternatives; i++) {
        others += what->alternatives[i].weight;
        below += what->alternatives[i].weight * value_below(what->alternatives[i].hz, spread, hz);
    }
    others = clamp01(others);
    return clamp01(below + (1.0 - others) * value_below(what->hz, spread, hz));
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

static double below(const aperta_resonance *what, int resonance, double hz)
{
    static const double range_low_hz[APERTA_N_RESONANCES] = {ADVICE_RANGE_LOW_HZ};
    static const double range_high_hz[APERTA_N_RESONANCES] = {ADVICE_RANGE_HIGH_HZ};

    if (what->status == APERTA_MEASURED)
        return measured_below(what, hz);
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

guint advice_belief_cells(const aperta_resonance *what, int resonance, double *limits_hz, guint n, advice_cell *cells)
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
        double until = i < n ? below(what, resonance, limits_hz[i]) : 1.0;
        double from_hz = i > 0 ? limits_hz[i - 1] : limits_hz[0] / 4.0;
        double to_hz = i < n ? limits_hz[i] : limits_hz[n - 1] * 4.0;
        if (until > before)
            cells[n_cells++] = (advice_cell){sqrt(from_hz * to_hz), until - before};
        before = fmax(before, until);
    }
    return n_cells;
}
