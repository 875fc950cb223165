/* synth-table.c - see synth-table.h */
#include "synth-table.h"

#include <math.h>

/* Hawks & Miller 1995: a fifth-order polynomial on each side of 500 Hz, scaled by 1 + 0.25 (f0 - 132) / 88. */
double synth_bandwidth_hawks_miller_hz(double hz, double f0_hz)
{
    static const double below[6] = {165.327516,     -6.73636734e-1, 1.80874446e-3,
                                    -4.52201682e-6, 7.49514e-9,     -4.70219241e-12};
    static const double above[6] = {15.8146139,    8.10159009e-2,   -9.79728215e-5,
                                    5.28725064e-8, -1.07099364e-11, 7.91528509e-16};
    const double *c = hz < 500.0 ? below : above;
    double sum = 0.0;

    for (int i = 5; i >= 0; i--)
        sum = sum * hz + c[i];
    return sum * (1.0 + 0.25 * (f0_hz - 132.0) / 88.0);
}

static double hawks_miller_hz(double hz)
{
    return synth_bandwidth_hawks_miller_hz(CLAMP(hz, 100.0, 5000.0), 132.0);
}

static void fant_bandwidths(synth_table *table)
{
    const double *f = table->hz;
    double f1 = f[0] / 500.0;

    table->bandwidth_hz[0] = 15.0 / (f1 * f1) + 20.0 * sqrt(f1) + 5.0 * f1 * f1;
    table->bandwidth_hz[1] = 22.0 + 16.0 * f1 * f1 + 12000.0 / (f[2] - f[1]);
    table->bandwidth_hz[2] = 25.0 * f1 * f1 + 4.0 * (f[1] / 500.0) * (f[1] / 500.0) + 10.0 * f[2] / (f[3] - f[2]);
}

synth_table synth_table_vowel(const double *hz, int n, double length_cm, synth_bandwidths rule)
{
    synth_table table = {.n = n, .length_cm = length_cm};

    g_assert(n >= 1 && n <= SYNTH_FORMANTS_MAX);
    for (int i = 0; i < n; i++) {
        table.hz[i] = hz[i];
        table.bandwidth_hz[i] = hawks_miller_hz(hz[i]);
    }
    if (rule == SYNTH_BANDWIDTHS_FANT) {
        g_assert(n >= 4);
        fant_bandwidths(&table);
    }
    return table;
}

synth_table synth_table_token(const double *mean_hz, const double *sd_hz, int n, double length_cm, synth_random *random)
{
    double hz[SYNTH_FORMANTS_MAX];

    g_assert(n >= 1 && n <= SYNTH_FORMANTS_MAX);
    for (int i = 0; i < n; i++) {
        double away;

        do {
            away = synth_random_gauss(random, 1.0);
        } while (fabs(away) > 2.0);
        hz[i] = mean_hz[i] + away * sd_hz[i];
        if (i > 0)
            hz[i] = MAX(hz[i], MAX(hz[i - 1] * 1.15, hz[i - 1] + 150.0));
    }
    return synth_table_vowel(hz, n, length_cm, SYNTH_BANDWIDTHS_HAWKS_MILLER);
}

void synth_table_spread_bandwidths(synth_table *table, double log_sd, synth_random *random)
{
    for (int i = 0; i < table->n; i++)
        table->bandwidth_hz[i] *= exp(synth_random_gauss(random, log_sd));
}

synth_table synth_table_between(const synth_table *a, const synth_table *b, double x)
{
    synth_table table = *a;

    g_assert(a->n == b->n);
    table.length_cm += x * (b->length_cm - a->length_cm);
    for (int i = 0; i < a->n; i++) {
        table.hz[i] *= pow(b->hz[i] / a->hz[i], x);
        table.bandwidth_hz[i] *= pow(b->bandwidth_hz[i] / a->bandwidth_hz[i], x);
    }
    return table;
}

/* The formants given, then those of the uniform tube, up to half again the top so that the top is not tilted. */
static int all_poles(const synth_table *table, double top_hz, synth_resonance poles[SYNTH_RESONANCES_MAX])
{
    const double sound_cm_per_s = 35000.0;
    double spacing_hz = sound_cm_per_s / (2.0 * table->length_cm);
    int n = 0;

    for (; n < table->n; n++)
        poles[n] = (synth_resonance){table->hz[n], table->bandwidth_hz[n]};
    for (; n < SYNTH_RESONANCES_MAX; n++) {
        double hz = MAX((n + 0.5) * spacing_hz, poles[n - 1].hz + 0.8 * spacing_hz);

        if (hz > 1.5 * top_hz)
            break;
        poles[n] = (synth_resonance){hz, hawks_miller_hz(hz)};
    }
    return n;
}

synth_tract *synth_table_tract(const synth_table *table, double top_hz)
{
    synth_tract *tract = synth_tract_new(top_hz);
    synth_resonance poles[SYNTH_RESONANCES_MAX];
    int n = all_poles(table, top_hz, poles);

    for (int i = 0; i < tract->n_bins; i++) {
        double complex s = 2.0 * G_PI * i * SYNTH_TRACT_STEP_HZ * I;
        double complex gain = 1.0;

        for (int j = 0; j < n; j++) {
            double damping = G_PI * poles[j].bandwidth_hz, omega = 2.0 * G_PI * poles[j].hz;
            double square = omega * omega + damping * damping;

            gain *= square / (s * s + 2.0 * damping * s + square);
        }
        tract->gain[i] = gain;
    }
    for (int j = 0; j < n && poles[j].hz < top_hz; j++)
        tract->resonances[tract->n_resonances++] = poles[j];
    return tract;
}
