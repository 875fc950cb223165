/* helper.h - a program that is started on an open file and whose output is read, and nothing of it remains. */
#ifndef AUDIO_HELPER_H
#define AUDIO_HELPER_H

#include <glib.h>
#include <sys/types.h>

typedef struct {
    const char *program; /* its path */
    double patience_s;   /* a program that writes nothing for so long hangs */
    const volatile int *cancel;
} audio_helper_options;

typedef struct {
    audio_helper_options options;
    pid_t pid; /* 0: none is running */
    int output;
    char *death; /* how it ended before it should, in words; NULL: it did not */
} audio_helper;

/* Starts the program with the file as its standard input, which it may read in any order; its standard error goes
 * nowhere. The calling process may have any number of threads. FALSE: errno tells why. */
gboolean audio_helper_start(audio_helper *helper, const audio_helper_options *options, int file);

/* Exactly n bytes of its output. FALSE: it ended or hangs, see death; or the caller wants to stop. */
gboolean audio_helper_read(audio_helper *helper, void *bytes, gsize n);

/* Ends it whatever it does, and takes its exit status away. */
void audio_helper_end(audio_helper *helper);

#endif
