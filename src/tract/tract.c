/* tract.c - one note's reading: which frames, the classical tracker, the levels of the harmonics, the pooled fit. */
#include "tract/harmonics.h"
#include "tract/track.h"
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
    tract_track *track;
    gboolean follows; /* the track, as the vowel of the note moves */
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
    tract->track = tract_track_create();
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
    tract_track_destroy(tract->track);
    g_free(tract);
}

/* A vowel that may move is searched at both ends, from which it is followed. TRUE if it glides: its middle then stands
 * for the whole. A lesser movement shows in the frames only. */
static gboolean follow_moving(aperta_tract *tract, const tract_harmonic_frame *frames, guint n, double f0_hz,
                              aperta_tract_reading *reading)
{
    fit_minima ends[TRACT_ENDS];
    guint third = n / 3;

    tract_fit_search(tract->fit, frames, third, reading->lpc, &ends[0]);
    tract_fit_search(tract->fit, frames + n - third, third, reading->lpc, &ends[1]);
    if (!tract_track_follow(tract->track, tract->fit, ends, frames, n))
        return FALSE;
    double moved_bark = tract_track_moved_bark(tract->track);
    tract->follows = moved_bark >= TRACT_SHADE_BARK;
    if (moved_bark < TRACT_GLIDE_BARK || tract_track_change_db(frames, n) < TRACT_GLIDE_CHANGE_DB)
        return FALSE;
    tract_track_end(tract->track, FALSE, f0_hz, reading->first, &reading->first_posterior);
    tract_track_end(tract->track, TRUE, f0_hz, reading->last, &reading->last_posterior);
    return TRUE;
}

/* A vowel that stands still has one value for all its frames. */
static aperta_tract_frame frame_of_note(const aperta_tract_reading *reading)
{
    aperta_tract_frame frame = {.known = 0};

    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        if (reading->resonances[i].status == APERTA_MEASURED) {
            frame.hz[i] = (float)reading->resonances[i].hz;
            frame.known |= (guint8)(1 << i);
        }
    return frame;
}

/* Only within the steady part: no other note has a frame there. */
static void write_frames(const aperta_tract *tract, const aperta_f0_track *track, const aperta_note *note,
                         const tract_stretch *stretch, const aperta_tract_reading *reading, aperta_tract_frame *frames)
{
    guint end = MIN(stretch->first + stretch->n * stretch->stride, track->n_frames);
    aperta_tract_frame still = frame_of_note(reading);

    for (guint i = stretch->first; i < end; i++) {
        double time_s = aperta_f0_track_time_s(track, i), f0_hz = track->frames[i].f0_hz;
        if (tract->steady[(i - stretch->first) / stretch->stride] && tract_is_steady(track, note, i))
            frames[i] = tract->follows ? tract_track_at(tract->track, time_s, f0_hz) : still;
    }
}

/* The estimate that everything after this uses. */
static void fit_resonances(aperta_tract *tract, const tract_sound *sound, const aperta_f0_track *track,
                           const tract_stretch *stretch, const aperta_note *note, aperta_tract_reading *reading)
{
    tract_harmonic_frame *frames;
    guint n = tract_harmonics_read(tract->harmonics, sound, track, stretch, tract->steady, &frames);
    double f0_hz = note->f0_hz;

    if (note->accompanied)
        tract_beside_mark(frames, n);
    gboolean may_move = reading->glides || tract_track_may_move(frames, n); /* linear prediction only hints at it */

    reading->glides = may_move && follow_moving(tract, frames, n, f0_hz, reading);
    guint third = reading->glides ? n / 3 : 0;
    tract_fit_note(tract->fit, frames + third, n - 2 * third, reading->lpc, reading->resonances, &reading->posterior);
}

void aperta_tract_read(aperta_tract *tract, const float *samples, gsize n, double start_s, const aperta_f0_track *track,
                       const aperta_note *note, aperta_tract_reading *reading, aperta_tract_frame *frames)
{
    tract_sound sound = {samples, n, start_s, tract->rate_hz};
    tract_stretch stretch = tract_stretch_of(track, note);

    memset(reading, 0, sizeof *reading);
    tract->follows = FALSE;
    if (note->withheld != APERTA_WITHHELD_NOT || !(note->f0_hz > 0))
        return; /* the poles would be those of another: everything stays unknown */
    tract_steady_frames(track, note, &stretch, tract->steady);
    tract_lpc_read(tract->lpc, &sound, track, note, &stretch, tract->steady, reading, NULL);
    tract_levels_read(tract->levels, &sound, track, note, &stretch, tract->steady, reading);
    reading->sound = tract_sound_kind(reading);
    if (reading->sound == APERTA_SOUND_POSSIBLE && reading->n_harmonics > 0) {
        fit_resonances(tract, &sound, track, &stretch, note, reading);
    } else {
        memset(reading->lpc, 0, sizeof reading->lpc); /* APERTA_UNKNOWN is 0 */
        reading->glides = FALSE;
    }
    if (frames != NULL)
        write_frames(tract, track, note, &stretch, reading, frames);
}
