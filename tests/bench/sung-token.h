/* sung-token.h - sung notes of known resonances for the bench of the resonances, and what was read from them.
 *
 * Truth. Half of the notes are tubes: the area functions of Story, Titze & Hoffman 1996 with their lengths and areas
 * varied, mouths opened, a closed glottis or one that leaks, half with a side branch; their resonances are zeros of the
 * lossy tube's own denominator. The other half are tokens drawn from the means and standard deviations of Hillenbrand
 * et al. 1995 (men, women, children), F1 raised by 0 to 40 % as singers do, bandwidths spread around published rules.
 * The sound is made of harmonics along that gain, with a glottal pulse, a random deviation of each harmonic, vibrato
 * that also moves gain and pulse, breath noise and a room. The fundamental that is handed to the reader is a little
 * wrong, as a tracker's is: some cents off, and its vibrato shrunk. Nothing of it is taken from the fit's model or its
 * priors. */
#ifndef TESTS_SUNG_TOKEN_H
#define TESTS_SUNG_TOKEN_H

#include <aperta/tract.h>

typedef struct {
    aperta_voice voice;
    gboolean tube, room;
    gboolean other; /* a voice of another kind than the model's */
    double f0_hz, extent_cents, ripple_db, snr_db;
    double true_hz[APERTA_N_RESONANCES];
    aperta_resonance fit[APERTA_N_RESONANCES];
    aperta_resonance lpc[APERTA_N_RESONANCES];
    char vowel[8];              /* IPA of the table's vowel it was drawn from; "": a tube */
    double raised;              /* F1 over that of the draw: 1 is as spoken */
    aperta_posterior posterior; /* of the fit */
    double cost;                /* seconds of one core per second of sound */
} sung_token;

/* Draws a note within 1.5 semitones of f0_hz, sings it and reads it. other: with pulses of another family than the
 * fit's, more ripple, and a glottis that widens F1's band. */
void sung_token_read(sung_token *t, double f0_hz, gboolean other, guint64 seed);

/* Reads so many notes about each pitch, the notes of one pitch after the other, in jobs processes; tokens are shared
 * memory. */
void sung_token_read_all(sung_token *tokens, const double *pitches_hz, guint n_pitches, guint notes, gboolean other,
                         guint64 seed, guint jobs);

#endif
