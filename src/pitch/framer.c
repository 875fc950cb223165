/* framer.c - the stream: samples in any portions, out comes one frame each hop, and its partials each PARTIAL_HOP_S.
 *
 * All memory is fixed when it is created: what grows with a take is kept by pitch.c, and whoever listens live keeps
 * what he needs. */
#include "pitch/pitch-private.h"

#include <math.h>
#include <string.h>

enum { ROOM = 4096 }; /* samples that are taken at once, more or less */

struct pitch_framer {
    pitch_finder *finder;
    pitch_partial_finder *partial_finder;
    guint reach; /* samples before and after a frame's centre */
    guint hop;
    guint frames_per_slice;
    guint n_frames;
    float *buffer;  /* the last samples */
    gsize at;       /* where the next frame's samples begin */
    gsize buffer_n; /* filled */
    gsize buffer_max;
};

pitch_framer *pitch_framer_create(const aperta_pitch_config *config)
{
    pitch_framer *framer = g_new0(pitch_framer, 1);

    framer->finder = pitch_finder_create(config);
    framer->partial_finder = pitch_partial_finder_create(config->sample_rate_hz);
    framer->reach = MAX(pitch_finder_reach(framer->finder), pitch_partial_finder_reach(framer->partial_finder));
    framer->hop = (guint)floor(config->hop_s * config->sample_rate_hz + 0.5);
    framer->frames_per_slice = (guint)(PARTIAL_HOP_S / config->hop_s + 0.5);
    framer->buffer_max = 2 * framer->reach + ROOM;
    framer->buffer = g_new0(float, framer->buffer_max);
    framer->buffer_n = framer->reach; /* silence before the first sample, so that frame 0 is centred on it */
    return framer;
}

void pitch_framer_destroy(pitch_framer *framer)
{
    if (framer == NULL)
        return;
    pitch_finder_destroy(framer->finder);
    pitch_partial_finder_destroy(framer->partial_finder);
    g_free(framer->buffer);
    g_free(framer);
}

guint pitch_framer_reach(const pitch_framer *framer)
{
    return framer->reach;
}

guint pitch_framer_hop(const pitch_framer *framer)
{
    return framer->hop;
}

gsize pitch_framer_push(pitch_framer *framer, const float *samples, gsize n)
{
    memmove(framer->buffer, framer->buffer + framer->at, (framer->buffer_n - framer->at) * sizeof *framer->buffer);
    framer->buffer_n -= framer->at;
    framer->at = 0;
    gsize k = MIN(n, framer->buffer_max - framer->buffer_n);
    memcpy(framer->buffer + framer->buffer_n, samples, k * sizeof *samples);
    framer->buffer_n += k;
    return k;
}

gboolean pitch_framer_next(pitch_framer *framer, pitch_heard *heard)
{
    if (framer->at + 2 * framer->reach > framer->buffer_n)
        return FALSE;

    const float *centre = framer->buffer + framer->at + framer->reach;
    heard->has_slice = framer->n_frames % framer->frames_per_slice == 0;
    heard->n_partials = heard->has_slice ? pitch_partials_find(framer->partial_finder, centre, heard->partials) : 0;
    pitch_finder_frame(framer->finder, centre, &heard->frame);
    framer->n_frames++;
    framer->at += framer->hop;
    return TRUE;
}
