/* page.c - widths, wrapping and colours of the text report. */
#include "report/draw/page.h"
#include "words/words.h"

#include <string.h>

/* ECMA-48 (SGR): 1 bold, 2 faint, 31..33 red, green, yellow. Each colour goes with a word that says the same. */
static const char *const inks[] = {"", "\033[1m", "\033[32m", "\033[33m", "\033[1;31m", "\033[2m"};

text_page text_page_new(const aperta_report_text_options *options)
{
    text_page page = {.out = g_string_new(NULL), .columns = 80};

    if (options != NULL) {
        page.colour = options->colour;
        page.columns = options->columns > 0 ? MAX(options->columns, 60) : 80;
        page.table_columns = options->table_columns;
    }
    page.table_columns = MAX(page.table_columns, page.columns);
    return page;
}

text_ink text_level_ink(aperta_level level)
{
    static const text_ink level_inks[] = {TEXT_FINE, TEXT_WATCH, TEXT_CHANGE};

    return level_inks[level];
}

static int char_width(gunichar c)
{
    if (g_unichar_iszerowidth(c))
        return 0;
    return g_unichar_iswide(c) ? 2 : 1;
}

int text_width(const char *text)
{
    int width = 0;

    for (; *text != '\0'; text = g_utf8_next_char(text))
        width += char_width(g_utf8_get_char(text));
    return width;
}

static void blanks(text_page *page, int n)
{
    for (; n > 0; n--)
        g_string_append_c(page->out, ' ');
}

void text_put(text_page *page, text_ink ink, const char *text, int width, gboolean right)
{
    g_autofree char *clean = aperta_shown(text);
    gboolean coloured = page->colour && ink != TEXT_PLAIN && clean[0] != '\0';
    int fill = width - text_width(clean);

    if (right)
        blanks(page, fill);
    if (coloured)
        g_string_append(page->out, inks[ink]);
    g_string_append(page->out, clean);
    if (coloured)
        g_string_append(page->out, "\033[0m");
    if (!right)
        blanks(page, fill);
}

void text_title(text_page *page, const char *title)
{
    g_string_append_c(page->out, '\n');
    text_put(page, TEXT_TITLE, title, 0, FALSE);
    g_string_append_c(page->out, '\n');
}

/* Appends word to the line that stands at column at, or to a new one; a word longer than a line is cut in pieces. */
static int place_word(text_page *page, const char *word, int at, int indent, gboolean line_empty)
{
    int width = text_width(word);

    if (!line_empty && at + 1 + width > page->columns) {
        g_string_append_c(page->out, '\n');
        blanks(page, indent);
        at = indent;
    } else if (!line_empty) {
        g_string_append_c(page->out, ' ');
        at++;
    }
    for (; *word != '\0'; word = g_utf8_next_char(word)) {
        gunichar c = g_utf8_get_char(word);
        if (at + char_width(c) > page->columns) {
            g_string_append_c(page->out, '\n');
            blanks(page, indent);
            at = indent;
        }
        g_string_append_unichar(page->out, c);
        at += char_width(c);
    }
    return at;
}

void text_wrap(text_page *page, text_ink lead_ink, const char *lead, int indent, const char *text)
{
    g_autofree char *clean = aperta_shown(text);
    g_auto(GStrv) words = g_strsplit(clean, " ", -1);
    gboolean line_empty = TRUE;
    int at = MAX(text_width(lead), indent);

    text_put(page, lead_ink, lead, indent, FALSE);
    for (char **word = words; *word != NULL; word++) {
        if (**word == '\0')
            continue;
        at = place_word(page, *word, at, indent, line_empty);
        line_empty = FALSE;
    }
    g_string_append_c(page->out, '\n');
}
