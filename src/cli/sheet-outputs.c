/* sheet-outputs.c - the files that a sheet writes, and what it prints. */
#include "sheet-command.h"

#include <stdlib.h>

typedef enum {
    OUTPUT_HTML,
    OUTPUT_PDF,
    OUTPUT_TEXT,
    OUTPUT_JSON,
    OUTPUT_CSV,
    OUTPUT_MARKED,
} output_kind;

/* What --out writes for each score. */
static const cli_kept kept[] = {
    {OUTPUT_HTML, "sheet.html"}, {OUTPUT_PDF, "sheet.pdf"}, {OUTPUT_TEXT, "sheet.txt"},
    {OUTPUT_JSON, "sheet.json"}, {OUTPUT_CSV, "sheet.csv"}, {OUTPUT_MARKED, "marked.musicxml"},
};

cli_outputs *sheet_outputs_plan(const sheet_request *request)
{
    cli_outputs *outputs = cli_outputs_new();

    cli_outputs_add_folder(outputs, request->common.folder, kept, G_N_ELEMENTS(kept), request->common.files);
    return outputs;
}

char *sheet_render(const sheet_request *request, guint index, const aperta_sheet *sheet)
{
    const aperta_report_text_options options = {.colour = request->common.colour, .columns = cli_columns()};

    switch (request->common.format) {
    case CLI_JSON:
        return aperta_report_sheet_json(sheet);
    case CLI_CSV:
        return cli_advising_shares_table(&request->common)
                   ? aperta_report_sheet_csv_rows(sheet, request->common.files[index])
                   : aperta_report_sheet_csv(sheet);
    case CLI_TEXT:
        break;
    }
    return aperta_report_sheet_text(sheet, &options);
}

typedef struct {
    const aperta_sheet *sheet;
    const char *file;
    aperta_paper paper;
} rendering;

/* Why there can be no marked copy; NULL: there can. To be marked, a file is read a second time. */
static const char *objection_to_marking(const aperta_sheet *sheet, const char *file)
{
    if (sheet->score->format != APERTA_SCORE_MUSICXML)
        return "only MusicXML can be marked";
    return g_file_test(file, G_FILE_TEST_IS_REGULAR) ? NULL : "what comes through a pipe cannot be marked";
}

/* NULL without an error where there is nothing to mark. */
static GBytes *marked(const rendering *of, GError **error)
{
    if (objection_to_marking(of->sheet, of->file) != NULL)
        return NULL;
    g_autoptr(GArray) marks = aperta_report_sheet_marks(of->sheet);
    return aperta_score_write_marked(of->file, of->sheet->score, (const aperta_score_mark *)(void *)marks->data,
                                     marks->len, error);
}

static GBytes *render_output(int kind, const char *path G_GNUC_UNUSED, void *data, GError **error)
{
    const rendering *of = data;
    const aperta_report_text_options plain = {.colour = FALSE, .columns = 0};

    switch ((output_kind)kind) {
    case OUTPUT_HTML:
        return cli_bytes(aperta_report_sheet_html(of->sheet));
    case OUTPUT_PDF:
        return aperta_report_sheet_pdf(of->sheet, of->paper, error);
    case OUTPUT_TEXT:
        return cli_bytes(aperta_report_sheet_text(of->sheet, &plain));
    case OUTPUT_JSON:
        return cli_bytes(aperta_report_sheet_json(of->sheet));
    case OUTPUT_CSV:
        return cli_bytes(aperta_report_sheet_csv(of->sheet));
    case OUTPUT_MARKED:
        return marked(of, error);
    }
    return NULL;
}

gboolean sheet_outputs_write(const cli_outputs *outputs, guint index, const sheet_request *request,
                             const aperta_sheet *sheet)
{
    const char *file = request->common.files[index];
    const char *objection = objection_to_marking(sheet, file);
    rendering of = {sheet, file, request->paper};

    if (request->common.folder != NULL && objection != NULL)
        cli_remark(request->common.quiet, "%s: %s, so there is no marked.musicxml", file, objection);
    if (request->common.folder != NULL && objection == NULL && sheet->transposed != 0)
        cli_remark(request->common.quiet,
                   "%s: marked.musicxml keeps the written pitches; its shapes are for %d semitone%s %s", file,
                   abs(sheet->transposed), abs(sheet->transposed) == 1 ? "" : "s",
                   sheet->transposed < 0 ? "lower" : "higher");
    return cli_outputs_write(outputs, index, render_output, &of);
}
