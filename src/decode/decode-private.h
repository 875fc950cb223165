/* decode-private.h - the parts of the program aperta-decode. Plain C without GLib, so that it starts fast and little is
 * in it. */
#ifndef DECODE_PRIVATE_H
#define DECODE_PRIVATE_H

#include "audio/decoder-stream.h"

#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <stdbool.h>
#include <stddef.h>

/* ---- confine.c: what the program may do at all ------------------------------------------------------------------- */

/* From here on: no files, no network, no other programs; limits on memory and time. false: it cannot be confined. */
bool decode_confine(void);

/* ---- outline.c: what the container looks like from outside ------------------------------------------------------- */

typedef struct {
    decoder_container kind;
    bool has_index; /* of MP4: there is a moov box */
    bool cut;       /* a box, or the segment, reaches beyond the end of the file */
} decode_outline;

decode_outline decode_outline_of(int fd);

/* ---- container.c: FFmpeg's demuxer and decoder, opened on a descriptor and on nothing else ----------------------- */

typedef struct {
    int fd;
    int64_t at, size; /* of the file, in bytes */
    AVFormatContext *format;
    AVStream *stream; /* the first one with sound */
    AVCodecContext *codec;
    bool lossy;
} decode_container;

/* outcome is WHOLE, or why it cannot be read; header->coding is set where it is known. Close in both cases. */
decoder_outcome decode_container_open(decode_container *c, int fd, decoder_container kind, decoder_header *header);
void decode_container_close(decode_container *c);

/* ---- frames.c: from decoded frames to the stream ----------------------------------------------------------------- */

/* Where the stream goes; false: nobody listens any more. */
typedef struct {
    bool (*write)(void *to, const void *bytes, size_t n);
    void *to;
} decode_sink;

/* Reads all of fd, whatever it holds, and writes a whole stream. Returns what it said: the outcome of the header, or
 * that of the end. */
decoder_outcome decode_stream(int fd, const decode_sink *sink);

#endif
