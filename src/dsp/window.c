/* window.c - windows, symmetric, without the useless zero samples at both ends. */
#include "dsp/dsp.h"

#include <math.h>

static double turn_at(gsize i, gsize n)
{
    return 2 * G_PI * (double)(i + 1) / (double)(n + 1);
}

void dsp_window_hann(double *window, gsize n)
{
    for (gsize i = 0; i < n; i++)
        window[i] = 0.5 - 0.5 * cos(turn_at(i, n));
}

void dsp_window_blackman(double *window, gsize n)
{
    for (gsize i = 0; i < n; i++)
        window[i] = 0.42 - 0.5 * cos(turn_at(i, n)) + 0.08 * cos(2 * turn_at(i, n));
}

void dsp_window_gauss(double *window, gsize n, double sigma)
{
    double floor = exp(-0.5 / (sigma * sigma));
    double half = (double)(n + 1) / 2;

    for (gsize i = 0; i < n; i++) {
        double x = ((double)(i + 1) - half) / half / sigma;
        window[i] = (exp(-0.5 * x * x) - floor) / (1 - floor);
    }
}
