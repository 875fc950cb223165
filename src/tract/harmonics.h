/* tract/harmonics.h - levels of the harmonics of a sung note, frame by frame, for a known fundamental. */
#ifndef TRACT_HARMONICS_H
#define TRACT_HARMONICS_H

#include "tract/tract-private.h"

typedef struct tract_harmonics tract_harmonics;

/* One frame of a note. Arrays hold n values, [0] is the fundamental. */
typedef struct {
    double time_s;
    double f0_hz; /* refined by the phases of the harmonics */
    guint n;
    float level_db[APERTA_HARMONICS_MAX]; /* of its RMS, dB re full scale */
    float noise_db[APERTA_HARMONICS_MAX]; /* what noise alone would show in the place of that harmonic */
    gboolean accompanied;                 /* that noise is another's partials, which beat and do not average out */
} tract_harmonic_frame;

/* band_hz: no harmonic above it is measured; below half the sample rate. frames_max: most frames of one note. */
tract_harmonics *tract_harmonics_create(int sample_rate_hz, double band_hz, guint frames_max);
void tract_harmonics_destroy(tract_harmonics *harmonics); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tract_harmonics, tract_harmonics_destroy)

/* Measures the steady frames of the stretch for which the sound suffices. Returns their number and records in order of
 * time, valid until the next call, which may be changed. Allocates nothing. */
guint tract_harmonics_read(tract_harmonics *harmonics, const tract_sound *sound, const aperta_f0_track *track,
                           const tract_stretch *stretch, const guint8 *steady, tract_harmonic_frame **frames);

/* ---- what sounds beside the voice (beside.c) --------------------------------------------------------------------- */

/* Raises the noise of the frames of one accompanied note to what its harmonics may hide, and marks them. */
void tract_beside_mark(tract_harmonic_frame *frames, guint n_frames);

#endif
