/* helper.c - starts and ends a helper program.
 *
 * posix_spawn and not fork: in a process with threads, what runs between fork and exec may not even allocate.
 * Everything that is opened here closes itself in other programs that other threads start meanwhile. We only ever read
 * from the pipe, so no SIGPIPE can reach the caller. */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* pipe2 */
#endif
#include "helper.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

enum { GLANCE_MS = 200 /* how often somebody may want to stop is looked at while nothing comes */ };

/* ---- start ------------------------------------------------------------------------------------------------------- */

/* Signals as a new program expects them, whatever the caller made of them: a pipe that nobody reads ends it. */
static int set_signals(posix_spawnattr_t *attributes)
{
    sigset_t all, none;

    sigfillset(&all);
    sigemptyset(&none);
    posix_spawnattr_setsigdefault(attributes, &all);
    posix_spawnattr_setsigmask(attributes, &none);
    return posix_spawnattr_setflags(attributes, POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSIGMASK);
}

static int spawn(pid_t *pid, const char *program, int input, int output)
{
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    char *const arguments[] = {(char *)program, NULL};

    int code = posix_spawn_file_actions_init(&actions);
    if (code != 0)
        return code;
    if ((code = posix_spawnattr_init(&attributes)) == 0) {
        code = set_signals(&attributes);
        code = code != 0 ? code : posix_spawn_file_actions_adddup2(&actions, input, STDIN_FILENO);
        code = code != 0 ? code : posix_spawn_file_actions_adddup2(&actions, output, STDOUT_FILENO);
        code = code != 0 ? code : posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
        code = code != 0 ? code : posix_spawn(pid, program, &actions, &attributes, arguments, environ);
        posix_spawnattr_destroy(&attributes);
    }
    posix_spawn_file_actions_destroy(&actions);
    return code;
}

/* The same descriptor above 0, 1 and 2, which a caller may have closed and the new program gets anew. Takes fd. */
static int raise_descriptor(int fd)
{
    if (fd < 0 || fd > STDERR_FILENO)
        return fd;
    int raised = fcntl(fd, F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
    close(fd);
    return raised;
}

gboolean audio_helper_start(audio_helper *helper, const audio_helper_options *options, int file)
{
    int ends[2], input = fcntl(file, F_DUPFD_CLOEXEC, STDERR_FILENO + 1);

    *helper = (audio_helper){.options = *options, .output = -1};
    if (input < 0)
        return FALSE;
    if (pipe2(ends, O_CLOEXEC) != 0) {
        close(input);
        return FALSE;
    }
    ends[0] = raise_descriptor(ends[0]);
    ends[1] = raise_descriptor(ends[1]);
    int code = ends[0] < 0 || ends[1] < 0 ? EMFILE : spawn(&helper->pid, options->program, input, ends[1]);
    close(input);
    if (ends[1] >= 0)
        close(ends[1]);
    if (code == 0) {
        helper->output = ends[0];
        return TRUE;
    }
    helper->pid = 0;
    if (ends[0] >= 0)
        close(ends[0]);
    errno = code;
    return FALSE;
}

/* ---- end --------------------------------------------------------------------------------------------------------- */

static void await_end(pid_t pid)
{
    while (waitpid(pid, NULL, 0) < 0 && errno == EINTR)
        continue;
}

/* Its output has ended; it may have closed it and live on, which is waited for only as long as one dies. */
static void learn_death(audio_helper *helper)
{
    if (helper->pid > 0 && helper->death == NULL) {
        int status = 0;
        pid_t gone = 0;
        for (int i = 0; i < 100 && (gone = waitpid(helper->pid, &status, WNOHANG)) == 0; i++)
            g_usleep(10000);
        if (gone != 0) /* also if somebody else took its status away: the number may belong to another by now */
            helper->pid = 0;
        helper->death =
            gone > 0 && WIFSIGNALED(status) ? g_strdup(g_strsignal(WTERMSIG(status))) : g_strdup("it ended early");
    }
}

void audio_helper_end(audio_helper *helper)
{
    if (helper->output >= 0)
        close(helper->output);
    helper->output = -1;
    if (helper->pid > 0 && waitpid(helper->pid, NULL, WNOHANG) == 0) { /* else it is gone, and its number free */
        kill(helper->pid, SIGKILL);
        await_end(helper->pid);
    }
    helper->pid = 0;
    g_clear_pointer(&helper->death, g_free);
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

/* Waits for output. FALSE: none will come. */
static gboolean await_output(audio_helper *helper)
{
    struct pollfd wait = {.fd = helper->output, .events = POLLIN};
    gint64 until = g_get_monotonic_time() + (gint64)(helper->options.patience_s * G_USEC_PER_SEC);

    for (;;) {
        if (helper->options.cancel != NULL && *helper->options.cancel)
            return FALSE;
        if (poll(&wait, 1, GLANCE_MS) > 0)
            return TRUE;
        if (g_get_monotonic_time() < until)
            continue;
        helper->death = g_strdup_printf("nothing came from it for %.0f s", helper->options.patience_s);
        return FALSE;
    }
}

gboolean audio_helper_read(audio_helper *helper, void *bytes, gsize n)
{
    char *at = bytes;

    while (n > 0) {
        if (!await_output(helper))
            return FALSE;
        gssize got = read(helper->output, at, n);
        if (got < 0 && (errno == EINTR || errno == EAGAIN))
            continue;
        if (got <= 0) {
            learn_death(helper);
            return FALSE;
        }
        at += got;
        n -= (gsize)got;
    }
    return TRUE;
}
