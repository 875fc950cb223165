/* aperta/audio.h - a recording read in blocks as mono samples at one analysis rate, and what is wrong with it. */
#ifndef APERTA_AUDIO_H
#define APERTA_AUDIO_H

#include <aperta/base.h>

G_BEGIN_DECLS

#define APERTA_AUDIO_RATE_HZ 16000 /* every recording is brought to this rate */
#define APERTA_AUDIO_MIX     0     /* channel: mean of all channels */

typedef struct {
    int channel;                /* 1 .. number of channels, or APERTA_AUDIO_MIX */
    double from_s;              /* >= 0 */
    double to_s;                /* > from_s; HUGE_VAL or <= 0: to the end */
    const volatile int *cancel; /* may be NULL; once nonzero, waiting for a pipe ends with INTERRUPTED */
} aperta_audio_options;

typedef struct {
    double seconds; /* when the sound ends; by what the file says until read has returned 0, then in truth */
    int sample_rate_hz;
    int n_channels;
    double bits_per_s; /* of a file that is compressed with losses (MP3, Ogg Vorbis, Opus); 0: it is not, or unknown */
    int channel;       /* as chosen */
    double from_s;
    double to_s; /* what is read, in seconds of the file */
} aperta_audio_info;

/* What reading found; complete once read has returned 0. */
typedef struct {
    guint64 n_samples;        /* mono samples read, at the file's rate */
    guint64 n_clipped;        /* samples on flat tops near full scale, or beyond it */
    guint64 n_not_numbers;    /* NaN, infinite or absurdly large samples, read as 0 */
    double peak;              /* of the chosen channel or mix, 0..1 (floats may exceed it) */
    gboolean channels_differ; /* correlation of the first two channels is low: perhaps one is not a microphone */
    gboolean truncated;       /* the file breaks off: it ends before its header says, or lacks its end */
    double promised_s;        /* when a truncated one ought to end; 0: it does not say */
    gboolean damaged;         /* parts of it could not be decoded and were read as silence */
    double floor_db;          /* level of the quietest tenth, dB re full scale; -200: digital silence */
    int hum_hz;               /* 50 or 60: most of the floor is mains hum; 0: not */
} aperta_audio_health;

typedef struct aperta_audio aperta_audio;

/* Opens WAV, AIFF, FLAC, Ogg Vorbis, Opus, MP3, ... (whatever libsndfile reads), 1000 .. 384000 Hz; what it is, is told
 * by its content. A pipe (a FIFO, /dev/stdin, /dev/fd/N) is first kept in a temporary file without a name.
 * Errors: NOT_FOUND, UNREADABLE, FORMAT (not sound, empty, no samples), RANGE (channel, from_s, too much for a pipe),
 * INTERRUPTED. Free with aperta_audio_close. */
aperta_audio *aperta_audio_open(const char *path, const aperta_audio_options *options, GError **error);
void aperta_audio_close(aperta_audio *audio);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_audio, aperta_audio_close)

/* Begins again at info.from_s, with the health of a recording of which nothing was read. FALSE: UNREADABLE. */
gboolean aperta_audio_rewind(aperta_audio *audio, GError **error);

const aperta_audio_info *aperta_audio_get_info(const aperta_audio *audio);

/* Next n samples or fewer, at APERTA_AUDIO_RATE_HZ; 0 at the end, -1 on error (UNREADABLE, INTERRUPTED, and RANGE when
 * the file breaks off before from_s). The first sample read stands at info.from_s. A file that breaks off is read as
 * far as it goes. */
gssize aperta_audio_read(aperta_audio *audio, float *samples, gsize n, GError **error);

const aperta_audio_health *aperta_audio_get_health(const aperta_audio *audio);

G_END_DECLS

#endif
