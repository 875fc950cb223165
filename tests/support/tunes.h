/* tunes.h - songs whose keys are known. */
#ifndef TESTS_TUNES_H
#define TESTS_TUNES_H

#include <aperta/base.h>

/* Degrees of the major scale, or of the natural minor one, # for a raised one, octaves left out; ":2" is a note of two
 * beats. Every other tune, from the first on, is for choosing settings, the others are for judging. */
typedef struct {
    const char *name;
    gboolean minor;
    const char *degrees;
} tune;

extern const tune TUNES[];
extern const guint N_TUNES;

/* aperta_note of the first share (0..1) of the tune, half a second a beat; free with g_array_unref. */
GArray *tune_notes(const tune *t, int tonic_midi, double share);

#endif
