/* sections.c - a rules file as sections of named values.
 *
 *   # a remark
 *   [rule belt-open]
 *   when = pitch >= high and
 *          f1_to_2f0 < -3.5 st        an indented line goes on with the value above
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <string.h>

/* ---- problems -------------------------------------------------------------------------------------------------- */

typedef struct {
    advice_place at;
    char *text;
} advice_problem;

static void clear_problem(gpointer data)
{
    g_free(((advice_problem *)data)->text);
}

void advice_problems_init(advice_problems *problems, const char *file)
{
    problems->file = file;
    problems->entries = g_array_new(FALSE, FALSE, sizeof(advice_problem));
    g_array_set_clear_func(problems->entries, clear_problem);
}

void advice_problems_clear(advice_problems *problems)
{
    g_array_unref(problems->entries);
}

void advice_problems_add(advice_problems *problems, advice_place at, const char *format, ...)
{
    advice_problem problem = {at, NULL};
    va_list arguments;

    va_start(arguments, format);
    problem.text = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_array_append_val(problems->entries, problem);
}

gboolean advice_problems_any(const advice_problems *problems)
{
    return problems->entries->len > 0;
}

static int by_place(gconstpointer a, gconstpointer b)
{
    const advice_place *first = &((const advice_problem *)a)->at;
    const advice_place *second = &((const advice_problem *)b)->at;

    if (first->line != second->line)
        return first->line < second->line ? -1 : 1;
    return (first->column > second->column) - (first->column < second->column);
}

char *advice_problems_text(const advice_problems *problems)
{
    GString *text = g_string_new(NULL);
    guint n = MIN(problems->entries->len, ADVICE_PROBLEMS_MAX);

    g_array_sort(problems->entries, by_place);
    for (guint i = 0; i < n; i++) {
        const advice_problem *problem = &g_array_index(problems->entries, advice_problem, i);
        g_string_append_printf(text, "%s%s:%u:%u: %s", i > 0 ? "\n" : "", problems->file, problem->at.line,
                               problem->at.column, problem->text);
    }
    if (problems->entries->len > n)
        g_string_append_printf(text, "\nand %u more", problems->entries->len - n);
    return g_string_free(text, FALSE);
}

/* ---- values ---------------------------------------------------------------------------------------------------- */

typedef struct {
    gsize start; /* offset in the joined text */
    advice_place at;
} advice_piece;

static void add_piece(advice_value *value, const char *piece, advice_place at)
{
    if (piece[0] == '\0')
        return;
    char *joined = value->text[0] == '\0' ? g_strdup(piece) : g_strconcat(value->text, " ", piece, NULL);
    advice_piece entry = {strlen(joined) - strlen(piece), at};

    g_array_append_val(value->pieces, entry);
    g_free(value->text);
    value->text = joined;
}

/* The place of a byte of the joined text; of an empty value, its beginning. */
advice_place advice_value_place(const advice_value *value, gsize offset)
{
    guint i = value->pieces->len - 1;

    while (i > 0 && g_array_index(value->pieces, advice_piece, i).start > offset)
        i--;
    const advice_piece *piece = &g_array_index(value->pieces, advice_piece, i);
    advice_place at = piece->at;
    const char *start = value->text + piece->start;
    at.column += (guint)g_utf8_strlen(start, (gssize)(offset - piece->start));
    return at;
}

static advice_entry *new_entry(const char *name, advice_place at)
{
    advice_entry *entry = g_new0(advice_entry, 1);

    entry->name = g_strdup(name);
    entry->at = at;
    entry->value.text = g_strdup("");
    entry->value.pieces = g_array_new(FALSE, FALSE, sizeof(advice_piece));
    return entry;
}

static void free_entry(gpointer data)
{
    advice_entry *entry = data;

    g_free(entry->name);
    g_free(entry->value.text);
    g_array_unref(entry->value.pieces);
    g_free(entry);
}

static void free_section(gpointer data)
{
    advice_section *section = data;

    g_free(section->kind);
    g_free(section->name);
    g_ptr_array_unref(section->entries);
    g_free(section);
}

/* ---- lines ----------------------------------------------------------------------------------------------------- */

typedef struct {
    advice_problems *problems;
    guint line;
    GPtrArray *sections;
    advice_section *section; /* the one being filled; NULL before the first */
    advice_entry *entry;     /* the one that an indented line goes on with; NULL: none */
} section_reader;

static advice_place place_of(const section_reader *reader, const char *line, const char *at)
{
    return (advice_place){reader->line, 1 + (guint)g_utf8_strlen(line, at - line)};
}

static const char *skip_blanks(const char *text)
{
    while (*text == ' ' || *text == '\t')
        text++;
    return text;
}

static char *stripped(const char *from, const char *to)
{
    return g_strstrip(g_strndup(from, (gsize)(to - from)));
}

static void read_heading(section_reader *reader, const char *line)
{
    const char *close = strchr(line, ']');
    const char *kind = skip_blanks(line + 1);

    reader->entry = NULL;
    if (close == NULL) {
        advice_problems_add(reader->problems, place_of(reader, line, line + strlen(line)),
                            "expected ']' at the end of the section's name, found the end of the line");
        close = line + strlen(line);
    } else if (*skip_blanks(close + 1) != '\0') {
        advice_problems_add(reader->problems, place_of(reader, line, skip_blanks(close + 1)),
                            "expected nothing behind ']', found \"%s\"", skip_blanks(close + 1));
    }
    const char *kind_end = kind;
    while (kind_end < close && *kind_end != ' ' && *kind_end != '\t')
        kind_end++;
    const char *name = skip_blanks(kind_end);

    advice_section *section = g_new0(advice_section, 1);
    section->kind = stripped(kind, kind_end);
    section->name = name < close ? stripped(name, close) : g_strdup("");
    section->at = place_of(reader, line, line);
    section->name_at = place_of(reader, line, MIN(name, close));
    section->entries = g_ptr_array_new_with_free_func(free_entry);
    g_ptr_array_add(reader->sections, section);
    reader->section = section;
}

static gboolean has_entry(const advice_section *section, const char *name)
{
    for (guint i = 0; i < section->entries->len; i++)
        if (strcmp(advice_entry_at(section->entries, i)->name, name) == 0)
            return TRUE;
    return FALSE;
}

static void read_entry(section_reader *reader, const char *line)
{
    const char *equals = strchr(line, '=');
    advice_place at = place_of(reader, line, line);

    reader->entry = NULL;
    if (equals == NULL || equals == line) {
        advice_problems_add(reader->problems, at, "expected [section] or NAME = VALUE, found \"%s\"", line);
        return;
    }
    if (reader->section == NULL) {
        advice_problems_add(reader->problems, at, "expected a section such as [style] first, found \"%s\"", line);
        return;
    }
    g_autofree char *name = stripped(line, equals);
    if (has_entry(reader->section, name))
        advice_problems_add(reader->problems, at, "expected each name once in a section, found \"%s\" again", name);
    reader->entry = new_entry(name, at);
    g_ptr_array_add(reader->section->entries, reader->entry);
    const char *value = skip_blanks(equals + 1);
    g_autofree char *piece = stripped(value, line + strlen(line));
    add_piece(&reader->entry->value, piece, place_of(reader, line, value));
}

static void read_more(section_reader *reader, const char *line)
{
    const char *start = skip_blanks(line);
    g_autofree char *piece = stripped(start, line + strlen(line));

    if (reader->entry == NULL)
        advice_problems_add(reader->problems, place_of(reader, line, start),
                            "expected [section] or NAME = VALUE at the beginning of a line, found an indented \"%s\"",
                            piece);
    else
        add_piece(&reader->entry->value, piece, place_of(reader, line, start));
}

static void read_line(section_reader *reader, const char *line)
{
    const char *start = skip_blanks(line);

    if (*start == '#')
        return;
    if (*start == '\0')
        reader->entry = NULL;
    else if (start != line)
        read_more(reader, line);
    else if (*line == '[')
        read_heading(reader, line);
    else
        read_entry(reader, line);
}

/* Every value must say something. */
static void check_values(const section_reader *reader)
{
    for (guint i = 0; i < reader->sections->len; i++) {
        const advice_section *section = advice_section_at(reader->sections, i);
        for (guint k = section->entries->len; k-- > 0;) {
            const advice_entry *entry = advice_entry_at(section->entries, k);
            if (entry->value.text[0] != '\0')
                continue;
            advice_problems_add(reader->problems, entry->at, "expected a value behind \"%s =\", found nothing",
                                entry->name);
            g_ptr_array_remove_index(section->entries, k);
        }
    }
}

GPtrArray *advice_sections_read(const char *text, advice_problems *problems)
{
    section_reader reader = {problems, 0, g_ptr_array_new_with_free_func(free_section), NULL, NULL};
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);

    for (char **line = lines; *line != NULL; line++) {
        reader.line++;
        if (g_str_has_suffix(*line, "\r"))
            (*line)[strlen(*line) - 1] = '\0';
        read_line(&reader, *line);
    }
    check_values(&reader);
    return reader.sections;
}
