/* audio-tuning.h - numbers chosen for the warnings about a recording. */
#ifndef AUDIO_TUNING_H
#define AUDIO_TUNING_H

/* A sample at or above this share of full scale may be clipped; 8-bit sound ends at 0.992. */
#define AUDIO_CLIP_LEVEL 0.985f
/* So many equal neighbours at that level are a flat top; a full-scale sine of 100 Hz at 44.1 kHz has fewer. */
#define AUDIO_CLIP_RUN 3
/* A larger sample of a file of floats is damage and no sound: 240 dB over full scale, more than integers of 32 bits
 * written as floats; its square is still a float, and its fourth power a double. */
#define AUDIO_LARGEST 1e12f

/* Two channels less alike than this (correlation) are not two microphones near one singer; common practice, no source.
 */
#define AUDIO_CHANNELS_ALIKE 0.5
/* A channel this far below the other is empty, which is harmless. */
#define AUDIO_CHANNEL_EMPTY_DB 40.0

/* Blocks in which the quiet moments of a take are looked for; 0.2 s resolves hum at 50 from hum at 60 Hz. */
#define AUDIO_FLOOR_BLOCK_S 0.2
/* The floor is the mean over this quietest share of the blocks. */
#define AUDIO_FLOOR_SHARE 0.1
/* Hum is named when its harmonics hold more than this share of the floor's power. */
#define AUDIO_HUM_SHARE 0.5

/* How much the length of a file that only estimates it may be off before it is said to break off: of MP3
 * without a table of contents the frames are counted, and a broken one may not decode; chosen. */
#define AUDIO_LENGTH_SLACK_S 0.1
#define AUDIO_LENGTH_SLACK   0.01 /* of its length */

/* More than this is not taken through a pipe: two and a half hours at 96 kHz, stereo, 24 bits, and half of what many
 * machines have for temporary files; chosen. */
#define AUDIO_PIPE_BYTES_MAX ((guint64)5 << 30)

/* aperta-decode hangs when nothing comes from it for so long, be the disk ever so slow; chosen. */
#define AUDIO_DECODER_PATIENCE_S 30.0
/* A container that claims to be longer than a day is not believed; it is read through to see. */
#define AUDIO_DECODED_S_MAX 86400.0

/* Frames read from the file at once. */
#define AUDIO_BLOCK_FRAMES 4096

#endif
