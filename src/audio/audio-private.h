/* audio-private.h - what the files of src/audio share. */
#ifndef AUDIO_PRIVATE_H
#define AUDIO_PRIVATE_H

#include <aperta/audio.h>

/* Collects what is wrong with a recording while it goes by. */
typedef struct audio_watch audio_watch;

audio_watch *audio_watch_create(int n_channels, int channel, aperta_audio_health *health);
void audio_watch_destroy(audio_watch *watch);
/* n_frames interleaved frames as the file holds them; not-numbers are replaced by 0 in place. */
void audio_watch_raw(audio_watch *watch, float *frames, gsize n_frames);
/* The mono signal that came of them, at the file's rate. */
void audio_watch_mono(audio_watch *watch, const float *samples, gsize n);
/* The mono signal at APERTA_AUDIO_RATE_HZ. */
void audio_watch_resampled(audio_watch *watch, const float *samples, gsize n);
void audio_watch_finish(audio_watch *watch);

#endif
