/* take-outputs.c - the files that a take writes, and what it prints. */
#include "take-command.h"

typedef enum {
    OUTPUT_REPORT,
    OUTPUT_JSON,
    OUTPUT_NOTES,
    OUTPUT_FRAMES,
    OUTPUT_CHART,
    OUTPUT_HARMONICS,
} output_kind;

/* What --out writes for each recording. */
static const cli_kept kept[] = {
    {OUTPUT_REPORT, "report.txt"},       {OUTPUT_JSON, "take.json"},          {OUTPUT_NOTES, "notes.csv"},
    {OUTPUT_FRAMES, "frames.csv"},       {OUTPUT_CHART, "chart.svg"},         {OUTPUT_CHART, "chart.png"},
    {OUTPUT_CHART, "chart.pdf"},         {OUTPUT_HARMONICS, "harmonics.svg"}, {OUTPUT_HARMONICS, "harmonics.png"},
    {OUTPUT_HARMONICS, "harmonics.pdf"},
};

cli_outputs *take_outputs_plan(const take_request *request)
{
    cli_outputs *outputs = cli_outputs_new();

    cli_outputs_add(outputs, OUTPUT_FRAMES, request->frames);
    cli_outputs_add(outputs, OUTPUT_CHART, request->chart);
    cli_outputs_add(outputs, OUTPUT_HARMONICS, request->harmonics);
    cli_outputs_add_folder(outputs, request->common.folder, kept, G_N_ELEMENTS(kept), request->common.files);
    cli_outputs_add_overview(outputs, request->common.folder, "overview.csv", request->common.files);
    return outputs;
}

char *take_render(const take_request *request, guint index, const aperta_result *result)
{
    const aperta_report_text_options options = {.brief = !request->full && !request->options.explain,
                                                .colour = request->common.colour,
                                                .columns = cli_columns(),
                                                .table_columns = cli_all_columns()};

    switch (request->common.format) {
    case CLI_JSON:
        return aperta_report_json(result);
    case CLI_CSV:
        return cli_advising_shares_table(&request->common)
                   ? aperta_report_csv_rows(result, request->common.files[index])
                   : aperta_report_csv(result);
    case CLI_TEXT:
        break;
    }
    return aperta_report_text(result, &options);
}

typedef struct {
    const aperta_result *result;
    gboolean nothing_to_draw; /* set when a picture of harmonics was asked for in vain */
} rendering;

static GBytes *render_output(int kind, const char *path, void *data, GError **error)
{
    rendering *of = data;
    const aperta_report_text_options plain = {.colour = FALSE, .columns = 0};
    char *harmonics;

    switch ((output_kind)kind) {
    case OUTPUT_REPORT:
        return cli_bytes(aperta_report_text(of->result, &plain));
    case OUTPUT_JSON:
        return cli_bytes(aperta_report_json(of->result));
    case OUTPUT_NOTES:
        return cli_bytes(aperta_report_csv(of->result));
    case OUTPUT_FRAMES:
        return cli_bytes(aperta_report_frames_csv(of->result));
    case OUTPUT_CHART:
        return cli_picture(aperta_report_chart_svg(of->result), path, error);
    case OUTPUT_HARMONICS:
        harmonics = aperta_report_harmonics_svg(of->result);
        of->nothing_to_draw |= harmonics == NULL;
        return cli_picture(harmonics, path, error);
    }
    return NULL;
}

gboolean take_outputs_write(const cli_outputs *outputs, guint index, const take_request *request,
                            const aperta_result *result)
{
    rendering of = {.result = result};
    gboolean good = cli_outputs_write(outputs, index, render_output, &of);

    if (of.nothing_to_draw)
        cli_remark(request->common.quiet, "%s: no note has advice, so there is no picture of harmonics",
                   request->common.files[index]);
    return good;
}
