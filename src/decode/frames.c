/* frames.c - decodes a stream of sound and writes it out, in the time of its container. */
#include "decode-private.h"
#include "decode-tuning.h"

#include <libavutil/samplefmt.h>
#include <math.h>

typedef struct {
    const decode_sink *sink;
    decode_container *container;
    decoder_header header;
    bool begun;     /* the header is out */
    bool deaf;      /* nobody listens any more */
    bool changed;   /* rate or channels are others than at the start */
    int64_t frames; /* that were written, silence too */
    double gaps_s;  /* silence of these, which no frame is there for */
    decoder_end end;
    float block[4096]; /* interleaved, before it is written */
} writing;

static void put(writing *w, const void *bytes, size_t n)
{
    w->deaf = w->deaf || !w->sink->write(w->sink->to, bytes, n);
}

/* ---- samples ----------------------------------------------------------------------------------------------------- */

static float sample_at(const AVFrame *frame, enum AVSampleFormat packed, bool planar, int channel, int64_t i)
{
    int n_channels = frame->ch_layout.nb_channels;
    const void *plane = frame->extended_data[planar ? channel : 0];
    int64_t at = planar ? i : i * n_channels + channel;

    switch (packed) {
    case AV_SAMPLE_FMT_U8:
        return (((const uint8_t *)plane)[at] - 128) / 128.0f;
    case AV_SAMPLE_FMT_S16:
        return ((const int16_t *)plane)[at] / 32768.0f;
    case AV_SAMPLE_FMT_S32:
        return (float)(((const int32_t *)plane)[at] / 2147483648.0);
    case AV_SAMPLE_FMT_FLT:
        return ((const float *)plane)[at];
    case AV_SAMPLE_FMT_DBL:
        return (float)((const double *)plane)[at];
    default:
        return 0.0f;
    }
}

/* NULL for the frame: silence. */
static void put_frames(writing *w, const AVFrame *frame, int64_t n)
{
    int n_channels = w->header.n_channels;
    int64_t room = (int64_t)(sizeof w->block / sizeof *w->block) / n_channels;
    enum AVSampleFormat packed = frame != NULL ? av_get_packed_sample_fmt(frame->format) : AV_SAMPLE_FMT_NONE;
    bool planar = frame != NULL && av_sample_fmt_is_planar(frame->format);

    for (int64_t done = 0; done < n && !w->deaf; done += room) {
        int32_t k = (int32_t)(n - done < room ? n - done : room);
        for (int32_t i = 0; i < k; i++)
            for (int c = 0; c < n_channels; c++)
                w->block[i * n_channels + c] = frame != NULL ? sample_at(frame, packed, planar, c, done + i) : 0.0f;
        put(w, &k, sizeof k);
        put(w, w->block, (size_t)k * (size_t)n_channels * sizeof *w->block);
    }
    w->frames += n;
}

/* ---- time -------------------------------------------------------------------------------------------------------- */

static double seconds(int64_t value, AVRational base)
{
    return value == AV_NOPTS_VALUE || base.den == 0 ? NAN : (double)value * base.num / base.den;
}

static double frame_time(const writing *w, const AVFrame *frame)
{
    return seconds(frame->best_effort_timestamp, w->container->stream->time_base);
}

/* Of the container's claims: the stream's length in MP4, whose index knows it; Matroska has only one for all streams.
 */
static void put_header(writing *w, const AVFrame *frame)
{
    const decode_container *c = w->container;
    double start_s = frame_time(w, frame), all_s = seconds(c->format->duration, AV_TIME_BASE_Q);
    double length_s = seconds(c->stream->duration, c->stream->time_base);

    memcpy(w->header.magic, DECODER_MAGIC, sizeof w->header.magic);
    w->header.outcome = DECODER_WHOLE;
    w->header.rate_hz = frame->sample_rate;
    w->header.n_channels = frame->ch_layout.nb_channels;
    w->header.lossy = c->lossy;
    w->header.start_s = fabs(start_s) <= DECODE_START_S_MAX ? start_s : 0.0; /* not of not-a-number either */
    w->header.length_s = length_s > 0.0 ? w->header.start_s + length_s : -1.0;
    w->header.promised_s = all_s > 0.0 ? all_s : length_s > 0.0 ? w->header.length_s : -1.0;
    put(w, &w->header, sizeof w->header);
    w->begun = true;
}

static bool well_formed(const AVFrame *frame)
{
    return frame->nb_samples > 0 && frame->sample_rate > 0 && frame->ch_layout.nb_channels > 0 &&
           frame->ch_layout.nb_channels <= DECODER_CHANNELS_MAX && frame->extended_data != NULL;
}

static void put_gap(writing *w, double gap_s)
{
    if (w->gaps_s + gap_s > DECODE_GAPS_S_MAX) {
        w->end.n_damaged++;
        return;
    }
    w->gaps_s += gap_s;
    put_frames(w, NULL, (int64_t)floor(gap_s * w->header.rate_hz + 0.5));
}

static void put_decoded(writing *w, const AVFrame *frame)
{
    if (!well_formed(frame))
        return;
    if (!w->begun)
        put_header(w, frame);
    if (frame->sample_rate != w->header.rate_hz || frame->ch_layout.nb_channels != w->header.n_channels) {
        w->changed = true;
        return;
    }
    double gap_s = frame_time(w, frame) - (w->header.start_s + (double)w->frames / w->header.rate_hz);
    if (gap_s > DECODE_GAP_S && gap_s < DECODE_GAP_S_MAX)
        put_gap(w, gap_s);
    put_frames(w, frame, frame->nb_samples);
}

/* ---- the loop ---------------------------------------------------------------------------------------------------- */

/* packet NULL: what the decoder still holds. */
static void decode_packet(writing *w, const AVPacket *packet, AVFrame *frame)
{
    AVCodecContext *codec = w->container->codec;
    int code = avcodec_send_packet(codec, packet);

    if (code < 0 && code != AVERROR_EOF)
        w->end.n_damaged++;
    while (!w->deaf && !w->changed && (code = avcodec_receive_frame(codec, frame)) >= 0) {
        put_decoded(w, frame);
        av_frame_unref(frame);
    }
    if (code < 0 && code != AVERROR(EAGAIN) && code != AVERROR_EOF)
        w->end.n_damaged++;
}

/* Returns whether the container came to its end in an orderly way. */
static bool decode_packets(writing *w, AVPacket *packet, AVFrame *frame)
{
    int errors = 0;

    while (!w->deaf && !w->changed && errors < DECODE_ERRORS_MAX) {
        int code = av_read_frame(w->container->format, packet);
        if (code == AVERROR_EOF) {
            decode_packet(w, NULL, frame);
            return !w->changed;
        }
        if (code < 0) {
            errors++;
            continue;
        }
        errors = 0;
        if (packet->stream_index == w->container->stream->index) {
            w->end.bytes += packet->size;
            decode_packet(w, packet, frame);
        }
        av_packet_unref(packet);
    }
    return false;
}

static decoder_outcome refuse(writing *w, decoder_outcome outcome)
{
    memcpy(w->header.magic, DECODER_MAGIC, sizeof w->header.magic);
    w->header.outcome = (int32_t)outcome;
    put(w, &w->header, sizeof w->header);
    return outcome;
}

static decoder_outcome finish(writing *w, bool orderly)
{
    const int32_t no_more = 0;

    if (!w->begun)
        return refuse(w, DECODER_NOTHING);
    w->end.outcome = orderly ? DECODER_WHOLE : DECODER_CUT;
    put(w, &no_more, sizeof no_more);
    put(w, &w->end, sizeof w->end);
    return (decoder_outcome)w->end.outcome;
}

static decoder_outcome decode_all(writing *w, const decode_outline *outline)
{
    AVPacket *packet = av_packet_alloc();
    AVFrame *frame = av_frame_alloc();
    decoder_outcome outcome = DECODER_FAILED;

    if (packet != NULL && frame != NULL)
        outcome = finish(w, decode_packets(w, packet, frame) && !outline->cut);
    else
        refuse(w, outcome);
    av_packet_free(&packet);
    av_frame_free(&frame);
    return outcome;
}

decoder_outcome decode_stream(int fd, const decode_sink *sink)
{
    decode_outline outline = decode_outline_of(fd);
    decode_container container = {.fd = fd};
    writing w = {.sink = sink, .container = &container};

    if (outline.kind == DECODER_NO_CONTAINER)
        return refuse(&w, DECODER_NOT_KNOWN);
    if (outline.kind == DECODER_MP4 && !outline.has_index)
        return refuse(&w, DECODER_NO_INDEX);
    decoder_outcome outcome = decode_container_open(&container, fd, outline.kind, &w.header);
    outcome = outcome == DECODER_WHOLE ? decode_all(&w, &outline) : refuse(&w, outcome);
    decode_container_close(&container);
    return outcome;
}
