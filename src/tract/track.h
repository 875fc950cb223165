/* tract/track.h - F1, F2, F3 over the time of a note whose vowel moves. */
#ifndef TRACT_TRACK_H
#define TRACT_TRACK_H

#include "tract/tract-fit.h"

typedef struct tract_track tract_track;

tract_track *tract_track_create(void);
void tract_track_destroy(tract_track *track); /* NULL is allowed */

/* Does the spectrum change from the first to the last part of the note, apart from its level? A quick look. */
gboolean tract_track_may_move(const tract_harmonic_frame *frames, guint n_frames);
/* By how much, dB RMS; 0 if it is too short. */
double tract_track_change_db(const tract_harmonic_frame *frames, guint n_frames);
/* Follows the resonances from the minima of both ends. FALSE when there is too little to follow. Allocates nothing. */
gboolean tract_track_follow(tract_track *track, tract_fit *fit, const fit_minima ends[TRACT_ENDS],
                            const tract_harmonic_frame *frames, guint n_frames);

/* Of what was followed. */
/* By how many Bark F1 or F2 has moved from start to end, whichever more; 0 if not surely. */
double tract_track_moved_bark(const tract_track *track);
/* Values near the start or the end, and what is behind them; f0_hz: the note's. */
void tract_track_end(const tract_track *track, gboolean last, double f0_hz,
                     aperta_resonance resonances[APERTA_N_RESONANCES], aperta_posterior *posterior);
/* One frame; what is not known well enough is left out. */
aperta_tract_frame tract_track_at(const tract_track *track, double time_s, double f0_hz);

#endif
