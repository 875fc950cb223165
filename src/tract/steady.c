/* steady.c - which frames of a note are read: the ones that are surely the vowel. */
#include "dsp/dsp.h"
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <math.h>

tract_stretch tract_stretch_of(const aperta_f0_track *track, const aperta_note *note)
{
    tract_stretch stretch = {0, 1, 0};
    aperta_span span = note->span;

    if (track->n_frames == 0 || !(span.end_s >= span.start_s))
        return stretch;
    if (span.end_s - span.start_s > APERTA_TRACT_NOTE_MAX_S) {
        double middle_s = (note->steady.start_s + note->steady.end_s) / 2;
        span.start_s = fmax(span.start_s, middle_s - APERTA_TRACT_NOTE_MAX_S / 2);
        span.end_s = fmin(span.end_s, span.start_s + APERTA_TRACT_NOTE_MAX_S);
    }
    guint last = aperta_f0_track_frame_at(track, span.end_s);
    stretch.first = aperta_f0_track_frame_at(track, span.start_s);
    stretch.stride = (guint)MAX(1, lround(TRACT_HOP_S / track->hop_s));
    stretch.n = MIN((last - stretch.first) / stretch.stride + 1, TRACT_STRETCH_MAX);
    return stretch;
}

gboolean tract_is_steady(const aperta_f0_track *track, const aperta_note *note, guint frame)
{
    double time_s = aperta_f0_track_time_s(track, frame);
    return track->frames[frame].voiced && time_s >= note->steady.start_s && time_s <= note->steady.end_s;
}

void tract_steady_frames(const aperta_f0_track *track, const aperta_note *note, const tract_stretch *stretch,
                         guint8 *steady)
{
    double levels_db[TRACT_STRETCH_MAX];
    guint n = 0;

    for (guint i = 0; i < stretch->n; i++) {
        guint frame = stretch->first + i * stretch->stride;
        if (tract_is_steady(track, note, frame))
            levels_db[n++] = track->frames[frame].level_db;
    }
    double least_db = n > 0 ? dsp_quantile(levels_db, n, 0.5) - TRACT_LEVEL_DROP_DB : 0;
    for (guint i = 0; i < stretch->n; i++) {
        guint frame = stretch->first + i * stretch->stride;
        const aperta_f0 *f0 = &track->frames[frame];
        steady[i] =
            tract_is_steady(track, note, frame) && f0->level_db >= least_db && f0->confidence >= TRACT_CONFIDENCE_MIN;
    }
}

void tract_sound_cut(const tract_sound *sound, double time_s, guint length, double *samples)
{
    gssize first = (gssize)lround((time_s - sound->start_s) * sound->rate_hz) - (gssize)length / 2;

    for (guint i = 0; i < length; i++) {
        gssize at = first + (gssize)i;
        samples[i] = at >= 0 && at < (gssize)sound->n ? sound->samples[at] : 0;
    }
}
