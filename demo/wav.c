/* wav.c - RIFF WAVE, linear PCM (Microsoft & IBM 1991, "Multimedia Programming Interface and Data Specifications 1.0").
 */
#include "wav.h"

#include <aperta/base.h>
#include <math.h>
#include <string.h>

static void put_tag(GByteArray *bytes, const char *tag)
{
    g_byte_array_append(bytes, (const guint8 *)tag, 4);
}

static void put_32(GByteArray *bytes, guint32 value)
{
    guint32 little = GUINT32_TO_LE(value);

    g_byte_array_append(bytes, (const guint8 *)&little, sizeof little);
}

static void put_16(GByteArray *bytes, guint16 value)
{
    guint16 little = GUINT16_TO_LE(value);

    g_byte_array_append(bytes, (const guint8 *)&little, sizeof little);
}

static void put_comment(GByteArray *bytes, const char *comment)
{
    guint32 size = (guint32)strlen(comment) + 1, pad = size % 2;

    put_tag(bytes, "LIST");
    put_32(bytes, 4 + 8 + size + pad);
    put_tag(bytes, "INFO");
    put_tag(bytes, "ICMT");
    put_32(bytes, size);
    g_byte_array_append(bytes, (const guint8 *)comment, size);
    if (pad)
        g_byte_array_append(bytes, (const guint8 *)"", 1);
}

gboolean write_whole(const char *path, const char *bytes, gsize n, GError **error)
{
    if (g_file_test(path, G_FILE_TEST_EXISTS) && !g_file_test(path, G_FILE_TEST_IS_REGULAR)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE, "%s is not a regular file", path);
        return FALSE;
    }
    return g_file_set_contents(path, bytes, (gssize)n, error);
}

gboolean wav_write(const char *path, const float *samples, gsize n, int sample_rate_hz, const char *comment,
                   GError **error)
{
    g_autoptr(GByteArray) bytes = g_byte_array_sized_new((guint)(2 * n + 256));

    put_tag(bytes, "RIFF");
    put_32(bytes, 0); /* filled in below */
    put_tag(bytes, "WAVE");
    put_tag(bytes, "fmt ");
    put_32(bytes, 16);
    put_16(bytes, 1); /* linear PCM */
    put_16(bytes, 1); /* channel */
    put_32(bytes, (guint32)sample_rate_hz);
    put_32(bytes, (guint32)sample_rate_hz * 2);
    put_16(bytes, 2); /* bytes a frame */
    put_16(bytes, 16);
    put_comment(bytes, comment);
    put_tag(bytes, "data");
    put_32(bytes, (guint32)(2 * n));
    for (gsize i = 0; i < n; i++)
        put_16(bytes, (guint16)(gint16)lrintf(CLAMP(samples[i], -1.0f, 1.0f) * 32767.0f));
    guint32 size = GUINT32_TO_LE(bytes->len - 8);
    memcpy(bytes->data + 4, &size, sizeof size);
    return write_whole(path, (const char *)bytes->data, bytes->len, error);
}
