/* bench.c - what the benches share. */
#include "bench.h"

#include <aperta/audio.h>

GArray *bench_read_notes(const float *samples, gsize n, double hop_s, aperta_f0_track **track)
{
    aperta_pitch_config config = aperta_pitch_config_default(APERTA_AUDIO_RATE_HZ);
    g_autofree aperta_pitch_feature *features = NULL;

    config.hop_s = hop_s;
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&config);
    aperta_pitch_push(pitch, samples, n);
    *track = aperta_pitch_finish(pitch, 0.0, &features);
    return aperta_pitch_notes(*track, features);
}
