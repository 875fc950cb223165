/* synth-source.h - the glottal source: the flow derivative of Fant, Liljencrants & Lin 1985, "A four-parameter model of
 * glottal flow", STL-QPSR 26(4):1-13, as Fourier coefficients in closed form. */
#ifndef TESTS_SYNTH_SOURCE_H
#define TESTS_SYNTH_SOURCE_H

#include <complex.h>
#include <glib.h>

/* One period has length 1; the pulse opens at 0. The excitation (negative peak) is 1 at te. */
typedef struct {
    double te;      /* instant of the main excitation */
    double ta;      /* effective length of the return phase */
    double omega;   /* rad per period, of the opening sine */
    double alpha;   /* growth of that sine */
    double epsilon; /* decay of the return phase */
} synth_pulse;

/* One shape parameter, 0.3 (pressed) .. 1 (modal) .. 2.7 (breathy). Its relation to the four is that of Fant 1995, "The
 * LF-model revisited", STL-QPSR 36(2-3):119-156 (formulas from memory, unchecked). */
synth_pulse synth_pulse_rd(double rd);

/* Fourier coefficient of harmonic k >= 1, time counted from the excitation; and the pulse itself, 0 <= t < 1. */
double complex synth_pulse_harmonic(const synth_pulse *pulse, int k);
double synth_pulse_at(const synth_pulse *pulse, double t);

#endif
