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

gboolean cli_parse_options(const cli_syntax *syntax, int argc, char **argv, int *status)
{
    gboolean help = FALSE;
    g_autoptr(GOptionContext) context = context_of(syntax, &help);
    g_autoptr(GError) error = NULL;
    g_autofree char *name = g_strconcat("aperta ", syntax->command, NULL);

    g_set_prgname(name);
    if (!g_option_context_parse(context, &argc, &argv, &error)) {
        *status = cli_usage_error(syntax->command, "%s", error->message);
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

gboolean cli_check_voice(const char *command, const char *word, aperta_voice *voice)
{
    if (word == NULL || aperta_voice_parse(word, voice))
        return TRUE;
    g_autoptr(GString) known = g_string_new(NULL);
    for (aperta_voice one = APERTA_VOICE_WOMAN; one <= APERTA_VOICE_BASS; one++)
        g_string_append_printf(known, "%s%s", known->len > 0 ? ", " : "", aperta_voice_word(one));
    cli_usage_error(command, "--voice %s: it is one of %s", word, known->str);
    return FALSE;
}

gboolean cli_check_jobs(const char *command, const char *text, guint *jobs)
{
    int value = (int)g_get_num_processors();

    if (text != NULL && !cli_parse_whole(text, 1, G_MAXINT, &value)) {
        cli_usage_error(command, "--jobs %s: it is a whole number, at least 1", text);
        return FALSE;
    }
    *jobs = (guint)value;
    return TRUE;
}

char *cli_rules_path(const char *path)
{
    return cli_is_path(path, ".rules") ? g_strdup(path) : g_build_filename(".", path, NULL);
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
