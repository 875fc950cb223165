/* user-file.c - reads a whole file of the user's: a file on disk is measured before, pipes and devices are counted. */
#include "base/user-file.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define MARK_OF_ORDER "\xef\xbb\xbf" /* which some editors write before a text in UTF-8 */

enum { BLOCK = 1 << 16 };

typedef struct {
    const char *path;
    const base_file_kind *kind;
    GError **error;
} file_reading;

G_GNUC_PRINTF(3, 4)
static gboolean fail(const file_reading *reading, aperta_error code, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    g_autofree char *what = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_set_error(reading->error, APERTA_ERROR, code, "%s: %s", reading->path, what);
    return FALSE;
}

static gboolean fail_of_system(const file_reading *reading, int code)
{
    if (code == ENOENT)
        return fail(reading, APERTA_ERROR_NOT_FOUND, "no such file (check the name and the folder)");
    if (code == EINTR)
        return fail(reading, APERTA_ERROR_INTERRUPTED, "interrupted (nothing was written)");
    return fail(reading, APERTA_ERROR_UNREADABLE, "%s (%s)", g_strerror(code),
                code == EACCES ? "check who may read the file" : "check the name and the folder");
}

static gboolean fail_too_large(const file_reading *reading)
{
    return fail(reading, APERTA_ERROR_FORMAT, "larger than %u MB, which no %s is (%s)", reading->kind->mb_max,
                reading->kind->noun, reading->kind->what_to_do);
}

/* ---- opening ----------------------------------------------------------------------------------------------------- */

static int descriptor_of(const char *path)
{
    char *end = NULL;

    if (strcmp(path, "/dev/stdin") == 0)
        return STDIN_FILENO;
    if (!g_str_has_prefix(path, "/dev/fd/") || !g_ascii_isdigit(path[8]))
        return -1;
    guint64 number = g_ascii_strtoull(path + 8, &end, 10);
    return *end == '\0' && number <= G_MAXINT ? (int)number : -1;
}

int base_file_given(const char *path)
{
    int given = descriptor_of(path);
    struct stat status;

    if (given < 0 || fstat(given, &status) != 0 || S_ISREG(status.st_mode) || S_ISDIR(status.st_mode))
        return -1;
    return fcntl(given, F_DUPFD_CLOEXEC, 3);
}

static gboolean look_at(const file_reading *reading, struct stat *status)
{
    if (stat(reading->path, status) != 0)
        return fail_of_system(reading, errno);
    if (S_ISDIR(status->st_mode))
        return fail(reading, APERTA_ERROR_FORMAT, "this is a folder (name the %s in it)", reading->kind->noun);
    if (S_ISREG(status->st_mode) && status->st_size > (goffset)reading->kind->mb_max << 20)
        return fail_too_large(reading);
    return TRUE;
}

static int open_file(const file_reading *reading)
{
    int file = base_file_given(reading->path);
    if (file < 0)
        file = open(reading->path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    if (file < 0)
        fail_of_system(reading, errno);
    return file;
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

/* Whoever catches a signal while a pipe is waited for wants to stop: the wait is not taken up again. A pipe that is
 * given may have been made not to wait. */
static gssize read_some(int file, guint8 *block)
{
    struct pollfd wait = {.fd = file, .events = POLLIN};
    gssize n = read(file, block, BLOCK);

    while (n < 0 && errno == EAGAIN && poll(&wait, 1, -1) > 0)
        n = read(file, block, BLOCK);
    return n;
}

static gboolean read_all(const file_reading *reading, int file, GByteArray *bytes)
{
    g_autofree guint8 *block = g_malloc(BLOCK);
    gssize n;

    while ((n = read_some(file, block)) > 0) {
        if (bytes->len + (gsize)n > (gsize)reading->kind->mb_max << 20)
            return fail_too_large(reading);
        g_byte_array_append(bytes, block, (guint)n);
    }
    return n == 0 || fail_of_system(reading, errno);
}

static GBytes *read_open(const file_reading *reading, int file, gboolean from_pipe)
{
    g_autoptr(GByteArray) bytes = g_byte_array_new();

    if (!read_all(reading, file, bytes))
        return NULL;
    if (bytes->len == 0 && from_pipe) {
        fail(reading, APERTA_ERROR_FORMAT,
             "nothing came through the pipe, which can be read only once (save it to a file and name that)");
        return NULL;
    }
    g_byte_array_append(bytes, (const guint8 *)"", 1);
    return g_byte_array_free_to_bytes(g_steal_pointer(&bytes));
}

static GBytes *read_new(const file_reading *reading, gboolean from_pipe)
{
    int file = open_file(reading);

    if (file < 0)
        return NULL;
    GBytes *bytes = read_open(reading, file, from_pipe);
    close(file);
    return bytes;
}

/* ---- pipes that are asked for again ------------------------------------------------------------------------------ */

static GMutex kept_lock;
static GHashTable *kept_bytes; /* "device:inode" → GBytes; only under the lock */

static GBytes *read_kept(const file_reading *reading, const struct stat *status)
{
    g_autofree char *key = g_strdup_printf("%ju:%ju", (uintmax_t)status->st_dev, (uintmax_t)status->st_ino);
    g_autoptr(GMutexLocker) locked = g_mutex_locker_new(&kept_lock);

    (void)locked;
    if (kept_bytes == NULL)
        kept_bytes = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_bytes_unref);
    GBytes *bytes = g_hash_table_lookup(kept_bytes, key);
    if (bytes != NULL)
        return g_bytes_ref(bytes);
    bytes = read_new(reading, TRUE);
    if (bytes != NULL)
        g_hash_table_insert(kept_bytes, g_steal_pointer(&key), g_bytes_ref(bytes));
    return bytes;
}

/* ---- for everybody ----------------------------------------------------------------------------------------------- */

char *base_file_read(const char *path, const base_file_kind *kind, gsize *n, GError **error)
{
    const file_reading reading = {path, kind, error};
    struct stat status;

    if (!look_at(&reading, &status))
        return NULL;
    gboolean from_pipe = S_ISFIFO(status.st_mode);
    GBytes *bytes = from_pipe && kind->kept ? read_kept(&reading, &status) : read_new(&reading, from_pipe);
    if (bytes == NULL)
        return NULL;
    char *all = g_bytes_unref_to_data(bytes, n);
    *n -= 1; /* the '\0' */
    return all;
}

/* good: where the text stops being one. */
static void fail_text(const char *path, const char *text, const char *good, GError **error)
{
    const char *start = text;
    guint line = 1;

    for (const char *c = text; c < good; c++) {
        if (*c != '\n')
            continue;
        line++;
        start = c + 1;
    }
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT,
                "%s:%u:%ld: expected text in UTF-8, found other bytes (save it as UTF-8)", path, line,
                1 + g_utf8_strlen(start, good - start));
}

char *base_text_read(const char *path, const base_file_kind *kind, GError **error)
{
    gsize n;
    const char *good;
    g_autofree char *text = base_file_read(path, kind, &n, error);

    if (text == NULL)
        return NULL;
    if (!g_utf8_validate(text, (gssize)n, &good)) {
        fail_text(path, text, good, error);
        return NULL;
    }
    return g_str_has_prefix(text, MARK_OF_ORDER) ? g_strdup(text + strlen(MARK_OF_ORDER)) : g_steal_pointer(&text);
}
