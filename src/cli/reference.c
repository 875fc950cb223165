/* reference.c - the way of the commands that show reference data: a list, what was named, or a check of a file of one's
 * own. */
#include "cli-private.h"

static int show_all(const cli_reference *reference, char *const *names)
{
    int status = CLI_OK;

    for (char *const *name = names; *name != NULL && status == CLI_OK; name++) {
        cli_print(name == names ? "" : "\n");
        status = reference->show(*name, FALSE);
    }
    return status;
}

static int check_one(const cli_reference *reference, const char *name)
{
    g_autofree char *file = cli_checked_file(name, reference->ending);

    return reference->show(file, TRUE);
}

int cli_reference_run(const cli_reference *reference, int argc, char **argv)
{
    g_autofree char *check = NULL, *wanted = g_strconcat("FILE", reference->ending, NULL);
    g_auto(GStrv) names = NULL;
    const GOptionEntry entries[] = {{"check", 0, 0, G_OPTION_ARG_FILENAME, &check, reference->check, wanted},
                                    {G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &names, NULL, NULL},
                                    G_OPTION_ENTRY_NULL};
    const cli_syntax syntax = {
        .command = reference->command,
        .arguments = "[NAME...]",
        .summary = reference->summary,
        .entries = entries,
    };
    int status = CLI_OK;

    if (!cli_parse_options(&syntax, argc, argv, &status))
        return status;
    if (check != NULL && names != NULL)
        return cli_usage_error(reference->command, "--check stands alone");
    if (check != NULL)
        return check_one(reference, check);
    return names != NULL ? show_all(reference, names) : reference->list();
}
