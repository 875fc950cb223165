/* sheet-outputs.c - the files that a sheet writes, and what it prints. */
#include "sheet-private.h"

typedef enum {
    OUTPUT_TEXT,
    OUTPUT_JSON,
    OUTPUT_CSV,
} output_kind;

/* What --out writes for each score. */
static const cli_kept kept[] = {
    {OUTPUT_TEXT, "sheet.txt"},
    {OUTPUT_JSON, "sheet.json"},
    {OUTPUT_CSV, "sheet.csv"},
};

cli_outputs *sheet_outputs_plan(const sheet_request *request)
{
    cli_outputs *outputs = cli_outputs_new();

    cli_outputs_add_folder(outputs, request->folder, kept, G_N_ELEMENTS(kept), request->files);
    return outputs;
}

char *sheet_render(const sheet_request *request, const aperta_sheet *sheet)
{
    const aperta_report_text_options options = {.colour = request->colour, .columns = cli_columns()};

    switch (request->format) {
    case CLI_JSON:
        return aperta_report_sheet_json(sheet);
    case CLI_CSV:
        return aperta_report_sheet_csv(sheet);
    case CLI_TEXT:
        break;
    }
    return aperta_report_sheet_text(sheet, &options);
}

static GBytes *render_output(int kind, const char *path G_GNUC_UNUSED, void *data, GError **error G_GNUC_UNUSED)
{
    const aperta_sheet *sheet = data;
    const aperta_report_text_options plain = {.colour = FALSE, .columns = 0};

    switch ((output_kind)kind) {
    case OUTPUT_TEXT:
        return cli_bytes(aperta_report_sheet_text(sheet, &plain));
    case OUTPUT_JSON:
        return cli_bytes(aperta_report_sheet_json(sheet));
    case OUTPUT_CSV:
        return cli_bytes(aperta_report_sheet_csv(sheet));
    }
    return NULL;
}

gboolean sheet_outputs_write(const cli_outputs *outputs, guint index, const aperta_sheet *sheet)
{
    return cli_outputs_write(outputs, index, render_output, (void *)sheet);
}
