/* sheet-text.c - a sheet for a terminal: line by line pitch, words, sounds and shapes; then the flagged words with
 * their reasons, the keys that were tried, and the cautions. */
#include "report/draw/page-parts.h"
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <aperta/report.h>

#include <string.h>

enum { PITCH, WORDS, SOUNDS, MARK, N_ROWS };
enum { LEFT_MARGIN = 2, INDENT = 4, KEY_BAR_COLUMNS = 20 };

/* What stands over and under one note. */
typedef struct {
    char *cells[N_ROWS];
    aperta_level level;
    gboolean has_syllable;
    gboolean word_goes_on; /* after it, with another syllable */
    int width;
} note_column;

static void column_clear(gpointer data)
{
    note_column *column = data;

    for (int i = 0; i < N_ROWS; i++)
        g_free(column->cells[i]);
}

static note_column column_of(const aperta_sheet_verse *verse, const aperta_sheet_note *note)
{
    const result_sheet_mark mark = result_sheet_mark_of(note);
    note_column column = {.level = mark.level,
                          .has_syllable = note->syllable != NULL,
                          .word_goes_on = note->syllable != NULL && result_sheet_word_goes_on(verse, note)};
    char *sign = words_sheet_mark(&mark);

    column.cells[PITCH] = g_strdup(note->score_note->name);
    column.cells[WORDS] = words_sheet_syllable(verse, note);
    column.cells[SOUNDS] = words_sheet_sounds(note);
    column.cells[MARK] = sign != NULL ? sign : g_strdup("");
    for (int i = 0; i < N_ROWS; i++)
        column.width = MAX(column.width, text_width(column.cells[i]));
    return column;
}

/* ---- lines ------------------------------------------------------------------------------------------------------- */

static void trim(text_page *page)
{
    while (page->out->len > 0 && page->out->str[page->out->len - 1] == ' ')
        g_string_truncate(page->out, page->out->len - 1);
}

/* Columns from..to one below the other; rows with nothing in them are left out. */
static void put_columns(text_page *page, const GArray *columns, guint from, guint to)
{
    for (int row = 0; row < N_ROWS; row++) {
        gboolean empty = TRUE;
        for (guint i = from; i < to; i++)
            empty = empty && g_array_index(columns, note_column, i).cells[row][0] == '\0';
        if (empty)
            continue;
        text_put(page, TEXT_PLAIN, "", LEFT_MARGIN, FALSE);
        for (guint i = from; i < to; i++) {
            const note_column *column = &g_array_index(columns, note_column, i);
            text_ink ink = row == MARK    ? text_level_ink(column->level)
                           : row == WORDS ? TEXT_TITLE
                           : row == PITCH ? TEXT_QUIET
                                          : TEXT_PLAIN;
            text_put(page, ink, column->cells[row], i + 1 < to ? column->width + 1 : 0, FALSE);
        }
        trim(page);
        g_string_append_c(page->out, '\n');
    }
}

/* How many columns fit beside each other from the given one on; a word is kept whole where it can be. */
static guint fitting(const text_page *page, const GArray *columns, guint from)
{
    int width = LEFT_MARGIN;
    guint at = from, good = 0;

    for (; at < columns->len; at++) {
        const note_column *column = &g_array_index(columns, note_column, at);
        if (width + column->width > page->columns && at > from)
            break;
        width += column->width + 1;
        if (at > from && column->has_syllable && !g_array_index(columns, note_column, at - 1).word_goes_on)
            good = at;
    }
    return at == columns->len || good == 0 ? at : good;
}

static void put_line(text_page *page, const aperta_sheet *sheet, const aperta_sheet_verse *verse,
                     const aperta_laid_line *line, int number)
{
    g_autoptr(GArray) columns = g_array_new(FALSE, FALSE, sizeof(note_column));
    g_autofree char *bars = words_sheet_bars(sheet, verse, line);
    g_autofree char *title = bars != NULL ? g_strdup_printf("%d  %s", number, bars) : g_strdup_printf("%d", number);

    g_array_set_clear_func(columns, column_clear);
    for (guint i = 0; i < line->n_notes; i++) {
        note_column column = column_of(verse, result_sheet_note_at(sheet, verse->first_note + line->first_note + i));
        g_array_append_val(columns, column);
    }
    g_string_append_c(page->out, '\n');
    text_put(page, TEXT_QUIET, title, 0, FALSE);
    g_string_append_c(page->out, '\n');
    for (guint from = 0; from < columns->len;) {
        guint to = fitting(page, columns, from);
        if (from > 0)
            g_string_append_c(page->out, '\n');
        put_columns(page, columns, from, to);
        from = to;
    }
}

static void put_verses(text_page *page, const aperta_sheet *sheet)
{
    for (guint v = 0; v < sheet->verses->len; v++) {
        const aperta_sheet_verse *verse = result_sheet_verse(sheet, v);
        const aperta_underlay *underlay = verse->underlay;
        g_autofree char *title = words_sheet_verse_title(sheet, verse);
        int number = 0;
        if (title != NULL)
            text_title(page, title);
        for (guint i = 0; i < underlay->n_lines; i++) {
            const aperta_laid_line *line = &underlay->lines[i];
            if (result_sheet_shows_line(sheet, verse, line))
                put_line(page, sheet, verse, line, ++number);
        }
    }
}

static void put_legend(text_page *page, const aperta_sheet *sheet)
{
    g_autofree char *legend = words_sheet_legend(sheet);

    if (*legend == '\0')
        return;
    g_string_append_c(page->out, '\n');
    text_wrap(page, TEXT_QUIET, "", 0, legend);
}

/* ---- advice ------------------------------------------------------------------------------------------------------ */

static void put_lead(text_page *page, const aperta_group *group, const char *line)
{
    g_autofree char *lead = g_strdup_printf("  %s: ", words_sheet_group_word(group));

    text_wrap(page, text_level_ink(group->level), lead, INDENT, line);
}

static void put_risks(text_page *page, const aperta_group *group)
{
    g_auto(GStrv) risks = words_sheet_group_risks(group);

    for (char **risk = risks; *risk != NULL; risk++)
        text_wrap(page, TEXT_WATCH, "    ? ", 6, *risk);
}

static void put_brief_group(text_page *page, const aperta_sheet *sheet, const aperta_group *group)
{
    g_autofree char *line = words_sheet_group_line(sheet, group);

    put_lead(page, group, line);
    put_risks(page, group);
}

static void put_group(text_page *page, const aperta_sheet *sheet, const aperta_group *group, GHashTable *told)
{
    g_autofree char *headline = words_sheet_group_headline(sheet, group);
    g_autofree char *where = words_sheet_group_where(group);
    g_autofree char *aim = words_sheet_group_aim(group);
    const words_whom whom = words_sheet_group_whom(group);

    put_lead(page, group, headline);
    text_wrap(page, TEXT_PLAIN, "", INDENT, where);
    text_put_words(page, group->finding, &whom, told);
    if (aim != NULL)
        text_wrap(page, TEXT_QUIET, "", INDENT, aim);
    put_risks(page, group);
}

static void put_advice(text_page *page, const aperta_sheet *sheet)
{
    g_autoptr(GHashTable) told = words_told_new();
    g_autoptr(GPtrArray) reasons = words_sheet_reasons(sheet);
    g_autofree char *summary = words_sheet_summary(sheet);

    if (sheet->score->n_verses == 0)
        return;
    text_title(page, words_sheet_heading(WORDS_SHEET_ADVICE));
    text_wrap(page, TEXT_PLAIN, "  ", 2, summary);
    for (guint i = 0; i < sheet->groups->len; i++) {
        const aperta_group *group = aperta_group_at(sheet->groups, i);
        gboolean is_brief = result_sheet_group_is_brief(sheet, i);
        if (!is_brief || !result_sheet_group_is_brief(sheet, i - 1))
            g_string_append_c(page->out, '\n');
        if (is_brief)
            put_brief_group(page, sheet, group);
        else
            put_group(page, sheet, group, told);
    }
    text_put_reasons(page, reasons);
}

/* ---- keys -------------------------------------------------------------------------------------------------------- */

static char *key_bar(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    double all = sheet->weight_s > 0.0 ? sheet->weight_s : 1.0;
    int change = (int)(KEY_BAR_COLUMNS * key->change_s / all + 0.5);
    int both = (int)(KEY_BAR_COLUMNS * (key->change_s + key->watch_s) / all + 0.5);
    GString *bar = g_string_new(NULL);

    for (int i = 0; i < KEY_BAR_COLUMNS; i++)
        g_string_append(bar, i < change ? "#" : i < both ? "+" : ".");
    return g_string_free(bar, FALSE);
}

static void put_key(text_page *page, const aperta_sheet *sheet, const aperta_sheet_key *key, int name_width)
{
    g_autofree char *name = words_sheet_key_name(sheet, key);
    g_autofree char *range = words_sheet_key_range(key);
    g_autofree char *bar = key_bar(sheet, key);
    const char *remark = words_sheet_key_remark(sheet, key);
    g_autofree char *change = words_sheet_share(sheet, key->change_s), *watch = words_sheet_share(sheet, key->watch_s);

    text_put(page, TEXT_PLAIN, "", LEFT_MARGIN, FALSE);
    text_put(page, TEXT_PLAIN, name, name_width + 2, FALSE);
    text_put(page, TEXT_PLAIN, range, 10, FALSE);
    text_put(page, TEXT_PLAIN, bar, KEY_BAR_COLUMNS + 1, FALSE);
    text_put(page, TEXT_CHANGE, change, 9, TRUE);
    text_put(page, TEXT_WATCH, watch, 10, TRUE);
    if (remark != NULL)
        g_string_append_printf(page->out, "  %s", remark);
    g_string_append_c(page->out, '\n');
}

static void put_keys(text_page *page, const aperta_sheet *sheet)
{
    g_autofree char *summary = words_sheet_keys_summary(sheet, WORDS_ON_SCREEN), *hint = words_sheet_keys_hint(sheet);
    int width = 0;

    if (summary == NULL)
        return;
    for (guint i = 0; i < sheet->keys->len; i++) {
        g_autofree char *name = words_sheet_key_name(sheet, g_ptr_array_index(sheet->keys, i));
        width = MAX(width, text_width(name));
    }
    text_title(page, words_sheet_heading(WORDS_SHEET_KEYS));
    if (sheet->weight_s <= 0.0) { /* rows of nothing */
        text_wrap(page, TEXT_PLAIN, "  ", 2, summary);
        return;
    }
    text_put(page, TEXT_PLAIN, "", LEFT_MARGIN + width + 2 + 10 + KEY_BAR_COLUMNS + 1, FALSE);
    text_put(page, TEXT_QUIET, aperta_level_word(APERTA_LEVEL_CHANGE), 9, TRUE);
    text_put(page, TEXT_QUIET, aperta_level_word(APERTA_LEVEL_WATCH), 10, TRUE);
    g_string_append_c(page->out, '\n');
    for (guint i = 0; i < sheet->keys->len; i++)
        put_key(page, sheet, g_ptr_array_index(sheet->keys, i), width);
    g_string_append_c(page->out, '\n');
    text_wrap(page, TEXT_PLAIN, "  ", 2, summary);
    text_wrap(page, TEXT_QUIET, "  ", 2, words_sheet_keys_legend());
    if (hint != NULL)
        text_wrap(page, TEXT_QUIET, "  ", 2, hint);
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static void put_header(text_page *page, const aperta_sheet *sheet)
{
    g_autofree char *title = words_sheet_name(sheet);
    g_autofree char *authors = words_sheet_authors(sheet);
    g_autoptr(GArray) facts = words_sheet_facts(sheet, WORDS_ON_SCREEN);

    text_wrap(page, TEXT_TITLE, "", 0, title);
    if (authors != NULL)
        text_wrap(page, TEXT_PLAIN, "  ", 2, authors);
    for (guint i = 0; i < facts->len; i++)
        text_header_line(page, g_array_index(facts, words_fact, i).label, g_array_index(facts, words_fact, i).text);
}

static void put_first(text_page *page, const aperta_sheet *sheet)
{
    if (sheet->weight_s <= 0.0)
        return;
    text_title(page, words_try_heading(sheet->first->len));
    for (guint i = 0; i < sheet->first->len; i++) {
        const aperta_try *one = aperta_try_at(sheet->first, i);
        g_autofree char *where = words_try_on_sheet(sheet, one);
        g_autoptr(words_first) first = words_first_on_sheet(sheet, i);
        text_put_first(page, i + 1, one->level, where, first);
    }
}

char *aperta_report_sheet_text(const aperta_sheet *sheet, const aperta_report_text_options *options)
{
    text_page page = text_page_new(options);

    put_header(&page, sheet);
    put_first(&page, sheet);
    put_verses(&page, sheet);
    if (sheet->notes->len > 0)
        put_legend(&page, sheet);
    put_advice(&page, sheet);
    put_keys(&page, sheet);
    text_warnings(&page, words_sheet_heading(WORDS_SHEET_REMARKS), sheet->warnings);
    text_cautions(&page, aperta_cautions());
    return g_string_free(page.out, FALSE);
}
