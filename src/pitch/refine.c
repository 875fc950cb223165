/* refine.c - f0 from the phases of its harmonics.
 *
 * Each harmonic is projected on a short Hann window and on that window's derivative; their ratio gives the harmonic's
 * instantaneous frequency at the window's centre (Auger & Flandrin 1995, IEEE Trans. Signal Process. 43:1068-1089).
 * f0 is the weighted mean of frequency / number, weights number^2 x power: what least squares gives when every harmonic
 * has the same noise. Four periods are short enough to leave vibrato its extent: at 200 Hz it shrinks by 1 %. */
#include "pitch/pitch-private.h"

#include <complex.h>
#include <math.h>

/* Instantaneous frequency of the component near hz, and its power. */
static double component_hz(const float *from, guint n, int rate_hz, double hz, double *power)
{
    double complex turn = cexp(-I * 2.0 * G_PI * hz / rate_hz);
    double complex window_turn = cexp(I * 2.0 * G_PI / n);
    double complex phasor = 1.0;
    double complex window_phasor = cexp(I * G_PI / n); /* half a sample in: symmetric */
    double complex plain = 0.0, slope = 0.0;

    for (guint i = 0; i < n; i++) {
        double complex x = from[i] * phasor;
        plain += x * (0.5 - 0.5 * creal(window_phasor));
        slope += x * (0.5 * cimag(window_phasor));
        phasor *= turn;
        window_phasor *= window_turn;
    }
    *power = creal(plain) * creal(plain) + cimag(plain) * cimag(plain);
    if (*power <= 0.0)
        return hz;
    /* d/dt of the Hann window is (2 pi / n) x slope per sample */
    double shift = cimag(slope * conj(plain)) / *power * (2.0 * G_PI / n);
    return hz - shift * rate_hz / (2.0 * G_PI);
}

double pitch_refine_hz(const float *centre, guint reach, int sample_rate_hz, double f0_hz)
{
    double window_s = CLAMP(PITCH_REFINE_PERIODS / f0_hz, PITCH_REFINE_MIN_S, PITCH_REFINE_MAX_S);
    guint half = MIN((guint)(window_s * sample_rate_hz / 2.0), reach);
    double best_hz = f0_hz;

    for (int round = 0; round < 2; round++) {
        double sum = 0.0, weights = 0.0;
        for (int k = 1; k <= PITCH_REFINE_HARMONICS && k * best_hz < PITCH_BAND_HIGH_HZ; k++) {
            double power;
            double hz = component_hz(centre - half, 2 * half, sample_rate_hz, k * best_hz, &power) / k;
            if (fabs(hz / f0_hz - 1.0) > PITCH_REFINE_TOLERANCE)
                continue;
            double weight = (double)k * k * power;
            sum += weight * hz;
            weights += weight;
        }
        if (weights <= 0.0)
            return f0_hz;
        best_hz = sum / weights;
    }
    return best_hz;
}
