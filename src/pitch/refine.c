/* refine.c - f0 from the phases of its harmonics.
 *
 * Each harmonic is projected on a short Hann window and on that window's derivative; their ratio gives the harmonic's
 * instantaneous frequency at the window's centre (Auger & Flandrin 1995, IEEE Trans. Signal Process. 43:1068-1089).
 * f0 is the weighted mean of frequency / number, weights number^2 x power: what least squares gives when every harmonic
 * has the same noise. Four periods are short enough to leave vibrato its extent: at 200 Hz it shrinks by 1 %. */
#include "pitch/pitch-private.h"

#include <math.h>

/* State of Goertzel's recurrence (Goertzel 1958, Amer. Math. Monthly 65:34-35) for all harmonics and both windows at
 * once: [0] plain window, [1] its derivative. Side by side the twelve recurrences keep the processor busy. */
typedef struct {
    double coefficient[PITCH_REFINE_HARMONICS];
    double s1[2][PITCH_REFINE_HARMONICS];
    double s2[2][PITCH_REFINE_HARMONICS];
} projections;

/* The next windowed sample, [0] and [1] as above; c and s turn on. */
static void next_sample(double sample, double *c, double *s, double turn_c, double turn_s, double x[2])
{
    double next = *c * turn_c - *s * turn_s;

    x[0] = sample * (0.5 - 0.5 * *c);
    x[1] = sample * 0.5 * *s;
    *s = *s * turn_c + *c * turn_s;
    *c = next;
}

/* n is even: with two samples a turn the state need not be moved along. */
static void project(projections *restrict p, const float *restrict from, guint n)
{
    double turn_c = cos(2.0 * G_PI / n), turn_s = sin(2.0 * G_PI / n);
    double c = cos(G_PI / n), s = sin(G_PI / n); /* half a sample in: the window is symmetric */

    for (guint i = 0; i < n; i += 2) {
        double x[2], y[2];
        next_sample(from[i], &c, &s, turn_c, turn_s, x);
        next_sample(from[i + 1], &c, &s, turn_c, turn_s, y);
        for (int w = 0; w < 2; w++)
            for (int k = 0; k < PITCH_REFINE_HARMONICS; k++) {
                p->s2[w][k] = x[w] - p->s2[w][k] + p->coefficient[k] * p->s1[w][k];
                p->s1[w][k] = y[w] - p->s1[w][k] + p->coefficient[k] * p->s2[w][k];
            }
    }
}

/* Instantaneous frequency of harmonic k + 1, looked at with omega radians a sample; its power in *power. */
static double instantaneous(const projections *p, int k, double omega, guint n, double *power)
{
    double co = cos(omega), si = sin(omega);
    double re = p->s1[0][k] - co * p->s2[0][k], im = si * p->s2[0][k];
    double slope_re = p->s1[1][k] - co * p->s2[1][k], slope_im = si * p->s2[1][k];

    *power = re * re + im * im;
    if (*power <= 0.0)
        return omega;
    /* the Hann window's derivative is 2 pi / n times what the projection used */
    return omega - (slope_im * re - slope_re * im) / *power * (2.0 * G_PI / n);
}

/* One round: a better f0, or 0 when no harmonic agrees with start_hz. */
static double agree(const float *centre, guint half, int rate_hz, double f0_hz, double start_hz)
{
    projections p = {0};
    double sum = 0.0, weights = 0.0, to_omega = 2.0 * G_PI / rate_hz;

    for (int k = 0; k < PITCH_REFINE_HARMONICS; k++)
        p.coefficient[k] = 2.0 * cos((k + 1) * f0_hz * to_omega);
    project(&p, centre - half, 2 * half);
    for (int k = 0; k < PITCH_REFINE_HARMONICS && (k + 1) * f0_hz < PITCH_BAND_HIGH_HZ; k++) {
        double power;
        double omega = instantaneous(&p, k, (k + 1) * f0_hz * to_omega, 2 * half, &power);
        double hz = omega / to_omega / (k + 1);
        if (fabs(hz / start_hz - 1.0) > PITCH_REFINE_TOLERANCE)
            continue;
        sum += (k + 1) * (k + 1) * power * hz;
        weights += (k + 1) * (k + 1) * power;
    }
    return weights > 0.0 ? sum / weights : 0.0;
}

double pitch_refine_hz(const float *centre, guint reach, int sample_rate_hz, double f0_hz)
{
    double window_s = CLAMP(PITCH_REFINE_PERIODS / f0_hz, PITCH_REFINE_MIN_S, PITCH_REFINE_MAX_S);
    guint half = MIN((guint)(window_s * sample_rate_hz / 2.0), reach);
    double best_hz = f0_hz;

    for (int round = 0; round < PITCH_REFINE_ROUNDS; round++) {
        double better_hz = agree(centre, half, sample_rate_hz, best_hz, f0_hz);
        if (better_hz <= 0.0)
            return f0_hz;
        gboolean settled = fabs(better_hz / best_hz - 1.0) < PITCH_REFINE_SETTLED;
        best_hz = better_hz;
        if (settled)
            break;
    }
    return best_hz;
}
