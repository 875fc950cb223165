/* source-decoder.c - what libsndfile does not read: M4A, MP4, MOV, WebM, MKA, through the program aperta-decode. */
#include "audio-tuning.h"
#include "decoder-stream.h"
#include "helper.h"
#include "source.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

typedef struct {
    audio_source base;
    int fd;
    audio_helper_options options;
    audio_helper helper;
    decoder_header header;
    gint32 in_block; /* frames of the block that were not read yet */
    gboolean at_end;
    gboolean opened; /* a good header came, so what it says afterwards is sound that breaks off */
} decoder_source;

static decoder_source *of(audio_source *source)
{
    return (decoder_source *)(void *)source;
}

/* ---- in words ---------------------------------------------------------------------------------------------------- */

static void tell_death(const decoder_source *own, GError **error)
{
    if (own->options.cancel != NULL && *own->options.cancel)
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_INTERRUPTED, "%s: interrupted (nothing was written)",
                    own->base.path);
    else
        g_set_error(error, APERTA_ERROR, own->opened ? APERTA_ERROR_UNREADABLE : APERTA_ERROR_FORMAT,
                    "%s: the program that decodes it broke off: %s (the file may be damaged; convert it to WAV or FLAC "
                    "and read that)",
                    own->base.path, own->helper.death != NULL ? own->helper.death : "what it says is no sound");
}

static void tell_outcome(const decoder_source *own, GError **error)
{
    static const struct {
        decoder_outcome outcome;
        const char *words;
    } known[] = {
        {DECODER_NOT_KNOWN,
         "not a sound file that can be read (use WAV, FLAC, AIFF, Ogg, Opus, MP3, M4A, MP4, MOV, WebM "
         "or MKA)"},
        {DECODER_NO_INDEX, "its index is missing, so nothing of it can be read: such files get it last, and this one "
                           "was not finished or not copied to its end (copy or export it again)"},
        {DECODER_UNREADABLE, "it is damaged or protected and cannot be read (record or export it again)"},
        {DECODER_NO_SOUND, "it holds no sound (is this the right file?)"},
        {DECODER_NOTHING, "it holds no sound that can be read (record or export it again)"},
    };

    for (gsize i = 0; i < G_N_ELEMENTS(known); i++) {
        if ((gint32)known[i].outcome != own->header.outcome)
            continue;
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: %s", own->base.path, known[i].words);
        return;
    }
    if (own->header.outcome == DECODER_CODING)
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT,
                    "%s: its sound is coded in a way that is not read: %.15s (convert it to WAV or FLAC)",
                    own->base.path, g_utf8_validate(own->header.coding, -1, NULL) ? own->header.coding : "?");
    else
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT,
                    "%s: the program that decodes it could not work (is there enough memory? convert it to WAV or FLAC "
                    "and read that)",
                    own->base.path);
}

/* ---- starting ---------------------------------------------------------------------------------------------------- */

static gboolean header_makes_sense(const decoder_header *header)
{
    return header->rate_hz > 0 && header->n_channels > 0 && header->n_channels <= DECODER_CHANNELS_MAX &&
           isfinite(header->start_s) && !isnan(header->length_s) && !isnan(header->promised_s);
}

/* The program from the start of the file, up to the header. */
static gboolean start(decoder_source *own, GError **error)
{
    own->in_block = 0;
    own->at_end = FALSE;
    if (!audio_helper_start(&own->helper, &own->options, own->fd)) {
        g_set_error(
            error, APERTA_ERROR, APERTA_ERROR_FORMAT,
            "%s: it is read by %s, which cannot be started: %s (install Aperta again, or convert the file to WAV "
            "or FLAC)",
            own->base.path, own->options.program, g_strerror(errno));
        return FALSE;
    }
    if (!audio_helper_read(&own->helper, &own->header, sizeof own->header) ||
        memcmp(own->header.magic, DECODER_MAGIC, sizeof own->header.magic) != 0) {
        tell_death(own, error);
        return FALSE;
    }
    own->header.coding[sizeof own->header.coding - 1] = '\0';
    if (own->header.outcome != DECODER_WHOLE) {
        tell_outcome(own, error);
        return FALSE;
    }
    if (header_makes_sense(&own->header))
        return TRUE;
    tell_death(own, error);
    return FALSE;
}

/* ---- the source -------------------------------------------------------------------------------------------------- */

static gboolean read_end(decoder_source *own, GError **error)
{
    decoder_end end;

    if (!audio_helper_read(&own->helper, &end, sizeof end)) {
        tell_death(own, error);
        return FALSE;
    }
    own->at_end = TRUE;
    own->base.cut = end.outcome != DECODER_WHOLE;
    own->base.damaged = end.n_damaged > 0;
    if (own->base.cut && own->header.promised_s > 0.0)
        own->base.promised_s = own->header.promised_s;
    own->base.packet_bytes = end.bytes;
    return TRUE;
}

/* Goes to the next block when one is used up. */
static gboolean next_block(decoder_source *own, GError **error)
{
    if (own->in_block > 0 || own->at_end)
        return TRUE;
    if (!audio_helper_read(&own->helper, &own->in_block, sizeof own->in_block)) {
        tell_death(own, error);
        return FALSE;
    }
    if (own->in_block == 0)
        return read_end(own, error);
    if (own->in_block > 0 && own->in_block <= DECODER_BLOCK_FRAMES_MAX)
        return TRUE;
    own->in_block = 0;
    tell_death(own, error);
    return FALSE;
}

static gint64 decoder_read(audio_source *source, float *frames, gint64 n, GError **error)
{
    decoder_source *own = of(source);
    gint64 done = 0;

    while (done < n) {
        if (!next_block(own, error))
            return -1;
        if (own->at_end)
            break;
        gint64 k = MIN(n - done, own->in_block);
        if (!audio_helper_read(&own->helper, frames + done * source->n_channels,
                               (gsize)k * (gsize)source->n_channels * sizeof *frames)) {
            tell_death(own, error);
            return -1;
        }
        own->in_block -= (gint32)k;
        done += k;
    }
    return done;
}

/* Decoding is fast and a frame's place is exact only when one decodes up to it, so there is no way but from the start.
 */
static gboolean decoder_seek(audio_source *source, gint64 frame, GError **error)
{
    decoder_source *own = of(source);
    decoder_header before = own->header;

    if (frame > 0)
        return FALSE;
    audio_helper_end(&own->helper);
    if (!start(own, error))
        return FALSE;
    if (own->header.rate_hz == before.rate_hz && own->header.n_channels == before.n_channels)
        return TRUE;
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE, "%s: it changed while it was read (try again)",
                source->path);
    return FALSE;
}

static void decoder_close(audio_source *source)
{
    decoder_source *own = of(source);

    audio_helper_end(&own->helper);
    close(own->fd);
    g_free(own);
}

static const audio_source_kind decoder_kind = {decoder_read, decoder_seek, decoder_close};

audio_source *audio_decoder_open(int fd, const audio_request *request, const char *program, double patience_s,
                                 GError **error)
{
    decoder_source *own = g_new0(decoder_source, 1);
    audio_source *base = &own->base;

    base->kind = &decoder_kind;
    base->path = g_strdup(request->path);
    own->fd = fd;
    own->options = (audio_helper_options){program, patience_s, request->cancel};
    if (!start(own, error)) {
        audio_helper_end(&own->helper);
        g_free(base->path);
        g_free(own);
        return NULL;
    }
    own->opened = TRUE;
    base->rate_hz = own->header.rate_hz;
    base->n_channels = own->header.n_channels;
    base->start_s = own->header.start_s;
    base->lossy = own->header.lossy != 0;
    base->n_frames = -1;
    double length_s = own->header.length_s - base->start_s;
    if (length_s > 0.0 && length_s < AUDIO_DECODED_S_MAX) {
        base->n_frames = (gint64)floor(length_s * base->rate_hz + 0.5);
        base->approximate = TRUE;
    }
    return base;
}
