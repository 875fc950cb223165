/* take-outputs.c - the files a take writes: planned and checked before the work, written after it. */
#include "cli-private.h"
#include "take-private.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

typedef enum {
    OUTPUT_REPORT,
    OUTPUT_JSON,
    OUTPUT_NOTES,
    OUTPUT_FRAMES,
    OUTPUT_CHART,
    OUTPUT_HARMONICS,
} output_kind;

typedef struct {
    output_kind kind;
    guint index; /* of the recording it belongs to */
    char *path;
    char *folder; /* to be made first; NULL: must be there already */
} output;

struct take_outputs {
    GPtrArray *list; /* output */
};

/* What --out writes for each recording. */
static const struct {
    output_kind kind;
    const char *name;
} kept[] = {
    {OUTPUT_REPORT, "report.txt"},       {OUTPUT_JSON, "take.json"},          {OUTPUT_NOTES, "notes.csv"},
    {OUTPUT_FRAMES, "frames.csv"},       {OUTPUT_CHART, "chart.svg"},         {OUTPUT_CHART, "chart.png"},
    {OUTPUT_CHART, "chart.pdf"},         {OUTPUT_HARMONICS, "harmonics.svg"}, {OUTPUT_HARMONICS, "harmonics.png"},
    {OUTPUT_HARMONICS, "harmonics.pdf"},
};

static void output_free(output *one)
{
    g_free(one->path);
    g_free(one->folder);
    g_free(one);
}

/* ---- the plan -----------------------------------------------------------------------------------------------------
 */

static void plan(take_outputs *outputs, output_kind kind, guint index, const char *path, const char *folder)
{
    if (path == NULL)
        return;
    output *one = g_new0(output, 1);
    *one = (output){.kind = kind, .index = index, .path = g_strdup(path), .folder = g_strdup(folder)};
    g_ptr_array_add(outputs->list, one);
}

/* "lesson/take3.wav" -> "take3"; "take3-2" when an earlier recording has that name already. */
static char *folder_name(const char *file, GHashTable *taken)
{
    g_autofree char *stem = g_path_get_basename(file);
    char *dot = strrchr(stem, '.');

    if (dot != NULL && dot != stem)
        *dot = '\0';
    char *name = g_strdup(stem);
    for (guint copy = 2; g_hash_table_contains(taken, name); copy++) {
        g_free(name);
        name = g_strdup_printf("%s-%u", stem, copy);
    }
    g_hash_table_add(taken, g_strdup(name));
    return name;
}

static void plan_folder(take_outputs *outputs, const take_request *request)
{
    g_autoptr(GHashTable) taken = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);

    for (guint index = 0; index < request->n_files; index++) {
        g_autofree char *name = request->n_files > 1 ? folder_name(request->files[index], taken) : NULL;
        g_autofree char *folder = g_build_filename(request->folder, name, NULL);
        for (gsize i = 0; i < G_N_ELEMENTS(kept); i++) {
            g_autofree char *path = g_build_filename(folder, kept[i].name, NULL);
            plan(outputs, kept[i].kind, index, path, folder);
        }
    }
}

take_outputs *take_outputs_plan(const take_request *request)
{
    take_outputs *outputs = g_new0(take_outputs, 1);

    outputs->list = g_ptr_array_new_with_free_func((GDestroyNotify)output_free);
    plan(outputs, OUTPUT_FRAMES, 0, request->frames, NULL);
    plan(outputs, OUTPUT_CHART, 0, request->chart, NULL);
    plan(outputs, OUTPUT_HARMONICS, 0, request->harmonics, NULL);
    if (request->folder != NULL)
        plan_folder(outputs, request);
    return outputs;
}

void take_outputs_free(take_outputs *outputs)
{
    if (outputs == NULL)
        return;
    g_ptr_array_unref(outputs->list);
    g_free(outputs);
}

/* ---- checks before the work ---------------------------------------------------------------------------------------
 */

/* Two names of one file, be it there or not. Devices such as /dev/null may serve twice. */
static gboolean same_file(const char *a, const char *b)
{
    GStatBuf of_a, of_b;

    if (g_stat(a, &of_a) == 0 && g_stat(b, &of_b) == 0)
        return of_a.st_dev == of_b.st_dev && of_a.st_ino == of_b.st_ino && S_ISREG(of_a.st_mode);
    g_autofree char *full_a = g_canonicalize_filename(a, NULL);
    g_autofree char *full_b = g_canonicalize_filename(b, NULL);
    return strcmp(full_a, full_b) == 0;
}

static gboolean stands_on_input(const output *one, const take_request *request)
{
    for (guint i = 0; i < request->n_files; i++)
        if (same_file(one->path, request->files[i]))
            return TRUE;
    return (request->corrections != NULL && same_file(one->path, request->corrections)) ||
           (cli_is_path(request->style, ".rules") && same_file(one->path, request->style)) ||
           (request->table != NULL && cli_is_path(request->table, ".tsv") && same_file(one->path, request->table));
}

/* The folder itself, or the nearest one above it that exists. */
static char *existing_folder(const char *folder)
{
    char *at = g_strdup(folder);

    while (!g_file_test(at, G_FILE_TEST_EXISTS)) {
        char *above = g_path_get_dirname(at);
        g_free(at);
        at = above;
    }
    return at;
}

/* NULL: can be written as far as one can tell beforehand; else why not. */
static const char *objection(const output *one)
{
    if (g_file_test(one->path, G_FILE_TEST_IS_DIR))
        return "is a folder, not a file (give a file name)";
    if (g_file_test(one->path, G_FILE_TEST_EXISTS))
        return g_access(one->path, W_OK) == 0 ? NULL : "cannot be written (is it protected?)";
    g_autofree char *folder = g_path_get_dirname(one->path);
    g_autofree char *existing = one->folder != NULL ? existing_folder(folder) : g_strdup(folder);
    if (!g_file_test(existing, G_FILE_TEST_EXISTS))
        return "its folder does not exist (make it first)";
    if (!g_file_test(existing, G_FILE_TEST_IS_DIR))
        return "its folder is not a folder (choose another place)";
    return g_access(existing, W_OK | X_OK) == 0 ? NULL : "its folder cannot be written to (choose another place)";
}

gboolean take_outputs_check(const take_outputs *outputs, const take_request *request)
{
    for (guint i = 0; i < outputs->list->len; i++) {
        const output *one = g_ptr_array_index(outputs->list, i);
        const char *why = objection(one);
        if (why == NULL && stands_on_input(one, request))
            why = "is also read, and would be overwritten (choose another name for the output)";
        for (guint k = 0; why == NULL && k < i; k++)
            if (same_file(one->path, ((const output *)g_ptr_array_index(outputs->list, k))->path))
                why = "would be written twice (choose another name for one of the outputs)";
        if (why != NULL) {
            cli_complain(one->path, why);
            return FALSE;
        }
    }
    return TRUE;
}

/* ---- rendering and writing -----------------------------------------------------------------------------------------
 */

static char *render_text(const take_request *request, const aperta_result *result)
{
    const aperta_report_text_options options = {.colour = request->colour, .columns = cli_columns()};

    return aperta_report_text(result, &options);
}

char *take_render(const take_request *request, const aperta_result *result)
{
    switch (request->format) {
    case TAKE_JSON:
        return aperta_report_json(result);
    case TAKE_CSV:
        return aperta_report_csv(result);
    case TAKE_TEXT:
        break;
    }
    return render_text(request, result);
}

/* The text of an output, for pictures their SVG; NULL: there is nothing to draw. */
static char *render_output(output_kind kind, const aperta_result *result)
{
    const aperta_report_text_options plain = {.colour = FALSE, .columns = 0};

    switch (kind) {
    case OUTPUT_REPORT:
        return aperta_report_text(result, &plain);
    case OUTPUT_JSON:
        return aperta_report_json(result);
    case OUTPUT_NOTES:
        return aperta_report_csv(result);
    case OUTPUT_FRAMES:
        return aperta_report_frames_csv(result);
    case OUTPUT_CHART:
        return aperta_report_chart_svg(result);
    case OUTPUT_HARMONICS:
        return aperta_report_harmonics_svg(result);
    }
    return NULL;
}

static gboolean is_picture(output_kind kind)
{
    return kind == OUTPUT_CHART || kind == OUTPUT_HARMONICS;
}

static gboolean write_output(const output *one, const char *text, GError **error)
{
    aperta_picture kind;

    if (one->folder != NULL && g_mkdir_with_parents(one->folder, 0777) != 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE,
                    "%s: the folder cannot be made (choose another place)", one->folder);
        return FALSE;
    }
    if (!is_picture(one->kind) || !aperta_report_picture_kind(one->path, &kind))
        return aperta_report_write(one->path, text, strlen(text), error);
    g_autoptr(GBytes) picture = aperta_report_picture(text, kind, error);
    if (picture == NULL)
        return FALSE;
    gsize n;
    const void *bytes = g_bytes_get_data(picture, &n);
    return aperta_report_write(one->path, bytes, n, error);
}

gboolean take_outputs_write(const take_outputs *outputs, guint index, const take_request *request,
                            const aperta_result *result)
{
    gboolean good = TRUE;
    gboolean nothing_to_draw = FALSE;

    for (guint i = 0; i < outputs->list->len; i++) {
        const output *one = g_ptr_array_index(outputs->list, i);
        if (one->index != index)
            continue;
        g_autofree char *text = render_output(one->kind, result);
        if (text == NULL) {
            nothing_to_draw = TRUE;
            continue;
        }
        g_autoptr(GError) error = NULL;
        if (!write_output(one, text, &error)) {
            cli_complain(one->path, error->message);
            good = FALSE;
        }
    }
    if (nothing_to_draw)
        cli_remark(request->quiet, "%s: no note has advice, so there is no picture of harmonics",
                   request->files[index]);
    return good;
}
