/* audio.c - a recording in blocks: libsndfile decodes, libsoxr brings it to the analysis rate. */
#include "audio-private.h"
#include "audio-tuning.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <math.h>
#include <sndfile.h>
#include <soxr.h>
#include <string.h>
#include <unistd.h>

enum { RATE_MIN_HZ = 1000, RATE_MAX_HZ = 384000 };

struct aperta_audio {
    char *path;
    SNDFILE *file;
    soxr_t resampler; /* NULL: the file has the analysis rate */
    aperta_audio_info info;
    aperta_audio_health health;
    audio_watch *watch;
    sf_count_t left; /* frames of the chosen span not yet read */
    float *raw;      /* AUDIO_BLOCK_FRAMES interleaved frames */
    float *mono;     /* the same as mono, and what of it the resampler has not taken yet */
    gsize mono_at, mono_n;
    gboolean ended; /* no more input */
};

static gboolean check_path(const char *path, GError **error)
{
    GStatBuf status;

    if (g_stat(path, &status) != 0) {
        int code = errno;
        g_set_error(error, APERTA_ERROR, code == ENOENT ? APERTA_ERROR_NOT_FOUND : APERTA_ERROR_UNREADABLE,
                    "%s: %s (%s)", path, code == ENOENT ? "no such file" : g_strerror(code),
                    "check the name and the folder");
        return FALSE;
    }
    if (S_ISDIR(status.st_mode)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: this is a folder (name the recordings in it)", path);
        return FALSE;
    }
    if (S_ISREG(status.st_mode) && status.st_size == 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: the file is empty (record or export it again)",
                    path);
        return FALSE;
    }
    if (g_access(path, R_OK) != 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE, "%s: %s (check who may read the file)", path,
                    g_strerror(errno));
        return FALSE;
    }
    return TRUE;
}

/* libsndfile shortens a WAV or AIFF whose header promises more than the file holds and only notes it in its log. */
static gboolean header_promised_more(SNDFILE *file)
{
    char log[8192] = "";

    sf_command(file, SFC_GET_LOG_INFO, log, sizeof log);
    const char *data = strstr(log, "\ndata : ");
    if (data == NULL)
        data = strstr(log, " SSND : ");
    if (data == NULL)
        return FALSE;
    const char *end = strchr(data + 1, '\n');
    g_autofree char *line = end != NULL ? g_strndup(data, end - data) : g_strdup(data);
    return strstr(line, "should be") != NULL;
}

static gboolean open_file(aperta_audio *audio, SF_INFO *sf, GError **error)
{
    const char *path = audio->path;

    audio->file = sf_open(path, SFM_READ, sf);
    if (audio->file == NULL) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT,
                    "%s: not a sound file that can be read: %s (use WAV, AIFF, FLAC, Ogg, Opus or MP3)", path,
                    sf_strerror(NULL));
        return FALSE;
    }
    if (sf->frames <= 0 || sf->channels <= 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: it holds no sound (record or export it again)",
                    path);
        return FALSE;
    }
    if (sf->samplerate < RATE_MIN_HZ || sf->samplerate > RATE_MAX_HZ) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: sample rate %d Hz (8000 to 192000 Hz is usual)",
                    path, sf->samplerate);
        return FALSE;
    }
    return TRUE;
}

/* Of formats that leave out what they hold to be inaudible; 0: none of them. */
static double compressed_bits_per_s(const char *path, const SF_INFO *sf)
{
    int type = sf->format & SF_FORMAT_TYPEMASK;
    GStatBuf status;

    if ((type != SF_FORMAT_OGG && type != SF_FORMAT_MPEG) || g_stat(path, &status) != 0 || !S_ISREG(status.st_mode))
        return 0.0;
    return 8.0 * (double)status.st_size * sf->samplerate / (double)sf->frames;
}

static gboolean choose_span(aperta_audio *audio, const SF_INFO *sf, const aperta_audio_options *options, GError **error)
{
    aperta_audio_info *info = &audio->info;

    info->seconds = (double)sf->frames / sf->samplerate;
    info->sample_rate_hz = sf->samplerate;
    info->n_channels = sf->channels;
    info->channel = options->channel;
    info->from_s = MAX(options->from_s, 0.0);
    info->to_s = options->to_s > 0.0 ? MIN(options->to_s, info->seconds) : info->seconds;
    if (options->channel < 0 || options->channel > sf->channels) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: there is no channel %d (it has %d)", audio->path,
                    options->channel, sf->channels);
        return FALSE;
    }
    if (info->from_s >= info->seconds) {
        double end_s = floor(info->seconds * 10.0) / 10.0;
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: the recording ends at %d:%04.1f, before %g s",
                    audio->path, (int)(end_s / 60.0), fmod(end_s, 60.0), info->from_s);
        return FALSE;
    }
    if (info->from_s >= info->to_s) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                    "%s: nothing to read from %.3f s to %.3f s (the recording is %.3f s long)", audio->path,
                    info->from_s, info->to_s, info->seconds);
        return FALSE;
    }
    sf_count_t first = (sf_count_t)floor(info->from_s * sf->samplerate + 0.5);
    sf_count_t end = (sf_count_t)floor(info->to_s * sf->samplerate + 0.5);
    audio->left = MAX(end - first, 0);
    if (first > 0 && sf_seek(audio->file, first, SEEK_SET) != first) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE,
                    "%s: cannot go to %.3f s in it: %s (convert it to WAV first)", audio->path, info->from_s,
                    sf_strerror(audio->file));
        return FALSE;
    }
    return TRUE;
}

aperta_audio *aperta_audio_open(const char *path, const aperta_audio_options *options, GError **error)
{
    if (!check_path(path, error))
        return NULL;

    g_autoptr(aperta_audio) audio = g_new0(aperta_audio, 1);
    SF_INFO sf = {0};
    audio->path = g_strdup(path);
    if (!open_file(audio, &sf, error) || !choose_span(audio, &sf, options, error))
        return NULL;
    audio->health.truncated = header_promised_more(audio->file);
    audio->info.bits_per_s = compressed_bits_per_s(path, &sf);
    if (sf.samplerate != APERTA_AUDIO_RATE_HZ) {
        soxr_quality_spec_t quality = soxr_quality_spec(SOXR_HQ, 0);
        audio->resampler = soxr_create(sf.samplerate, APERTA_AUDIO_RATE_HZ, 1, NULL, NULL, &quality, NULL);
        if (audio->resampler == NULL)
            g_error("out of memory");
    }
    audio->raw = g_new(float, (gsize)AUDIO_BLOCK_FRAMES *sf.channels);
    audio->mono = g_new(float, AUDIO_BLOCK_FRAMES);
    audio->watch = audio_watch_create(sf.channels, options->channel, &audio->health);
    return g_steal_pointer(&audio);
}

void aperta_audio_close(aperta_audio *audio)
{
    if (audio == NULL)
        return;
    if (audio->file != NULL)
        sf_close(audio->file);
    if (audio->resampler != NULL)
        soxr_delete(audio->resampler);
    audio_watch_destroy(audio->watch);
    g_free(audio->raw);
    g_free(audio->mono);
    g_free(audio->path);
    g_free(audio);
}

const aperta_audio_info *aperta_audio_get_info(const aperta_audio *audio)
{
    return &audio->info;
}

const aperta_audio_health *aperta_audio_get_health(const aperta_audio *audio)
{
    return &audio->health;
}

static void to_mono(aperta_audio *audio, gsize n_frames)
{
    int n_channels = audio->info.n_channels;
    int first = audio->info.channel == APERTA_AUDIO_MIX ? 0 : audio->info.channel - 1;
    int end = audio->info.channel == APERTA_AUDIO_MIX ? n_channels : first + 1;

    for (gsize i = 0; i < n_frames; i++) {
        float sum = 0.0f;
        for (int c = first; c < end; c++)
            sum += audio->raw[i * n_channels + c];
        audio->mono[i] = sum / (end - first);
    }
}

/* Refills mono once it is used up. FALSE: the file could not be read. */
static gboolean fill_mono(aperta_audio *audio, GError **error)
{
    sf_count_t want = MIN(audio->left, AUDIO_BLOCK_FRAMES);
    sf_count_t got = want > 0 ? sf_readf_float(audio->file, audio->raw, want) : 0;

    if (got < want) {
        if (sf_error(audio->file) != SF_ERR_NO_ERROR && audio->health.n_samples == 0) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE, "%s: %s (record or export it again)", audio->path,
                        sf_strerror(audio->file));
            return FALSE;
        }
        audio->health.truncated = TRUE;
        audio->left = got;
    }
    audio->left -= got;
    audio->ended = audio->left == 0;
    audio_watch_raw(audio->watch, audio->raw, got);
    to_mono(audio, got);
    audio_watch_mono(audio->watch, audio->mono, got);
    audio->mono_at = 0;
    audio->mono_n = got;
    return TRUE;
}

/* Moves samples from mono to out, at most n; counts what came. */
static gsize convert(aperta_audio *audio, float *out, gsize n)
{
    gsize left = audio->mono_n - audio->mono_at;

    if (audio->resampler == NULL) {
        gsize k = MIN(left, n);
        memcpy(out, audio->mono + audio->mono_at, k * sizeof *out);
        audio->mono_at += k;
        return k;
    }
    gsize taken = 0;
    gsize given = 0;
    const float *in = left == 0 && audio->ended ? NULL : audio->mono + audio->mono_at; /* NULL drains the filter */
    soxr_process(audio->resampler, in, left, &taken, out, n, &given);
    audio->mono_at += taken;
    return given;
}

gssize aperta_audio_read(aperta_audio *audio, float *samples, gsize n, GError **error)
{
    gsize done = 0;

    while (done < n) {
        gboolean empty = audio->mono_at == audio->mono_n;
        if (empty && !audio->ended && !fill_mono(audio, error))
            return -1;
        gsize got = convert(audio, samples + done, n - done);
        done += got;
        if (got == 0 && audio->ended && audio->mono_at == audio->mono_n)
            break;
    }
    if (audio->watch != NULL) {
        audio_watch_resampled(audio->watch, samples, done);
        if (done == 0 && n > 0) {
            audio_watch_finish(audio->watch);
            g_clear_pointer(&audio->watch, audio_watch_destroy);
        }
    }
    return done;
}
