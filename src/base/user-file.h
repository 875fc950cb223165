/* user-file.h - the one way to read a whole file of the user's: never more of it than such a file can hold. */
#ifndef BASE_USER_FILE_H
#define BASE_USER_FILE_H

#include <aperta/base.h>

typedef struct {
    const char *noun;       /* what messages call it: "words file" */
    guint mb_max;           /* 2^20 bytes; one that is larger is refused before it fills the memory */
    const char *what_to_do; /* when it is larger: "export one song" */
    gboolean kept; /* it is asked for more than once: what comes through a pipe is kept as long as the program runs */
} base_file_kind;

/* The bytes of path, with a '\0' behind them that is not counted; a pipe or a device is read to its end. The caller
 * frees. Errors: NOT_FOUND, UNREADABLE, FORMAT (a folder, too large, nothing came through the pipe), INTERRUPTED (a
 * signal came while a pipe kept silent). */
char *base_file_read(const char *path, const base_file_kind *kind, gsize *n, GError **error);

/* Likewise a text in UTF-8, the mark of its order of bytes left out; FORMAT also where it is none, with
 * line and column. */
char *base_text_read(const char *path, const base_file_kind *kind, GError **error);

/* A descriptor of the caller's own for what is open already and no file on disk, such as a pipe that is named
 * /dev/stdin or /dev/fd/63; -1: path means nothing of that kind. Opening such a pipe anew could wait for a writer, or
 * be forbidden where it is another user's. */
int base_file_given(const char *path);

#endif
