/* sheet-command.c - "aperta sheet": options, their checks, and the way of one score through the library. */
#include "sheet-command.h"

#include <aperta/diction.h>
#include <stdlib.h>
#include <string.h>

enum { KEYS_MOST = 24, KEYS_USUAL = 6, OCTAVES_MOST = 3, VERSES_MOST = 999 };

/* The words of the command line before they are checked. */
typedef struct {
    cli_advising_words common;
    char *part, *octave, *transpose, *language, *word_list, *verse, *keys, *range, *paper;
} sheet_words;

static void sheet_words_clear(sheet_words *words)
{
    char *all[] = {words->part,  words->octave, words->transpose, words->language, words->word_list,
                   words->verse, words->keys,   words->range,     words->paper};

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        g_free(all[i]);
    cli_advising_words_clear(&words->common);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(sheet_words, sheet_words_clear)

static void sheet_request_clear(sheet_request *request)
{
    char *all[] = {request->part, request->word_list};

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        g_free(all[i]);
    cli_advising_clear(&request->common);
    aperta_dictions_free(request->options.dictions);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(sheet_request, sheet_request_clear)

/* ---- from words to a request ------------------------------------------------------------------------------------- */

static gboolean read_words(sheet_words *words, int argc, char **argv, int *status)
{
    const GOptionEntry entries[] = {
        {"part", 0, 0, G_OPTION_ARG_STRING, &words->part, "Name or number of the part (default: most words)", "NAME"},
        {"octave", 0, 0, G_OPTION_ARG_FILENAME, &words->octave, "Sung so many octaves higher; -1 is lower", "N"},
        {"transpose", 0, 0, G_OPTION_ARG_FILENAME, &words->transpose,
         "The sheet in another key, so many semitones higher; -2 is lower", "N"},
        {"verse", 0, 0, G_OPTION_ARG_FILENAME, &words->verse, "Only this verse (default: all)", "N|all"},
        {"language", 0, 0, G_OPTION_ARG_FILENAME, &words->language, "Language of the words (default: the score's)",
         "TAG"},
        {"words", 0, 0, G_OPTION_ARG_FILENAME, &words->word_list, "How words are sung, a list of your own", "FILE"},
        {"keys", 0, 0, G_OPTION_ARG_FILENAME, &words->keys, "Try other keys, semitones such as -6..+6", "FROM..TO"},
        {"range", 0, 0, G_OPTION_ARG_FILENAME, &words->range, "The singer's range, such as G3-E5: try other keys",
         "LOW-HIGH"},
        {"paper", 0, 0, G_OPTION_ARG_FILENAME, &words->paper, "Pages of the PDF: a4 (the default) or letter", "SIZE"},
        G_OPTION_ENTRY_NULL};
    const cli_syntax syntax = {
        .command = "sheet",
        .arguments = "SCORE...",
        .summary = "Reads scores with words (MusicXML, MIDI, or plain text) before anybody has sung\n"
                   "them, and says syllable by syllable which vowels may be worth reshaping in the\n"
                   "chosen style, and in which key the song is easiest.",
        .description = "Advice is a strategy to try, never a reason to push. Stop when it hurts.",
        .entries = entries,
        .advising = &words->common,
    };

    return cli_parse_options(&syntax, argc, argv, status);
}

/* The checks below complain and return FALSE on wrong usage. */

static gboolean check_score(const sheet_words *words, sheet_request *request)
{
    aperta_sheet_options *options = &request->options;

    if (words->octave != NULL && !cli_parse_whole(words->octave, -OCTAVES_MOST, OCTAVES_MOST, &options->octave))
        return cli_refuse("sheet", "--octave %s: it is a whole number from -%d to %d", words->octave, OCTAVES_MOST,
                          OCTAVES_MOST);
    if (words->transpose != NULL && !cli_parse_whole(words->transpose, -KEYS_MOST, KEYS_MOST, &options->transpose))
        return cli_refuse("sheet", "--transpose %s: it is a whole number of semitones from -%d to %d", words->transpose,
                          KEYS_MOST, KEYS_MOST);
    if (words->verse != NULL && strcmp(words->verse, "all") != 0 &&
        !cli_parse_whole(words->verse, 1, VERSES_MOST, &options->verse))
        return cli_refuse("sheet", "--verse %s: it is a number, 1 for the first verse, or all", words->verse);
    return TRUE;
}

static gboolean check_language(const sheet_words *words, sheet_request *request)
{
    if (words->language == NULL)
        return TRUE;
    request->options.language = aperta_diction_language(words->language);
    if (request->options.language != NULL)
        return TRUE;
    g_autofree char *known = g_strjoinv(", ", (char **)aperta_diction_languages());
    return cli_refuse("sheet",
                      "--language %s: it is one of en (meaning en-US), %s, or a name such as German or Deutsch",
                      words->language, known);
}

/* "-6..+6" */
static gboolean check_keys(const sheet_words *words, sheet_request *request)
{
    aperta_sheet_options *options = &request->options;

    if (words->keys == NULL)
        return TRUE;
    g_auto(GStrv) ends = g_strsplit(words->keys, "..", -1);
    options->try_keys = TRUE;
    if (g_strv_length(ends) != 2 || !cli_parse_whole(ends[0], -KEYS_MOST, KEYS_MOST, &options->keys_low) ||
        !cli_parse_whole(ends[1], -KEYS_MOST, KEYS_MOST, &options->keys_high) || options->keys_low > options->keys_high)
        return cli_refuse("sheet", "--keys %s: it is two numbers of semitones such as -6..+6, not beyond %d",
                          words->keys, KEYS_MOST);
    return TRUE;
}

/* "G3-E5"; the names of notes hold no hyphen in the octaves that voices have. */
static gboolean check_range(const sheet_words *words, sheet_request *request)
{
    aperta_sheet_options *options = &request->options;

    if (words->range == NULL)
        return TRUE;
    g_auto(GStrv) ends = g_strsplit(words->range, "-", -1);
    gboolean read = g_strv_length(ends) == 2 && aperta_pitch_parse(ends[0], &options->range_low) &&
                    aperta_pitch_parse(ends[1], &options->range_high);
    if (read && options->range_low > options->range_high)
        return cli_refuse("sheet", "--range %s: it is reversed, write the lowest note first: %s-%s", words->range,
                          ends[1], ends[0]);
    if (!read || options->range_low == options->range_high)
        return cli_refuse("sheet", "--range %s: it is the lowest and the highest note of the singer, such as G3-E5",
                          words->range);
    if (!options->try_keys) {
        options->keys_low = -KEYS_USUAL;
        options->keys_high = KEYS_USUAL;
    }
    options->try_keys = TRUE;
    return TRUE;
}

static gboolean check_paper(const sheet_words *words, sheet_request *request)
{
    if (words->paper == NULL || strcmp(words->paper, "a4") == 0)
        return TRUE;
    request->paper = APERTA_PAPER_LETTER;
    return strcmp(words->paper, "letter") == 0 || cli_refuse("sheet", "--paper %s: it is a4 or letter", words->paper);
}

static gboolean check_words(sheet_words *words, sheet_request *request)
{
    return cli_check_advising("sheet", "score", &words->common, &request->options.voice) &&
           check_score(words, request) && check_language(words, request) && check_keys(words, request) &&
           check_range(words, request) && check_paper(words, request);
}

static void fill_request(sheet_words *words, sheet_request *request)
{
    cli_advising_fill(&words->common, &request->common);
    request->part = g_steal_pointer(&words->part);
    request->word_list = g_steal_pointer(&words->word_list);
    if (words->common.style != NULL || words->common.rules != NULL)
        request->options.style = request->common.style; /* else nobody said, which the sheet remarks upon */
    request->options.table = request->common.table;
    request->options.part = request->part;
}

/* ---- one score --------------------------------------------------------------------------------------------------- */

typedef struct {
    sheet_request *request;
    const cli_outputs *outputs;
} sheet_work;

static int sheet_one(void *data, guint index, cli_reading *reading)
{
    const sheet_work *work = data;
    const sheet_request *request = work->request;
    const char *file = request->common.files[index];
    g_autoptr(GError) error = NULL;
    cli_interrupt_at_once(file); /* until its outputs are written */
    g_autoptr(aperta_sheet) sheet = aperta_sheet_read(file, &request->options, &error);
    int status = cli_advising_outcome(file, error);

    if (status != CLI_OK)
        return status;
    reading->text = sheet_render(request, index, sheet);
    return sheet_outputs_write(work->outputs, index, request, sheet) ? CLI_OK : CLI_FAILED;
}

/* What several scores need is made ready once, before the work is shared out. A wrong --words is told early: a vowel
 * that one language can judge can be judged in all. Where no language is named, English is only the likeliest, and what
 * is wrong with it (a list of one's own in the configuration folder) matters to the scores that are English. */
static int prepare_words(void *data)
{
    sheet_request *request = ((sheet_work *)data)->request;
    const char *language = request->options.language, *list = request->word_list;
    g_autoptr(GError) error = NULL;

    request->options.dictions = aperta_dictions_create(list);
    if (request->common.n_files < 2 ||
        aperta_dictions_get(request->options.dictions, language != NULL ? language : "en-US", &error) != NULL ||
        (language == NULL && list == NULL))
        return CLI_OK;
    cli_complain(NULL, error->message);
    return CLI_FAILED;
}

int cli_sheet(int argc, char **argv)
{
    g_auto(sheet_words) words = {0};
    g_auto(sheet_request) request = {0};
    int status = CLI_OK;

    if (!read_words(&words, argc, argv, &status))
        return status;
    if (!check_words(&words, &request))
        return CLI_USAGE;
    fill_request(&words, &request);
    g_autoptr(cli_outputs) outputs = sheet_outputs_plan(&request);
    g_autofree char *csv_header = aperta_report_sheet_csv_header();
    sheet_work work = {&request, outputs};
    const cli_advising_job job = {.what = "scores",
                                  .csv_header = csv_header,
                                  .also = request.word_list,
                                  .outputs = outputs,
                                  .prepare = prepare_words,
                                  .work = sheet_one,
                                  .data = &work};
    return cli_advising_run(&request.common, &job);
}
