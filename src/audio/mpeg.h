/* mpeg.h - how long an MP3 file without a table of contents is. */
#ifndef AUDIO_MPEG_H
#define AUDIO_MPEG_H

#include <glib.h>

enum { AUDIO_MPEG_LEAD_MAX = 1152 };

/* A frame that tells the number of frames, as encoders put one first. */
typedef struct {
    guint8 bytes[AUDIO_MPEG_LEAD_MAX];
    gint64 n;    /* of these; 0: it is no MP3, or it tells its length itself */
    gint64 from; /* where in the file the first frame is, which follows then */
} audio_mpeg_lead;

/* Walks all frames of the file: libsndfile takes the bit rate of the first ones for that of all, and stops there. */
audio_mpeg_lead audio_mpeg_lead_of(int fd);

#endif
