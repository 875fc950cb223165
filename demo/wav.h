/* wav.h - writes the demo take to a file. */
#ifndef DEMO_WAV_H
#define DEMO_WAV_H

#include <glib.h>

/* Writes a file as a whole or not at all. What is there already is replaced only if it is a regular file: the new file
 * is renamed over it, which would do away with a device. */
gboolean write_whole(const char *path, const char *bytes, gsize n, GError **error);

/* Mono, 16 bit, with comment as the file's ICMT text. */
gboolean wav_write(const char *path, const float *samples, gsize n, int sample_rate_hz, const char *comment,
                   GError **error);

#endif
