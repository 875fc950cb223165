/* mpeg.c - walks the frames of MPEG audio, layer III (ISO/IEC 11172-3, section 2.4.1.3, and 13818-3; the half rates of
 * "MPEG 2.5" and the place of the table of contents from memory, checked against files of FFmpeg). */
#include "mpeg.h"

#include <string.h>
#include <unistd.h>

enum { ID3_BYTES = 10, LEAD_BIT_RATE = 9 << 4, SEARCH_MAX = 1 << 16 };

typedef struct {
    int bytes; /* of the frame, head and all */
    int side;  /* of its side information */
} shape;

/* FALSE: no head of a frame. */
static gboolean shape_of(const guint8 *head, shape *s)
{
    static const int rates_hz[] = {44100, 48000, 32000};
    static const int kbits[2][15] = {{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160},
                                     {0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320}};
    int version = head[1] >> 3 & 3, rate = head[2] >> 2 & 3, bits = head[2] >> 4;
    gboolean first = version == 3, mono = head[3] >> 6 == 3;

    if (head[0] != 0xff || (head[1] & 0xe6) != 0xe2 || version == 1 || rate == 3 || bits == 0 || bits == 15)
        return FALSE;
    int rate_hz = rates_hz[rate] >> (first ? 0 : version == 2 ? 1 : 2);
    s->bytes = (first ? 144000 : 72000) * kbits[first][bits] / rate_hz + (head[2] >> 1 & 1);
    s->side = first ? (mono ? 17 : 32) : (mono ? 9 : 17);
    return TRUE;
}

static gboolean alike(const guint8 *a, const guint8 *b)
{
    return (a[1] & 0xfe) == (b[1] & 0xfe) && (a[2] & 0x0c) == (b[2] & 0x0c);
}

static gint64 behind_tag(int fd)
{
    guint8 t[ID3_BYTES];

    if (pread(fd, t, sizeof t, 0) != sizeof t || memcmp(t, "ID3", 3) != 0)
        return 0;
    return ID3_BYTES + ((t[6] & 127) << 21 | (t[7] & 127) << 14 | (t[8] & 127) << 7 | (t[9] & 127));
}

static guint32 count_frames(int fd, gint64 at, const guint8 *first)
{
    guint8 head[4];
    guint32 n = 0;
    int lost = 0;
    shape s;

    while (lost < SEARCH_MAX && pread(fd, head, sizeof head, (off_t)at) == sizeof head) {
        gboolean good = alike(head, first) && shape_of(head, &s);
        n += good ? 1 : 0;
        lost = good ? 0 : lost + 1;
        at += good ? s.bytes : 1;
    }
    return n;
}

audio_mpeg_lead audio_mpeg_lead_of(int fd)
{
    audio_mpeg_lead lead = {.from = behind_tag(fd)};
    guint8 frame[64] = {0}, next[4];
    shape s;

    if (pread(fd, frame, sizeof frame, (off_t)lead.from) != sizeof frame || !shape_of(frame, &s) ||
        pread(fd, next, sizeof next, (off_t)lead.from + s.bytes) != sizeof next || !alike(next, frame))
        return lead;
    const guint8 *table = frame + 4 + s.side;
    if (memcmp(table, "Xing", 4) == 0 || memcmp(table, "Info", 4) == 0 || memcmp(frame + 36, "VBRI", 4) == 0)
        return lead;
    guint32 n = GUINT32_TO_BE(count_frames(fd, lead.from, frame));
    memcpy(lead.bytes, frame, 4);
    lead.bytes[1] |= 1; /* without a check sum */
    lead.bytes[2] = (guint8)((frame[2] & 0x0c) | LEAD_BIT_RATE);
    shape_of(lead.bytes, &s);
    memcpy(lead.bytes + 4 + s.side, "Xing\0\0\0\1", 8);
    memcpy(lead.bytes + 12 + s.side, &n, sizeof n);
    lead.n = s.bytes;
    return lead;
}
