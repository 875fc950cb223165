/* promise.c - walks the chunks of a file to the one that holds the samples.
 *
 * RIFF WAVE as Microsoft and IBM published it in 1991; RF64 as EBU Tech 3306 has it; AIFF by Apple, 1989; W64 with
 * GUIDs for names, from memory, checked against files of FFmpeg and libsndfile. */
#include "promise.h"

#include <glib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { CHUNKS_MAX = 1000 };

/* How a family of files writes its chunks. */
typedef struct {
    const char *magic, *samples; /* of the file, of the chunk that holds the samples */
    int name_bytes, size_bytes;  /* of a chunk's head */
    int first;                   /* where the first chunk is */
    int align;
    gboolean big_endian;
    gboolean size_has_head; /* the size of a chunk counts its own head */
    guint64 ahead;          /* bytes in the chunk of the samples that stand before them */
} family;

static const family families[] = {
    {"RIFF", "data", 4, 4, 12, 2, FALSE, FALSE, 0},
    {"RF64", "data", 4, 4, 12, 2, FALSE, FALSE, 0},
    {"FORM", "SSND", 4, 4, 12, 2, TRUE, FALSE, 8},
    {"riff\x2e\x91\xcf\x11\xa5\xd6\x28\xdb\x04\xc1",
     "data"
     "\xf3\xac\xd3\x11\x8c\xd1",
     16, 8, 40, 8, FALSE, TRUE, 0},
};

static guint64 number(const guint8 *bytes, int n, gboolean big_endian)
{
    guint64 value = 0;

    for (int i = 0; i < n; i++)
        value |= (guint64)bytes[big_endian ? n - 1 - i : i] << (8 * i);
    return value;
}

static const family *family_of(int fd)
{
    char magic[16] = "";

    if (pread(fd, magic, sizeof magic, 0) != sizeof magic)
        return NULL;
    for (gsize i = 0; i < G_N_ELEMENTS(families); i++)
        if (memcmp(magic, families[i].magic, strlen(families[i].magic)) == 0)
            return &families[i];
    return NULL;
}

/* RF64 keeps the size of its samples apart: bytes 8 to 15 of the chunk ds64. */
static guint64 size_apart(int fd, guint64 body)
{
    guint8 sizes[16];

    return pread(fd, sizes, sizeof sizes, (off_t)body) == sizeof sizes ? number(sizes + 8, 8, FALSE) : 0;
}

/* What stands for "not known" where a stream was written: all ones (FFmpeg), all ones but the sign (its W64), 7FFFF000
 * (sox, from memory). */
static gboolean says_nothing(guint64 size)
{
    return size == G_MAXUINT32 || size == G_MAXUINT64 || size == G_MAXINT64 || size == 0x7FFFF000u;
}

typedef struct {
    guint64 at, body, size; /* where its head is, where its body; of the body, in bytes */
    char name[16];
} chunk;

/* FALSE: there is none. */
static gboolean read_chunk(int fd, const family *f, guint64 at, chunk *c)
{
    guint8 head[24];
    gssize n = f->name_bytes + f->size_bytes;

    if (pread(fd, head, (gsize)n, (off_t)at) != n)
        return FALSE;
    *c = (chunk){.at = at, .body = at + (guint64)n, .size = number(head + f->name_bytes, f->size_bytes, f->big_endian)};
    memcpy(c->name, head, (gsize)f->name_bytes);
    if (f->size_has_head && !says_nothing(c->size))
        c->size = c->size > (guint64)n ? c->size - (guint64)n : 0;
    return TRUE;
}

static guint64 behind(const family *f, const chunk *c)
{
    return (c->body + c->size + (guint64)f->align - 1) / (guint64)f->align * (guint64)f->align;
}

/* Whether nothing but whole chunks with names of letters stands from here to the end, as no sound does. */
static gboolean only_chunks(int fd, const family *f, guint64 at, guint64 end)
{
    chunk c;

    for (int i = 0; i < CHUNKS_MAX && at < end; i++) {
        if (!read_chunk(fd, f, at, &c) || c.size > end - c.body)
            return FALSE;
        for (int k = 0; k < 4; k++)
            if (!g_ascii_isprint(c.name[k]))
                return FALSE;
        at = behind(f, &c);
    }
    return at >= end;
}

/* Its size was never filled in: what is behind its head are the samples. */
static audio_promise unfinished(const family *f, const chunk *c, guint64 end)
{
    guint64 size = end - (f->size_has_head ? c->at : c->body);

    if (f->size_bytes == 4)
        size = MIN(size, G_MAXUINT32 - 1);
    return (audio_promise){0.0, (gint64)c->at + f->name_bytes, size, f->size_bytes, f->big_endian};
}

static audio_promise judge(int fd, const family *f, const chunk *samples, guint64 end)
{
    const audio_promise kept = {.share = 1.0, .size_at = -1};
    guint64 from = samples->body + f->ahead, there = from < end ? end - from : 0;
    guint64 promised = samples->size > f->ahead ? samples->size - f->ahead : 0;

    if (promised == 0 && there > 0)
        return only_chunks(fd, f, samples->body + samples->size, end) ? kept : unfinished(f, samples, end);
    if (there == 0 || says_nothing(samples->size) || there + 1 >= promised) /* one byte may fill up to an even size */
        return kept;
    return (audio_promise){.share = (double)there / (double)promised, .size_at = -1};
}

audio_promise audio_promise_of(int fd)
{
    const family *f = family_of(fd);
    const audio_promise kept = {.share = 1.0, .size_at = -1};
    struct stat status;
    guint64 apart = 0;
    chunk c;

    if (f == NULL || fstat(fd, &status) != 0)
        return kept;
    guint64 end = (guint64)status.st_size, at = (guint64)f->first;
    for (int i = 0; i < CHUNKS_MAX && at < end && read_chunk(fd, f, at, &c); i++) {
        if (memcmp(c.name, f->samples, strlen(f->samples)) == 0) {
            c.size = apart > 0 && c.size == G_MAXUINT32 ? apart : c.size;
            return judge(fd, f, &c, end);
        }
        if (memcmp(c.name, "ds64", 4) == 0)
            apart = size_apart(fd, c.body);
        if (c.size > end)
            break;
        at = behind(f, &c);
    }
    return kept;
}
