/* options.c - reading a command's options, and what to say when they are wrong. */
#include "cli-private.h"

#include <aperta/base.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static void add_entries(GArray *all, const GOptionEntry *entries)
{
    for (; entries->long_name != NULL; entries++)
        g_array_append_val(all, *entries);
}

/* The command's own options, after and before those that every advising command has, as --help lists them. */
static GArray *entries_of(const cli_syntax *syntax, gboolean *help)
{
    GArray *all = g_array_new(TRUE, TRUE, sizeof(GOptionEntry));
    const GOptionEntry help_entry[] = {{"help", 'h', 0, G_OPTION_ARG_NONE, help, "Show this help and end", NULL},
                                       G_OPTION_ENTRY_NULL};

    if (syntax->advising != NULL)
        cli_advising_add_questions(syntax->advising, all);
    add_entries(all, syntax->entries);
    if (syntax->advising != NULL)
        cli_advising_add_answers(syntax->advising, all);
    add_entries(all, help_entry);
    return all;
}

static GOptionContext *context_of(const cli_syntax *syntax, const GOptionEntry *entries)
{
    GOptionContext *context = g_option_context_new(syntax->arguments);

    g_option_context_set_help_enabled(context, FALSE);
    g_option_context_set_summary(context, syntax->summary);
    g_option_context_set_description(context, syntax->description);
    g_option_context_add_main_entries(context, entries, NULL);
    return context;
}

/* What an unknown option, perhaps with a value, may have meant; NULL: nothing known. option may be NULL: a short one.
 */
static char *option_hint(const GOptionEntry *entries, const char *option)
{
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);

    if (option == NULL)
        return NULL;
    for (; entries->long_name != NULL; entries++)
        if (*entries->long_name != '\0') /* empty: the arguments that are no options */
            g_ptr_array_add(names, g_strconcat("--", entries->long_name, NULL));
    g_autofree char *name = g_strndup(option, strcspn(option, "="));
    return aperta_name_hint(name, (const char *const *)names->pdata, names->len);
}

/* GLib's message, begun and ended as ours are: "Unknown option --vioce=alto". */
static int complain_of_options(const char *command, const GOptionEntry *entries, const GError *error)
{
    g_autofree char *hint = NULL;

    if (g_error_matches(error, G_OPTION_ERROR, G_OPTION_ERROR_UNKNOWN_OPTION))
        hint = option_hint(entries, strstr(error->message, "--"));
    return cli_usage_error(command, "%c%s%s", g_ascii_tolower(error->message[0]), error->message + 1,
                           hint != NULL ? hint : "");
}

gboolean cli_parse_options(const cli_syntax *syntax, int argc, char **argv, int *status)
{
    gboolean help = FALSE;
    g_autoptr(GArray) entries = entries_of(syntax, &help);
    const GOptionEntry *first = (const GOptionEntry *)(void *)entries->data;
    g_autoptr(GOptionContext) context = context_of(syntax, first);
    g_autoptr(GError) error = NULL;
    g_autofree char *name = g_strconcat("aperta ", syntax->command, NULL);

    g_set_prgname(name);
    if (!g_option_context_parse(context, &argc, &argv, &error)) {
        *status = complain_of_options(syntax->command, first, error);
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
    g_autofree char *pointed = g_strdelimit(g_strdup(text), ",", '.'); /* a decimal comma: no option takes thousands */
    char *end;

    *value = g_ascii_strtod(pointed, &end);
    return end != pointed && *end == '\0' && isfinite(*value);
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

char *cli_checked_file(const char *name, const char *ending)
{
    if (cli_is_path(name, ending) || !g_file_test(name, G_FILE_TEST_EXISTS))
        return g_strdup(name);
    return g_build_filename(".", name, NULL);
}

int cli_reference_error(const char *name, const GError *error, const char *ending)
{
    gboolean file = cli_is_path(name, ending);

    if (!file && g_file_test(name, G_FILE_TEST_EXISTS))
        cli_usage_error(NULL, "%s: the name of a file of your own ends in %s, or is written ./%s", name, ending, name);
    else
        cli_complain(file ? name : NULL, error->message);
    return file || !g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND) ? CLI_FAILED : CLI_USAGE;
}
