/* score-files.c - see score-files.h. */
#include "score-files.h"

#include <string.h>
#include <zip.h>

void midi_put_length(GByteArray *track, guint32 value)
{
    for (int shift = 21; shift >= 0; shift -= 7)
        if (value >> shift != 0 || shift == 0) {
            guint8 byte = (guint8)((value >> shift & 0x7F) | (shift > 0 ? 0x80 : 0));
            g_byte_array_append(track, &byte, 1);
        }
}

void midi_put(GByteArray *track, guint32 delta, const void *bytes, guint n)
{
    midi_put_length(track, delta);
    g_byte_array_append(track, bytes, n);
}

void midi_put_meta(GByteArray *track, guint32 delta, guint8 type, const void *bytes, guint n)
{
    const guint8 head[] = {0xFF, type};

    midi_put(track, delta, head, 2);
    midi_put_length(track, n);
    g_byte_array_append(track, bytes, n);
}

void midi_put_text(GByteArray *track, guint32 delta, guint8 type, const char *text)
{
    midi_put_meta(track, delta, type, text, (guint)strlen(text));
}

void midi_put_note(GByteArray *track, guint32 delta, int channel, int key, guint32 ticks)
{
    const guint8 on[] = {(guint8)(0x90 | channel), (guint8)key, 80};
    const guint8 off[] = {(guint8)(0x80 | channel), (guint8)key, 0};

    midi_put(track, delta, on, 3);
    midi_put(track, ticks, off, 3);
}

static void put_number(GByteArray *bytes, guint32 value, int n)
{
    for (int shift = 8 * (n - 1); shift >= 0; shift -= 8) {
        guint8 byte = (guint8)(value >> shift);
        g_byte_array_append(bytes, &byte, 1);
    }
}

GBytes *midi_file_of(int format, guint16 division, GByteArray *const *tracks, guint n_tracks)
{
    GByteArray *file = g_byte_array_new();

    g_byte_array_append(file, (const guint8 *)"MThd", 4);
    put_number(file, 6, 4);
    put_number(file, (guint32)format, 2);
    put_number(file, n_tracks, 2);
    put_number(file, division, 2);
    for (guint i = 0; i < n_tracks; i++) {
        midi_put_meta(tracks[i], 0, 0x2F, "", 0);
        g_byte_array_append(file, (const guint8 *)"MTrk", 4);
        put_number(file, tracks[i]->len, 4);
        g_byte_array_append(file, tracks[i]->data, tracks[i]->len);
    }
    return g_byte_array_free_to_bytes(file);
}

static void add_member(zip_t *archive, const char *name, GBytes *content)
{
    gsize n;
    const void *bytes = g_bytes_get_data(content, &n);
    zip_source_t *source = zip_source_buffer(archive, bytes, n, 0);

    if (source == NULL || zip_file_add(archive, name, source, ZIP_FL_ENC_UTF_8) < 0)
        g_error("cannot add %s to an archive: %s", name, zip_strerror(archive));
}

GBytes *zip_of(const char *name, GBytes *content, ...)
{
    zip_error_t fault;
    zip_error_init(&fault);
    zip_source_t *target = zip_source_buffer_create(NULL, 0, 0, &fault);
    zip_t *archive = zip_open_from_source(target, ZIP_CREATE | ZIP_TRUNCATE, &fault);
    va_list more;

    if (archive == NULL)
        g_error("cannot make an archive: %s", zip_error_strerror(&fault));
    va_start(more, content);
    for (; name != NULL; name = va_arg(more, const char *)) {
        if (content == NULL)
            content = va_arg(more, GBytes *);
        add_member(archive, name, content);
        content = NULL;
    }
    va_end(more);
    zip_source_keep(target);
    if (zip_close(archive) != 0)
        g_error("cannot write an archive: %s", zip_strerror(archive));

    GByteArray *bytes = g_byte_array_new();
    guint8 block[4096];
    zip_int64_t n;
    zip_source_open(target);
    while ((n = zip_source_read(target, block, sizeof block)) > 0)
        g_byte_array_append(bytes, block, (guint)n);
    zip_source_close(target);
    zip_source_free(target);
    zip_error_fini(&fault);
    return g_byte_array_free_to_bytes(bytes);
}

GBytes *mxl_of(const char *musicxml)
{
    static const char container[] = "<?xml version='1.0'?><container><rootfiles><rootfile full-path='score.xml' "
                                    "media-type='application/vnd.recordare.musicxml+xml'/></rootfiles></container>";
    g_autoptr(GBytes) index = g_bytes_new_static(container, sizeof container - 1);
    g_autoptr(GBytes) score = g_bytes_new_static(musicxml, strlen(musicxml));

    return zip_of("META-INF/container.xml", index, "score.xml", score, NULL);
}
