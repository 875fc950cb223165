/* spans.c - the frames of a span of time. */
#include "pitch/pitch-private.h"

void pitch_span_frames(const aperta_f0_track *track, aperta_span span, guint *from, guint *to)
{
    double half = track->hop_s / 2.0;

    *from = aperta_f0_track_frame_at(track, span.start_s + half);
    *to = MAX(aperta_f0_track_frame_at(track, span.end_s - half), *from) + 1;
}
