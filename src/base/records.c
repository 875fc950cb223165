/* records.c - life of the plain records. */
#include <aperta/base.h>

#include <math.h>

#define WIDE_ST 4.0 /* from end to end of the interval; chosen by us, no source */

aperta_f0_track *aperta_f0_track_new(double start_s, double hop_s, guint n_frames)
{
    aperta_f0_track *track = g_new0(aperta_f0_track, 1);

    track->start_s = start_s;
    track->hop_s = hop_s;
    track->n_frames = n_frames;
    track->frames = g_new0(aperta_f0, n_frames);
    return track;
}

void aperta_f0_track_free(aperta_f0_track *track)
{
    if (track == NULL)
        return;
    g_free(track->frames);
    g_free(track);
}

double aperta_f0_track_time_s(const aperta_f0_track *track, guint frame)
{
    return track->start_s + frame * track->hop_s;
}

guint aperta_f0_track_frame_at(const aperta_f0_track *track, double time_s)
{
    double frame = floor((time_s - track->start_s) / track->hop_s + 0.5);

    if (track->n_frames == 0 || frame < 0.0)
        return 0;
    return frame >= track->n_frames ? track->n_frames - 1 : (guint)frame;
}

gboolean aperta_resonance_is_wide(const aperta_resonance *resonance)
{
    return resonance->status == APERTA_MEASURED && resonance->has_low && resonance->has_high &&
           aperta_semitones_between(resonance->low_hz, resonance->high_hz) > WIDE_ST;
}
