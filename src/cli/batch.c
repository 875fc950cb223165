/* batch.c - several files over worker processes.
 *
 * A process for each file, at most --jobs of them at a time: a file that breaks one worker leaves the others alone, and
 * nothing is shared. A worker's two streams go to temporary files, which are copied out in the order of the
 * command line as soon as their turn has come.
 */
#include "cli-private.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct {
    pid_t pid; /* 0: not running */
    gboolean done;
    int status;
    FILE *out;
    FILE *messages;
} worker;

typedef struct {
    const cli_batch *request;
    worker *workers; /* one a file */
    guint n_started;
    guint n_running;
    guint n_done;
    guint n_shown;
    guint n_good;
    gboolean printed; /* something is on standard output */
    cli_progress progress;
} batch;

/* ---- CSV of several files: one table, with the file in its first column ---------------------------------
 */

static char *csv_field(const char *text)
{
    if (strpbrk(text, ",\"\r\n") == NULL)
        return g_strdup(text);
    g_auto(GStrv) parts = g_strsplit(text, "\"", -1);
    g_autofree char *doubled = g_strjoinv("\"\"", parts);
    return g_strdup_printf("\"%s\"", doubled);
}

/* Puts file before each record of csv, whose first record is the header; a quoted field may hold line ends. */
static char *csv_with_file(const char *csv, const char *file)
{
    g_autofree char *field = csv_field(file);
    GString *out = g_string_new("file,");
    gboolean quoted = FALSE;

    for (const char *at = csv; *at != '\0'; at++) {
        g_string_append_c(out, *at);
        quoted = quoted != (*at == '"');
        if (*at == '\n' && !quoted && at[1] != '\0')
            g_string_append_printf(out, "%s,", field);
    }
    return g_string_free(out, FALSE);
}

static void skip_line(FILE *stream)
{
    int c;

    while ((c = getc(stream)) != '\n' && c != EOF)
        continue;
}

/* ---- inside a worker ------------------------------------------------------------------------------------------------
 */

/* The streams of the others are not this worker's; kept open, they would use up the descriptors that it needs. */
static void close_others(const batch *all, guint index)
{
    for (guint i = all->n_shown; i < index; i++) {
        const worker *other = &all->workers[i];
        if (other->out == NULL)
            continue;
        close(fileno(other->out));
        close(fileno(other->messages));
    }
}

static G_NORETURN void work(const batch *all, guint index)
{
    worker *own = &all->workers[index];
    g_autofree char *text = NULL;

    close_others(all, index);
    dup2(fileno(own->messages), STDERR_FILENO);
    int status = all->request->work(all->request->data, index, &text);
    if (text != NULL && all->request->format == CLI_CSV) {
        char *with_file = csv_with_file(text, all->request->files[index]);
        g_free(text);
        text = with_file;
    }
    if (text != NULL && (fputs(text, own->out) < 0 || fflush(own->out) != 0)) {
        cli_complain(all->request->files[index], "its report cannot be kept for a moment (is the disk of /tmp full?)");
        status = CLI_FAILED;
    }
    fflush(stderr);
    _exit(status); /* not exit: the parent's unwritten output must not be written twice */
}

/* ---- the parent
 * ------------------------------------------------------------------------------------------------------ */

static void finish_worker(batch *all, guint index, int status)
{
    worker *one = &all->workers[index];

    one->pid = 0;
    one->done = TRUE;
    one->status = status;
    all->n_done++;
    cli_progress_step((double)all->n_done / all->request->n_files, &all->progress);
}

static void close_streams(worker *one)
{
    g_clear_pointer(&one->out, fclose);
    g_clear_pointer(&one->messages, fclose);
}

/* FALSE: the system grants no more descriptors or processes for now. The results that wait for their turn hold some,
 * so this may be tried again when they are shown; where none waits, the file has failed. */
static gboolean start_worker(batch *all)
{
    guint index = all->n_started;
    worker *one = &all->workers[index];

    one->out = tmpfile();
    one->messages = one->out != NULL ? tmpfile() : NULL;
    one->pid = one->messages != NULL ? fork() : -1;
    if (one->pid == 0)
        work(all, index);
    if (one->pid > 0) {
        all->n_started++;
        all->n_running++;
        return TRUE;
    }
    int code = errno;
    one->pid = 0;
    close_streams(one);
    if (all->n_shown < all->n_started)
        return FALSE;
    cli_complain(all->request->files[index], g_strerror(code));
    all->n_started++;
    finish_worker(all, index, CLI_FAILED);
    return TRUE;
}

static void await_worker(batch *all)
{
    int status = 0;
    pid_t pid = waitpid(-1, &status, 0);

    for (guint i = 0; pid > 0 && i < all->n_started; i++) {
        if (all->workers[i].pid != pid)
            continue;
        all->n_running--;
        if (WIFSIGNALED(status)) {
            fprintf(all->workers[i].messages, "aperta: %s: the analysis broke off (%s)\n", all->request->files[i],
                    g_strsignal(WTERMSIG(status)));
            status = CLI_FAILED;
        } else {
            status = WEXITSTATUS(status);
        }
        finish_worker(all, i, status);
        return;
    }
}

static void copy_out(FILE *from, FILE *to)
{
    char block[1 << 14];
    gsize n;

    while ((n = fread(block, 1, sizeof block, from)) > 0)
        fwrite(block, 1, n, to);
}

/* Prints a result, and before it what goes between two of them. A file whose outputs could not all be written has
 * failed, but its result is printed all the same. */
static void show_result(batch *all, const worker *one)
{
    gboolean first = !all->printed;
    int c = getc(one->out);

    if (one->status == CLI_OK)
        all->n_good++;
    if (c == EOF)
        return;
    ungetc(c, one->out);
    all->printed = TRUE;
    if (all->request->format == CLI_JSON)
        cli_print(first ? "[\n" : ",\n");
    else if (all->request->format == CLI_TEXT && !first)
        cli_print("\n");
    else if (all->request->format == CLI_CSV && !first)
        skip_line(one->out);
    copy_out(one->out, stdout);
}

/* Prints the results whose turn has come. */
static void show_workers(batch *all)
{
    for (; all->n_shown < all->n_started && all->workers[all->n_shown].done; all->n_shown++) {
        worker *one = &all->workers[all->n_shown];
        if (one->messages != NULL) {
            rewind(one->messages);
            copy_out(one->messages, stderr);
        }
        if (one->out != NULL) {
            rewind(one->out);
            show_result(all, one);
        }
        close_streams(one);
    }
    fflush(stdout); /* who reads along need not wait for the others */
}

static int abandon(batch *all)
{
    for (guint i = 0; i < all->n_started; i++)
        if (all->workers[i].pid > 0)
            kill(all->workers[i].pid, SIGTERM);
    while (all->n_running > 0)
        await_worker(all);
    for (guint i = all->n_shown; i < all->n_started; i++)
        close_streams(&all->workers[i]);
    if (all->request->format == CLI_JSON && all->printed)
        cli_print("]\n");
    g_autofree char *message = g_strdup_printf("interrupted after %u of %u %s (start it again when you like)",
                                               all->n_shown, all->request->n_files, all->request->what);
    cli_complain(NULL, message);
    return CLI_SIGNAL_BASE + *cli_interrupt_flag();
}

/* One file needs no process of its own. */
static int run_single(const cli_batch *request)
{
    g_autofree char *text = NULL;
    int status = request->work(request->data, 0, &text);

    if (text != NULL)
        cli_print(text);
    return status;
}

int cli_batch_run(const cli_batch *request)
{
    g_autofree worker *workers = g_new0(worker, request->n_files);
    batch all = {.request = request, .workers = workers};

    if (request->n_files == 1)
        return run_single(request);
    fflush(stdout);
    cli_progress_start(&all.progress, request->what, request->quiet);
    while (all.n_shown < request->n_files && *cli_interrupt_flag() == 0) {
        while (all.n_started < request->n_files && all.n_running < request->jobs && start_worker(&all))
            continue;
        if (all.n_running > 0)
            await_worker(&all);
        show_workers(&all);
    }
    cli_progress_end(&all.progress);
    if (*cli_interrupt_flag() != 0)
        return abandon(&all);
    if (request->format == CLI_JSON)
        cli_print(all.printed ? "]\n" : "[]\n");
    return all.n_good == request->n_files ? CLI_OK : all.n_good > 0 ? CLI_PARTIAL : CLI_FAILED;
}
