/* promise.h - what the header of an uncompressed file says of its length. */
#ifndef AUDIO_PROMISE_H
#define AUDIO_PROMISE_H

#include <glib.h>

typedef struct {
    double share; /* of the promised samples that are there; 1: all, or nothing was promised; 0: of an unfinished one */
    gint64 size_at;      /* where the size of the samples is written, if the writer never came to fill it in; else -1 */
    guint64 size;        /* what it ought to be then, as it is written there */
    int size_bytes;      /* of that number */
    gboolean big_endian; /* likewise */
} audio_promise;

/* What WAV (RIFF, RF64, W64) or AIFF promises and what of it is there; of any other format it says share 1. A file that
 * was written as a stream promises nothing. libsndfile shortens broken files without a word, and finds nothing in a
 * file whose size was never filled in (the recorder was stopped by force). */
audio_promise audio_promise_of(int fd);

#endif
