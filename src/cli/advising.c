/* advising.c - what the commands that advise have in common: options, their checks, and the way to the batch. */
#include "advising.h"

#include <aperta/advice.h>
#include <aperta/vowel.h>

#include <string.h>
#include <sys/resource.h>

/* ---- options ----------------------------------------------------------------------------------------------------- */

void cli_advising_words_clear(cli_advising_words *words)
{
    char *all[] = {words->style, words->rules, words->table, words->voice, words->folder, words->jobs};

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        g_free(all[i]);
    g_strfreev(words->files);
}

void cli_advising_add_questions(cli_advising_words *words, GArray *entries)
{
    const GOptionEntry questions[] = {
        {"style", 0, 0, G_OPTION_ARG_FILENAME, &words->style, "belt (the default), legit or classical", "STYLE"},
        {"rules", 0, 0, G_OPTION_ARG_FILENAME, &words->rules, "Advise by rules of your own", "FILE"},
        {"voice", 0, 0, G_OPTION_ARG_FILENAME, &words->voice, "Who sings: woman, man, child, soprano, mezzo, ...",
         "WORD"},
        {"table", 0, 0, G_OPTION_ARG_FILENAME, &words->table, "Vowel table to go by (see aperta tables)", "NAME"},
    };

    g_array_append_vals(entries, questions, G_N_ELEMENTS(questions));
}

void cli_advising_add_answers(cli_advising_words *words, GArray *entries)
{
    const GOptionEntry answers[] = {
        {"json", 0, 0, G_OPTION_ARG_NONE, &words->json, "Print JSON instead of the report", NULL},
        {"csv", 0, 0, G_OPTION_ARG_NONE, &words->csv, "Print one line of CSV a note instead of the report", NULL},
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &words->folder, "Write everything worth keeping into this folder", "DIR"},
        {"jobs", 0, 0, G_OPTION_ARG_FILENAME, &words->jobs, "So many at once (default: as many as processors)", "N"},
        {"quiet", 'q', 0, G_OPTION_ARG_NONE, &words->quiet, "No progress and no remarks; errors are still told", NULL},
        {"no-colour", 0, 0, G_OPTION_ARG_NONE, &words->no_colour, "No colours, even on a terminal", NULL},
        {G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &words->files, NULL, NULL},
    };

    g_array_append_vals(entries, answers, G_N_ELEMENTS(answers));
}

/* ---- checks: each complains and returns FALSE on wrong usage ----------------------------------------------------- */

static gboolean check_voice(const char *command, const char *word, aperta_voice *voice)
{
    if (word == NULL || aperta_voice_parse(word, voice))
        return TRUE;
    g_autoptr(GString) known = g_string_new(NULL);
    for (aperta_voice one = APERTA_VOICE_WOMAN; one <= APERTA_VOICE_BASS; one++)
        g_string_append_printf(known, "%s%s", known->len > 0 ? ", " : "", aperta_voice_word(one));
    return cli_refuse(command, "--voice %s: it is one of %s", word, known->str);
}

static gboolean check_jobs(const char *command, const char *text)
{
    int value;

    if (text == NULL || cli_parse_whole(text, 1, G_MAXINT, &value))
        return TRUE;
    return cli_refuse(command, "--jobs %s: it is a whole number, at least 1", text);
}

gboolean cli_check_advising(const char *command, const char *input, const cli_advising_words *words,
                            aperta_voice *voice)
{
    if (words->files == NULL)
        return cli_refuse(command, "a %s is missing", input);
    if (words->json && words->csv)
        return cli_refuse(command, "--json and --csv exclude each other");
    if (words->style != NULL && words->rules != NULL)
        return cli_refuse(command, "--style and --rules exclude each other");
    if (words->folder != NULL && *words->folder == '\0')
        return cli_refuse(command, "--out needs the name of a folder");
    return check_jobs(command, words->jobs) && check_voice(command, words->voice, voice);
}

/* ---- from words to a request ------------------------------------------------------------------------------------- */

/* The names of styles are in small letters; "Belt" means belt. */
static char *named_style(const char *style)
{
    if (style == NULL)
        return g_strdup("belt");
    return cli_is_path(style, ".rules") ? g_strdup(style) : g_ascii_strdown(style, -1);
}

/* A path is written so that it cannot be taken for the name of a style. */
static char *wanted_style(const cli_advising_words *words)
{
    if (words->rules == NULL)
        return named_style(words->style);
    return cli_is_path(words->rules, ".rules") ? g_strdup(words->rules) : g_build_filename(".", words->rules, NULL);
}

/* "-" is standard input, as in many programs. */
static void name_standard_input(char **files)
{
    for (; *files != NULL; files++) {
        if (strcmp(*files, "-") != 0)
            continue;
        g_free(*files);
        *files = g_strdup("/dev/stdin");
    }
}

void cli_advising_fill(cli_advising_words *words, cli_advising *request)
{
    int jobs = (int)g_get_num_processors();

    if (words->jobs != NULL)
        cli_parse_whole(words->jobs, 1, G_MAXINT, &jobs);
    *request = (cli_advising){
        .files = g_steal_pointer(&words->files),
        .style = wanted_style(words),
        .table = g_steal_pointer(&words->table),
        .folder = g_steal_pointer(&words->folder),
        .format = words->json  ? CLI_JSON
                  : words->csv ? CLI_CSV
                               : CLI_TEXT,
        .quiet = words->quiet,
        .jobs = (guint)jobs,
    };
    name_standard_input(request->files);
    request->n_files = g_strv_length(request->files);
    request->colour = request->format == CLI_TEXT && !words->no_colour && cli_wants_colour();
}

void cli_advising_clear(cli_advising *request)
{
    g_strfreev(request->files);
    g_free(request->style);
    g_free(request->table);
    g_free(request->folder);
}

/* ---- the run ----------------------------------------------------------------------------------------------------- */

/* Libraries that draw and read letters break down where they are refused memory, so it is asked for beforehand. Pages
 * of the demo song need 300 MB of addresses, most of it libraries and the stacks of threads. */
#define ADDRESSES_LEAST_MB 400

static gboolean check_memory(void)
{
    struct rlimit limit;

    if (getrlimit(RLIMIT_AS, &limit) != 0 || limit.rlim_cur == RLIM_INFINITY ||
        limit.rlim_cur >= (rlim_t)ADDRESSES_LEAST_MB << 20)
        return TRUE;
    g_autofree char *message =
        g_strdup_printf("%d MB of address space are needed, and a limit allows only %d (raise it: ulimit -v)",
                        ADDRESSES_LEAST_MB, (int)(limit.rlim_cur >> 20));
    cli_complain(NULL, message);
    return FALSE;
}

static int check_reference(const cli_advising *request)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_rules) rules = aperta_rules_load(request->style, &error);

    if (rules == NULL)
        return cli_reference_error(request->style, error, ".rules");
    if (request->table == NULL)
        return CLI_OK;
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(request->table, &error);
    return table != NULL ? CLI_OK : cli_reference_error(request->table, error, ".tsv");
}

static gboolean check_outputs(const cli_advising *request, const char *also, const cli_outputs *outputs)
{
    g_autoptr(GPtrArray) inputs = g_ptr_array_new();

    if (also != NULL)
        g_ptr_array_add(inputs, (gpointer)also);
    for (char **file = request->files; *file != NULL; file++)
        g_ptr_array_add(inputs, *file);
    if (cli_is_path(request->style, ".rules"))
        g_ptr_array_add(inputs, request->style);
    if (request->table != NULL && cli_is_path(request->table, ".tsv"))
        g_ptr_array_add(inputs, request->table);
    g_ptr_array_add(inputs, NULL);
    return cli_outputs_check(outputs, (const char *const *)inputs->pdata);
}

gboolean cli_advising_shares_table(const cli_advising *request)
{
    return request->format == CLI_CSV && request->n_files > 1;
}

static GBytes *render_overview(G_GNUC_UNUSED int kind, G_GNUC_UNUSED const char *path, void *data,
                               G_GNUC_UNUSED GError **error)
{
    const GString *overview = data;

    return g_bytes_new(overview->str, overview->len);
}

/* Of the files that were read, be it that the run was broken off. */
static int write_overview(const cli_advising *request, const cli_advising_job *job, GString *overview, int status)
{
    if (request->n_files < 2 || overview->len == strlen(job->overview_header))
        return status;
    return cli_outputs_write(job->outputs, request->n_files, render_overview, overview) || status != CLI_OK
               ? status
               : CLI_FAILED;
}

static int run_batch(const cli_advising *request, const cli_advising_job *job)
{
    g_autoptr(GString) overview = job->overview_header != NULL ? g_string_new(job->overview_header) : NULL;
    const cli_batch batch = {.files = request->files,
                             .n_files = request->n_files,
                             .jobs = request->jobs,
                             .format = request->format,
                             .csv_header = job->csv_header,
                             .quiet = request->quiet,
                             .what = job->what,
                             .work = job->work,
                             .data = job->data,
                             .overview = overview};

    int status = cli_batch_run(&batch);
    return overview != NULL ? write_overview(request, job, overview, status) : status;
}

int cli_advising_run(const cli_advising *request, const cli_advising_job *job)
{
    if (!check_memory())
        return CLI_FAILED;
    int status = check_reference(request);
    if (status != CLI_OK)
        return status;
    if (!check_outputs(request, job->also, job->outputs))
        return CLI_FAILED;
    if (job->prepare != NULL && (status = job->prepare(job->data)) != CLI_OK)
        return status;
    cli_catch_interrupts();
    if (!cli_outputs_lock(job->outputs))
        return CLI_FAILED;
    return run_batch(request, job);
}

int cli_advising_outcome(const char *file, const GError *error)
{
    int signal = *cli_interrupt_flag();

    if (signal != 0) {
        cli_complain(file, CLI_INTERRUPTED);
        return CLI_SIGNAL_BASE + signal;
    }
    if (error == NULL)
        return CLI_OK;
    cli_complain(NULL, error->message);
    return CLI_FAILED;
}
