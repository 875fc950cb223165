/* tract.c - one note's reading: which frames, the classical tracker, the levels of the harmonics, the pooled fit. */
#include "tract/harmonics.h"
#include "tract/tract-fit.h"
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <string.h>

struct aperta_tract {
    int rate_hz;
    tract_lpc *lpc;
    tract_levels *levels;
    tract_harmonics *harmonics;
    tract_fit *fit;
    guint8 steady[TRACT_STRETCH_MAX];
};

aperta_tract *aperta_tract_create(const aperta_tract_config *config)
{
    g_return_val_if_fail(config->sample_rate_hz >= 8000, NULL);

    aperta_tract *tract = g_new0(aperta_tract, 1);
    tract->rate_hz = config->sample_rate_hz;
    tract->lpc = tract_lpc_create(config);
    tract->levels = tract_levels_create(config);
    double band_hz = config->band_hz > 0 ? MIN(config->band_hz, TRACT_FIT_BAND_HZ) : TRACT_FIT_BAND_HZ;
    tract_fit_config fit = {config->voice, band_hz, TRACT_STRETCH_MAX};
    tract->harmonics = tract_harmonics_create(config->sample_rate_hz, band_hz, TRACT_STRETCH_MAX);
    tract->fit = tract_fit_create(&fit);
    return tract;
}

void aperta_tract_destroy(aperta_tract *tract)
{
    if (tract == NULL)
        return;
    tract_lpc_destroy(tract->lpc);
    tract_levels_destroy(tract->levels);
    tract_harmonics_destroy(tract->harmonics);
    tract_fit_destroy(tract->fit);
    g_free(tract);
}

/* Are there enough harmonics to draw an envelope? */
static gboolean has_envelope(const aperta_tract_reading *reading)
{
    double strongest_db = -G_MAXDOUBLE;
    int heard = 0;

    for (int k = 0; k < reading->n_harmonics; k++)
        strongest_db = MAX(strongest_db, reading->harmonics[k].level_db);
    for (int k = 0; k < reading->n_harmonics; k++)
        heard += reading->harmonics[k].level_db >= strongest_db - TRACT_HEARD_RANGE_DB;
    return heard >= TRACT_HEARD_MIN;
}

static void forget_resonances(const tract_stretch *stretch, const aperta_f0_track *track, aperta_tract_reading *reading,
                              aperta_tract_frame *frames)
{
    guint end = MIN(stretch->first + stretch->n * stretch->stride, track->n_frames);

    memset(reading->lpc, 0, sizeof reading->lpc); /* APERTA_UNKNOWN is 0 */
    reading->glides = FALSE;
    for (guint i = stretch->first; frames != NULL && i < end; i++)
        frames[i].known = 0;
}

/* The estimate that everything after this uses. A vowel that glides is fitted where it begins and where it ends; its
 * middle stands for the whole. */
static void fit_resonances(aperta_tract *tract, const tract_sound *sound, const aperta_f0_track *track,
                           const tract_stretch *stretch, aperta_tract_reading *reading)
{
    const tract_harmonic_frame *frames;
    guint n = tract_harmonics_read(tract->harmonics, sound, track, stretch, tract->steady, &frames), third = n / 3;

    if (!reading->glides) {
        tract_fit_note(tract->fit, frames, n, reading->lpc, reading->resonances, &reading->posterior);
        return;
    }
    aperta_resonance lpc_first[APERTA_N_RESONANCES], lpc_last[APERTA_N_RESONANCES];
    memcpy(lpc_first, reading->first, sizeof lpc_first);
    memcpy(lpc_last, reading->last, sizeof lpc_last);
    tract_fit_note(tract->fit, frames, third, lpc_first, reading->first, &reading->first_posterior);
    tract_fit_note(tract->fit, frames + third, n - 2 * third, reading->lpc, reading->resonances, &reading->posterior);
    tract_fit_note(tract->fit, frames + n - third, third, lpc_last, reading->last, &reading->last_posterior);
}

void aperta_tract_read(aperta_tract *tract, const float *samples, gsize n, double start_s, const aperta_f0_track *track,
                       const aperta_note *note, aperta_tract_reading *reading, aperta_tract_frame *frames)
{
    tract_sound sound = {samples, n, start_s, tract->rate_hz};
    tract_stretch stretch = tract_stretch_of(track, note);

    memset(reading, 0, sizeof *reading);
    if (note->accompanied || !(note->f0_hz > 0))
        return; /* the poles would be those of the mixture: everything stays unknown */
    tract_steady_frames(track, note, &stretch, tract->steady);
    tract_lpc_read(tract->lpc, &sound, track, note, &stretch, tract->steady, reading, frames);
    tract_levels_read(tract->levels, &sound, track, note, &stretch, tract->steady, reading);
    if (has_envelope(reading))
        fit_resonances(tract, &sound, track, &stretch, reading);
    else
        forget_resonances(&stretch, track, reading, frames);
}
