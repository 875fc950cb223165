/* usage.c - what a command costs: time of one core, time by the clock, memory.
 *
 *     usage TIMES COMMAND ARGUMENT...
 *
 * Runs the command TIMES times, its standard output thrown away, and prints one line: median processor seconds, median
 * seconds by the clock, highest memory in MB (10^6 bytes). Figures are the system's own (wait4(2), ru_maxrss). */
#include <fcntl.h>
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#define TIMES_MAX 1000

typedef struct {
    double processor_s, clock_s, memory_mb;
} cost;

static double seconds(struct timeval t)
{
    return (double)t.tv_sec + 1e-6 * (double)t.tv_usec;
}

static void become(char **command)
{
    int nowhere = open("/dev/null", O_WRONLY);

    if (nowhere < 0 || dup2(nowhere, STDOUT_FILENO) < 0)
        _exit(127);
    execvp(command[0], command);
    perror(command[0]);
    _exit(127);
}

static gboolean run_once(char **command, cost *c)
{
    gint64 start_us = g_get_monotonic_time();
    struct rusage used;
    int status;
    pid_t child = fork();

    if (child == 0)
        become(command);
    if (child < 0 || wait4(child, &status, 0, &used) != child)
        return FALSE;
    c->clock_s = 1e-6 * (double)(g_get_monotonic_time() - start_us);
    c->processor_s = seconds(used.ru_utime) + seconds(used.ru_stime);
    c->memory_mb = 1024e-6 * (double)used.ru_maxrss; /* Linux counts in KiB */
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static double median(double *x, size_t n)
{
    qsort(x, n, sizeof *x, by_size);
    return (x[(n - 1) / 2] + x[n / 2]) / 2.0;
}

int main(int argc, char **argv)
{
    static double processor_s[TIMES_MAX], clock_s[TIMES_MAX];
    double memory_mb = 0.0;
    guint64 times;

    if (argc < 3 || !g_ascii_string_to_unsigned(argv[1], 10, 1, TIMES_MAX, &times, NULL)) {
        fprintf(stderr, "usage: usage TIMES COMMAND ARGUMENT... (at most %d times)\n", TIMES_MAX);
        return 2;
    }
    for (guint64 i = 0; i < times; i++) {
        cost c;
        if (!run_once(argv + 2, &c)) {
            fprintf(stderr, "usage: %s failed\n", argv[2]);
            return 1;
        }
        processor_s[i] = c.processor_s;
        clock_s[i] = c.clock_s;
        memory_mb = MAX(memory_mb, c.memory_mb);
    }
    printf("%.4f %.4f %.1f\n", median(processor_s, times), median(clock_s, times), memory_mb);
    return 0;
}
