/* synth-tract.h - what a vocal tract does to the source: a complex gain over frequency, and its true resonances.
 *
 * Made from an area function (synth-tube.h) or from a list of formants (synth-table.h). The gain is flow out of the
 * lips over flow into the glottis, close to 1 at 0 Hz. */
#ifndef TESTS_SYNTH_TRACT_H
#define TESTS_SYNTH_TRACT_H

#include <complex.h>
#include <glib.h>

typedef struct {
    double hz;
    double bandwidth_hz;
} synth_resonance;

#define SYNTH_RESONANCES_MAX 40

/* Spacing of the stored gain. With cubic interpolation a resonance only 40 Hz wide is met within 0.02 dB. */
#define SYNTH_TRACT_STEP_HZ 5.0

typedef struct {
    int n_bins;           /* gain[i] stands at i * SYNTH_TRACT_STEP_HZ */
    double complex *gain; /* owned */
    int n_resonances;     /* in order of frequency, all below top_hz */
    synth_resonance resonances[SYNTH_RESONANCES_MAX];
} synth_tract;

synth_tract *synth_tract_new(double top_hz);
void synth_tract_free(synth_tract *tract); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(synth_tract, synth_tract_free)

/* Gain between the stored points; 0 from the top on. */
double complex synth_tract_gain(const synth_tract *tract, double hz);

#endif
