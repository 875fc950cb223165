/* options.c - reading a command's options, and what to say when they are wrong. */
#include "cli-private.h"

#include <aperta/advice.h>
#include <aperta/vowel.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static GOptionContext *context_of(const cli_syntax *syntax, gboolean *help)
{
    GOptionContext *context = g_option_context_new(syntax->arguments);
    const GOptionEntry help_entry[] = {
        {"help", 'h', G_OPTION_FLAG_NONE, G_OPTION_ARG_NONE, help, "Show this help and end", NULL},
        G_OPTION_ENTRY_NULL};

    g_option_context_set_help_enabled(context, FALSE);
    g_option_context_set_summary(context, syntax->summary);
    g_option_context_set_description(context, syntax->description);
    g_option_context_add_main_entries(context, syntax->entries, NULL);
    g_option_context_add_main_entries(context, help_entry, NULL);
    return context;
}

/* What an unknown option, perhaps with a value, may have meant; NULL: nothing known. option may be NULL: a short one.
 */
static char *option_hint(const GOptionEntry *entries, const char *option)
{
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);

    if (option == NULL)
        return NULL;
    g_ptr_array_add(names, g_strdup("--help"));
    for (; entries->long_name != NULL; entries++)
        if (*entries->long_name != '\0') /* empty: the arguments that are no options */
            g_ptr_array_add(names, g_strconcat("--", entries->long_name, NULL));
    g_autofree char *name = g_strndup(option, strcspn(option, "="));
    return aperta_name_hint(name, (const char *const *)names->pdata, names->len);
}

/* GLib's message, begun and ended as ours are: "Unknown option --vioce=alto". */
static int complain_of_options(const cli_syntax *syntax, const GError *error)
{
    g_autofree char *hint = NULL;

    if (g_error_matches(error, G_OPTION_ERROR, G_OPTION_ERROR_UNKNOWN_OPTION))
        hint = option_hint(syntax->entries, strstr(error->message, "--"));
    return cli_usage_error(syntax->command, "%c%s%s", g_ascii_tolower(error->message[0]), error->message + 1,
                           hint != NULL ? hint : "");
}

gboolean cli_parse_options(const cli_syntax *syntax, int argc, char **argv, int *status)
{
    gboolean help = FALSE;
    g_autoptr(GOptionContext) context = context_of(syntax, &help);
    g_autoptr(GError) error = NULL;
    g_autofree char *name = g_strconcat("aperta ", syntax->command, NULL);

    g_set_prgname(name);
    if (!g_option_context_parse(context, &argc, &argv, &error)) {
        *status = complain_of_options(syntax, error);
        return FALSE;
    }
    if (help) {
        g_autofree char *text = g_option_context_get_help(context, TRUE, NULL);
        cli_print(text);
        *status = CLI_OK;
        return FALSE;
    }
    return TRUE;
}

int cli_usage_error(const char *command, const char *format, ...)
{
    va_list values;

    va_start(values, format);
    g_autofree char *text = g_strdup_vprintf(format, values);
    va_end(values);
    g_autofree char *message = command != NULL ? g_strdup_printf("%s (see aperta %s --help)", text, command)
                                               : g_strdup_printf("%s (see aperta --help)", text);
    cli_complain(NULL, message);
    return CLI_USAGE;
}

gboolean cli_refuse(const char *command, const char *format, ...)
{
    va_list values;

    va_start(values, format);
    g_autofree char *text = g_strdup_vprintf(format, values);
    va_end(values);
    cli_usage_error(command, "%s", text);
    return FALSE;
}

gboolean cli_parse_number(const char *text, double *value)
{
    char *end;

    *value = g_ascii_strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*value);
}

gboolean cli_parse_whole(const char *text, int least, int most, int *value)
{
    gint64 number;

    if (text[0] == '+' && g_ascii_isdigit(text[1]))
        text++;
    if (!g_ascii_string_to_signed(text, 10, least, most, &number, NULL))
        return FALSE;
    *value = (int)number;
    return TRUE;
}

gboolean cli_parse_time(const char *text, double *seconds)
{
    const char *colon = strchr(text, ':');
    double minutes = 0.0;

    if (colon != NULL) {
        g_autofree char *before = g_strndup(text, (gsize)(colon - text));
        if (!cli_parse_number(before, &minutes) || minutes < 0.0 || minutes != floor(minutes))
            return FALSE;
        text = colon + 1;
    }
    if (!cli_parse_number(text, seconds) || *seconds < 0.0 || (colon != NULL && *seconds >= 60.0))
        return FALSE;
    *seconds += 60.0 * minutes;
    return TRUE;
}

gboolean cli_is_path(const char *name, const char *ending)
{
    return strchr(name, G_DIR_SEPARATOR) != NULL || g_str_has_suffix(name, ending);
}

int cli_reference_error(const char *name, const GError *error, const char *ending)
{
    gboolean file = cli_is_path(name, ending);

    cli_complain(file ? name : NULL, error->message);
    return file || !g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND) ? CLI_FAILED : CLI_USAGE;
}

/* ---- what every command that advises asks for ---------------------------------------------------------------------
 */

void cli_advising_words_clear(cli_advising_words *words)
{
    char *all[] = {words->style, words->rules, words->table, words->voice, words->folder, words->jobs};

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        g_free(all[i]);
}

static gboolean check_voice(const char *command, const char *word, aperta_voice *voice)
{
    if (word == NULL || aperta_voice_parse(word, voice))
        return TRUE;
    g_autoptr(GString) known = g_string_new(NULL);
    for (aperta_voice one = APERTA_VOICE_WOMAN; one <= APERTA_VOICE_BASS; one++)
        g_string_append_printf(known, "%s%s", known->len > 0 ? ", " : "", aperta_voice_word(one));
    return cli_refuse(command, "--voice %s: it is one of %s", word, known->str);
}

static gboolean check_jobs(const char *command, const char *text, guint *jobs)
{
    int value = (int)g_get_num_processors();

    if (text != NULL && !cli_parse_whole(text, 1, G_MAXINT, &value))
        return cli_refuse(command, "--jobs %s: it is a whole number, at least 1", text);
    *jobs = (guint)value;
    return TRUE;
}

gboolean cli_check_advising(const char *command, const cli_advising_words *words, aperta_voice *voice, guint *jobs)
{
    if (words->json && words->csv)
        return cli_refuse(command, "--json and --csv exclude each other");
    if (words->style != NULL && words->rules != NULL)
        return cli_refuse(command, "--style and --rules exclude each other");
    if (words->folder != NULL && *words->folder == '\0')
        return cli_refuse(command, "--out needs the name of a folder");
    return check_jobs(command, words->jobs, jobs) && check_voice(command, words->voice, voice);
}

/* A path is written so that it cannot be taken for the name of a style. */
char *cli_wanted_style(const cli_advising_words *words)
{
    if (words->rules == NULL)
        return g_strdup(words->style != NULL ? words->style : "belt");
    return cli_is_path(words->rules, ".rules") ? g_strdup(words->rules) : g_build_filename(".", words->rules, NULL);
}

cli_format cli_wanted_format(const cli_advising_words *words)
{
    return words->json ? CLI_JSON : words->csv ? CLI_CSV : CLI_TEXT;
}

gboolean cli_wanted_colour(const cli_advising_words *words)
{
    return cli_wanted_format(words) == CLI_TEXT && !words->no_colour && cli_wants_colour();
}

int cli_check_reference(const char *style, const char *table_name)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_rules) rules = aperta_rules_load(style, &error);

    if (rules == NULL)
        return cli_reference_error(style, error, ".rules");
    if (table_name == NULL)
        return CLI_OK;
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(table_name, &error);
    return table != NULL ? CLI_OK : cli_reference_error(table_name, error, ".tsv");
}

GPtrArray *cli_input_files(char *const *files, const char *style, const char *table)
{
    GPtrArray *inputs = g_ptr_array_new();

    for (; *files != NULL; files++)
        g_ptr_array_add(inputs, *files);
    if (cli_is_path(style, ".rules"))
        g_ptr_array_add(inputs, (gpointer)style);
    if (table != NULL && cli_is_path(table, ".tsv"))
        g_ptr_array_add(inputs, (gpointer)table);
    g_ptr_array_add(inputs, NULL);
    return inputs;
}
