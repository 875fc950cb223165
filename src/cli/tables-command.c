/* tables-command.c - "aperta tables": the vowel tables, their figures and their sources. */
#include "cli-private.h"

#include <aperta/vowel.h>
#include <string.h>

static int list_tables(void)
{
    g_autoptr(GError) error = NULL;
    g_auto(GStrv) names = aperta_vowel_table_names(&error);

    if (names == NULL) {
        cli_complain(NULL, error->message);
        return CLI_FAILED;
    }
    for (char **name = names; *name != NULL; name++) {
        g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(*name, &error);
        if (table == NULL)
            return cli_reference_error(*name, error, ".tsv");
        cli_printf("%s\n    %s\n    %s, %u vowels; figures: %s\n", *name, table->title, aperta_voice_word(table->voice),
                   table->n_rows, table->status);
    }
    cli_print("\nOne table with its figures and source: aperta tables NAME\n");
    return CLI_OK;
}

/* "  437 ±41 " or blanks of the same width. */
static void print_cell(const aperta_vowel_row *row, int i)
{
    if (!row->has[i]) {
        cli_print("          -");
        return;
    }
    cli_printf("  %4.0f \u00b1%-3.0f", row->hz[i], row->sd_hz[i]);
}

/* Blanks after text up to so many characters (not bytes). */
static void print_padded(const char *text, glong width)
{
    cli_printf("%s%*s", text, (int)MAX(width - g_utf8_strlen(text, -1), 0), "");
}

static void print_row(const aperta_vowel_row *row)
{
    g_autofree char *word = g_strdup_printf("\"%s\" (%s)", row->vowel->respelling, row->vowel->key_word);

    print_padded(row->vowel->ipa, 3);
    print_padded(word, 16);
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        print_cell(row, i);
    cli_printf("%s%s\n", row->sd_published ? "" : "  *", row->open_target ? "" : "  \u2020");
}

static void print_table(const aperta_vowel_table *table)
{
    gboolean own_spread = FALSE;
    gboolean no_target = FALSE;

    cli_printf("%s\nsource: %s\nfigures: %s\nvoice: %s\n\n", table->title, table->source, table->status,
               aperta_voice_word(table->voice));
    cli_print("vowel              F1 (Hz)    F2 (Hz)    F3 (Hz)     mean \u00b1 spread between speakers\n");
    for (guint i = 0; i < table->n_rows; i++) {
        print_row(&table->rows[i]);
        own_spread = own_spread || !table->rows[i].sd_published;
        no_target = no_target || !table->rows[i].open_target;
    }
    if (own_spread)
        cli_print("\n* The source gives no spread; this one is ours.\n");
    if (no_target)
        cli_print("\n\u2020 A regional value: never used as a shape to open towards.\n");
}

static int show_table(const char *name, gboolean check)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(name, &error);

    if (table == NULL)
        return cli_reference_error(name, error, ".tsv");
    g_autofree char *shown = aperta_shown(name);
    if (check)
        cli_printf("%s: no errors (vowels: %u)\n", shown, table->n_rows);
    else
        print_table(table);
    return CLI_OK;
}

int cli_tables(int argc, char **argv)
{
    const cli_reference tables = {
        .command = "tables",
        .summary = "Lists the vowel tables, or shows the named ones with figures and sources.",
        .check = "Read a table of your own and tell what is wrong with it",
        .ending = ".tsv",
        .list = list_tables,
        .show = show_table,
    };

    return cli_reference_run(&tables, argc, argv);
}
