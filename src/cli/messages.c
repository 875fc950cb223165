/* messages.c - what the program says, and to whom: results to standard output, everything else to standard error.
 *
 * Text is UTF-8; what others wrote goes out without its commands to the screen (aperta_shown). The locale is never set,
 * so that numbers look the same everywhere.
 */
#include "cli-private.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum {
    COLUMNS_LEAST = 60,
    COLUMNS_MOST = 80,             /* longer lines are hard to read */
    PROGRESS_INTERVAL_US = 100000, /* ten times a second is lively enough */
};

void cli_guard_descriptors(void)
{
    /* opened the wrong way round, so that using them is an error as it would have been */
    static const int modes[] = {O_WRONLY, O_RDONLY, O_RDONLY};

    for (int fd = 0; fd < (int)G_N_ELEMENTS(modes); fd++)
        if (fcntl(fd, F_GETFD) < 0 && open("/dev/null", modes[fd]) < 0)
            return;
}

/* ---- messages ---------------------------------------------------------------------------------------------------- */

static char **typed; /* the words of the command line; NULL-terminated */

void cli_remember_words(char **words)
{
    typed = words;
}

static void show_word(GString *message, const char *word)
{
    g_autofree char *shown = aperta_shown(word);

    if (*word != '\0' && strcmp(word, shown) != 0)
        g_string_replace(message, word, shown, 0);
}

/* Messages quote what was typed (names of files, values of options), which may hold anything, also a line feed; each
 * line of a message is one of ours all the same. */
static char *message_shown(const char *message)
{
    g_autoptr(GString) shown = g_string_new(message);

    for (char **word = typed; word != NULL && *word != NULL; word++) {
        const char *value = strchr(*word, '=');
        show_word(shown, *word);
        if (value != NULL)
            show_word(shown, value + 1);
    }
    return aperta_shown_lines(shown->str);
}

void cli_complain(const char *about, const char *message)
{
    g_autofree char *name = about != NULL ? aperta_shown(about) : NULL, *shown = message_shown(message);
    g_auto(GStrv) lines = g_strsplit(shown, "\n", -1);

    for (char **line = lines; *line != NULL; line++) {
        if (**line == '\0')
            continue;
        if (name == NULL || g_str_has_prefix(*line, name))
            fprintf(stderr, "aperta: %s\n", *line);
        else
            fprintf(stderr, "aperta: %s: %s\n", name, *line);
    }
}

void cli_remark(gboolean quiet, const char *format, ...)
{
    va_list values;

    if (quiet)
        return;
    va_start(values, format);
    g_autofree char *text = g_strdup_vprintf(format, values);
    va_end(values);
    cli_complain(NULL, text);
}

int cli_usage_error(const char *command, const char *format, ...)
{
    va_list values;

    va_start(values, format);
    g_autofree char *text = g_strdup_vprintf(format, values);
    va_end(values);
    g_autofree char *message = command != NULL ? g_strdup_printf("%s (see aperta %s --help)", text, command)
                                               : g_strdup_printf("%s (see aperta --help)", text);
    cli_complain(NULL, message);
    return CLI_USAGE;
}

gboolean cli_refuse(const char *command, const char *format, ...)
{
    va_list values;

    va_start(values, format);
    g_autofree char *text = g_strdup_vprintf(format, values);
    va_end(values);
    cli_usage_error(command, "%s", text);
    return FALSE;
}

int cli_reference_error(const char *name, const GError *error, const char *ending)
{
    gboolean file = cli_is_path(name, ending);

    if (!file && g_file_test(name, G_FILE_TEST_EXISTS))
        cli_usage_error(NULL, "%s: the name of a file of your own ends in %s, or is written ./%s", name, ending, name);
    else
        cli_complain(file ? name : NULL, error->message);
    return file || !g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND) ? CLI_FAILED : CLI_USAGE;
}

void cli_print(const char *text)
{
    fputs(text, stdout); /* a failure stays in the stream until cli_end_output */
}

void cli_printf(const char *format, ...)
{
    va_list values;

    va_start(values, format);
    g_autofree char *text = g_strdup_vprintf(format, values);
    va_end(values);
    cli_show(text);
}

void cli_show(const char *text)
{
    g_autofree char *shown = aperta_shown_lines(text);

    cli_print(shown);
}

int cli_end_output(int status)
{
    gboolean failed = ferror(stdout) != 0;

    errno = 0;
    if (fclose(stdout) != 0)
        failed = TRUE;
    if (!failed)
        return status;
    g_autofree char *message = errno != 0 ? g_strdup_printf("cannot be written: %s", g_strerror(errno))
                                          : g_strdup("cannot be written (is the disk full?)");
    cli_complain("standard output", message);
    return CLI_FAILED;
}

gboolean cli_wants_colour(void)
{
    const char *no_color = g_getenv("NO_COLOR"); /* convention: set and not empty means no */
    const char *term = g_getenv("TERM");

    return isatty(STDOUT_FILENO) && (no_color == NULL || *no_color == '\0') && g_strcmp0(term, "dumb") != 0;
}

int cli_all_columns(void)
{
    struct winsize size;

    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0)
        return COLUMNS_MOST;
    return MAX((int)size.ws_col, COLUMNS_LEAST);
}

int cli_columns(void)
{
    return MIN(cli_all_columns(), COLUMNS_MOST);
}

void cli_progress_start(cli_progress *progress, const char *label, gboolean quiet)
{
    progress->active = !quiet && isatty(STDERR_FILENO);
    g_autofree char *name = g_path_get_basename(label);
    progress->label = aperta_shown(name);
    progress->last_us = 0;
    cli_progress_step(0.0, progress);
}

void cli_progress_step(double fraction, void *data)
{
    cli_progress *progress = data;
    gint64 now_us = g_get_monotonic_time();

    if (!progress->active || now_us - progress->last_us < PROGRESS_INTERVAL_US)
        return;
    progress->last_us = now_us;
    fprintf(stderr, "\r\033[K%s: %d %%", progress->label, (int)(100.0 * CLAMP(fraction, 0.0, 1.0)));
    fflush(stderr);
}

void cli_progress_end(cli_progress *progress)
{
    if (progress->active)
        fputs("\r\033[K", stderr);
    progress->active = FALSE;
    g_clear_pointer(&progress->label, g_free);
}
