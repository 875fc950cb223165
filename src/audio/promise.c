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
} family;

static const family families[] = {
    {"RIFF", "data", 4, 4, 12, 2, FALSE, FALSE},
    {"RF64", "data", 4, 4, 12, 2, FALSE, FALSE},
    {"FORM", "SSND", 4, 4, 12, 2, TRUE, FALSE},
    {"riff\x2e\x91\xcf\x11\xa5\xd6\x28\xdb\x04\xc1",
     "data"
     "\xf3\xac\xd3\x11\x8c\xd1",
     16, 8, 40, 8, FALSE, TRUE},
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

static audio_promise judge(guint64 promised, guint64 there, gint64 size_at)
{
    if (promised == 0 && there > 0)
        return (audio_promise){0.0, size_at, (guint32)MIN(there, G_MAXUINT32 - 1)};
    if (there == 0 || says_nothing(promised) || there + 1 >= promised) /* one byte may only fill up to an even size */
        return (audio_promise){1.0, -1, 0};
    return (audio_promise){(double)there / (double)promised, -1, 0};
}

audio_promise audio_promise_of(int fd)
{
    const family *f = family_of(fd);
    const audio_promise kept = {1.0, -1, 0};
    struct stat status;
    guint64 apart = 0;

    if (f == NULL || fstat(fd, &status) != 0)
        return kept;
    guint64 end = (guint64)status.st_size, at = (guint64)f->first;
    for (int i = 0; i < CHUNKS_MAX && at < end; i++) {
        guint8 head[24];
        int n = f->name_bytes + f->size_bytes;
        if (pread(fd, head, (gsize)n, (off_t)at) != n)
            break;
        guint64 size = number(head + f->name_bytes, f->size_bytes, f->big_endian), body = at + (guint64)n;
        if (f->size_has_head && !says_nothing(size))
            size = size > (guint64)n ? size - (guint64)n : 0;
        if (memcmp(head, f->samples, strlen(f->samples)) == 0)
            return judge(apart > 0 && size == G_MAXUINT32 ? apart : size, body < end ? end - body : 0,
                         (gint64)at + f->name_bytes);
        if (memcmp(head, "ds64", 4) == 0)
            apart = size_apart(fd, body);
        if (size > end)
            break;
        at = (body + size + (guint64)f->align - 1) / (guint64)f->align * (guint64)f->align;
    }
    return kept;
}
