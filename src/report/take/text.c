/* text.c - the report a singer reads: what was sung, what to try, what could not be told, and the cautions last. */
#include "report/take/text-private.h"
#include "result/query.h"

#include <aperta/report.h>

#include <string.h>

#define LABEL_COLUMNS 10 /* "  Voice   " */

void text_header_line(text_page *page, const char *label, const char *text)
{
    g_autofree char *lead = g_strdup_printf("  %s", label);

    text_wrap(page, TEXT_QUIET, lead, LABEL_COLUMNS, text);
}

static void sound_line(text_page *page, const aperta_result *result)
{
    g_autofree char *length = words_clock(result->seconds);
    g_autofree char *from = words_clock(result->from_s);
    g_autofree char *to = words_clock(result->to_s);
    g_autoptr(GString) line = g_string_new(length);

    if (result_warned(result->warnings, "truncated"))
        g_string_append(line, " (it breaks off there)");
    if (result->from_s > 0.05 || result->to_s < result->seconds - 0.05)
        g_string_append_printf(line, ", read from %s to %s", from, to);
    if (result->channel > 0)
        g_string_append_printf(line, "; channel %d", result->channel);
    g_string_append_printf(line, "; %d samples a second", result->sample_rate_hz);
    text_header_line(page, "Length", line->str);
}

static void voice_lines(text_page *page, const aperta_result *result)
{
    gboolean heard = result->notes->len > 0, untold = result->voice_guessed && !heard;
    g_autofree char *voice =
        g_strdup_printf("%s%s", aperta_voice_word(result->voice),
                        result->voice_guessed ? " (guessed between woman and man; say it with --voice)" : "");

    text_header_line(page, "Voice", untold ? "— (nothing was heard to guess it from)" : voice);
    if (result->table != NULL && !untold) {
        g_autofree char *table =
            g_strdup_printf("%s%s", result->table->title, result->voice_guessed ? " (chosen by the guess)" : "");
        text_header_line(page, "Vowels", table);
    }
    if (result->singer != NULL)
        text_header_line(page, "Singer", result->singer);
    text_header_line(page, "Style", result->rules_title != NULL ? result->rules_title : result->style);
}

static const char *mode_word(const aperta_key *key)
{
    return key->minor ? "minor" : "major";
}

static void tuning_line(text_page *page, const aperta_result *result)
{
    g_autoptr(GString) line = g_string_new("A4 = ");

    if (!result_tuning_told(result)) {
        text_header_line(page, "Tuning", "— (no singing to tell it from)");
        return;
    }
    words_append_number(line, result->a4_hz, 1);
    g_string_append_printf(line, " Hz (%s); ", result->a4_given ? "as given" : "estimated");
    const aperta_key *key = &result->key;
    if (key->known && key->has_other) {
        aperta_key other = aperta_key_other(key);
        g_string_append_printf(line, "key %s %s or %s %s", aperta_key_tonic_name(key), mode_word(key),
                               aperta_key_tonic_name(&other), mode_word(&other));
    } else if (key->known) {
        g_string_append_printf(line, "key %s %s (%s)", aperta_key_tonic_name(key), mode_word(key),
                               words_confidence_word(key->confidence));
    } else {
        g_string_append(line, "no key stands out");
    }
    text_header_line(page, "Tuning", line->str);
}

/* What a tired singer wants to know first. */
static void short_line(text_page *page, const aperta_result *result)
{
    guint n_levels[3] = {0}, n_silent = 0;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (result_note_spoken_of(note))
            n_levels[aperta_sung_note_level(note)]++;
        else
            n_silent++;
    }
    if (result->notes->len == 0)
        return;
    g_autofree char *line =
        g_strdup_printf("%u note%s: %u to change, %u to watch, %u fine, %u without advice", result->notes->len,
                        result->notes->len == 1 ? "" : "s", n_levels[APERTA_LEVEL_CHANGE], n_levels[APERTA_LEVEL_WATCH],
                        n_levels[APERTA_LEVEL_FINE], n_silent);
    text_header_line(page, "Short", line);
}

/* What a reader must know before believing the rest. */
static void trust_line(text_page *page, const aperta_result *result)
{
    gboolean care = result->trust_level == APERTA_TRUST_CARE;

    if (result->trust == NULL)
        return;
    g_autofree char *line =
        g_strdup_printf("%s%s", result->trust, care ? " Try the advice only as far as your ear agrees." : "");
    text_wrap(page, care ? TEXT_WATCH : TEXT_QUIET, "  Trust", LABEL_COLUMNS, line);
}

static void header(text_page *page, const aperta_result *result)
{
    g_autofree char *base = result->file != NULL ? g_path_get_basename(result->file) : NULL;
    g_autofree char *name = words_clean(base);
    g_autofree char *title = g_strdup_printf("Take: %s", name);

    text_wrap(page, TEXT_TITLE, "", 0, title);
    sound_line(page, result);
    voice_lines(page, result);
    tuning_line(page, result);
    short_line(page, result);
    trust_line(page, result);
}

void text_warnings(text_page *page, const char *title, const GPtrArray *warnings)
{
    if (result_length(warnings) == 0)
        return;
    text_title(page, title);
    for (guint i = 0; i < warnings->len; i++) {
        const aperta_warning *warning = g_ptr_array_index(warnings, i);
        text_wrap(page, TEXT_WATCH, "  ! ", 4, warning->text);
    }
}

/* Those about the table of vowels, or those about the recording. */
static void some_warnings(text_page *page, const aperta_result *result, const char *title, gboolean about_table)
{
    g_autoptr(GPtrArray) some = g_ptr_array_new();

    for (guint i = 0; i < result_length(result->warnings); i++) {
        aperta_warning *warning = g_ptr_array_index(result->warnings, i);
        if ((strcmp(warning->code, "table-status") == 0) == about_table)
            g_ptr_array_add(some, warning);
    }
    text_warnings(page, title, some);
}

void text_cautions(text_page *page, const char *const *cautions)
{
    text_title(page, "Take care");
    for (const char *const *caution = cautions; caution != NULL && *caution != NULL; caution++)
        text_wrap(page, TEXT_PLAIN, "  - ", 4, *caution);
}

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

char *aperta_report_text(const aperta_result *result, const aperta_report_text_options *options)
{
    text_page page = text_page_new(options);

    header(&page, result);
    if (result->notes->len > 0) {
        text_notes_table(&page, result);
        text_advice(&page, result);
        text_explanations(&page, result);
        text_doubts(&page, result);
    } else {
        text_title(&page, "No sung notes were found.");
    }
    some_warnings(&page, result, "Warnings about the recording", FALSE);
    some_warnings(&page, result, "About the table of vowels", TRUE);
    text_cautions(&page, aperta_cautions());
    return g_string_free(page.out, FALSE);
}
