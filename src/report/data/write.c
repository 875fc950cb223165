/* write.c - output that is there whole or not at all.
 *
 * A plain file is written beside its place and renamed over it (g_file_set_contents_full: temporary file, fsync,
 * rename), so what was there stays good until the new one is complete. A device or a pipe has no place to rename into
 * and is written to directly, as is everything under /dev: /dev/stdout may be a file that the shell has open, and is
 * written to where the shell stands in it. */
#include <aperta/report.h>

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *what_to_do(int error)
{
    switch (error) {
    case ENOSPC:
    case EDQUOT:
        return "free some space, or write to another disk";
    case ENOENT:
    case ENOTDIR:
        return "make the folder first, or name another";
    case EISDIR:
        return "name a file in it";
    case EACCES:
    case EPERM:
    case EROFS:
        return "name a file in a folder of your own";
    case ENAMETOOLONG:
        return "choose a shorter name";
    default:
        return "nothing was changed; try another place";
    }
}

static gboolean fail(GError **error, const char *path, int reason)
{
    g_autofree char *shown = g_filename_display_name(path);

    g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE, "%s: cannot be written: %s (%s)", shown,
                g_strerror(reason), what_to_do(reason));
    return FALSE;
}

static gboolean write_directly(const char *path, const void *bytes, gsize n, GError **error)
{
    int file = g_str_equal(path, "/dev/stdout") ? dup(STDOUT_FILENO) : g_open(path, O_WRONLY | O_APPEND | O_CLOEXEC, 0);
    int reason = 0;

    if (file < 0)
        return fail(error, path, errno);
    for (const char *at = bytes; n > 0 && reason == 0;) {
        gssize written = write(file, at, n);
        if (written >= 0) {
            at += written;
            n -= (gsize)written;
        } else if (errno != EINTR) {
            reason = errno;
        }
    }
    if (close(file) < 0 && reason == 0 && errno != EINTR)
        reason = errno;
    return reason == 0 || fail(error, path, reason);
}

/* errno values behind the errors that GLib reports for files. */
static int reason_of(const GError *cause)
{
    static const struct {
        int code;
        int reason;
    } reasons[] = {
        {G_FILE_ERROR_NOSPC, ENOSPC},   {G_FILE_ERROR_NOENT, ENOENT},
        {G_FILE_ERROR_NOTDIR, ENOTDIR}, {G_FILE_ERROR_ISDIR, EISDIR},
        {G_FILE_ERROR_ACCES, EACCES},   {G_FILE_ERROR_PERM, EPERM},
        {G_FILE_ERROR_ROFS, EROFS},     {G_FILE_ERROR_NAMETOOLONG, ENAMETOOLONG},
    };

    for (gsize i = 0; i < G_N_ELEMENTS(reasons); i++) {
        if (g_error_matches(cause, G_FILE_ERROR, reasons[i].code))
            return reasons[i].reason;
    }
    return EIO;
}

gboolean aperta_report_write(const char *path, const void *bytes, gsize n, GError **error)
{
    GStatBuf info;
    g_autoptr(GError) cause = NULL;

    gboolean exists = g_stat(path, &info) == 0;
    if (exists && S_ISDIR(info.st_mode))
        return fail(error, path, EISDIR);
    if (exists && (!S_ISREG(info.st_mode) || g_str_has_prefix(path, "/dev/")))
        return write_directly(path, bytes, n, error);
    if (exists && g_access(path, W_OK) < 0)
        return fail(error, path, errno);
    /* a link stays a link: the file it points to is replaced */
    char *target = exists ? realpath(path, NULL) : NULL;
    gboolean written = g_file_set_contents_full(target != NULL ? target : path, n > 0 ? bytes : "", (gssize)n,
                                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                                exists ? (int)(info.st_mode & 0777) : 0666, &cause);
    free(target);
    return written || fail(error, path, reason_of(cause));
}
