/* sheet-text.c - a sheet for a terminal: line by line pitch, words, sounds and shapes; then the flagged words with
 * their reasons, the keys that were tried, and the cautions. */
#include "report/take/text-private.h"
#include "words/sheet-words.h"

#include <aperta/report.h>

#include <string.h>

enum { PITCH, WORDS, SOUNDS, MARK, N_ROWS };
enum { LEFT_MARGIN = 2, INDENT = 4, KEY_BAR_COLUMNS = 20 };

/* What stands over and under one note. */
typedef struct {
    char *cells[N_ROWS];
    aperta_level level;
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
    note_column column = {.level = sheet_level(note)};
    char *mark = sheet_mark(note);

    column.cells[PITCH] = g_strdup(note->score_note->name);
    column.cells[WORDS] = sheet_syllable(verse, note);
    column.cells[SOUNDS] = words_clean(sheet_sounds(note));
    column.cells[MARK] = mark != NULL ? mark : g_strdup("");
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
        if (at > from && column->cells[WORDS][0] != '\0' && column->cells[WORDS][0] != '_' &&
            !g_str_has_suffix(g_array_index(columns, note_column, at - 1).cells[WORDS], "-"))
            good = at;
    }
    return at == columns->len || good == 0 ? at : good;
}

static void put_line(text_page *page, const aperta_sheet *sheet, const aperta_sheet_verse *verse,
                     const aperta_laid_line *line, int number)
{
    g_autoptr(GArray) columns = g_array_new(FALSE, FALSE, sizeof(note_column));
    g_autofree char *bars = sheet_bars(sheet, verse, line);
    g_autofree char *title = g_strdup_printf("%d%s%s", number, *bars != '\0' ? "  " : "", bars);

    g_array_set_clear_func(columns, column_clear);
    for (guint i = 0; i < line->n_notes; i++) {
        note_column column = column_of(verse, sheet_note_at(sheet, verse->first_note + line->first_note + i));
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
        const aperta_sheet_verse *verse = sheet_verse(sheet, v);
        const aperta_underlay *underlay = verse->underlay;
        g_autofree char *title = sheet_verse_title(sheet, verse);
        int number = 0;
        if (*title != '\0')
            text_title(page, title);
        for (guint i = 0; i < underlay->n_lines; i++) {
            const aperta_laid_line *line = &underlay->lines[i];
            if (sheet_shows_line(sheet, verse, line))
                put_line(page, sheet, verse, line, ++number);
        }
    }
}

static void put_legend(text_page *page, const aperta_sheet *sheet)
{
    g_auto(GStrv) legend = sheet_legend(sheet);
    g_autofree char *joined = g_strjoinv("; ", legend);
    g_autofree char *line = *joined != '\0' ? g_strconcat(joined, ".", NULL) : NULL;

    if (line == NULL)
        return;
    g_string_append_c(page->out, '\n');
    text_wrap(page, TEXT_QUIET, "", 0, line);
}

/* ---- advice ------------------------------------------------------------------------------------------------------ */

static void put_lead(text_page *page, const aperta_sheet_group *group, const char *line)
{
    g_autofree char *lead = g_strdup_printf("  %s: ", sheet_group_word(group));

    text_wrap(page, text_level_ink(group->level), lead, INDENT, line);
}

static void put_risks(text_page *page, const aperta_sheet_group *group)
{
    g_auto(GStrv) risks = sheet_group_risks(group);

    for (char **risk = risks; *risk != NULL; risk++)
        text_wrap(page, TEXT_WATCH, "    ? ", 6, *risk);
}

static void put_brief_group(text_page *page, const aperta_sheet *sheet, const aperta_sheet_group *group)
{
    g_autofree char *line = sheet_group_line(sheet, group);

    put_lead(page, group, line);
    put_risks(page, group);
}

static void put_group(text_page *page, const aperta_sheet *sheet, const aperta_sheet_group *group, GHashTable *told)
{
    g_autofree char *change = sheet_group_change(group);
    g_autofree char *share = sheet_share(sheet, group->weight_s);
    g_autofree char *headline = g_strdup_printf("%s: %s of the singing", change, share);
    g_autofree char *places = sheet_group_places(group);
    g_autofree char *where = g_strdup_printf("In: %s.", places);
    g_autofree char *aim = sheet_group_aim(group);
    g_autofree char *who = sheet_group_who(group);

    put_lead(page, group, headline);
    text_wrap(page, TEXT_PLAIN, "", INDENT, where);
    text_put_words(page, group->finding, who, group->notes->len == 1, told);
    if (aim != NULL)
        text_wrap(page, TEXT_QUIET, "", INDENT, aim);
    put_risks(page, group);
}

static void put_advice(text_page *page, const aperta_sheet *sheet)
{
    g_autoptr(GHashTable) told = words_told_new();
    g_autoptr(GPtrArray) findings = g_ptr_array_new();
    g_autofree char *summary = sheet_summary(sheet);

    if (sheet->score->n_verses == 0)
        return;
    text_title(page, "What to try");
    text_wrap(page, TEXT_PLAIN, "  ", 2, summary);
    for (guint i = 0; i < sheet->groups->len; i++) {
        const aperta_sheet_group *group = g_ptr_array_index(sheet->groups, i);
        gboolean is_brief = sheet_group_is_brief(sheet, i);
        if (!is_brief || !sheet_group_is_brief(sheet, i - 1))
            g_string_append_c(page->out, '\n');
        if (is_brief)
            put_brief_group(page, sheet, group);
        else
            put_group(page, sheet, group, told);
        g_ptr_array_add(findings, (gpointer)group->finding);
    }
    text_put_reasons(page, findings);
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
    g_autofree char *name = sheet_key_name(sheet, key);
    g_autofree char *low = sheet_pitch_in(key, key->lowest), *high = sheet_pitch_in(key, key->highest);
    g_autofree char *range = g_strdup_printf("%s–%s", low, high);
    g_autofree char *bar = key_bar(sheet, key);
    g_autofree char *change = sheet_share(sheet, key->change_s), *watch = sheet_share(sheet, key->watch_s);

    text_put(page, TEXT_PLAIN, "", LEFT_MARGIN, FALSE);
    text_put(page, TEXT_PLAIN, name, name_width + 2, FALSE);
    text_put(page, TEXT_PLAIN, range, 10, FALSE);
    text_put(page, TEXT_PLAIN, bar, KEY_BAR_COLUMNS + 1, FALSE);
    text_put(page, TEXT_CHANGE, change, 9, TRUE);
    text_put(page, TEXT_WATCH, watch, 10, TRUE);
    if (sheet_key_is_own(sheet, key))
        g_string_append(page->out, key->fits ? "  this sheet" : "  this sheet,");
    if (!key->fits)
        g_string_append(page->out, sheet_key_is_own(sheet, key) ? " beyond" : "  beyond");
    g_string_append_c(page->out, '\n');
}

static void put_keys(text_page *page, const aperta_sheet *sheet)
{
    g_autofree char *summary = sheet_keys_summary(sheet), *hint = sheet_keys_hint(sheet);
    int width = 0;

    if (summary == NULL)
        return;
    for (guint i = 0; i < sheet->keys->len; i++) {
        g_autofree char *name = sheet_key_name(sheet, g_ptr_array_index(sheet->keys, i));
        width = MAX(width, text_width(name));
    }
    text_title(page, "Other keys");
    if (sheet->weight_s <= 0.0) { /* rows of nothing */
        text_wrap(page, TEXT_PLAIN, "  ", 2, summary);
        return;
    }
    text_put(page, TEXT_PLAIN, "", LEFT_MARGIN + width + 2 + 10 + KEY_BAR_COLUMNS + 1, FALSE);
    text_put(page, TEXT_QUIET, "change", 9, TRUE);
    text_put(page, TEXT_QUIET, "watch", 10, TRUE);
    g_string_append_c(page->out, '\n');
    for (guint i = 0; i < sheet->keys->len; i++)
        put_key(page, sheet, g_ptr_array_index(sheet->keys, i), width);
    g_string_append_c(page->out, '\n');
    text_wrap(page, TEXT_PLAIN, "  ", 2, summary);
    text_wrap(
        page, TEXT_QUIET, "  ", 2,
        "# wants change, + is worth watching: shares of the singing by length and stress; beyond: does not fit the "
        "singer's range.");
    if (hint != NULL)
        text_wrap(page, TEXT_QUIET, "  ", 2, hint);
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static void put_header(text_page *page, const aperta_sheet *sheet)
{
    g_autofree char *name = sheet_title(sheet);
    g_autofree char *title = g_strdup_printf("Sheet: %s", name);
    g_autofree char *authors = sheet_authors(sheet);
    g_autoptr(GArray) facts = sheet_facts(sheet);

    text_wrap(page, TEXT_TITLE, "", 0, title);
    if (authors != NULL)
        text_wrap(page, TEXT_PLAIN, "  ", 2, authors);
    for (guint i = 0; i < facts->len; i++)
        text_header_line(page, g_array_index(facts, sheet_fact, i).label, g_array_index(facts, sheet_fact, i).text);
}

char *aperta_report_sheet_text(const aperta_sheet *sheet, const aperta_report_text_options *options)
{
    text_page page = text_page_new(options);

    put_header(&page, sheet);
    put_verses(&page, sheet);
    if (sheet->notes->len > 0)
        put_legend(&page, sheet);
    put_advice(&page, sheet);
    put_keys(&page, sheet);
    text_warnings(&page, "Remarks", sheet->warnings);
    text_cautions(&page, sheet->cautions);
    return g_string_free(page.out, FALSE);
}
