/* input.c - opens a recording. Everything behind it may read it as often and in whatever order it likes, so a pipe is
 * first emptied into a file. */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* O_TMPFILE */
#endif
#include "input.h"

#include "base/user-file.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    BLOCK = 1 << 16,
    GLANCE_MS = 200, /* how often somebody may want to stop is looked at while nothing comes */
};

static int fail(const audio_request *request, aperta_error code, const char *what, const char *to_do, GError **error)
{
    g_set_error(error, APERTA_ERROR, code, "%s: %s (%s)", request->path, what, to_do);
    return -1;
}

/* ---- pipes ------------------------------------------------------------------------------------------------------- */

/* A file without a name in the folder for temporary files, for this user alone. */
static int unnamed_file(void)
{
    int fd = open(g_get_tmp_dir(), O_TMPFILE | O_RDWR | O_CLOEXEC, 0600);

    if (fd >= 0)
        return fd;
    g_autofree char *name = g_build_filename(g_get_tmp_dir(), "aperta-XXXXXX", NULL); /* not every disk can do that */
    fd = g_mkstemp_full(name, O_RDWR | O_CLOEXEC, 0600);
    if (fd >= 0)
        unlink(name);
    return fd;
}

static gboolean write_all(int fd, const char *bytes, gssize n)
{
    while (n > 0) {
        gssize done = write(fd, bytes, (gsize)n);
        if (done < 0 && errno != EINTR)
            return FALSE;
        bytes += MAX(done, 0);
        n -= MAX(done, 0);
    }
    return TRUE;
}

/* Bytes of the pipe as they come; 0: its end. A FIFO whose writer has not come yet shows neither. */
static gssize await_bytes(const audio_request *request, int pipe, char *block, GError **error)
{
    struct pollfd wait = {.fd = pipe, .events = POLLIN};

    for (;;) {
        if (request->cancel != NULL && *request->cancel)
            return fail(request, APERTA_ERROR_INTERRUPTED, "interrupted", "nothing was written", error);
        if (poll(&wait, 1, GLANCE_MS) <= 0)
            continue;
        gssize n = read(pipe, block, BLOCK);
        if (n >= 0)
            return n;
        if (errno != EINTR && errno != EAGAIN)
            return fail(request, APERTA_ERROR_UNREADABLE, g_strerror(errno), "write it to a file first", error);
    }
}

static gboolean empty_into(const audio_request *request, int pipe, int file, guint64 bytes_max, GError **error)
{
    g_autofree char *block = g_malloc(BLOCK);
    guint64 total = 0;
    gssize n;

    while ((n = await_bytes(request, pipe, block, error)) > 0) {
        total += (guint64)n;
        if (total > bytes_max) {
            g_autofree char *most = g_format_size_full(bytes_max, G_FORMAT_SIZE_IEC_UNITS);
            g_autofree char *what = g_strdup_printf("more than %s came through the pipe", most);
            fail(request, APERTA_ERROR_RANGE, what, "write it to a file first", error);
            return FALSE;
        }
        if (!write_all(file, block, n)) {
            g_autofree char *what = g_strdup_printf("what comes through the pipe cannot be kept in %s: %s",
                                                    g_get_tmp_dir(), g_strerror(errno));
            fail(request, APERTA_ERROR_UNREADABLE, what,
                 "name a folder with room in TMPDIR, or write it to a file first", error);
            return FALSE;
        }
    }
    if (n == 0 && total == 0)
        fail(request, APERTA_ERROR_FORMAT, "nothing came through the pipe",
             "did the program before it say what went wrong?", error);
    return n == 0 && total > 0;
}

static int keep_pipe(const audio_request *request, int pipe, guint64 bytes_max, GError **error)
{
    int file = unnamed_file();

    if (file < 0) {
        g_autofree char *what =
            g_strdup_printf("no temporary file can be made in %s: %s", g_get_tmp_dir(), g_strerror(errno));
        return fail(request, APERTA_ERROR_UNREADABLE, what, "name another folder in TMPDIR", error);
    }
    if (empty_into(request, pipe, file, bytes_max, error))
        return file;
    close(file);
    return -1;
}

/* ---- files ------------------------------------------------------------------------------------------------------- */

static int open_path(const audio_request *request, GError **error)
{
    int given = base_file_given(request->path);
    if (given >= 0)
        return given;
    /* not blocking: a FIFO opens at once, and its writer is waited for below */
    int fd = open(request->path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (fd >= 0)
        return fd;
    int code = errno;
    if (code == ENOENT)
        return fail(request, APERTA_ERROR_NOT_FOUND, "no such file", "check the name and the folder", error);
    return fail(request, APERTA_ERROR_UNREADABLE, g_strerror(code),
                code == EACCES ? "check who may read the file" : "check the name and the folder", error);
}

int audio_input_open(const audio_request *request, guint64 pipe_bytes_max, GError **error)
{
    int fd = open_path(request, error);
    struct stat status = {0};

    if (fd < 0)
        return -1;
    if (fstat(fd, &status) == 0 && S_ISREG(status.st_mode) && status.st_size > 0)
        return fd;
    int kept = -1;
    if (S_ISDIR(status.st_mode))
        fail(request, APERTA_ERROR_FORMAT, "this is a folder", "name the recordings in it", error);
    else if (S_ISREG(status.st_mode))
        fail(request, APERTA_ERROR_FORMAT, "the file is empty", "record or export it again", error);
    else if (isatty(fd))
        fail(request, APERTA_ERROR_FORMAT, "this is a terminal", "name a recording, or send one through a pipe", error);
    else
        kept = keep_pipe(request, fd, pipe_bytes_max, error);
    close(fd);
    return kept;
}
