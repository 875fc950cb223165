/* tract/tract-private.h - what the files of src/tract share.
 *
 *   tract.c     the public functions; joins the readings
 *   steady.c    which frames of a note are read
 *   lpc.c       poles of each frame
 *   lpc-path.c  poles joined over time into F1, F2, F3
 *   lpc-note.c  a note's values from its frames
 *   levels.c    levels of the harmonics
 *   status.c    what is measured, bounded, unknown
 * and, with headers of their own, harmonics.h and tract-fit.h: the pooled fit, which fit.c introduces
 */
#ifndef TRACT_TRACT_PRIVATE_H
#define TRACT_TRACT_PRIVATE_H

#include <aperta/tract.h>

/* ---- the sound and its frames (steady.c) ------------------------------------------------------------------------ */

typedef struct {
    const float *samples; /* samples[0] stands at start_s */
    gsize n;
    double start_s;
    int rate_hz;
} tract_sound;

/* The frames of a note that are looked at: first, first + stride, ... of the track, n of them. */
typedef struct {
    guint first;
    guint stride;
    guint n;
} tract_stretch;

/* More frames than a stretch ever has: its step is at least two thirds of 10 ms. */
#define TRACT_STRETCH_MAX 1300
G_STATIC_ASSERT(TRACT_STRETCH_MAX > (int)APERTA_TRACT_NOTE_MAX_S * 150 + 2);

tract_stretch tract_stretch_of(const aperta_f0_track *track, const aperta_note *note);

/* Is a frame voiced and within the note's steady part? */
gboolean tract_is_steady(const aperta_f0_track *track, const aperta_note *note, guint frame);

/* steady[i] = 1 for the frames of the stretch within the note's steady part that sound like the note. */
void tract_steady_frames(const aperta_f0_track *track, const aperta_note *note, const tract_stretch *stretch,
                         guint8 *steady);

/* length samples centred on time_s; zeros where the sound does not reach. */
void tract_sound_cut(const tract_sound *sound, double time_s, guint length, double *samples);

/* ---- poles joined over time (lpc-path.c) ------------------------------------------------------------------------ */

#define TRACT_POLES_MAX 6 /* pairs; as many as formants in the band, and one */

/* What one frame offers, upward in frequency. */
typedef struct {
    guint n;
    double hz[TRACT_POLES_MAX];
    double bark[TRACT_POLES_MAX];
    double bandwidth_hz[TRACT_POLES_MAX];
} tract_poles;

typedef struct tract_path tract_path;

tract_path *tract_path_create(aperta_voice group);
void tract_path_destroy(tract_path *path);
/* Chooses F1, F2, F3 among the poles of n <= TRACT_STRETCH_MAX frames. */
void tract_path_find(tract_path *path, const tract_poles *poles, guint n, aperta_tract_frame *frames);

/* ---- a note's values (lpc-note.c) -------------------------------------------------------------------------------- */

/* Values, glide and its ends into reading, from n <= TRACT_STRETCH_MAX frames in order of time. */
void tract_lpc_summarise(const aperta_tract_frame *frames, guint n, double f0_hz, aperta_tract_reading *reading);

/* ---- the classical tracker (lpc.c) ------------------------------------------------------------------------------- */

typedef struct tract_lpc tract_lpc;

tract_lpc *tract_lpc_create(const aperta_tract_config *config);
void tract_lpc_destroy(tract_lpc *lpc);
/* Fills reading's lpc, glides, first and last, and, if frames is not NULL, the note's frames of the whole track. steady
 * as tract_steady_frames gave it; frames of fast spectral change are taken out of it. */
void tract_lpc_read(tract_lpc *lpc, const tract_sound *sound, const aperta_f0_track *track, const aperta_note *note,
                    const tract_stretch *stretch, guint8 *steady, aperta_tract_reading *reading,
                    aperta_tract_frame *frames);

/* ---- levels of the harmonics (levels.c) -------------------------------------------------------------------------- */

typedef struct tract_levels tract_levels;

tract_levels *tract_levels_create(const aperta_tract_config *config);
void tract_levels_destroy(tract_levels *levels);
/* Fills reading's harmonics with means over the steady frames. */
void tract_levels_read(tract_levels *levels, const tract_sound *sound, const aperta_f0_track *track,
                       const aperta_note *note, const tract_stretch *stretch, const guint8 *steady,
                       aperta_tract_reading *reading);

/* ---- what can be told of a resonance (status.c) ------------------------------------------------------------------ */

/* Of resonance i, from the ratio of the ends of its 90 % interval and the probability that F1 lies below f0. */
aperta_status tract_status(int i, double interval_ratio, double f1_below_f0);

/* ---- does it come from a tract? (sound.c) ------------------------------------------------------------------------ */

/* What the levels of the harmonics tell of the sound. */
aperta_sound tract_sound_kind(const aperta_tract_reading *reading);

#endif
