/* text.c - the report a singer reads: what was sung, what to try, what could not be told, and the cautions last. */
#include "report/take/text-private.h"
#include "result/query.h"
#include "words/take-words.h"

#include <aperta/report.h>

/* What a reader must know before believing the rest. */
static void trust_line(text_page *page, const aperta_result *result)
{
    gboolean care = result->trust.level == APERTA_TRUST_CARE;
    g_autofree char *line = words_trust(&result->trust);

    text_wrap(page, care ? TEXT_WATCH : TEXT_QUIET, "  Trust", TEXT_LABEL_COLUMNS, line);
}

static void header(text_page *page, const aperta_result *result)
{
    g_autofree char *title = words_take_title(result);
    g_autoptr(GArray) facts = words_take_facts(result);

    text_wrap(page, TEXT_TITLE, "", 0, title);
    for (guint i = 0; i < facts->len; i++) {
        const words_fact *fact = &g_array_index(facts, words_fact, i);
        text_header_line(page, fact->label, fact->text);
    }
    trust_line(page, result);
}

/* Those about the table of vowels, or those about the recording. */
static void some_warnings(text_page *page, const aperta_result *result, const char *title, gboolean about_table)
{
    g_autoptr(GPtrArray) some = g_ptr_array_new();

    for (guint i = 0; i < result_length(result->warnings); i++) {
        aperta_warning *warning = aperta_warning_at(result->warnings, i);
        if ((warning->kind == APERTA_WARNING_TABLE_STATUS) == about_table)
            g_ptr_array_add(some, warning);
    }
    text_warnings(page, title, some);
}

char *aperta_report_text(const aperta_result *result, const aperta_report_text_options *options)
{
    text_page page = text_page_new(options);

    if (options != NULL && options->brief && result->notes->len > 0) {
        text_brief(&page, result);
        return g_string_free(page.out, FALSE);
    }
    header(&page, result);
    if (result->notes->len > 0) {
        text_try_first(&page, result);
        text_notes_table(&page, result);
        text_advice(&page, result);
        text_explanations(&page, result);
    } else {
        text_title(&page, words_take_heading(result_all_removed(result) ? WORDS_TAKE_ALL_REMOVED : WORDS_TAKE_NOTHING));
    }
    text_doubts(&page, result);
    some_warnings(&page, result, words_take_heading(WORDS_TAKE_WARNINGS), FALSE);
    some_warnings(&page, result, words_take_heading(WORDS_TAKE_TABLE), TRUE);
    text_cautions(&page, aperta_cautions());
    return g_string_free(page.out, FALSE);
}
