/* cli-private.h - what the files of the command line share. Of the library they use the public headers only. */
#ifndef CLI_PRIVATE_H
#define CLI_PRIVATE_H

#include <aperta/base.h>

/* ---- exit statuses ----------------------------------------------------------------------------------------------- */

enum {
    CLI_OK = 0,
    CLI_FAILED = 1,
    CLI_USAGE = 2,
    CLI_PARTIAL = 3,      /* several files, and some of them failed */
    CLI_SIGNAL_BASE = 128 /* + the number of the signal that ended the run */
};

/* What goes to standard output. */
typedef enum { CLI_TEXT, CLI_JSON, CLI_CSV } cli_format;

/* ---- commands ---------------------------------------------------------------------------------------------------- */

/* argv[0] is the command's own name. Each returns an exit status. */
int cli_sheet(int argc, char **argv);
int cli_take(int argc, char **argv);
int cli_tables(int argc, char **argv);
int cli_rules(int argc, char **argv);

/* ---- options (options.c) ----------------------------------------------------------------------------------------- */

/* Options of the commands that advise (advising.h). */
typedef struct cli_advising_words cli_advising_words;
/* Append, as GOptionEntry, what such a command may be asked, and how it may answer; words receives the values. */
void cli_advising_add_questions(cli_advising_words *words, GArray *entries);
void cli_advising_add_answers(cli_advising_words *words, GArray *entries);

typedef struct {
    const char *command;     /* "take" */
    const char *arguments;   /* "FILE..." */
    const char *summary;     /* one or two sentences above the options */
    const char *description; /* below the options; may be NULL */
    const GOptionEntry *entries;
    cli_advising_words *advising; /* NULL: not a command that advises */
} cli_syntax;

/* Reads the options; --help and wrong options end the command. TRUE: go on. FALSE: *status is the exit status. */
gboolean cli_parse_options(const cli_syntax *syntax, int argc, char **argv, int *status);

/* ---- commands that show reference data (reference.c) ------------------------------------------------------------- */

typedef struct {
    const char *command;                           /* "rules" */
    const char *summary;                           /* as in cli_syntax */
    const char *check;                             /* what --check does */
    const char *ending;                            /* of such files, ".rules" */
    int (*list)(void);                             /* of all that is there; returns an exit status */
    int (*show)(const char *name, gboolean check); /* one, or only whether it has errors; likewise */
} cli_reference;

/* The whole command. Returns an exit status. */
int cli_reference_run(const cli_reference *reference, int argc, char **argv);

/* ---- values of options (values.c) -------------------------------------------------------------------------------- */

/* A whole text as a finite number, with a decimal point or comma; FALSE when it is none. Never follows the locale. */
gboolean cli_parse_number(const char *text, double *value);
/* A whole number, with a sign or without, from least to most. */
gboolean cli_parse_whole(const char *text, int least, int most, int *value);
/* "83.5" or "1:23.5" (minutes and seconds), >= 0. */
gboolean cli_parse_time(const char *text, double *seconds);

/* Does a --table or --style value name a file of one's own rather than reference data? */
gboolean cli_is_path(const char *name, const char *ending);
/* The file that --check NAME means, written as a path where there is one of that name. The caller frees. */
char *cli_checked_file(const char *name, const char *ending);

/* ---- messages and standard output (messages.c) ------------------------------------------------------------------- */

/* Makes sure that descriptors 0, 1 and 2 are taken, so that no file of ours is opened as standard output. */
void cli_guard_descriptors(void);

/* Before anything is said: the words of the command line, which messages quote; kept by the caller. */
void cli_remember_words(char **words);
/* "aperta: ABOUT: MESSAGE" on standard error; about may be NULL, and is not repeated where the message begins so. */
void cli_complain(const char *about, const char *message);
/* "aperta: ..." on standard error, unless quiet. */
void cli_remark(gboolean quiet, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* "aperta: WHAT (see aperta COMMAND --help)" on standard error; returns CLI_USAGE. */
int cli_usage_error(const char *command, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* As cli_usage_error; returns FALSE, for checks. */
gboolean cli_refuse(const char *command, const char *format, ...) G_GNUC_PRINTF(2, 3);

/* Complains about a table (".tsv") or rules (".rules") that cannot be had. Returns CLI_FAILED for a file, CLI_USAGE for
 * an unknown name. */
int cli_reference_error(const char *name, const GError *error, const char *ending);

void cli_print(const char *text);
/* The same of text that others may have written: without its commands to the screen. */
void cli_show(const char *text);
void cli_printf(const char *format, ...) G_GNUC_PRINTF(1, 2);
/* Closes standard output; complains when not all of it could be written. Returns status, or CLI_FAILED then. */
int cli_end_output(int status);

/* Colours only on a terminal that has them and where NO_COLOR is not set. */
gboolean cli_wants_colour(void);
/* Width of the terminal on standard output, held to 60..80; 80 elsewhere. */
int cli_columns(void);
/* All of its width, at least 60; 80 elsewhere. */
int cli_all_columns(void);

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

/* ---- the files a command writes (outputs.c) ---------------------------------------------------------------------- */

/* What --out writes for each input file: a kind that the command knows, and a name. */
typedef struct {
    int kind;
    const char *name;
} cli_kept;

typedef struct cli_outputs cli_outputs;
cli_outputs *cli_outputs_new(void);
void cli_outputs_free(cli_outputs *outputs); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(cli_outputs, cli_outputs_free)

/* One file for the first input; path NULL: not asked for. */
void cli_outputs_add(cli_outputs *outputs, int kind, const char *path);
/* The one file about all of several: it belongs to none of them, and is written as that of index "number of files". */
void cli_outputs_add_overview(cli_outputs *outputs, const char *folder, const char *name, char *const *files);
/* Everything worth keeping, in folder (NULL: not asked for); with several files each has a folder of its own in it.
 * files is NULL-terminated. */
void cli_outputs_add_folder(cli_outputs *outputs, const char *folder, const cli_kept *kept, gsize n_kept,
                            char *const *files);
/* Before anything is read: can all be written, and does none stand on an input or on another output? Complains and
 * returns FALSE otherwise. Nothing is created or changed. inputs is NULL-terminated. */
gboolean cli_outputs_check(const cli_outputs *outputs, const char *const *inputs);

/* The bytes of an output; NULL without an error: there is nothing to write. */
typedef GBytes *(*cli_render)(int kind, const char *path, void *data, GError **error);
/* Before the work, behind the checks: makes the folder and keeps every other run out of it until outputs are freed (a
 * folder into which nothing was written goes again). Complains and returns FALSE where another run has it. */
gboolean cli_outputs_lock(cli_outputs *outputs);
/* Writes the files of input number index, each whole or not at all, and none before all of them are rendered. Complains
 * and returns FALSE when one of them fails. */
gboolean cli_outputs_write(const cli_outputs *outputs, guint index, cli_render render, void *data);

/* For renderers: a text, and an SVG turned into what the ending of path asks for; both take over their string, which
 * may be NULL. */
GBytes *cli_bytes(char *text);
GBytes *cli_picture(char *svg, const char *path, GError **error);

/* ---- several files over worker processes (batch.c) --------------------------------------------------------------- */

/* What came of one file; strings are owned. */
typedef struct {
    char *text; /* to be printed; NULL: nothing */
    char *row;  /* of the overview of all files; NULL: none */
} cli_reading;
void cli_reading_clear(cli_reading *reading);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(cli_reading, cli_reading_clear)

/* Reads file number index, writes its outputs, and fills reading, which is empty before. Returns an exit status. */
typedef int (*cli_work)(void *data, guint index, cli_reading *reading);

typedef struct {
    char *const *files;
    guint n_files;
    guint jobs;
    cli_format format;
    const char *csv_header; /* of the one table of several files; their texts are its rows */
    gboolean quiet;
    const char *what; /* "recordings" */
    cli_work work;
    void *data;
    GString *overview; /* gets the rows of several files in their order; NULL: not wanted */
} cli_batch;

/* All files, what they print in their order. Returns an exit status. */
int cli_batch_run(const cli_batch *batch);

/* ---- interruption (interrupt.c) ---------------------------------------------------------------------------------- */

/* From now on the first SIGINT, SIGTERM or SIGHUP raises the flag, and a second one ends the program at once. */
void cli_catch_interrupts(void);
/* 0, or the number of the signal. */
const volatile int *cli_interrupt_flag(void);
#define CLI_INTERRUPTED "interrupted, nothing was written (start it again when you like)"
/* From now on such a signal ends the program at once, saying so of the file: for work that looks at no flag and writes
 * nothing. NULL: it raises the flag again. */
void cli_interrupt_at_once(const char *file);
/* An empty folder that such an end takes away; kept by the caller. NULL: none. */
void cli_interrupt_remove(const char *folder);

#endif
