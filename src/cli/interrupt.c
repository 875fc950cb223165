/* interrupt.c - SIGINT, SIGTERM and SIGHUP ask the run to stop; what is half done is thrown away by whoever does it. */
#include "cli-private.h"

#include <signal.h>

/* The one writable global of the program: a signal handler can reach nothing else. */
static volatile int caught_signal;

static void on_signal(int number)
{
    caught_signal = number;
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

const volatile int *cli_interrupt_flag(void)
{
    return &caught_signal;
}
