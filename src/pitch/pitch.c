/* pitch.c - the track of a take: frames (framer.c) are kept as they come, and the path through them is found at the
 * end.
 */
#include "pitch/pitch-private.h"

struct aperta_pitch {
    int sample_rate_hz;
    pitch_framer *framer;
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
    g_return_val_if_fail(config->sample_rate_hz >= PITCH_RATE_MIN_HZ && config->sample_rate_hz <= PITCH_RATE_MAX_HZ,
                         NULL);
    g_return_val_if_fail(config->floor_hz >= PITCH_FLOOR_MIN_HZ && config->ceiling_hz <= PITCH_CEILING_MAX_HZ &&
                             config->floor_hz < config->ceiling_hz,
                         NULL);
    g_return_val_if_fail(config->hop_s == 0.005 || config->hop_s == 0.010, NULL);

    aperta_pitch *pitch = g_new0(aperta_pitch, 1);
    pitch->sample_rate_hz = config->sample_rate_hz;
    pitch->framer = pitch_framer_create(config);
    pitch->frames = g_array_new(FALSE, FALSE, sizeof(pitch_frame));
    pitch->slices =
        (pitch_slices){g_array_new(FALSE, FALSE, sizeof(pitch_partial)), g_array_new(FALSE, FALSE, sizeof(guint32))};
    return pitch;
}

void aperta_pitch_destroy(aperta_pitch *pitch)
{
    if (pitch == NULL)
        return;
    pitch_framer_destroy(pitch->framer);
    g_clear_pointer(&pitch->frames, g_array_unref);
    g_array_unref(pitch->slices.partials);
    g_array_unref(pitch->slices.starts);
    g_free(pitch);
}

static void keep(aperta_pitch *pitch, const pitch_heard *heard)
{
    guint32 start = pitch->slices.partials->len;

    g_array_append_val(pitch->frames, heard->frame);
    if (!heard->has_slice)
        return;
    g_array_append_val(pitch->slices.starts, start);
    g_array_append_vals(pitch->slices.partials, heard->partials, heard->n_partials);
}

void aperta_pitch_push(aperta_pitch *pitch, const float *samples, gsize n)
{
    pitch_heard heard;

    while (n > 0) {
        gsize k = pitch_framer_push(pitch->framer, samples, n);
        samples += k;
        n -= k;
        while (pitch_framer_next(pitch->framer, &heard))
            keep(pitch, &heard);
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

    for (gsize left = pitch_framer_reach(pitch->framer); left > 0; left -= MIN(left, G_N_ELEMENTS(silence)))
        aperta_pitch_push(pitch, silence, MIN(left, G_N_ELEMENTS(silence)));
    guint n = pitch->frames->len;
    const pitch_frame *frames = (const pitch_frame *)(void *)pitch->frames->data;
    aperta_f0_track *track =
        aperta_f0_track_new(offset_s, (double)pitch_framer_hop(pitch->framer) / pitch->sample_rate_hz, n);
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
