/* synth-source.h - the glottal source: the flow derivative of Fant, Liljencrants & Lin 1985, "A four-parameter model of
 * glottal flow", STL-QPSR 26(4):1-13, as Fourier coefficients in closed form; and two older families of pulses, to see
 * how much an analyser leans on that one. */
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

typedef enum {
    SYNTH_SOURCE_LF,      /* as above */
    SYNTH_SOURCE_COSINES, /* half a cosine up, a quarter down: Rosenberg 1971, JASA 49:583-590, his shape C */
    SYNTH_SOURCE_CUBIC,   /* t^2 - t^3: Klatt & Klatt 1990, JASA 87:820-857 */
} synth_source;

/* Fourier coefficients 1..n into harmonic[1..n] for a shape between pressed and breathy, 0.3 .. 2.7. For the older two
 * families the open share of the period and a low-pass of one pole follow from it; those relations are ours. */
void synth_source_harmonics(synth_source source, double rd, int n, double complex *harmonic);

#endif
