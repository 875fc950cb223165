/* take-command.c - "aperta take": options, their checks, and the way of one recording through the library. */
#include "take-command.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define A4_LEAST_HZ 350.0 /* below any historical pitch */
#define A4_MOST_HZ  550.0

/* The words of the command line before they are checked. */
typedef struct {
    cli_advising_words common;
    char *from, *to, *channel, *a4, *hop, *correct, *sung, *frames, *chart, *harmonics;
    gboolean explain, full;
} take_words;

static void take_words_clear(take_words *words)
{
    char *all[] = {words->from,    words->to,   words->channel, words->a4,    words->hop,
                   words->correct, words->sung, words->frames,  words->chart, words->harmonics};

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        g_free(all[i]);
    cli_advising_words_clear(&words->common);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(take_words, take_words_clear)

static void take_request_clear(take_request *request)
{
    char *all[] = {request->corrections, request->sung, request->frames, request->chart, request->harmonics};

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        g_free(all[i]);
    cli_advising_clear(&request->common);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(take_request, take_request_clear)

/* ---- from words to a request ------------------------------------------------------------------------------------- */

static gboolean read_words(take_words *words, int argc, char **argv, int *status)
{
    const GOptionEntry entries[] = {
        {"from", 0, 0, G_OPTION_ARG_FILENAME, &words->from, "Start here: seconds, or minutes:seconds", "TIME"},
        {"to", 0, 0, G_OPTION_ARG_FILENAME, &words->to, "End here", "TIME"},
        {"channel", 0, 0, G_OPTION_ARG_FILENAME, &words->channel, "Read this channel, 1 is the first (default: mix)",
         "N"},
        {"a4", 0, 0, G_OPTION_ARG_FILENAME, &words->a4, "Tuning of A4 (default: as the singer sings)", "HZ"},
        {"hop", 0, 0, G_OPTION_ARG_FILENAME, &words->hop, "Time between frames, 5 or 10 ms (default: 10)", "MS"},
        {"correct", 0, 0, G_OPTION_ARG_FILENAME, &words->correct, "Overrule what was heard, note by note", "FILE.csv"},
        {"sung", 0, 0, G_OPTION_ARG_FILENAME, &words->sung, "The vowels that were meant: ee, or i e a, or 3:ee 5:ah",
         "VOWELS"},
        {"full", 0, 0, G_OPTION_ARG_NONE, &words->full, "Print all that is known, not only what to try first", NULL},
        {"explain", 0, 0, G_OPTION_ARG_NONE, &words->explain, "Say of every rule why it spoke or kept silent", NULL},
        {"frames", 0, 0, G_OPTION_ARG_FILENAME, &words->frames, "Write pitch and resonances frame by frame",
         "FILE.csv"},
        {"chart", 0, 0, G_OPTION_ARG_FILENAME, &words->chart, "Draw the vowel chart (.svg, .png or .pdf)", "FILE"},
        {"harmonics", 0, 0, G_OPTION_ARG_FILENAME, &words->harmonics,
         "Draw the harmonics of notes with advice, likewise", "FILE"},
        G_OPTION_ENTRY_NULL};
    const cli_syntax syntax = {
        .command = "take",
        .arguments = "FILE...",
        .summary = "Reads recordings of one singing voice (WAV, FLAC, AIFF, Ogg, Opus, MP3, M4A,\n"
                   "and the sound of MP4, MOV, WebM, MKA) and says note by note which vowel was\n"
                   "sung, where its resonances lie, and which vowels may be worth reshaping in\n"
                   "the chosen style.",
        .description = "Advice is a strategy to try, never a reason to push. Stop when it hurts.",
        .entries = entries,
        .advising = &words->common,
    };

    return cli_parse_options(&syntax, argc, argv, status);
}

/* The checks below complain and return FALSE on wrong usage. */

static gboolean check_times(const take_words *words, take_request *request)
{
    aperta_take_options *options = &request->options;

    if (words->from != NULL && !cli_parse_time(words->from, &options->from_s))
        return cli_refuse("take", "--from %s: it is a time such as 83.5 or 1:23.5", words->from);
    if (words->to != NULL && (!cli_parse_time(words->to, &options->to_s) || options->to_s <= 0.0))
        return cli_refuse("take", "--to %s: it is a time such as 83.5 or 1:23.5, after the start", words->to);
    if (words->to != NULL && options->to_s <= options->from_s)
        return cli_refuse("take", "--to %s does not come after --from %s", words->to, words->from);
    return TRUE;
}

static gboolean check_numbers(const take_words *words, take_request *request)
{
    aperta_take_options *options = &request->options;
    double value = 0.0;

    if (words->channel != NULL) {
        if (!cli_parse_number(words->channel, &value) || value < 1.0 || value > 1024.0 || value != floor(value))
            return cli_refuse("take", "--channel %s: it is a whole number, 1 for the first channel", words->channel);
        options->channel = (int)value;
    }
    if (words->a4 != NULL) {
        if (!cli_parse_number(words->a4, &value) || value < A4_LEAST_HZ || value > A4_MOST_HZ)
            return cli_refuse("take", "--a4 %s: it is a frequency between %.0f and %.0f Hz", words->a4, A4_LEAST_HZ,
                              A4_MOST_HZ);
        options->a4_hz = value;
    }
    if (words->hop != NULL) {
        if (!cli_parse_number(words->hop, &value) || (value != 5.0 && value != 10.0))
            return cli_refuse("take", "--hop %s: it is 5 or 10 milliseconds", words->hop);
        options->hop_s = value / 1000.0;
    }
    return TRUE;
}

static gboolean check_picture(const char *option, const char *path)
{
    aperta_picture kind;

    if (path == NULL || aperta_report_picture_kind(path, &kind))
        return TRUE;
    return cli_refuse("take", "%s %s: the name must end in .svg, .png or .pdf", option, path);
}

static gboolean check_single(const take_words *words)
{
    if (g_strv_length(words->common.files) < 2)
        return TRUE;
    const char *option = words->frames != NULL      ? "--frames"
                         : words->chart != NULL     ? "--chart"
                         : words->harmonics != NULL ? "--harmonics"
                                                    : NULL;
    if (option != NULL)
        return cli_refuse("take", "%s is for one recording, for several use --out DIR", option);
    if (words->correct != NULL)
        return cli_refuse("take", "--correct is for one recording");
    return TRUE;
}

static gboolean check_sung(const char *sung)
{
    g_autoptr(GError) error = NULL;

    if (sung == NULL || aperta_sung_check(sung, &error))
        return TRUE;
    return cli_refuse("take", "--sung: %s", error->message);
}

static gboolean check_words(take_words *words, take_request *request)
{
    if (words->frames != NULL && *words->frames == '\0')
        return cli_refuse("take", "--frames needs the name of a file");
    return cli_check_advising("take", "recording", &words->common, &request->options.voice) &&
           check_times(words, request) && check_numbers(words, request) && check_picture("--chart", words->chart) &&
           check_picture("--harmonics", words->harmonics) && check_single(words) && check_sung(words->sung);
}

static void fill_request(take_words *words, take_request *request)
{
    cli_advising_fill(&words->common, &request->common);
    request->corrections = g_steal_pointer(&words->correct);
    request->sung = g_steal_pointer(&words->sung);
    request->frames = g_steal_pointer(&words->frames);
    request->chart = g_steal_pointer(&words->chart);
    request->harmonics = g_steal_pointer(&words->harmonics);
    request->options.style = request->common.style;
    request->options.table = request->common.table;
    request->options.corrections = request->corrections;
    request->options.sung = request->sung;
    request->options.explain = words->explain;
    request->full = words->full;
    request->options.keep_frames = request->frames != NULL || request->common.folder != NULL;
    request->options.cancel = cli_interrupt_flag();
}

/* ---- one recording ----------------------------------------------------------------------------------------------- */

typedef struct {
    const take_request *request;
    const cli_outputs *outputs;
} take_work;

static int take_one(void *data, guint index, cli_reading *reading)
{
    const take_work *work = data;
    const take_request *request = work->request;
    const char *file = request->common.files[index];
    aperta_take_options options = request->options;
    g_autoptr(GError) error = NULL;
    cli_progress progress;

    cli_progress_start(&progress, file, request->common.quiet || request->common.n_files > 1);
    options.jobs = MAX(request->common.jobs / request->common.n_files, 1);
    options.progress = cli_progress_step;
    options.progress_data = &progress;
    g_autoptr(aperta_result) result = aperta_take(file, &options, &error);
    cli_progress_end(&progress);
    int status = cli_advising_outcome(file, error);
    if (status != CLI_OK)
        return status;
    cli_interrupt_at_once(file); /* until its outputs are written */
    reading->text = take_render(request, index, result);
    if (request->common.folder != NULL)
        reading->row = aperta_report_overview_row(result, file);
    return take_outputs_write(work->outputs, index, request, result) ? CLI_OK : CLI_FAILED;
}

int cli_take(int argc, char **argv)
{
    g_auto(take_words) words = {0};
    g_auto(take_request) request = {0};
    int status = CLI_OK;

    if (!read_words(&words, argc, argv, &status))
        return status;
    if (!check_words(&words, &request))
        return CLI_USAGE;
    fill_request(&words, &request);
    g_autoptr(cli_outputs) outputs = take_outputs_plan(&request);
    g_autofree char *csv_header = aperta_report_csv_header();
    g_autofree char *overview_header = aperta_report_overview_header();
    take_work work = {&request, outputs};
    const cli_advising_job job = {.what = "recordings",
                                  .csv_header = csv_header,
                                  .overview_header = overview_header,
                                  .also = request.corrections,
                                  .outputs = outputs,
                                  .work = take_one,
                                  .data = &work};
    return cli_advising_run(&request.common, &job);
}
