/* wav.h - writes the demo take. */
#ifndef DEMO_WAV_H
#define DEMO_WAV_H

#include <glib.h>

/* Mono, 16 bit, with comment as the file's ICMT text. The file appears whole or not at all. */
gboolean wav_write(const char *path, const float *samples, gsize n, int sample_rate_hz, const char *comment,
                   GError **error);

#endif
