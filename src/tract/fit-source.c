/* Spectrum of the glottal pulse over its shape.
 *
 * The flow derivative of Fant, Liljencrants & Lin 1985 (STL-QPSR 26(4):1-13): a growing sine from the opening to the
 * main excitation, an exponential return after it, no net flow. Its three shape values follow from one, Rd, by the
 * regressions of Fant 1995 (STL-QPSR 36(2-3):119-156; from memory, unchecked): 0.3 pressed, 1 modal, 2.7 breathy. As
 * the pulse keeps its shape when the period changes, the level of harmonic k depends on k and Rd alone. The derivative
 * of the flow stands for flow and radiation at the lips together.
 *
 * Limits. No interaction with the tract, no ripple from a second excitation: the fit gives every harmonic a deviation
 * of its own for that.
 */
#include <complex.h>
#include <math.h>

#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

typedef struct {
    double te, omega, alpha, epsilon, ta; /* in periods */
} pulse;

/* Area under the pulse, which is to be zero. */
static double pulse_area(const pulse *p)
{
    double rest = 1.0 - p->te, a = p->alpha, w = p->omega;
    double sine = sin(w * p->te), cosine = cos(w * p->te);
    double open = -((a * sine - w * cosine) + w * exp(-a * p->te)) / (sine * (a * a + w * w));
    double decay = exp(-p->epsilon * rest);
    return open - ((1.0 - decay) / p->epsilon - rest * decay) / (p->epsilon * p->ta);
}

static pulse pulse_of_rd(double rd)
{
    double ra = (-1.0 + 4.8 * rd) / 100.0, rk = (22.4 + 11.8 * rd) / 100.0;
    double rg = rk / (4.0 * (0.11 * rd / (0.5 + 1.2 * rk) - ra));
    pulse p = {.te = (1.0 + rk) / (2.0 * rg), .omega = 2.0 * G_PI * rg, .ta = ra};
    double rest = 1.0 - p.te;
    p.epsilon = 1.0 / p.ta;
    for (int i = 0; i < 60; i++)
        p.epsilon = (1.0 - exp(-p.epsilon * rest)) / p.ta;
    double low = -100.0, high = 200.0;
    for (int i = 0; i < 60; i++) { /* more growth, less area before the negative peak */
        p.alpha = 0.5 * (low + high);
        if (pulse_area(&p) > 0.0)
            low = p.alpha;
        else
            high = p.alpha;
    }
    return p;
}

static double pulse_level_db(const pulse *p, guint k)
{
    double turn = 2.0 * G_PI * k, rest = 1.0 - p->te;
    double complex s = p->alpha - I * turn;
    double sine = sin(p->omega * p->te), cosine = cos(p->omega * p->te);
    double complex at_te = cexp(-I * turn * p->te);
    double complex open = -(at_te * (s * sine - p->omega * cosine) + p->omega * exp(-p->alpha * p->te)) /
                          (sine * (s * s + p->omega * p->omega));
    double complex closing = (1.0 - cexp(-(p->epsilon + I * turn) * rest)) / (p->epsilon + I * turn) -
                             exp(-p->epsilon * rest) * (1.0 - cexp(-I * turn * rest)) / (I * turn);
    double complex sum = open - at_te * closing / (p->epsilon * p->ta);
    return aperta_power_to_db(creal(sum * conj(sum)));
}

void fit_source_fill(fit_source *source)
{
    for (int i = 0; i < FIT_SHAPES; i++) {
        pulse p = pulse_of_rd(FIT_RD_LOW * pow(FIT_RD_HIGH / FIT_RD_LOW, (double)i / (FIT_SHAPES - 1)));
        for (guint k = 1; k <= APERTA_HARMONICS_MAX; k++)
            source->level_db[i][k - 1] = pulse_level_db(&p, k);
    }
}

double fit_source_level_db(const fit_source *source, guint k, double ln_rd, double *slope)
{
    double step = log(FIT_RD_HIGH / FIT_RD_LOW) / (FIT_SHAPES - 1);
    double place = (ln_rd - log(FIT_RD_LOW)) / step;
    int i = (int)CLAMP(place, 0.0, FIT_SHAPES - 2.0);
    double low = source->level_db[i][k - 1], high = source->level_db[i + 1][k - 1];
    *slope = (high - low) / step;
    return low + (place - i) * (high - low);
}
