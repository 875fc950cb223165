/* take-private.h - shared by the files of the command "aperta take". */
#ifndef TAKE_PRIVATE_H
#define TAKE_PRIVATE_H

#include <aperta/report.h>
#include <aperta/result.h>

typedef enum { TAKE_TEXT, TAKE_JSON, TAKE_CSV } take_format;

/* All that the command line asked for. Strings are owned. */
typedef struct {
    char **files; /* NULL-terminated */
    guint n_files;
    aperta_take_options options; /* strings belong to the members below */
    char *style;                 /* a style's name, or the path of a rules file */
    char *table;
    char *corrections;
    take_format format;
    gboolean colour;
    gboolean quiet;
    guint jobs;
    char *frames; /* paths; NULL: not asked for */
    char *chart;
    char *harmonics;
    char *folder;
} take_request;

/* ---- take-outputs.c: the files that a take writes -------------------------------------------------------------- */

/* Files to be written for input number index (0..). Free with g_ptr_array_unref. */
typedef struct take_outputs take_outputs;
take_outputs *take_outputs_plan(const take_request *request);
void take_outputs_free(take_outputs *outputs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(take_outputs, take_outputs_free)

/* Before anything is read: can all be written, and does none stand on an input or on another output? Complains and
 * returns FALSE otherwise. Nothing is created or changed. */
gboolean take_outputs_check(const take_outputs *outputs, const take_request *request);

/* Writes the files of one input, each whole or not at all. Complains and returns FALSE when one of them fails. */
gboolean take_outputs_write(const take_outputs *outputs, guint index, const take_request *request,
                            const aperta_result *result);

/* What goes to standard output: the report, JSON or CSV. */
char *take_render(const take_request *request, const aperta_result *result);

/* ---- take-batch.c: several files over worker processes ----------------------------------------------------------- */

/* Analyses one file and writes its outputs. *text is what to print, NULL after a failure. Returns an exit status. */
int take_one(const take_request *request, const take_outputs *outputs, guint index, char **text);

/* All files of the request, reports printed in their order. Returns an exit status. */
int take_batch(const take_request *request, const take_outputs *outputs);

#endif
