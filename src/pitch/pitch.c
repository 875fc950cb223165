/* pitch.c - the stream: samples in any portions, one frame each hop. */
#include "pitch/pitch-private.h"

#include <math.h>
#include <string.h>

struct aperta_pitch {
    aperta_pitch_config config;
    pitch_finder *finder;
    pitch_partial_finder *partial_finder;
    guint reach;
    guint hop;
    guint frames_per_slice;
    float *buffer;  /* the last samples */
    gsize buffer_n; /* filled */
    gsize buffer_max;
    GArray *frames; /* pitch_frame */
    pitch_slices slices;
};

aperta_pitch_config aperta_pitch_config_default(int sample_rate_hz)
{
    return (aperta_pitch_config){
        .sample_rate_hz = sample_rate_hz, .floor_hz = 60.0, .ceiling_hz = 1400.0, .hop_s = 0.010};
}

aperta_pitch *aperta_pitch_create(const aperta_pitch_config *config)
{
    aperta_pitch *pitch = g_new0(aperta_pitch, 1);

    pitch->config = *config;
    pitch->finder = pitch_finder_create(config);
    pitch->partial_finder = pitch_partial_finder_create(config->sample_rate_hz);
    pitch->reach = MAX(pitch_finder_reach(pitch->finder), pitch_partial_finder_reach(pitch->partial_finder));
    pitch->hop = (guint)floor(config->hop_s * config->sample_rate_hz + 0.5);
    pitch->frames_per_slice = (guint)(PARTIAL_HOP_S / config->hop_s + 0.5);
    pitch->buffer_max = 2 * pitch->reach + 4096;
    pitch->buffer = g_new0(float, pitch->buffer_max);
    pitch->buffer_n = pitch->reach; /* silence before the first sample, so that frame 0 is centred on it */
    pitch->frames = g_array_new(FALSE, FALSE, sizeof(pitch_frame));
    pitch->slices =
        (pitch_slices){g_array_new(FALSE, FALSE, sizeof(pitch_partial)), g_array_new(FALSE, FALSE, sizeof(guint32))};
    return pitch;
}

void aperta_pitch_destroy(aperta_pitch *pitch)
{
    if (pitch == NULL)
        return;
    pitch_finder_destroy(pitch->finder);
    pitch_partial_finder_destroy(pitch->partial_finder);
    g_free(pitch->buffer);
    g_clear_pointer(&pitch->frames, g_array_unref);
    g_array_unref(pitch->slices.partials);
    g_array_unref(pitch->slices.starts);
    g_free(pitch);
}

static void read_slice(aperta_pitch *pitch, const float *centre)
{
    pitch_partial partials[PARTIALS_MAX];
    guint n = pitch_partials_find(pitch->partial_finder, centre, partials);
    guint32 start = pitch->slices.partials->len;

    g_array_append_val(pitch->slices.starts, start);
    g_array_append_vals(pitch->slices.partials, partials, n);
}

/* Reads all frames that the buffer covers and drops what no later frame needs. */
static void read_frames(aperta_pitch *pitch)
{
    gsize at = 0;

    for (; at + 2 * pitch->reach <= pitch->buffer_n; at += pitch->hop) {
        pitch_frame frame;
        if (pitch->frames->len % pitch->frames_per_slice == 0)
            read_slice(pitch, pitch->buffer + at + pitch->reach);
        pitch_finder_frame(pitch->finder, pitch->buffer + at + pitch->reach, &frame);
        g_array_append_val(pitch->frames, frame);
    }
    memmove(pitch->buffer, pitch->buffer + at, (pitch->buffer_n - at) * sizeof *pitch->buffer);
    pitch->buffer_n -= at;
}

void aperta_pitch_push(aperta_pitch *pitch, const float *samples, gsize n)
{
    while (n > 0) {
        gsize k = MIN(n, pitch->buffer_max - pitch->buffer_n);
        memcpy(pitch->buffer + pitch->buffer_n, samples, k * sizeof *samples);
        pitch->buffer_n += k;
        samples += k;
        n -= k;
        read_frames(pitch);
    }
}

static aperta_pitch_feature *features_of(const pitch_frame *frames, guint n)
{
    aperta_pitch_feature *features = g_new0(aperta_pitch_feature, n + 1);

    for (guint i = 0; i < n; i++)
        features[i] = (aperta_pitch_feature){
            .brightness = frames[i].brightness, .sonority_db = frames[i].sonority_db, .change = frames[i].change};
    return features;
}

aperta_f0_track *aperta_pitch_finish(aperta_pitch *pitch, double offset_s, aperta_pitch_feature **features)
{
    static const float silence[1024];

    for (gsize left = pitch->reach; left > 0; left -= MIN(left, G_N_ELEMENTS(silence)))
        aperta_pitch_push(pitch, silence, MIN(left, G_N_ELEMENTS(silence)));
    guint n = pitch->frames->len;
    const pitch_frame *frames = (const pitch_frame *)(void *)pitch->frames->data;
    aperta_f0_track *track = aperta_f0_track_new(offset_s, (double)pitch->hop / pitch->config.sample_rate_hz, n);
    pitch_path(frames, n, track);
    pitch_drop_tails(track);
    if (features != NULL)
        *features = features_of(frames, n);
    g_clear_pointer(&pitch->frames, g_array_unref); /* before the next step needs memory */
    if (features != NULL) {
        pitch_find_company(&pitch->slices, track, *features);
        pitch_find_several(&pitch->slices, track, *features);
    }
    return track;
}
