/* decode-tuning.h - numbers chosen for aperta-decode. */
#ifndef DECODE_TUNING_H
#define DECODE_TUNING_H

/* Address space: with FFmpeg's libraries 200 MB, of which 36 MB are in use while an hour of AAC is read. The rest is
 * room for large indexes. */
#define DECODE_MEMORY_BYTES_MAX (1u << 30)
/* Time of the processor: an hour of AAC takes 4 s; so a day of it fits on a machine many times as slow. */
#define DECODE_CPU_S_MAX 1800

/* A frame that stands this much later than the sound before it ends leaves a gap, which is silence; less is the
 * rounding of the container's clock (Matroska: milliseconds) and the jitter of browsers. Chosen. */
#define DECODE_GAP_S 0.06
/* A longer gap is an error of the container's clock, and is passed over. Chosen. */
#define DECODE_GAP_S_MAX 600.0
/* So much silence is put into gaps in all: a few bytes a packet would otherwise fill any disk. Longer ones are passed
 * over from there on, and called damage. Chosen. */
#define DECODE_GAPS_S_MAX 3600.0
/* A first frame later than this likewise: then times count from it. Chosen. */
#define DECODE_START_S_MAX 86400.0

/* Boxes or elements that are looked at from outside. */
#define DECODE_OUTLINE_MAX 100000
/* So many errors of the demuxer in a row end the reading. */
#define DECODE_ERRORS_MAX 50

#endif
