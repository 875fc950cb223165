/* interrupt.c - SIGINT, SIGTERM and SIGHUP ask the run to stop; what is half done is thrown away by whoever does it. */
#include "cli-private.h"

#include <signal.h>
#include <string.h>
#include <unistd.h>

/* Writable globals: a signal handler can reach nothing else. */
static volatile int caught_signal;
static char *volatile last_words; /* NULL: the run is asked to stop */
static const char *volatile empty_folder;

static void on_signal(int number)
{
    const char *words = last_words;

    caught_signal = number;
    if (words == NULL)
        return;
    gssize written = write(STDERR_FILENO, words, strlen(words));
    (void)written; /* there is nobody left to tell */
    if (empty_folder != NULL)
        rmdir(empty_folder); /* fails where something was written */
    _exit(CLI_SIGNAL_BASE + number);
}

/* A signal that whoever started us chose to ignore (a job in the background, nohup) stays ignored. */
static void catch_one(int number)
{
    struct sigaction action = {.sa_handler = on_signal, .sa_flags = (int)SA_RESETHAND};
    struct sigaction before;

    sigemptyset(&action.sa_mask);
    if (sigaction(number, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
        sigaction(number, &action, NULL);
}

void cli_catch_interrupts(void)
{
    catch_one(SIGINT);
    catch_one(SIGTERM);
    catch_one(SIGHUP);
}

void cli_interrupt_at_once(const char *file)
{
    char *before = last_words;
    g_autofree char *name = file != NULL ? aperta_shown(file) : NULL;

    last_words = name != NULL ? g_strdup_printf("aperta: %s: " CLI_INTERRUPTED "\n", name) : NULL;
    g_free(before);
}

void cli_interrupt_remove(const char *folder)
{
    empty_folder = folder;
}

const volatile int *cli_interrupt_flag(void)
{
    return &caught_signal;
}
