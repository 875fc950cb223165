/* synth-source.c - see synth-source.h
 *
 *   opening   E(t) = E0 exp(alpha t) sin(omega t)                                     0 <= t < te,  E(te) = -1
 *   return    E(t) = -(exp(-epsilon (t - te)) - exp(-epsilon (1 - te))) / (epsilon ta)     te <= t < 1
 * epsilon follows from E being continuous at te, alpha from the flow being back at 0 at the end.
 *
 * The two older families, with the glottis open for a share q of the period:
 *   cosines   E(t) = sin(pi t / p) / (2 p) to p = 2 q / 3, then -sin(pi (t - p) / (2 (q - p))) / (2 (q - p)), times pi
 *   cubic     E(t) = 2 t - 3 t^2 / q */
#include "synth-source.h"

#include <math.h>

static double opening_scale(const synth_pulse *pulse)
{
    return -1.0 / (exp(pulse->alpha * pulse->te) * sin(pulse->omega * pulse->te));
}

/* Integral of E over the period: the flow left at its end. */
static double flow_left(const synth_pulse *pulse)
{
    double a = pulse->alpha, w = pulse->omega, te = pulse->te, e = pulse->epsilon, rest = 1.0 - te;
    double opening = opening_scale(pulse) * (exp(a * te) * (a * sin(w * te) - w * cos(w * te)) + w) / (a * a + w * w);
    double closing = -((1.0 - exp(-e * rest)) / e - rest * exp(-e * rest)) / (e * pulse->ta);

    return opening + closing;
}

/* epsilon ta = 1 - exp(-epsilon (1 - te)); the fixed point is reached quickly from above. */
static double solve_epsilon(double te, double ta)
{
    double epsilon = 1.0 / ta;

    for (int i = 0; i < 200; i++)
        epsilon = (1.0 - exp(-epsilon * (1.0 - te))) / ta;
    return epsilon;
}

static double solve_alpha(synth_pulse pulse)
{
    double low = -60.0, high = 200.0; /* per period; the flow left falls as alpha grows */

    for (int i = 0; i < 60; i++) {
        pulse.alpha = 0.5 * (low + high);
        if (flow_left(&pulse) > 0.0)
            low = pulse.alpha;
        else
            high = pulse.alpha;
    }
    return pulse.alpha;
}

synth_pulse synth_pulse_rd(double rd)
{
    double ra = (-1.0 + 4.8 * rd) / 100.0;
    double rk = (22.4 + 11.8 * rd) / 100.0;
    double rg = 0.25 * rk / (0.11 * rd / (0.5 + 1.2 * rk) - ra);
    double tp = 0.5 / rg;
    synth_pulse pulse = {.te = tp * (1.0 + rk), .ta = ra, .omega = G_PI / tp};

    g_assert(rd >= 0.3 && rd <= 2.7);
    pulse.epsilon = solve_epsilon(pulse.te, pulse.ta);
    pulse.alpha = solve_alpha(pulse);
    return pulse;
}

/* Integral of exp(q t) over 0..length */
static double complex integral(double complex q, double length)
{
    return (cexp(q * length) - 1.0) / q;
}

double complex synth_pulse_harmonic(const synth_pulse *pulse, int k)
{
    double complex jw = 2.0 * G_PI * k * I;
    double rest = 1.0 - pulse->te, e = pulse->epsilon;
    double complex up = integral(pulse->alpha - jw + I * pulse->omega, pulse->te);
    double complex down = integral(pulse->alpha - jw - I * pulse->omega, pulse->te);
    double complex opening = opening_scale(pulse) * (up - down) / (2.0 * I);
    double complex closing = -(integral(-e - jw, rest) - exp(-e * rest) * integral(-jw, rest)) / (e * pulse->ta);

    return opening * cexp(jw * pulse->te) + closing;
}

double synth_pulse_at(const synth_pulse *pulse, double t)
{
    if (t < pulse->te)
        return opening_scale(pulse) * exp(pulse->alpha * t) * sin(pulse->omega * t);
    return -(exp(-pulse->epsilon * (t - pulse->te)) - exp(-pulse->epsilon * (1.0 - pulse->te))) /
           (pulse->epsilon * pulse->ta);
}

/* ---- older families -------------------------------------------------------------------------------------------- */

static double open_share(double rd)
{
    return CLAMP(0.35 + 0.25 * rd, 0.4, 0.95);
}

/* Integral of sin(w t) exp(-jk t) over 0..length */
static double complex sine_integral(double w, double complex jk, double length)
{
    return (integral(I * w - jk, length) - integral(-I * w - jk, length)) / (2.0 * I);
}

static double complex cosines_harmonic(double q, int k)
{
    double complex jw = 2.0 * G_PI * k * I;
    double p = 2.0 * q / 3.0, down = q - p;
    double nudge = 1.0 + 1e-9; /* keeps the sine's frequency off the harmonic's */

    return G_PI / (2.0 * p) * sine_integral(G_PI / p * nudge, jw, p) -
           G_PI / (2.0 * down) * cexp(-jw * p) * sine_integral(G_PI / (2.0 * down) * nudge, jw, down);
}

/* By parts; the values are those of E and its derivatives at 0 and q. */
static double complex cubic_harmonic(double q, int k)
{
    double complex jw = 2.0 * G_PI * k * I, end = cexp(-jw * q);

    return q * end / jw + (2.0 + 4.0 * end) / (jw * jw) - 6.0 / q * (1.0 - end) / (jw * jw * jw);
}

void synth_source_harmonics(synth_source source, double rd, int n, double complex *harmonic)
{
    synth_pulse pulse = synth_pulse_rd(rd);
    double q = open_share(rd), corner = 6.0 / rd; /* harmonics that the low-pass leaves */

    for (int k = 1; k <= n; k++)
        switch (source) {
        case SYNTH_SOURCE_LF:
            harmonic[k] = synth_pulse_harmonic(&pulse, k);
            break;
        case SYNTH_SOURCE_COSINES:
            harmonic[k] = cosines_harmonic(q, k) / (1.0 + I * k / corner);
            break;
        case SYNTH_SOURCE_CUBIC:
            harmonic[k] = cubic_harmonic(q, k) / (1.0 + I * k / corner);
            break;
        }
}
