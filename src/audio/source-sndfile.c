/* source-sndfile.c - what libsndfile reads: WAV, AIFF, FLAC, Ogg Vorbis, Opus, MP3 and others. */
#include "mpeg.h"
#include "promise.h"
#include "source.h"

#include <sndfile.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct {
    audio_source base;
    int fd;
    sf_count_t at;         /* next byte to be read */
    audio_promise promise; /* of its header */
    audio_mpeg_lead lead;  /* stands before its bytes, in place of what is before the first frame */
    SNDFILE *file;
    gboolean counted; /* it knows its length, and so where a frame is */
} sndfile_source;

static sndfile_source *of(audio_source *source)
{
    return (sndfile_source *)(void *)source;
}

/* ---- the bytes of the file, with what its writer left out filled in ---------------------------------------------- */

static sf_count_t length_of(void *data)
{
    struct stat status;

    const sndfile_source *own = data;
    gint64 more = own->lead.n > 0 ? own->lead.n - own->lead.from : 0;

    return fstat(own->fd, &status) == 0 ? status.st_size + more : 0;
}

static sf_count_t go_to(sf_count_t offset, int whence, void *data)
{
    sndfile_source *own = data;
    sf_count_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? own->at : length_of(own);

    if (from + offset < 0)
        return -1;
    return own->at = from + offset;
}

static sf_count_t place(void *data)
{
    return ((const sndfile_source *)data)->at;
}

static sf_count_t read_bytes(void *bytes, sf_count_t n, void *data)
{
    sndfile_source *own = data;
    gint64 lead = own->lead.n, more = lead > 0 ? lead - own->lead.from : 0;

    if (own->at < lead) {
        sf_count_t k = MIN(n, lead - own->at);
        memcpy(bytes, own->lead.bytes + own->at, (gsize)k);
        own->at += k;
        return k < n ? k + read_bytes((guint8 *)bytes + k, n - k, data) : k;
    }
    gssize got = pread(own->fd, bytes, (gsize)n, own->at - more);

    if (got <= 0)
        return 0;
    const audio_promise *promise = &own->promise;
    for (gint64 i = 0; i < promise->size_bytes && promise->size_at >= 0; i++) {
        gint64 at = promise->size_at + (promise->big_endian ? promise->size_bytes - 1 - i : i) - own->at;
        if (at >= 0 && at < got)
            ((guint8 *)bytes)[at] = (guint8)(promise->size >> (8 * i));
    }
    own->at += got;
    return got;
}

static sf_count_t write_nothing(const void *bytes, sf_count_t n, void *data)
{
    (void)bytes, (void)n, (void)data;
    return 0;
}

static gboolean open_from_start(sndfile_source *own, SF_INFO *info)
{
    static SF_VIRTUAL_IO bytes = {length_of, go_to, read_bytes, write_nothing, place};

    *info = (SF_INFO){0};
    own->at = 0;
    own->file = sf_open_virtual(&bytes, SFM_READ, info, own);
    return own->file != NULL;
}

/* What libsndfile says of its last failure, of a file or (NULL) of opening one, to stand within a sentence: its own end
 * with a full stop. The caller frees. */
static char *complaint(SNDFILE *file)
{
    const char *text = sf_strerror(file);
    gsize n = strlen(text);

    return g_strndup(text, n > 0 && text[n - 1] == '.' ? n - 1 : n);
}

/* ---- the source -------------------------------------------------------------------------------------------------- */

static gint64 sndfile_read(audio_source *source, float *frames, gint64 n, GError **error)
{
    SNDFILE *file = of(source)->file;
    gint64 got = sf_readf_float(file, frames, n);

    if (got <= 0 && sf_error(file) != SF_ERR_NO_ERROR) {
        g_autofree char *why = complaint(file);
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE, "%s: %s (record or export it again)", source->path,
                    why);
        return -1;
    }
    return got;
}

/* A file that broke off cannot be gone about in (what libsndfile knows of an Ogg file hangs on its end), so it is
 * opened anew. */
static gboolean sndfile_seek(audio_source *source, gint64 frame, GError **error)
{
    sndfile_source *own = of(source);
    SF_INFO info;

    if (frame > 0)
        return own->counted && sf_seek(own->file, frame, SEEK_SET) == frame;
    sf_close(own->file);
    if (open_from_start(own, &info))
        return TRUE;
    g_autofree char *why = complaint(NULL);
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE, "%s: cannot be read a second time: %s (copy it first)",
                source->path, why);
    return FALSE;
}

static void sndfile_close(audio_source *source)
{
    sndfile_source *own = of(source);

    if (own->file != NULL)
        sf_close(own->file);
    close(own->fd);
    g_free(own);
}

static const audio_source_kind sndfile_kind = {sndfile_read, sndfile_seek, sndfile_close};

/* libsndfile gives SF_COUNT_MAX for the length of an Ogg file without its last page, and of a FLAC file that was
 * written as a stream, which is no fault. */
static void learn_length(sndfile_source *own, const SF_INFO *info)
{
    audio_source *base = &own->base;
    int type = info->format & SF_FORMAT_TYPEMASK;

    own->counted = info->frames != SF_COUNT_MAX;
    base->n_frames = own->counted ? info->frames : -1;
    base->cut = !own->counted && type == SF_FORMAT_OGG;
    base->approximate = type == SF_FORMAT_MPEG;
    if (own->promise.share >= 1.0)
        return;
    base->cut = TRUE;
    base->promised_s = own->promise.share > 0.0 ? (double)info->frames / info->samplerate / own->promise.share : 0.0;
}

/* Of formats that leave out what they hold to be inaudible; 0: none of them, or not known yet. */
static double compressed_bits_per_s(int fd, const SF_INFO *info)
{
    int type = info->format & SF_FORMAT_TYPEMASK;
    struct stat status;

    if ((type != SF_FORMAT_OGG && type != SF_FORMAT_MPEG) || info->frames == SF_COUNT_MAX || fstat(fd, &status) != 0)
        return 0.0;
    return 8.0 * (double)status.st_size * info->samplerate / (double)info->frames;
}

static void refuse(sndfile_source *own, const char *what, const char *to_do, GError **error)
{
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: %s (%s)", own->base.path, what, to_do);
    if (own->file != NULL)
        sf_close(own->file);
    g_free(own->base.path);
    g_free(own);
}

audio_source *audio_sndfile_open(int fd, const audio_request *request, GError **error)
{
    sndfile_source *own = g_new0(sndfile_source, 1);
    SF_INFO info;

    own->base.kind = &sndfile_kind;
    own->base.path = g_strdup(request->path);
    own->fd = fd;
    own->promise = audio_promise_of(fd);
    own->lead = audio_mpeg_lead_of(fd);
    if (!open_from_start(own, &info)) {
        g_autofree char *why = complaint(NULL);
        g_autofree char *what = g_strdup_printf("not a sound file that can be read: %s", why);
        refuse(own, what, "use WAV, FLAC, AIFF, Ogg, Opus, MP3, M4A, MP4, MOV, WebM or MKA", error);
        return NULL;
    }
    if (info.frames <= 0 || info.channels <= 0) {
        refuse(own, "it holds no sound that can be read", "record or export it again", error);
        return NULL;
    }
    own->base.rate_hz = info.samplerate;
    own->base.n_channels = info.channels;
    learn_length(own, &info);
    own->base.bits_per_s = compressed_bits_per_s(fd, &info);
    return &own->base;
}
