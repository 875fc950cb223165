/* text-brief.c - what a singer reads in a minute: what to try first, what works, and the notes in order. */
#include "report/take/text-private.h"
#include "result/query.h"
#include "words/brief-words.h"
#include "words/take-words.h"

/* A rest this long parts two phrases, s; chosen: a quick breath takes about as long (common practice, no source). */
#define REST_S 0.35

static void put_label(text_page *page, words_brief_line line, const char *text)
{
    text_header_line(page, words_brief_label(line), text);
}

void text_try_first(text_page *page, const aperta_result *result)
{
    g_autofree char *works = words_brief_works(result);

    text_title(page, words_try_heading(result->first->len));
    for (guint i = 0; i < result->first->len; i++) {
        const aperta_try *one = aperta_try_at(result->first, i);
        g_autofree char *where = words_try_in_take(one, &result->key);
        g_autoptr(words_first) first = words_first_in_take(result, i);
        text_put_first(page, i + 1, one->level, where, first);
    }
    if (result->first->len > 0)
        g_string_append_c(page->out, '\n');
    if (works != NULL)
        put_label(page, WORDS_BRIEF_WORKS, works);
}

/* Phrase after phrase, "/" where there is a rest. */
static void put_order(text_page *page, const aperta_result *result)
{
    g_autoptr(GString) line = g_string_new(NULL);

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        g_autofree char *cell = words_brief_note(result, note);
        double rest_s = i > 0 ? note->note.span.start_s - result_note_at(result, i - 1)->note.span.end_s : 0.0;
        g_string_append_printf(line, i == 0 ? "%s" : rest_s >= REST_S ? " / %s" : ", %s", cell);
    }
    put_label(page, WORDS_BRIEF_ORDER, line->str);
    text_wrap(page, TEXT_QUIET, "", TEXT_LABEL_COLUMNS, words_brief_legend(result));
}

static void put_warnings(text_page *page, const aperta_result *result)
{
    for (guint i = 0; i < result_length(result->warnings); i++) {
        const aperta_warning *warning = aperta_warning_at(result->warnings, i);
        g_autofree char *text = aperta_warning_text(warning);
        if (result_warning_is_grave(warning))
            text_wrap(page, TEXT_WATCH, "  !", TEXT_LABEL_COLUMNS, text);
    }
}

void text_brief(text_page *page, const aperta_result *result)
{
    const aperta_settings *settings = &result->settings;
    g_autofree char *title = words_brief_title(result), *voice = words_take_voice(result);
    g_autofree char *trust = words_trust(&result->trust);

    text_wrap(page, TEXT_TITLE, "", 0, title);
    put_label(page, WORDS_BRIEF_VOICE, voice);
    put_label(page, WORDS_BRIEF_STYLE, settings->rules_title != NULL ? settings->rules_title : settings->style);
    put_label(page, WORDS_BRIEF_TRUST, trust);
    put_warnings(page, result);
    text_try_first(page, result);
    put_order(page, result);
    put_label(page, WORDS_BRIEF_CARE, words_brief_care());
    put_label(page, WORDS_BRIEF_MORE, words_brief_more());
}
