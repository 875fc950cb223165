/* fuzz-decode.c - M4A, MP4 and Matroska: FFmpeg's demuxers and decoders as aperta-decode uses them, and what it makes
 * of them. Checks the promises of audio/decoder-stream.h. */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* memfd_create */
#endif
#include "fuzz.h"

#include "decode/decode-private.h"

#include <libavutil/channel_layout.h>
#include <libavutil/samplefmt.h>
#include <math.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

/* ---- the target -------------------------------------------------------------------------------------------------- */

enum { FRAMES_MAX = 3000000 }; /* a file may claim hours of silence; then nobody listens any more */

typedef struct {
    GByteArray *bytes; /* of the part that is being written */
    decoder_header header;
    gboolean has_header, at_last, ended;
    gint64 n_frames;
} listener;

static void take_header(listener *l)
{
    memcpy(&l->header, l->bytes->data, sizeof l->header);
    l->has_header = TRUE;
    fuzz_require(memcmp(l->header.magic, DECODER_MAGIC, sizeof l->header.magic) == 0);
    fuzz_require(memchr(l->header.coding, '\0', sizeof l->header.coding) != NULL);
    fuzz_require(l->header.outcome >= DECODER_WHOLE && l->header.outcome <= DECODER_FAILED);
    fuzz_require(l->header.outcome != DECODER_CUT);
    if (l->header.outcome != DECODER_WHOLE)
        return;
    fuzz_require(l->header.rate_hz > 0 && l->header.n_channels > 0 && l->header.n_channels <= DECODER_CHANNELS_MAX);
    fuzz_require(isfinite(l->header.start_s) && !isnan(l->header.length_s) && !isnan(l->header.promised_s));
}

static void take_end(listener *l)
{
    decoder_end end;

    memcpy(&end, l->bytes->data, sizeof end);
    fuzz_require(end.outcome == DECODER_WHOLE || end.outcome == DECODER_CUT);
    fuzz_require(end.n_damaged >= 0 && end.bytes >= 0);
    l->ended = TRUE;
}

/* How many bytes the part has that begins with l->bytes; at least 1. */
static gsize wanted(const listener *l)
{
    gint32 n;

    if (!l->has_header)
        return sizeof(decoder_header);
    if (l->at_last)
        return sizeof(decoder_end);
    if (l->bytes->len < sizeof n)
        return sizeof n;
    memcpy(&n, l->bytes->data, sizeof n);
    fuzz_require(n >= 0 && n <= DECODER_BLOCK_FRAMES_MAX);
    return sizeof n + (gsize)n * (gsize)l->header.n_channels * sizeof(float);
}

static void take_part(listener *l)
{
    gint32 n;

    if (!l->has_header) {
        take_header(l);
    } else if (l->at_last) {
        take_end(l);
    } else {
        memcpy(&n, l->bytes->data, sizeof n);
        l->n_frames += n;
        l->at_last = n == 0;
    }
    g_byte_array_set_size(l->bytes, 0);
}

static bool listen_to(void *to, const void *bytes, size_t n)
{
    listener *l = to;
    const guint8 *at = bytes;

    while (n > 0) {
        fuzz_require(!l->ended && !(l->has_header && l->header.outcome != DECODER_WHOLE));
        gsize k = MIN(wanted(l) - l->bytes->len, n);
        g_byte_array_append(l->bytes, at, (guint)k);
        at += k;
        n -= k;
        if (l->bytes->len == wanted(l)) /* of a block, wanted grows when its head is there */
            take_part(l);
    }
    return l->n_frames < FRAMES_MAX;
}

/* Returns how many frames came. */
static gint64 decode(const guint8 *data, gsize size)
{
    int fd = memfd_create("fuzz", MFD_CLOEXEC);
    listener l = {.bytes = g_byte_array_new()};
    const decode_sink sink = {listen_to, &l};

    fuzz_require(fd >= 0 && write(fd, data, size) == (ssize_t)size);
    decoder_outcome outcome = decode_stream(fd, &sink);
    fuzz_require(l.has_header && l.bytes->len == 0);
    if (l.header.outcome != DECODER_WHOLE)
        fuzz_require((gint32)outcome == l.header.outcome);
    else
        fuzz_require(l.ended || l.n_frames >= FRAMES_MAX);
    g_byte_array_unref(l.bytes);
    close(fd);
    return l.n_frames;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    decode(data, size);
    return 0;
}

/* ---- seeds: a fifth of a second of sound, in each container and coding ------------------------------------------- */

static void fill(AVFrame *frame, gint64 start)
{
    for (int i = 0; i < frame->nb_samples; i++) {
        float x = 0.5f * sinf(2.0f * (float)G_PI * 440.0f * (float)(start + i) / (float)frame->sample_rate);
        for (int c = 0; c < frame->ch_layout.nb_channels; c++)
            switch (frame->format) {
            case AV_SAMPLE_FMT_FLTP:
                ((float *)(void *)frame->data[c])[i] = x;
                break;
            case AV_SAMPLE_FMT_S16P:
                ((gint16 *)(void *)frame->data[c])[i] = (gint16)(32767 * x);
                break;
            default:
                ((gint16 *)(void *)frame->data[0])[i * frame->ch_layout.nb_channels + c] = (gint16)(32767 * x);
            }
    }
}

static void write_packets(AVCodecContext *codec, AVFormatContext *format, const AVFrame *frame)
{
    AVPacket *packet = av_packet_alloc();

    fuzz_require(avcodec_send_frame(codec, frame) >= 0);
    while (avcodec_receive_packet(codec, packet) >= 0) {
        av_packet_rescale_ts(packet, codec->time_base, format->streams[0]->time_base);
        packet->stream_index = 0;
        fuzz_require(av_write_frame(format, packet) >= 0);
        av_packet_unref(packet);
    }
    av_packet_free(&packet);
}

static void write_sound(AVCodecContext *codec, AVFormatContext *format)
{
    AVFrame *frame = av_frame_alloc();

    frame->format = codec->sample_fmt;
    frame->sample_rate = codec->sample_rate;
    frame->nb_samples = codec->frame_size > 0 ? codec->frame_size : 1024;
    fuzz_require(av_channel_layout_copy(&frame->ch_layout, &codec->ch_layout) >= 0);
    fuzz_require(av_frame_get_buffer(frame, 0) >= 0);
    for (gint64 at = 0; at < codec->sample_rate / 5; at += frame->nb_samples) {
        fuzz_require(av_frame_make_writable(frame) >= 0);
        fill(frame, at);
        frame->pts = at;
        write_packets(codec, format, frame);
    }
    write_packets(codec, format, NULL);
    av_frame_free(&frame);
}

static AVCodecContext *open_encoder(enum AVCodecID id, enum AVSampleFormat samples, const AVOutputFormat *muxer)
{
    const AVCodec *encoder = avcodec_find_encoder(id);
    AVCodecContext *codec = encoder != NULL ? avcodec_alloc_context3(encoder) : NULL;

    if (codec == NULL)
        return NULL;
    codec->sample_fmt = samples;
    codec->sample_rate = 16000;
    codec->time_base = (AVRational){1, 16000};
    codec->bit_rate = 64000;
    av_channel_layout_default(&codec->ch_layout, 1);
    if (muxer->flags & AVFMT_GLOBALHEADER)
        codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
    fuzz_require(avcodec_open2(codec, encoder, NULL) >= 0);
    return codec;
}

static void add_seed(GPtrArray *seeds, const char *container, enum AVCodecID id, enum AVSampleFormat samples,
                     const char *flags)
{
    AVFormatContext *format = NULL;
    AVDictionary *options = NULL;
    uint8_t *bytes = NULL;

    fuzz_require(avformat_alloc_output_context2(&format, NULL, container, NULL) >= 0);
    AVCodecContext *codec = open_encoder(id, samples, format->oformat);
    if (codec == NULL) { /* an FFmpeg without it */
        avformat_free_context(format);
        return;
    }
    AVStream *stream = avformat_new_stream(format, NULL);
    fuzz_require(avcodec_parameters_from_context(stream->codecpar, codec) >= 0);
    stream->time_base = codec->time_base;
    fuzz_require(avio_open_dyn_buf(&format->pb) >= 0);
    if (flags != NULL)
        av_dict_set(&options, "movflags", flags, 0);
    fuzz_require(avformat_write_header(format, &options) >= 0);
    write_sound(codec, format);
    fuzz_require(av_write_trailer(format) >= 0);
    int n = avio_close_dyn_buf(format->pb, &bytes);
    fuzz_require(n > 0 && decode(bytes, (gsize)n) > codec->sample_rate / 6); /* a seed must be sound */
    g_ptr_array_add(seeds, g_bytes_new(bytes, (gsize)n));
    av_free(bytes);
    av_dict_free(&options);
    avcodec_free_context(&codec);
    avformat_free_context(format);
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    av_log_set_level(AV_LOG_QUIET);
    add_seed(seeds, "ipod", AV_CODEC_ID_AAC, AV_SAMPLE_FMT_FLTP, NULL);
    add_seed(seeds, "ipod", AV_CODEC_ID_ALAC, AV_SAMPLE_FMT_S16P, NULL);
    add_seed(seeds, "mp4", AV_CODEC_ID_AAC, AV_SAMPLE_FMT_FLTP, "frag_keyframe+empty_moov");
    add_seed(seeds, "mov", AV_CODEC_ID_PCM_S16BE, AV_SAMPLE_FMT_S16, NULL);
    add_seed(seeds, "matroska", AV_CODEC_ID_FLAC, AV_SAMPLE_FMT_S16, NULL);
    add_seed(seeds, "webm", AV_CODEC_ID_VORBIS, AV_SAMPLE_FMT_FLTP, NULL);
    add_seed(seeds, "webm", AV_CODEC_ID_OPUS, AV_SAMPLE_FMT_S16, NULL);
    return seeds;
}
