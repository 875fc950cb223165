/* outline.c - walks the outermost boxes of a file, to see whether it broke off: the demuxers do not tell.
 *
 * Boxes as ISO/IEC 14496-12, section 4.2, has them; EBML as RFC 8794 and Matroska as RFC 9559 have it. */
#include "decode-private.h"
#include "decode-tuning.h"

#include <unistd.h>

static uint64_t big_endian(const uint8_t *bytes, int n)
{
    uint64_t value = 0;

    for (int i = 0; i < n; i++)
        value = value << 8 | bytes[i];
    return value;
}

static void walk_boxes(int fd, uint64_t end, decode_outline *outline)
{
    uint64_t at = 0;

    for (int i = 0; i < DECODE_OUTLINE_MAX && at < end; i++) {
        uint8_t head[16] = {0};
        ssize_t got = pread(fd, head, sizeof head, (off_t)at);
        if (got < 8) {
            outline->cut = true;
            return;
        }
        uint64_t size = big_endian(head, 4), least = 8;
        if (size == 1 && got == 16) {
            size = big_endian(head + 8, 8);
            least = 16;
        }
        outline->has_index |= memcmp(head + 4, "moov", 4) == 0;
        if (size == 0) /* to the end of the file */
            return;
        if (size < least || size > end - at) {
            outline->cut = true;
            return;
        }
        at += size;
    }
}

/* A number whose first byte tells its length: so many zero bits, then a one. 0: none. unknown: all its bits are set. */
static int ebml_number(const uint8_t *bytes, int n, bool keep_marker, uint64_t *value, bool *unknown)
{
    int length = 1;

    while (length <= 8 && !(bytes[0] & (0x80 >> (length - 1))))
        length++;
    if (length > 8 || length > n)
        return 0;
    *value = big_endian(bytes, length);
    uint64_t bits = (1ull << (7 * length)) - 1;
    *unknown = (*value & bits) == bits;
    if (!keep_marker)
        *value &= bits;
    return length;
}

static void walk_elements(int fd, uint64_t end, decode_outline *outline)
{
    uint64_t at = 0;

    for (int i = 0; i < DECODE_OUTLINE_MAX && at < end; i++) {
        uint8_t head[12] = {0};
        uint64_t id = 0, size = 0;
        bool unknown = false;
        int got = (int)pread(fd, head, sizeof head, (off_t)at);
        int n = got > 0 ? ebml_number(head, got, true, &id, &unknown) : 0;
        int m = n > 0 ? ebml_number(head + n, got - n, false, &size, &unknown) : 0;
        if (m == 0 || unknown) /* a stream of a browser does not tell */
            return;
        at += (uint64_t)(n + m);
        if (size > end - at) {
            outline->cut = true;
            return;
        }
        at += size;
    }
}

decode_outline decode_outline_of(int fd)
{
    decode_outline outline = {.kind = DECODER_NO_CONTAINER};
    uint8_t head[DECODER_SNIFF_BYTES] = {0};
    off_t end = lseek(fd, 0, SEEK_END);

    if (end <= 0 || pread(fd, head, sizeof head, 0) != sizeof head)
        return outline;
    outline.kind = decoder_container_of(head);
    if (outline.kind == DECODER_MP4)
        walk_boxes(fd, (uint64_t)end, &outline);
    else if (outline.kind == DECODER_MATROSKA)
        walk_elements(fd, (uint64_t)end, &outline);
    return outline;
}
