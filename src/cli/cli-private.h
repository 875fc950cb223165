/* cli-private.h - what the files of the command line share. Of the library they use the public headers only. */
#ifndef CLI_PRIVATE_H
#define CLI_PRIVATE_H

#include <aperta/base.h>

/* ---- exit statuses ------------------------------------------------------------------------------------------- */

enum {
    CLI_OK = 0,
    CLI_FAILED = 1,
    CLI_USAGE = 2,
    CLI_PARTIAL = 3,      /* several files, and some of them failed */
    CLI_SIGNAL_BASE = 128 /* + the number of the signal that ended the run */
};

/* ---- commands ------------------------------------------------------------------------------------------------ */

/* argv[0] is the command's own name. Each returns an exit status. */
int cli_take(int argc, char **argv);
int cli_tables(int argc, char **argv);
int cli_rules(int argc, char **argv);

/* ---- options (options.c) ------------------------------------------------------------------------------------- */

typedef struct {
    const char *command;     /* "take" */
    const char *arguments;   /* "FILE..." */
    const char *summary;     /* one or two sentences above the options */
    const char *description; /* below the options; may be NULL */
    const GOptionEntry *entries;
} cli_syntax;

/* Reads the options; --help and wrong options end the command. TRUE: go on. FALSE: *status is the exit status. */
gboolean cli_parse_options(const cli_syntax *syntax, int argc, char **argv, int *status);

/* "aperta: WHAT (see aperta COMMAND --help)" on standard error; returns CLI_USAGE. */
int cli_usage_error(const char *command, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* A whole text as a finite number; FALSE when it is none. Never follows the locale. */
gboolean cli_parse_number(const char *text, double *value);
/* "83.5" or "1:23.5" (minutes and seconds), >= 0. */
gboolean cli_parse_time(const char *text, double *seconds);

/* Does a --table or --style value name a file of one's own rather than reference data? */
gboolean cli_is_path(const char *name, const char *ending);
/* Complains about a table (".tsv") or rules (".rules") that cannot be had. Returns CLI_FAILED for a file, CLI_USAGE for
 * an unknown name. */
int cli_reference_error(const char *name, const GError *error, const char *ending);

/* ---- messages and standard output (messages.c) --------------------------------------------------------------- */

/* Makes sure that descriptors 0, 1 and 2 are taken, so that no file of ours is opened as standard output. */
void cli_guard_descriptors(void);

/* "aperta: ABOUT: MESSAGE" on standard error; about may be NULL, and is not repeated when the message begins with it.
 */
void cli_complain(const char *about, const char *message);
/* "aperta: ..." on standard error, unless quiet. */
void cli_remark(gboolean quiet, const char *format, ...) G_GNUC_PRINTF(2, 3);

void cli_print(const char *text);
void cli_printf(const char *format, ...) G_GNUC_PRINTF(1, 2);
/* Closes standard output; complains when not all of it could be written. Returns status, or CLI_FAILED then. */
int cli_end_output(int status);

/* Colours only on a terminal that has them and where NO_COLOR is not set. */
gboolean cli_wants_colour(void);
/* Width of the terminal on standard output, held to 60..80; 80 elsewhere. */
int cli_columns(void);

/* One line on a terminal that is written over again and again. */
typedef struct {
    gboolean active;
    char *label;
    gint64 last_us;
} cli_progress;

void cli_progress_start(cli_progress *progress, const char *label, gboolean quiet);
/* data is the cli_progress; fraction 0..1. */
void cli_progress_step(double fraction, void *data);
void cli_progress_end(cli_progress *progress);

/* ---- interruption (interrupt.c) ------------------------------------------------------------------------------ */

/* From now on the first SIGINT, SIGTERM or SIGHUP raises the flag, and a second one ends the program at once. */
void cli_catch_interrupts(void);
/* 0, or the number of the signal. */
const volatile int *cli_interrupt_flag(void);

#endif
