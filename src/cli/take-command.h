/* take-command.h - shared by the files of the command "aperta take". */
#ifndef TAKE_COMMAND_H
#define TAKE_COMMAND_H

#include "advising.h"

#include <aperta/report.h>
#include <aperta/result.h>

/* All that the command line asked for. Strings are owned. */
typedef struct {
    cli_advising common;
    aperta_take_options options; /* its strings belong to the other members */
    char *corrections;
    char *sung;
    gboolean full; /* print all that is known, and not only what to try first */
    char *frames;  /* paths; NULL: not asked for */
    char *chart;
    char *harmonics;
} take_request;

/* ---- take-outputs.c ---------------------------------------------------------------------------------------------- */

cli_outputs *take_outputs_plan(const take_request *request);
/* Writes the files of one recording. Complains and returns FALSE when one of them fails. */
gboolean take_outputs_write(const cli_outputs *outputs, guint index, const take_request *request,
                            const aperta_result *result);
/* What goes to standard output: the report, JSON or CSV. */
char *take_render(const take_request *request, guint index, const aperta_result *result);

#endif
