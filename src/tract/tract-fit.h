/* tract/tract-fit.h - resonances of one note from the levels of its harmonics in all frames together. */
#ifndef TRACT_FIT_H
#define TRACT_FIT_H

#include <aperta/base.h>

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

/* F1, F2, F3 of a note during which the tract stands still. All unknown when the frames do not tell. hint: another
 * reader's values, one more place to search from (where all are measured) and nothing else. posterior: what is behind
 * them, without modes when the frames do not tell. Allocates nothing. */
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

/* Windows are searched from the minima of all notes fitted since the last call of this. */
void tract_fit_forget(tract_fit *fit);
/* Reads a window. Source and upper tract are taken from those minima. before, if not NULL, is the window before it,
 * from which the search starts too. Allocates nothing. */
void tract_fit_window(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames, const tract_window *before,
                      tract_window *window);

#endif
