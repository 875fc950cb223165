/* sheet-private.h - shared by the files of the command "aperta sheet". */
#ifndef SHEET_PRIVATE_H
#define SHEET_PRIVATE_H

#include "cli-private.h"

#include <aperta/report.h>
#include <aperta/result.h>

/* All that the command line asked for. Strings are owned. */
typedef struct {
    char **files; /* NULL-terminated */
    guint n_files;
    aperta_sheet_options options; /* strings belong to the members below */
    char *style;                  /* a style's name, or the path of a rules file */
    char *table;
    char *part;
    char *word_list;
    cli_format format;
    gboolean colour;
    gboolean quiet;
    guint jobs;
    char *folder; /* NULL: not asked for */
    aperta_paper paper;
} sheet_request;

/* ---- sheet-outputs.c --------------------------------------------------------------------------------------------- */

cli_outputs *sheet_outputs_plan(const sheet_request *request);
/* Writes the files of one score, none before all of them are made. Complains and returns FALSE when one fails. */
gboolean sheet_outputs_write(const cli_outputs *outputs, guint index, const sheet_request *request,
                             const aperta_sheet *sheet);
/* What goes to standard output: the sheet, JSON or CSV. */
char *sheet_render(const sheet_request *request, const aperta_sheet *sheet);

#endif
