/* decoder-stream.h - what the program aperta-decode and the library say to each other.
 *
 * The program's standard input is the open file, which it reads in any order. Its standard output is a decoder_header
 * and then, if the header is good, sound in blocks: the number of frames as an int32_t, and so many frames of
 * interleaved floats, 1.0 is full scale. A block of 0 frames is the last one; decoder_end follows. Both run on one
 * machine and come from one build, so numbers are as the machine has them. */
#ifndef AUDIO_DECODER_STREAM_H
#define AUDIO_DECODER_STREAM_H

#include <stdint.h>
#include <string.h>

#define DECODER_PROGRAM "aperta-decode"
#define DECODER_MAGIC   "aptpcm1" /* with its NUL, 8 bytes */

enum { DECODER_BLOCK_FRAMES_MAX = 1 << 16, DECODER_CHANNELS_MAX = 64 };

typedef enum {
    DECODER_WHOLE,      /* all is well */
    DECODER_CUT,        /* the file breaks off; of an end only */
    DECODER_NOT_KNOWN,  /* none of the containers that are read */
    DECODER_NO_INDEX,   /* an MP4 or QuickTime file without its index, which is written last */
    DECODER_UNREADABLE, /* the container is damaged, or encrypted */
    DECODER_NO_SOUND,   /* it has no stream of sound */
    DECODER_CODING,     /* the first stream of sound is coded in a way that is not read */
    DECODER_NOTHING,    /* not one frame could be decoded */
    DECODER_FAILED,     /* the program itself: memory, confinement */
} decoder_outcome;

typedef struct {
    char magic[8];
    int32_t outcome; /* decoder_outcome; if not WHOLE, only coding may be set beside it, and nothing follows */
    int32_t rate_hz, n_channels;
    int32_t lossy;     /* the coding leaves sound out */
    double start_s;    /* when the first frame sounds, in the time of the container */
    double length_s;   /* when the sound ends, to a few coded frames; < 0: the container does not tell */
    double promised_s; /* when all of the container ends, video too; < 0: it does not tell */
    char coding[16];   /* the coding's short name, NUL-terminated */
} decoder_header;

typedef struct {
    int32_t outcome;   /* WHOLE or CUT */
    int32_t n_damaged; /* packets that could not be decoded */
    int64_t bytes;     /* of all packets */
} decoder_end;

typedef enum { DECODER_NO_CONTAINER, DECODER_MP4, DECODER_MATROSKA } decoder_container;

enum { DECODER_SNIFF_BYTES = 12 };

/* By the first bytes: ISO 14496-12 and the QuickTime File Format begin with a box (length, four letters), Matroska and
 * WebM with the EBML header (RFC 8794, section 11.2.1). */
static inline decoder_container decoder_container_of(const uint8_t head[DECODER_SNIFF_BYTES])
{
    static const char boxes[][5] = {"ftyp", "moov", "mdat", "moof", "styp", "free", "skip", "wide", "pnot"};

    if (memcmp(head, "\x1a\x45\xdf\xa3", 4) == 0)
        return DECODER_MATROSKA;
    for (unsigned i = 0; i < sizeof boxes / sizeof *boxes; i++)
        if (memcmp(head + 4, boxes[i], 4) == 0)
            return DECODER_MP4;
    return DECODER_NO_CONTAINER;
}

#endif
