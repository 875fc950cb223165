/* options.c - reading a command's options. */
#include "cli-private.h"

#include <aperta/base.h>

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

/* What an unknown option, perhaps with a value, may have meant; NULL: nothing known. option NULL: a short one. */
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
