/* input.h - from a path to an open, ordinary file. */
#ifndef AUDIO_INPUT_H
#define AUDIO_INPUT_H

#include "source.h"

/* What comes through a pipe (a FIFO, /dev/stdin, the /dev/fd/N of a shell's "<(...)") is first kept in a temporary file
 * that has no name and only this user may read. -1: NOT_FOUND, UNREADABLE, FORMAT (a folder, empty), RANGE (more than
 * pipe_bytes_max came), INTERRUPTED. */
int audio_input_open(const audio_request *request, guint64 pipe_bytes_max, GError **error);

#endif
