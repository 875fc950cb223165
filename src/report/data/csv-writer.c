/* csv-writer.c - fields of a table, RFC 4180. */
#include "report/data/csv-writer.h"
#include "words/words.h"

#include <string.h>

GString *csv_header(gboolean with_file, const char *columns)
{
    GString *out = g_string_new(with_file ? "file," : NULL);

    g_string_append_printf(out, "%s\n", columns);
    return out;
}

static void separate(csv_writer *csv)
{
    if (csv->in_row)
        g_string_append_c(csv->out, ',');
    csv->in_row = TRUE;
}

void csv_begin_row(csv_writer *csv, const char *file)
{
    csv->in_row = FALSE;
    if (file != NULL)
        csv_text(csv, file);
}

/* A cell that begins so is a formula to a spreadsheet, which runs it; behind an apostrophe it is text (OWASP, "CSV
 * Injection"). Tabs and line feeds are blanks by then. */
#define CSV_FORMULA_STARTS "=+-@"

static void guard(char **cell)
{
    char *bare = *cell;

    *cell = g_strconcat("'", bare, NULL);
    g_free(bare);
}

void csv_text(csv_writer *csv, const char *text)
{
    separate(csv);
    if (text == NULL)
        return;
    g_autofree char *shown = aperta_shown(text);
    if (*shown != '\0' && strchr(CSV_FORMULA_STARTS, *shown) != NULL)
        guard(&shown);
    if (strpbrk(shown, ",\"") == NULL) {
        g_string_append(csv->out, shown);
        return;
    }
    g_string_append_c(csv->out, '"');
    for (const char *at = shown; *at != '\0'; at++) {
        if (*at == '"')
            g_string_append_c(csv->out, '"');
        g_string_append_c(csv->out, *at);
    }
    g_string_append_c(csv->out, '"');
}

void csv_integer(csv_writer *csv, int value)
{
    separate(csv);
    g_string_append_printf(csv->out, "%d", value);
}

void csv_number(csv_writer *csv, gboolean known, double value, int decimals)
{
    separate(csv);
    if (known)
        words_append_number(csv->out, value, decimals);
}

void csv_end_row(csv_writer *csv)
{
    g_string_append_c(csv->out, '\n');
}
