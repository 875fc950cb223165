/* synth-tract.c - see synth-tract.h */
#include "synth-tract.h"

synth_tract *synth_tract_new(double top_hz)
{
    synth_tract *tract = g_new0(synth_tract, 1);

    tract->n_bins = (int)(top_hz / SYNTH_TRACT_STEP_HZ) + 3; /* a point on either side for the cubic at the top */
    tract->gain = g_new0(double complex, tract->n_bins);
    return tract;
}

void synth_tract_free(synth_tract *tract)
{
    if (!tract)
        return;
    g_free(tract->gain);
    g_free(tract);
}

/* Catmull and Rom's cubic through the four nearest points. */
double complex synth_tract_gain(const synth_tract *tract, double hz)
{
    double position = hz / SYNTH_TRACT_STEP_HZ;
    int i = (int)position;
    double x = position - i;
    const double complex *g = tract->gain + i;

    if (i + 2 >= tract->n_bins)
        return 0.0;
    double complex before = i > 0 ? g[-1] : conj(g[1]); /* a real system: the gain at -f is the conjugate */
    return g[0] + 0.5 * x *
                      (g[1] - before +
                       x * (2.0 * before - 5.0 * g[0] + 4.0 * g[1] - g[2] + x * (3.0 * (g[0] - g[1]) + g[2] - before)));
}
