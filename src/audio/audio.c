/* audio.c - a recording in blocks: a source decodes, libsoxr brings it to the analysis rate. */
#include "audio-private.h"
#include "audio-tuning.h"
#include "input.h"
#include "source.h"

#include <math.h>
#include <soxr.h>
#include <string.h>
#include <unistd.h>

enum { RATE_MIN_HZ = 1000, RATE_MAX_HZ = 384000, CHANNELS_MAX = 1024 };

struct aperta_audio {
    char *path;
    audio_source *source;
    soxr_t resampler; /* NULL: the file has the analysis rate */
    aperta_audio_info info;
    aperta_audio_health health;
    audio_watch *watch;
    double wanted_to_s; /* as the caller wants it; HUGE_VAL: to the end */
    gint64 at;          /* frames of the source that were read or gone past */
    gint64 first, end;  /* the chosen span, in frames; end is G_MAXINT64 when all that comes is wanted */
    float *raw;         /* AUDIO_BLOCK_FRAMES interleaved frames */
    float *mono;        /* the same as mono, and what of it the resampler has not taken yet */
    gsize mono_at, mono_n;
    gboolean ended; /* no more input */
};

/* ---- opening ----------------------------------------------------------------------------------------------------- */

static gboolean check_source(const aperta_audio *audio, GError **error)
{
    const audio_source *source = audio->source;

    if (source->rate_hz < RATE_MIN_HZ || source->rate_hz > RATE_MAX_HZ) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: sample rate %d Hz (8000 to 192000 Hz is usual)",
                    audio->path, source->rate_hz);
        return FALSE;
    }
    if (source->n_channels > CHANNELS_MAX) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: %d channels (export one or two of them)",
                    audio->path, source->n_channels);
        return FALSE;
    }
    return TRUE;
}

static double time_of(const aperta_audio *audio, gint64 frame)
{
    return audio->source->start_s + (double)frame / audio->source->rate_hz;
}

static gint64 frame_at(const aperta_audio *audio, double time_s)
{
    double frame = floor((time_s - audio->source->start_s) * audio->source->rate_hz + 0.5);

    return (gint64)CLAMP(frame, 0.0, (double)(G_MAXINT64 / 2));
}

/* A file that does not say how long it is, is read through once. */
static gboolean count_frames(aperta_audio *audio, GError **error)
{
    audio_source *source = audio->source;
    g_autoptr(GError) wrong = NULL;
    gint64 n, total = 0;

    if (source->n_frames >= 0)
        return TRUE;
    while ((n = source->kind->read(source, audio->raw, AUDIO_BLOCK_FRAMES, &wrong)) > 0)
        total += n; /* as far as it goes */
    if (n < 0 && (total == 0 || !g_error_matches(wrong, APERTA_ERROR, APERTA_ERROR_UNREADABLE))) {
        g_propagate_error(error, g_steal_pointer(&wrong));
        return FALSE;
    }
    if (total == 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT,
                    "%s: it holds no sound that can be read (record or export it again)", audio->path);
        return FALSE;
    }
    source->n_frames = total;
    return source->kind->seek(source, 0, error);
}

static gboolean refuse_span(const aperta_audio *audio, GError **error)
{
    const aperta_audio_info *info = &audio->info;

    if (info->from_s >= info->seconds) {
        double end_s = floor(info->seconds * 10.0) / 10.0;
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: the recording ends at %d:%04.1f, before %g s",
                    audio->path, (int)(end_s / 60.0), fmod(end_s, 60.0), info->from_s);
        return FALSE;
    }
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                "%s: nothing to read from %.3f s to %.3f s (the recording is %.3f s long)", audio->path, info->from_s,
                info->to_s, info->seconds);
    return FALSE;
}

static gboolean choose_span(aperta_audio *audio, const aperta_audio_options *options, GError **error)
{
    const audio_source *source = audio->source;
    aperta_audio_info *info = &audio->info;

    info->seconds = time_of(audio, source->n_frames);
    info->sample_rate_hz = source->rate_hz;
    info->n_channels = source->n_channels;
    info->bits_per_s = source->bits_per_s;
    info->channel = options->channel;
    info->from_s = MAX(options->from_s, MAX(source->start_s, 0.0));
    audio->wanted_to_s = options->to_s > 0.0 ? options->to_s : HUGE_VAL;
    info->to_s = MIN(audio->wanted_to_s, info->seconds);
    if (options->channel < 0 || options->channel > source->n_channels) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: there is no channel %d (it has %d)", audio->path,
                    options->channel, source->n_channels);
        return FALSE;
    }
    if (info->from_s >= info->to_s)
        return refuse_span(audio, error);
    audio->first = frame_at(audio, info->from_s);
    /* the file may hold more than it says */
    audio->end = isfinite(audio->wanted_to_s) ? frame_at(audio, audio->wanted_to_s) : G_MAXINT64;
    return TRUE;
}

/* Everything as it is before the first sample. */
static void start_reading(aperta_audio *audio)
{
    audio_source *source = audio->source;

    audio->at = 0;
    if (audio->first > 0 && source->kind->seek(source, audio->first, NULL))
        audio->at = audio->first;
    audio->mono_at = audio->mono_n = 0;
    audio->ended = FALSE;
    audio->health = (aperta_audio_health){0};
    g_clear_pointer(&audio->watch, audio_watch_destroy);
    audio->watch = audio_watch_create(source->n_channels, audio->info.channel, &audio->health);
    g_clear_pointer(&audio->resampler, soxr_delete);
    if (source->rate_hz == APERTA_AUDIO_RATE_HZ)
        return;
    soxr_quality_spec_t quality = soxr_quality_spec(SOXR_HQ, 0);
    audio->resampler = soxr_create(source->rate_hz, APERTA_AUDIO_RATE_HZ, 1, NULL, NULL, &quality, NULL);
    if (audio->resampler == NULL)
        g_error("out of memory");
}

aperta_audio *aperta_audio_open(const char *path, const aperta_audio_options *options, GError **error)
{
    const audio_request request = {path, options->cancel};
    int fd = audio_input_open(&request, AUDIO_PIPE_BYTES_MAX, error);

    if (fd < 0)
        return NULL;
    g_autoptr(aperta_audio) audio = g_new0(aperta_audio, 1);
    audio->path = g_strdup(path);
    audio->source = audio_source_open(fd, &request, error);
    if (audio->source == NULL || !check_source(audio, error))
        return NULL;
    audio->raw = g_new(float, (gsize)AUDIO_BLOCK_FRAMES * audio->source->n_channels);
    audio->mono = g_new(float, AUDIO_BLOCK_FRAMES);
    if (!count_frames(audio, error) || !choose_span(audio, options, error))
        return NULL;
    start_reading(audio);
    return g_steal_pointer(&audio);
}

gboolean aperta_audio_rewind(aperta_audio *audio, GError **error)
{
    if (!audio->source->kind->seek(audio->source, 0, error))
        return FALSE;
    start_reading(audio);
    return TRUE;
}

void aperta_audio_close(aperta_audio *audio)
{
    if (audio == NULL)
        return;
    audio_source_close(audio->source);
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

/* The source came to its end at frame audio->at: how long it is in truth, and whether that is less than it says. */
static void learn_end(aperta_audio *audio)
{
    const audio_source *source = audio->source;
    double end_s = time_of(audio, audio->at), promised_s = MAX(time_of(audio, source->n_frames), source->promised_s);
    double slack_s = source->approximate ? AUDIO_LENGTH_SLACK_S + AUDIO_LENGTH_SLACK * promised_s : 0.0;

    if (source->lossy && audio->at > 0)
        audio->info.bits_per_s = 8.0 * (double)source->packet_bytes * source->rate_hz / (double)audio->at;
    audio->health.damaged = source->damaged;
    audio->health.truncated = source->cut || promised_s > end_s + slack_s;
    if (audio->health.truncated && promised_s > end_s + slack_s)
        audio->health.promised_s = promised_s;
    audio->info.seconds = end_s;
    audio->info.to_s = MAX(MIN(audio->wanted_to_s, end_s), audio->info.from_s);
}

/* Reads on in the source, past what is not wanted first. -1 on error. */
static gint64 read_raw(aperta_audio *audio, GError **error)
{
    audio_source *source = audio->source;

    for (;;) {
        gint64 want = (audio->at < audio->first ? audio->first : audio->end) - audio->at;
        gint64 got = source->kind->read(source, audio->raw, MIN(want, AUDIO_BLOCK_FRAMES), error);
        gboolean wanted = audio->at >= audio->first;
        if (got < 0)
            return -1;
        audio->at += got;
        if (got < MIN(want, AUDIO_BLOCK_FRAMES))
            audio->ended = TRUE;
        if (audio->ended)
            learn_end(audio);
        if (wanted || audio->ended)
            return wanted ? got : 0;
    }
}

/* A file can end before what was asked for begins, though it says otherwise. */
static gboolean nothing_came(const aperta_audio *audio, GError **error)
{
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: the recording breaks off after %.1f s, before %g s",
                audio->path, audio->info.seconds, audio->info.from_s);
    return FALSE;
}

/* Refills mono once it is used up. FALSE: the file could not be read. */
static gboolean fill_mono(aperta_audio *audio, GError **error)
{
    g_autoptr(GError) wrong = NULL;
    gint64 got = audio->at >= audio->end ? 0 : read_raw(audio, &wrong);

    if (got < 0) {
        if (audio->health.n_samples == 0 || !g_error_matches(wrong, APERTA_ERROR, APERTA_ERROR_UNREADABLE)) {
            g_propagate_error(error, g_steal_pointer(&wrong));
            return FALSE;
        }
        got = 0; /* it is read as far as it goes */
        learn_end(audio);
        audio->ended = audio->health.truncated = TRUE;
    }
    audio->ended = audio->ended || audio->at >= audio->end;
    if (audio->ended && got == 0 && audio->health.n_samples == 0)
        return nothing_came(audio, error);
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
