/* tract/tract-fit.h - resonances of one note from the levels of its harmonics in all frames together. */
#ifndef TRACT_FIT_H
#define TRACT_FIT_H

#include <aperta/base.h>

#include "tract/fit-minima.h"
#include "tract/harmonics.h"

typedef struct {
    aperta_voice voice; /* its group places the priors; UNKNOWN is read as woman */
    double band_hz;     /* harmonics above are not used */
    guint frames_max;   /* most frames of one note */
} tract_fit_config;

typedef struct tract_fit tract_fit;

tract_fit *tract_fit_create(const tract_fit_config *config);
void tract_fit_destroy(tract_fit *fit); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tract_fit, tract_fit_destroy)

/* The best minima of a note, or of a part of it, during which the tract stands still; none when the frames do not tell.
 * hint: another reader's values, one more place to search from (where all are measured) and nothing else. Allocates
 * nothing. */
void tract_fit_search(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames,
                      const aperta_resonance hint[APERTA_N_RESONANCES], fit_minima *minima);

/* The same, and what follows: F1, F2, F3, all unknown when the frames do not tell, and what is behind them, without
 * modes then. Allocates nothing. */
void tract_fit_note(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames,
                    const aperta_resonance hint[APERTA_N_RESONANCES], aperta_resonance resonances[APERTA_N_RESONANCES],
                    aperta_posterior *posterior);

/* ---- a part of a note (fit-window.c) ----------------------------------------------------------------------------- */

#define TRACT_WINDOW_PLACES_MAX 3

/* Where F1, F2 and F3 may be during a short part of a note. */
typedef struct {
    double time_s;
    int n; /* places, best first; 0: the frames do not tell */
    struct {
        double cost; /* half of chi squared, as evidence */
        double ln_hz[APERTA_N_RESONANCES];
        double variance[APERTA_N_RESONANCES]; /* ln */
    } places[TRACT_WINDOW_PLACES_MAX];
} tract_window;

#define TRACT_ENDS 2 /* parts of a note that are fitted before its windows: its start and its end */

/* Reads a window. Source and upper tract are those of the ends' minima, from which it is searched. before, if not NULL,
 * is the window before it, from which the search starts too. Allocates nothing. */
void tract_fit_window(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames,
                      const fit_minima ends[TRACT_ENDS], const tract_window *before, tract_window *window);

#endif
