/* sheet-command.h - shared by the files of the command "aperta sheet". */
#ifndef SHEET_COMMAND_H
#define SHEET_COMMAND_H

#include "advising.h"

#include <aperta/report.h>
#include <aperta/result.h>

/* All that the command line asked for. Strings are owned. */
typedef struct {
    cli_advising common;
    aperta_sheet_options options; /* its strings belong to the other members */
    char *part;
    char *word_list;
    aperta_paper paper;
} sheet_request;

/* ---- sheet-outputs.c --------------------------------------------------------------------------------------------- */

cli_outputs *sheet_outputs_plan(const sheet_request *request);
/* Writes the files of one score, none before all of them are made. Complains and returns FALSE when one fails. */
gboolean sheet_outputs_write(const cli_outputs *outputs, guint index, const sheet_request *request,
                             const aperta_sheet *sheet);
/* What goes to standard output: the sheet, JSON or CSV. */
char *sheet_render(const sheet_request *request, guint index, const aperta_sheet *sheet);

#endif
