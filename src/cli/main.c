/* main.c - the program aperta: finds the command and hands over to it. */
#include "cli-private.h"

#include <string.h>

#ifdef HAVE_CONFIG_H
#include "config.h"
#endif

typedef struct {
    const char *name;
    const char *summary;
    int (*run)(int argc, char **argv);
} command;

static const command commands[] = {
    {"take", "read recordings: notes, vowels, resonances, advice", cli_take},
    {"sheet", "read scores with words: advice for each syllable, other keys", cli_sheet},
    {"tables", "show the vowel tables and where they come from", cli_tables},
    {"rules", "show the advice rules with their reasons; check your own", cli_rules},
};

static void print_help(void)
{
    cli_print("Usage:\n"
              "  aperta COMMAND [OPTION...] [ARGUMENT...]\n\n"
              "Reads sung phrases, or a score with its words, and says, note by note, which\n"
              "vowels may be worth reshaping in the chosen style, and what to sing instead.\n\n"
              "Commands:\n");
    for (gsize i = 0; i < G_N_ELEMENTS(commands); i++)
        cli_printf("  %-8s %s\n", commands[i].name, commands[i].summary);
    cli_print("\nOptions:\n"
              "  -h, --help     Show this help and end\n"
              "  -v, --version  Show the version and end\n\n"
              "Each command has its own help (aperta help take, or aperta take --help) and its\n"
              "own manual page (man aperta-take).\n");
}

static const command *find_command(const char *name)
{
    for (gsize i = 0; i < G_N_ELEMENTS(commands); i++)
        if (strcmp(name, commands[i].name) == 0)
            return &commands[i];
    return NULL;
}

static int refuse_command(const char *word)
{
    static const char *const words[] = {"take", "sheet", "tables", "rules", "help", "--help", "--version"};
    g_autofree char *hint = aperta_name_hint(word, words, G_N_ELEMENTS(words));

    return cli_usage_error(NULL, "there is no command or option \"%s\"%s", word, hint);
}

/* "aperta help take" is "aperta take --help". */
static int help(int argc, char **argv)
{
    char *words[] = {argc > 1 ? argv[1] : NULL, (char *)"--help", NULL};

    if (argc < 2 || strcmp(argv[1], "help") == 0) {
        print_help();
        return CLI_OK;
    }
    const command *named = find_command(argv[1]);
    return named != NULL ? named->run(2, words) : refuse_command(argv[1]);
}

static int run(int argc, char **argv)
{
    if (argc < 2)
        return cli_usage_error(NULL, "a command is missing: take, sheet, tables or rules");
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        print_help();
        return CLI_OK;
    }
    if (strcmp(argv[1], "--version") == 0 || strcmp(argv[1], "-v") == 0) {
        cli_print("aperta " PACKAGE_VERSION "\n");
        return CLI_OK;
    }
    if (strcmp(argv[1], "help") == 0)
        return help(argc - 1, argv + 1);
    const command *named = find_command(argv[1]);
    return named != NULL ? named->run(argc - 1, argv + 1) : refuse_command(argv[1]);
}

int main(int argc, char **argv)
{
    cli_guard_descriptors();
    g_auto(GStrv) words = g_strdupv(argv); /* reading options changes argv */
    cli_remember_words(words);
    return cli_end_output(run(argc, argv));
}
