/* rules-command.c - "aperta rules": the advice rules with their reasons and sources; a check for rules of one's own. */
#include "cli-private.h"

#include <aperta/advice.h>

static int list_rules(void)
{
    g_autoptr(GError) error = NULL;
    g_auto(GStrv) names = aperta_rules_names(&error);

    if (names == NULL) {
        cli_complain(NULL, error->message);
        return CLI_FAILED;
    }
    for (char **name = names; *name != NULL; name++) {
        g_autoptr(aperta_rules) rules = aperta_rules_load(*name, &error);
        if (rules == NULL)
            return cli_reference_error(*name, error, ".rules");
        cli_printf("%-12s %s\n", *name, aperta_rules_title(rules));
    }
    cli_print("\nAll rules of one style with their reasons and sources: aperta rules NAME\n");
    return CLI_OK;
}

/* name: a style or the path of a file. */
static int show_rules(const char *name, gboolean check)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_rules) rules = aperta_rules_load(name, &error);

    if (rules == NULL)
        return cli_reference_error(name, error, ".rules");
    if (check) {
        g_autofree char *shown = aperta_shown(name);
        cli_printf("%s: no errors (%s)\n", shown, aperta_rules_title(rules));
        return CLI_OK;
    }
    g_autofree char *text = aperta_rules_describe(rules);
    cli_show(text);
    return CLI_OK;
}

int cli_rules(int argc, char **argv)
{
    const cli_reference rules = {
        .command = "rules",
        .summary = "Lists the styles there are rules for, or shows all rules of the named ones.",
        .check = "Read rules of your own and tell what is wrong with them",
        .ending = ".rules",
        .list = list_rules,
        .show = show_rules,
    };

    return cli_reference_run(&rules, argc, argv);
}
