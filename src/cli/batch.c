/* batch.c - several files over worker processes.
 *
 * At most --jobs workers live at a time, and each reads one file after the other, so that what it has learnt (how words
 * are said) serves the next one too. A file that breaks a worker leaves the others alone: another worker takes its
 * place. A worker's two streams go to temporary files, from which the results are copied out in the order of the
 * command line as soon as their turn has come.
 */
#include "cli-private.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

/* Where bytes of a result stand in a worker's stream. */
typedef struct {
    off_t start, end;
} stretch;

typedef struct {
    pid_t pid; /* 0: none is alive */
    int link;  /* the index of a file goes out on it, the status comes back; -1: none */
    FILE *out, *messages;
    gboolean busy;
    guint index;     /* of the file it has now, or had last */
    guint n_waiting; /* results in its streams whose turn has not come */
} worker;

/* What a worker says when it has read a file. */
typedef struct {
    int status;
    gboolean has_report; /* be it an empty one */
    gsize row_length;    /* bytes of its row of the overview, which stands behind the report */
} worker_answer;

typedef struct {
    worker *by; /* NULL: no worker could be had */
    stretch out, row, messages;
    gboolean done;
    worker_answer answer;
} result;

typedef struct {
    const cli_batch *request;
    worker *workers;
    guint n_workers;
    result *results; /* one a file */
    guint n_given;   /* files that a worker has or had */
    guint n_done;
    guint n_shown;
    guint n_good;
    gboolean printed; /* something is on standard output */
    cli_progress progress;
} batch;

void cli_reading_clear(cli_reading *reading)
{
    g_clear_pointer(&reading->text, g_free);
    g_clear_pointer(&reading->row, g_free);
}

/* ---- inside a worker --------------------------------------------------------------------------------------------- */

static worker_answer read_one(const batch *all, const worker *own, guint index)
{
    g_auto(cli_reading) reading = {0};
    worker_answer answer = {.status = all->request->work(all->request->data, index, &reading),
                            .has_report = reading.text != NULL,
                            .row_length = reading.row != NULL ? strlen(reading.row) : 0};
    gboolean kept = reading.text == NULL || fputs(reading.text, own->out) >= 0;

    kept = kept && (reading.row == NULL || fputs(reading.row, own->out) >= 0);
    if (fflush(own->out) != 0 || !kept) {
        cli_complain(all->request->files[index], "its report cannot be kept for a moment (is the disk of /tmp full?)");
        answer = (worker_answer){.status = CLI_FAILED};
    }
    fflush(stderr);
    return answer;
}

/* Until the parent closes its end. The links of the others are not this worker's: kept open, they would never close. */
static G_NORETURN void work(const batch *all, const worker *own, int link)
{
    guint index;

    for (guint i = 0; i < all->n_workers; i++)
        if (all->workers[i].link >= 0)
            close(all->workers[i].link);
    prctl(PR_SET_PDEATHSIG, SIGKILL); /* with a parent that is killed nobody waits for the results */
    dup2(fileno(own->messages), STDERR_FILENO);
    while (*cli_interrupt_flag() == 0 && recv(link, &index, sizeof index, MSG_WAITALL) == sizeof index) {
        worker_answer answer = read_one(all, own, index);
        if (send(link, &answer, sizeof answer, MSG_NOSIGNAL) != sizeof answer)
            break;
    }
    _exit(0); /* not exit: the parent's unwritten output must not be written twice */
}

/* ---- workers, seen from the parent ------------------------------------------------------------------------------- */

static off_t end_of(FILE *stream)
{
    return lseek(fileno(stream), 0, SEEK_CUR); /* one offset for the worker and its parent */
}

/* What comes next is written there, over whatever a broken worker has left. */
static gboolean continue_at(FILE *stream, off_t place)
{
    return ftruncate(fileno(stream), place) == 0 && lseek(fileno(stream), place, SEEK_SET) == place;
}

/* FALSE: the system grants no more descriptors or processes for now. */
static gboolean start_worker(batch *all, worker *one)
{
    int ends[2];

    if (one->out == NULL)
        one->out = tmpfile();
    if (one->out != NULL && one->messages == NULL)
        one->messages = tmpfile();
    if (one->messages == NULL || socketpair(AF_UNIX, SOCK_STREAM, 0, ends) != 0)
        return FALSE;
    one->pid = fork();
    if (one->pid == 0) {
        close(ends[0]);
        work(all, one, ends[1]);
    }
    int code = errno;
    close(ends[1]);
    one->link = ends[0];
    if (one->pid > 0)
        return TRUE;
    close(ends[0]);
    one->link = -1;
    one->pid = 0;
    errno = code;
    return FALSE;
}

/* Returns how the process ended, as waitpid tells it. */
static int end_worker(worker *one)
{
    int status = 0;

    if (one->link >= 0)
        close(one->link);
    while (one->pid > 0 && waitpid(one->pid, &status, 0) < 0 && errno == EINTR)
        continue;
    one->link = -1;
    one->pid = 0;
    one->busy = FALSE;
    return status;
}

static void finish(batch *all, guint index, worker_answer answer)
{
    result *one = &all->results[index];

    one->done = TRUE;
    one->answer = answer;
    if (one->by != NULL) {
        one->by->busy = FALSE;
        one->row.end = end_of(one->by->out);
        one->row.start = one->out.end = one->row.end - (off_t)answer.row_length;
        one->messages.end = end_of(one->by->messages);
    }
    all->n_done++;
    cli_progress_step((double)all->n_done / all->request->n_files, &all->progress);
}

/* Hands the next file to an idle worker, which is started first if there is none. */
static gboolean give_file(batch *all, worker *one)
{
    result *next = &all->results[all->n_given];

    if (one->pid == 0 && !start_worker(all, one))
        return FALSE;
    if (one->n_waiting == 0 && (!continue_at(one->out, 0) || !continue_at(one->messages, 0)))
        return FALSE;
    next->by = one;
    next->out.start = end_of(one->out);
    next->messages.start = end_of(one->messages);
    one->index = all->n_given++;
    one->busy = TRUE;
    one->n_waiting++;
    /* where the worker has just died, its link tells it below */
    send(one->link, &one->index, sizeof one->index, MSG_NOSIGNAL);
    return TRUE;
}

static guint n_busy(const batch *all)
{
    guint n = 0;

    for (guint i = 0; i < all->n_workers; i++)
        n += all->workers[i].busy;
    return n;
}

/* Where not one worker can be had, a file has failed. */
static void give_files(batch *all)
{
    for (guint i = 0; i < all->n_workers && all->n_given < all->request->n_files; i++)
        if (!all->workers[i].busy && !give_file(all, &all->workers[i]))
            break;
    if (n_busy(all) > 0 || all->n_given == all->request->n_files)
        return;
    cli_complain(all->request->files[all->n_given], g_strerror(errno));
    finish(all, all->n_given++, (worker_answer){.status = CLI_FAILED});
}

/* A worker has broken off over its file: what it had written of the report is dropped. */
static void bury(batch *all, worker *one)
{
    result *last = &all->results[one->index];
    int status = end_worker(one);

    g_autofree char *file = aperta_shown(all->request->files[one->index]);
    dprintf(fileno(one->messages), "aperta: %s: the analysis broke off (%s)\n", file,
            WIFSIGNALED(status) ? g_strsignal(WTERMSIG(status)) : "its process ended");
    continue_at(one->out, last->out.start);
    finish(all, one->index, (worker_answer){.status = CLI_FAILED});
}

static void hear(batch *all, worker *one)
{
    worker_answer answer;

    if (recv(one->link, &answer, sizeof answer, MSG_WAITALL) == sizeof answer)
        finish(all, one->index, answer);
    else
        bury(all, one);
}

/* Waits until a worker has finished its file, or a signal comes. */
static void await_workers(batch *all)
{
    g_autofree struct pollfd *links = g_new0(struct pollfd, all->n_workers);

    for (guint i = 0; i < all->n_workers; i++)
        links[i] = (struct pollfd){.fd = all->workers[i].busy ? all->workers[i].link : -1, .events = POLLIN};
    if (poll(links, all->n_workers, -1) <= 0)
        return;
    for (guint i = 0; i < all->n_workers; i++)
        if (links[i].revents != 0)
            hear(all, &all->workers[i]);
}

static void end_workers(batch *all)
{
    for (guint i = 0; i < all->n_workers; i++) {
        worker *one = &all->workers[i];
        end_worker(one);
        g_clear_pointer(&one->out, fclose);
        g_clear_pointer(&one->messages, fclose);
    }
}

/* ---- results ----------------------------------------------------------------------------------------------------- */

static void copy_out(FILE *from, stretch of, FILE *to)
{
    char block[1 << 14];

    while (of.start < of.end) {
        gssize n = pread(fileno(from), block, (gsize)MIN((off_t)sizeof block, of.end - of.start), of.start);
        if (n <= 0)
            break;
        fwrite(block, 1, (gsize)n, to);
        of.start += n;
    }
}

static void keep_row(const batch *all, const result *one)
{
    gsize n = one->answer.row_length;
    g_autofree char *row = g_malloc(n + 1);

    if (all->request->overview != NULL && n > 0 && pread(fileno(one->by->out), row, n, one->row.start) == (gssize)n)
        g_string_append_len(all->request->overview, row, (gssize)n);
}

/* Prints a result, and before it what goes between two of them. A file whose outputs could not all be written has
 * failed, but its result is printed all the same. */
static void show_result(batch *all, const result *one)
{
    gboolean first = !all->printed;

    if (!one->answer.has_report)
        return;
    all->printed = TRUE;
    if (all->request->format == CLI_JSON)
        cli_print(first ? "[\n" : ",\n");
    else if (all->request->format == CLI_TEXT && !first)
        cli_print("\n");
    else if (all->request->format == CLI_CSV && first)
        cli_print(all->request->csv_header);
    copy_out(one->by->out, one->out, stdout);
}

/* Prints the results whose turn has come. */
static void show_results(batch *all)
{
    for (; all->n_shown < all->n_given && all->results[all->n_shown].done; all->n_shown++) {
        const result *one = &all->results[all->n_shown];
        all->n_good += one->answer.status == CLI_OK;
        if (one->by == NULL)
            continue;
        copy_out(one->by->messages, one->messages, stderr);
        show_result(all, one);
        keep_row(all, one);
        one->by->n_waiting--;
    }
    fflush(stdout); /* who reads along need not wait for the others */
}

static int abandon(batch *all)
{
    for (guint i = 0; i < all->n_workers; i++)
        if (all->workers[i].pid > 0)
            kill(all->workers[i].pid, SIGTERM);
    end_workers(all);
    if (all->request->format == CLI_JSON && all->printed)
        cli_print("]\n");
    g_autofree char *message = g_strdup_printf("interrupted after %u of %u %s (start it again when you like)",
                                               all->n_done, all->request->n_files, all->request->what);
    cli_complain(NULL, message);
    return CLI_SIGNAL_BASE + *cli_interrupt_flag();
}

/* One file needs no process of its own. */
static int run_single(const cli_batch *request)
{
    g_auto(cli_reading) reading = {0};
    int status = request->work(request->data, 0, &reading);

    if (reading.text != NULL)
        cli_print(reading.text);
    return *cli_interrupt_flag() != 0 && status == CLI_OK ? CLI_SIGNAL_BASE + *cli_interrupt_flag() : status;
}

int cli_batch_run(const cli_batch *request)
{
    guint n_workers = CLAMP((guint)request->jobs, 1, request->n_files);
    g_autofree worker *workers = g_new0(worker, n_workers);
    g_autofree result *results = g_new0(result, request->n_files);
    batch all = {.request = request, .workers = workers, .n_workers = n_workers, .results = results};

    if (request->n_files == 1)
        return run_single(request);
    for (guint i = 0; i < n_workers; i++)
        workers[i].link = -1;
    fflush(stdout);
    cli_progress_start(&all.progress, request->what, request->quiet);
    while (all.n_shown < request->n_files && *cli_interrupt_flag() == 0) {
        give_files(&all);
        if (n_busy(&all) > 0)
            await_workers(&all);
        show_results(&all);
    }
    cli_progress_end(&all.progress);
    if (*cli_interrupt_flag() != 0)
        return abandon(&all);
    end_workers(&all);
    if (request->format == CLI_JSON)
        cli_print(all.printed ? "]\n" : "[]\n");
    return all.n_good == request->n_files ? CLI_OK : all.n_good > 0 ? CLI_PARTIAL : CLI_FAILED;
}
