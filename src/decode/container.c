/* container.c - FFmpeg's demuxers and decoders on one open file.
 *
 * What a file can reach is an allow-list: two demuxers, chosen by outline.c and not by FFmpeg's probing, and the
 * decoders below. Nothing is opened by name: no protocols, no playlists, no data in other files. One thread. */
#include "decode-private.h"

#include <errno.h>
#include <libavutil/avstring.h>
#include <unistd.h>

enum { IO_BYTES = 1 << 15, DECODER_LIST_BYTES = 512 };

static const struct {
    enum AVCodecID id;
    const char *decoder;
    bool lossy;
} codings[] = {
    {AV_CODEC_ID_AAC, "aac", true},
    {AV_CODEC_ID_ALAC, "alac", false},
    {AV_CODEC_ID_OPUS, "opus", true},
    {AV_CODEC_ID_VORBIS, "vorbis", true},
    {AV_CODEC_ID_MP3, "mp3float", true},
    {AV_CODEC_ID_FLAC, "flac", false},
    {AV_CODEC_ID_PCM_S16LE, "pcm_s16le", false},
    {AV_CODEC_ID_PCM_S16BE, "pcm_s16be", false},
    {AV_CODEC_ID_PCM_S24LE, "pcm_s24le", false},
    {AV_CODEC_ID_PCM_S24BE, "pcm_s24be", false},
    {AV_CODEC_ID_PCM_S32LE, "pcm_s32le", false},
    {AV_CODEC_ID_PCM_S32BE, "pcm_s32be", false},
    {AV_CODEC_ID_PCM_F32LE, "pcm_f32le", false},
    {AV_CODEC_ID_PCM_F32BE, "pcm_f32be", false},
};
enum { N_CODINGS = sizeof codings / sizeof *codings };

#define DEMUXERS "mov,mp4,m4a,3gp,3g2,mj2,matroska,webm"
/* Their names, with commas between them. */
static void list_decoders(char list[DECODER_LIST_BYTES])
{
    list[0] = '\0';
    for (int i = 0; i < N_CODINGS; i++)
        av_strlcatf(list, DECODER_LIST_BYTES, "%s%s", i > 0 ? "," : "", codings[i].decoder);
}

/* ---- reading the descriptor -------------------------------------------------------------------------------------- */

static int read_bytes(void *data, uint8_t *bytes, int n)
{
    decode_container *c = data;
    ssize_t got;

    do
        got = pread(c->fd, bytes, (size_t)n, (off_t)c->at);
    while (got < 0 && errno == EINTR);
    if (got == 0)
        return AVERROR_EOF;
    if (got < 0)
        return AVERROR(errno);
    c->at += got;
    return (int)got;
}

static int64_t seek_bytes(void *data, int64_t offset, int whence)
{
    decode_container *c = data;
    int64_t from = 0;

    if (whence & AVSEEK_SIZE)
        return c->size;
    switch (whence & ~AVSEEK_FORCE) {
    case SEEK_SET:
        break;
    case SEEK_CUR:
        from = c->at;
        break;
    case SEEK_END:
        from = c->size;
        break;
    default:
        return AVERROR(EINVAL);
    }
    if (offset < -from || offset > INT64_MAX - from)
        return AVERROR(EINVAL);
    return c->at = from + offset;
}

static int open_nothing(AVFormatContext *format, AVIOContext **io, const char *url, int flags, AVDictionary **options)
{
    (void)format, (void)io, (void)url, (void)flags, (void)options;
    return AVERROR(EACCES);
}

/* ---- opening ----------------------------------------------------------------------------------------------------- */

static AVFormatContext *new_format(decode_container *c)
{
    AVFormatContext *format = avformat_alloc_context();
    uint8_t *buffer = av_malloc(IO_BYTES);

    if (format != NULL && buffer != NULL)
        format->pb = avio_alloc_context(buffer, IO_BYTES, 0, c, read_bytes, NULL, seek_bytes);
    if (format == NULL || format->pb == NULL) {
        av_free(buffer);
        avformat_free_context(format);
        return NULL;
    }
    format->flags |= AVFMT_FLAG_CUSTOM_IO;
    format->io_open = open_nothing;
    return format;
}

static void free_io(AVIOContext **io)
{
    if (*io != NULL)
        av_freep(&(*io)->buffer);
    avio_context_free(io);
}

static decoder_outcome open_demuxer(decode_container *c, decoder_container kind)
{
    const AVInputFormat *demuxer = av_find_input_format(kind == DECODER_MP4 ? "mov" : "matroska");
    AVDictionary *options = NULL;
    char decoders[DECODER_LIST_BYTES];

    c->format = new_format(c);
    if (c->format == NULL || demuxer == NULL)
        return DECODER_FAILED;
    AVIOContext *io = c->format->pb;
    list_decoders(decoders);
    av_dict_set(&options, "format_whitelist", DEMUXERS, 0);
    av_dict_set(&options, "codec_whitelist", decoders, 0);
    av_dict_set(&options, "protocol_whitelist", "", 0);
    int code = avformat_open_input(&c->format, NULL, demuxer, &options);
    av_dict_free(&options);
    if (code < 0) {
        free_io(&io); /* the format itself is gone */
        return code == AVERROR(ENOMEM) ? DECODER_FAILED : DECODER_UNREADABLE;
    }
    return DECODER_WHOLE;
}

static void choose_stream(decode_container *c)
{
    for (unsigned i = 0; i < c->format->nb_streams; i++) {
        AVStream *stream = c->format->streams[i];
        if (c->stream == NULL && stream->codecpar->codec_type == AVMEDIA_TYPE_AUDIO)
            c->stream = stream;
        else
            stream->discard = AVDISCARD_ALL;
    }
}

static decoder_outcome open_decoder(decode_container *c)
{
    const AVCodec *decoder = NULL;

    for (int i = 0; i < N_CODINGS; i++) {
        if (codings[i].id != c->stream->codecpar->codec_id)
            continue;
        decoder = avcodec_find_decoder_by_name(codings[i].decoder);
        c->lossy = codings[i].lossy;
    }
    if (decoder == NULL)
        return DECODER_CODING;
    c->codec = avcodec_alloc_context3(decoder);
    if (c->codec == NULL || avcodec_parameters_to_context(c->codec, c->stream->codecpar) < 0)
        return DECODER_FAILED;
    c->codec->thread_count = 1;
    c->codec->pkt_timebase = c->stream->time_base; /* for the start padding that it takes off */
    return avcodec_open2(c->codec, decoder, NULL) < 0 ? DECODER_CODING : DECODER_WHOLE;
}

decoder_outcome decode_container_open(decode_container *c, int fd, decoder_container kind, decoder_header *header)
{
    *c = (decode_container){.fd = fd, .size = lseek(fd, 0, SEEK_END)};
    av_log_set_level(AV_LOG_QUIET);
    decoder_outcome outcome = open_demuxer(c, kind);
    if (outcome != DECODER_WHOLE)
        return outcome;
    choose_stream(c);
    if (c->stream == NULL)
        return DECODER_NO_SOUND;
    av_strlcpy(header->coding, avcodec_get_name(c->stream->codecpar->codec_id), sizeof header->coding);
    return open_decoder(c);
}

void decode_container_close(decode_container *c)
{
    AVIOContext *io = c->format != NULL ? c->format->pb : NULL;

    avcodec_free_context(&c->codec);
    avformat_close_input(&c->format);
    free_io(&io);
}
