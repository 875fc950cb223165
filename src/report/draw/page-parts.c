/* page-parts.c - what the text reports of takes and of sheets have in common. */
#include "report/draw/page-parts.h"

#include "result/query.h"
#include "words/take-words.h"

void text_header_line(text_page *page, const char *label, const char *text)
{
    g_autofree char *lead = g_strdup_printf("  %s", label);

    text_wrap(page, TEXT_QUIET, lead, TEXT_LABEL_COLUMNS, text);
}

void text_warnings(text_page *page, const char *title, const GPtrArray *warnings)
{
    if (result_length(warnings) == 0)
        return;
    text_title(page, title);
    for (guint i = 0; i < warnings->len; i++) {
        g_autofree char *text = aperta_warning_text(g_ptr_array_index(warnings, i));
        text_wrap(page, TEXT_WATCH, "  ! ", 4, text);
    }
}

void text_cautions(text_page *page, const char *const *cautions)
{
    text_title(page, words_take_heading(WORDS_TAKE_CARE));
    for (const char *const *caution = cautions; caution != NULL && *caution != NULL; caution++)
        text_wrap(page, TEXT_PLAIN, "  - ", 4, *caution);
}

void text_put_words(text_page *page, const aperta_finding *finding, const words_whom *whom, GHashTable *told)
{
    g_auto(GStrv) paragraphs = words_tell(told, finding, whom);

    for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
        text_wrap(page, TEXT_PLAIN, "", TEXT_INDENT, *paragraph);
}

void text_put_first(text_page *page, guint number, aperta_level level, const char *where, const words_first *first)
{
    g_autofree char *lead = g_strdup_printf("  %u. ", number);
    g_auto(GStrv) paragraphs = words_first_paragraphs(first);

    text_wrap(page, text_level_ink(level), lead, TEXT_INDENT + 1, where);
    for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
        text_wrap(page, TEXT_PLAIN, "     ", TEXT_INDENT + 1, *paragraph);
}

void text_put_reasons(text_page *page, const GPtrArray *reasons)
{
    if (reasons->len > 0)
        text_title(page, words_take_heading(WORDS_TAKE_REASONS));
    for (guint i = 0; i < reasons->len; i++)
        text_wrap(page, TEXT_PLAIN, "  - ", TEXT_INDENT, g_ptr_array_index(reasons, i));
}
