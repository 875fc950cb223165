/* tract.c - one note's reading: which frames, the classical tracker, the levels of the harmonics, the best estimate. */
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <string.h>

struct aperta_tract {
    int rate_hz;
    tract_lpc *lpc;
    tract_levels *levels;
    guint8 steady[TRACT_STRETCH_MAX];
};

aperta_tract *aperta_tract_create(const aperta_tract_config *config)
{
    g_return_val_if_fail(config->sample_rate_hz >= 8000, NULL);

    aperta_tract *tract = g_new0(aperta_tract, 1);
    tract->rate_hz = config->sample_rate_hz;
    tract->lpc = tract_lpc_create(config);
    tract->levels = tract_levels_create(config);
    return tract;
}

void aperta_tract_destroy(aperta_tract *tract)
{
    if (tract == NULL)
        return;
    tract_lpc_destroy(tract->lpc);
    tract_levels_destroy(tract->levels);
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

/* The estimate that everything after this uses. */
static void choose_resonances(aperta_tract_reading *reading)
{
    memcpy(reading->resonances, reading->lpc, sizeof reading->resonances);
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
    if (!has_envelope(reading))
        forget_resonances(&stretch, track, reading, frames);
    choose_resonances(reading);
}
