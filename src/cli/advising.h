/* advising.h - what the commands that advise have in common: they read files, go by a style and a table, and print or
 * keep a report. */
#ifndef CLI_ADVISING_H
#define CLI_ADVISING_H

#include "cli-private.h"

/* The shared words of the command line before they are checked. */
struct cli_advising_words {
    char *style, *rules, *table, *voice, *folder, *jobs;
    gboolean json, csv, quiet, no_colour;
    char **files; /* NULL: none */
};

void cli_advising_words_clear(cli_advising_words *words);

/* Complains and returns FALSE on wrong usage. input: what one file is, "recording". voice stays as it is when none is
 * given. */
gboolean cli_check_advising(const char *command, const char *input, const cli_advising_words *words,
                            aperta_voice *voice);

/* The same after the checks. Strings are owned. */
typedef struct {
    char **files; /* NULL-terminated */
    guint n_files;
    char *style;  /* a style's name, or the path of a rules file */
    char *table;  /* NULL: not asked for */
    char *folder; /* NULL: not asked for */
    cli_format format;
    gboolean colour;
    gboolean quiet;
    guint jobs;
} cli_advising;

/* Takes over strings of words that passed the checks. */
void cli_advising_fill(cli_advising_words *words, cli_advising *request);
void cli_advising_clear(cli_advising *request);

/* The reports of several files are one table of CSV: their texts are to be its rows. */
gboolean cli_advising_shares_table(const cli_advising *request);

/* What a command does with its files, once its words are checked. */
typedef struct {
    const char *what;            /* "recordings" */
    const char *csv_header;      /* of the one table of several files */
    const char *overview_header; /* of the overview of several files, if one is planned; NULL: there is none */
    const char *also;           /* is read besides files, rules and table, and must not be overwritten; NULL: nothing */
    cli_outputs *outputs;       /* planned, not yet checked */
    int (*prepare)(void *data); /* what all files need, once before the first; returns an exit status. NULL: nothing */
    cli_work work;              /* for each file */
    void *data;                 /* for both */
} cli_advising_job;

/* Rules and table are read once before any file, so that a wrong one is told once and early, and no output may stand on
 * what is read; then all files, what they print in their order. Returns an exit status. */
int cli_advising_run(const cli_advising *request, const cli_advising_job *job);
/* For the work, when the library is done with a file: complains of an interruption, else of the error (NULL: none),
 * which names the file or what else is wrong. Returns an exit status. */
int cli_advising_outcome(const char *file, const GError *error);

#endif
