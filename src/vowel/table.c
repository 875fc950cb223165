/* table.c - reads one published table: a tab-separated text file that a teacher can edit.
 *
 *   # title: American English women, ...      (then source, status, voice, speakers)
 *   vowel  word  f1_hz  f1_sd_hz  ...          names with their units
 *   i      heed  437.3  40.6      ...          an empty field: the source gives no value
 *
 * Other lines that begin with # are remarks. Only the first fault is reported: one line of a table says what is wrong
 * with the rest of its column.
 */
#include "base/user-file.h"
#include "vowel/vowel-tuning.h"

#include <aperta/vowel.h>

#include <math.h>
#include <string.h>

typedef enum { COLUMN_VOWEL, COLUMN_REMARK, COLUMN_MEAN, COLUMN_SPREAD, COLUMN_OPEN } column_kind;

typedef struct {
    const char *name;
    column_kind kind;
    int resonance; /* of COLUMN_MEAN and COLUMN_SPREAD */
} table_column;

static const table_column columns[] = {
    {"vowel", COLUMN_VOWEL, 0},     {"word", COLUMN_REMARK, 0},      {"f0_hz", COLUMN_REMARK, 0},
    {"f1_hz", COLUMN_MEAN, 0},      {"f2_hz", COLUMN_MEAN, 1},       {"f3_hz", COLUMN_MEAN, 2},
    {"f4_hz", COLUMN_REMARK, 0},    {"f1_sd_hz", COLUMN_SPREAD, 0},  {"f2_sd_hz", COLUMN_SPREAD, 1},
    {"f3_sd_hz", COLUMN_SPREAD, 2}, {"open_target", COLUMN_OPEN, 0},
};
#define COLUMN_NAMES "vowel, word, f0_hz .. f4_hz, f1_sd_hz .. f3_sd_hz, open_target"

#define STATUS_NOT_GIVEN "not given"

/* One reading of a file. */
typedef struct {
    const char *path;
    guint line;
    aperta_vowel_table *table;
    GArray *rows;       /* aperta_vowel_row */
    GPtrArray *columns; /* const table_column *, in the file's order; empty before the header */
} table_reading;

G_GNUC_PRINTF(4, 5)
static gboolean fail_at(const table_reading *reading, guint field_column, GError **error, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    g_autofree char *what = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s:%u:%u: %s", reading->path, reading->line, field_column,
                what);
    return FALSE;
}

/* ---- lines ------------------------------------------------------------------------------------------------------- */

static gboolean read_voice(table_reading *reading, const char *line, const char *word, GError **error)
{
    aperta_voice voice;

    if (!aperta_voice_parse(word, &voice))
        return fail_at(reading, 1 + (guint)g_utf8_strlen(line, word - line), error,
                       "expected woman, man, child or a kind of voice such as mezzo, found \"%s\"", word);
    reading->table->voice = aperta_voice_group(voice);
    return TRUE;
}

static gboolean read_speakers(table_reading *reading, const char *line, const char *word, GError **error)
{
    guint64 speakers;

    if (!g_ascii_string_to_unsigned(word, 10, 1, 100000, &speakers, NULL))
        return fail_at(reading, 1 + (guint)g_utf8_strlen(line, word - line), error,
                       "expected a number of speakers, found \"%s\"", word);
    reading->table->speakers = (guint)speakers;
    return TRUE;
}

static void replace(char **slot, const char *text)
{
    g_free(*slot);
    *slot = g_strdup(text);
}

/* Further words may follow those of the source and of a memory. */
static aperta_figures figures_of(const char *status)
{
    if (strcmp(status, STATUS_NOT_GIVEN) == 0)
        return APERTA_FIGURES_NOT_TOLD;
    if (g_str_has_prefix(status, "from the source"))
        return APERTA_FIGURES_FROM_SOURCE;
    if (g_str_has_prefix(status, "from memory"))
        return APERTA_FIGURES_FROM_MEMORY;
    return strcmp(status, "secondary") == 0 ? APERTA_FIGURES_SECONDARY : APERTA_FIGURES_OTHER;
}

static gboolean read_remark(table_reading *reading, const char *line, GError **error)
{
    const char *colon = strchr(line, ':');
    if (colon == NULL)
        return TRUE;
    g_autofree char *name = g_strndup(line + 1, (gsize)(colon - line - 1));
    g_strstrip(name);
    const char *value = colon + 1;
    while (g_ascii_isspace(*value))
        value++;

    if (strcmp(name, "voice") == 0)
        return read_voice(reading, line, value, error);
    if (strcmp(name, "speakers") == 0)
        return read_speakers(reading, line, value, error);
    if (strcmp(name, "sung") == 0)
        reading->table->sung = g_str_has_prefix(value, "yes");
    else if (strcmp(name, "title") == 0)
        replace(&reading->table->title, value);
    else if (strcmp(name, "source") == 0)
        replace(&reading->table->source, value);
    else if (strcmp(name, "status") == 0)
        replace(&reading->table->status, value);
    reading->table->figures = figures_of(reading->table->status);
    return TRUE;
}

static const table_column *column_named(const char *name)
{
    for (gsize i = 0; i < G_N_ELEMENTS(columns); i++)
        if (strcmp(name, columns[i].name) == 0)
            return &columns[i];
    return NULL;
}

static gboolean has_column(const table_reading *reading, const char *name)
{
    return g_ptr_array_find(reading->columns, column_named(name), NULL);
}

static gboolean read_header(table_reading *reading, char **fields, GError **error)
{
    static const char *const needed[] = {"vowel", "f1_hz", "f2_hz"};
    guint at = 1;

    for (; *fields != NULL; fields++) {
        const table_column *found = column_named(*fields);
        if (found == NULL)
            return fail_at(reading, at, error, "expected a column name with its unit (%s), found \"%s\"", COLUMN_NAMES,
                           *fields);
        if (g_ptr_array_find(reading->columns, found, NULL))
            return fail_at(reading, at, error, "expected each column once, found \"%s\" again", *fields);
        g_ptr_array_add(reading->columns, (gpointer)found);
        at += (guint)g_utf8_strlen(*fields, -1) + 1;
    }
    for (gsize i = 0; i < G_N_ELEMENTS(needed); i++)
        if (!has_column(reading, needed[i]))
            return fail_at(reading, at, error, "expected a column \"%s\", found none", needed[i]);
    return TRUE;
}

static gboolean read_number(const table_reading *reading, const char *field, guint at, double *value, GError **error)
{
    char *end;

    *value = g_ascii_strtod(field, &end);
    if (end == field || *end != '\0' || !isfinite(*value) || *value <= 0.0)
        return fail_at(reading, at, error, "expected a number above 0 with a decimal point, in Hz, found \"%s\"",
                       field);
    return TRUE;
}

static gboolean known_already(const table_reading *reading, const aperta_vowel *vowel)
{
    for (guint i = 0; i < reading->rows->len; i++)
        if (g_array_index(reading->rows, aperta_vowel_row, i).vowel == vowel)
            return TRUE;
    return FALSE;
}

static gboolean read_vowel(const table_reading *reading, const char *field, guint at, aperta_vowel_row *row,
                           GError **error)
{
    row->vowel = aperta_vowel_parse(field);
    if (row->vowel == NULL)
        return fail_at(reading, at, error, "expected a vowel in IPA or respelled (ɛ or eh), found \"%s\"", field);
    if (known_already(reading, row->vowel))
        return fail_at(reading, at, error, "expected each vowel once, found \"%s\" again", field);
    return TRUE;
}

static gboolean read_yes_no(const table_reading *reading, const char *field, guint at, gboolean *yes, GError **error)
{
    *yes = strcmp(field, "yes") == 0;
    if (!*yes && strcmp(field, "no") != 0)
        return fail_at(reading, at, error, "expected yes or no, found \"%s\"", field);
    return TRUE;
}

static gboolean read_field(const table_reading *reading, const table_column *column, const char *field, guint at,
                           aperta_vowel_row *row, GError **error)
{
    switch (column->kind) {
    case COLUMN_VOWEL:
        return read_vowel(reading, field, at, row, error);
    case COLUMN_OPEN:
        return read_yes_no(reading, field, at, &row->open_target, error);
    case COLUMN_MEAN:
        if (field[0] == '\0')
            return TRUE;
        row->has[column->resonance] = TRUE;
        return read_number(reading, field, at, &row->hz[column->resonance], error);
    case COLUMN_SPREAD:
        return field[0] == '\0' || read_number(reading, field, at, &row->sd_hz[column->resonance], error);
    case COLUMN_REMARK:
        break;
    }
    return TRUE;
}

/* Spreads the source does not give are ours; F1 and F2 must be there and in order. */
static gboolean complete_row(const table_reading *reading, aperta_vowel_row *row, GError **error)
{
    static const double shares[APERTA_N_RESONANCES] = {VOWEL_DEFAULT_SPREADS};

    if (row->vowel == NULL || !row->has[0] || !row->has[1])
        return fail_at(reading, 1, error, "expected a vowel with F1 and F2, found an empty field");
    for (int i = 1; i < APERTA_N_RESONANCES; i++)
        if (row->has[i] && row->hz[i] <= row->hz[i - 1])
            return fail_at(reading, 1, error, "expected F%d above F%d, found %g Hz and %g Hz", i + 1, i, row->hz[i],
                           row->hz[i - 1]);
    row->sd_published = TRUE;
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        if (!row->has[i] || row->sd_hz[i] > 0.0)
            continue;
        row->sd_published = FALSE;
        row->sd_hz[i] = shares[i] * row->hz[i];
    }
    return TRUE;
}

static gboolean read_row(table_reading *reading, char **fields, GError **error)
{
    aperta_vowel_row row = {.open_target = TRUE};
    guint at = 1;

    if (g_strv_length(fields) != reading->columns->len)
        return fail_at(reading, 1, error, "expected %u fields between tabs, found %u", reading->columns->len,
                       g_strv_length(fields));
    for (guint i = 0; i < reading->columns->len; i++) {
        if (!read_field(reading, g_ptr_array_index(reading->columns, i), fields[i], at, &row, error))
            return FALSE;
        at += (guint)g_utf8_strlen(fields[i], -1) + 1;
    }
    if (!complete_row(reading, &row, error))
        return FALSE;
    g_array_append_val(reading->rows, row);
    return TRUE;
}

static gboolean read_line(table_reading *reading, const char *line, GError **error)
{
    if (line[0] == '#')
        return read_remark(reading, line, error);
    if (strspn(line, " \t") == strlen(line))
        return TRUE;
    g_auto(GStrv) fields = g_strsplit(line, "\t", -1);
    for (char **field = fields; *field != NULL; field++)
        g_strstrip(*field);
    if (reading->columns->len == 0)
        return read_header(reading, fields, error);
    return read_row(reading, fields, error);
}

static gboolean read_lines(table_reading *reading, const char *text, GError **error)
{
    g_auto(GStrv) lines = g_strsplit(text[0] == '\0' ? " " : text, "\n", -1);

    for (char **line = lines; *line != NULL; line++) {
        reading->line++;
        if (g_str_has_suffix(*line, "\r"))
            (*line)[strlen(*line) - 1] = '\0';
        if (!read_line(reading, *line, error))
            return FALSE;
    }
    if (reading->columns->len == 0)
        return fail_at(reading, 1, error, "expected a line of column names (%s), found none", COLUMN_NAMES);
    if (reading->rows->len == 0)
        return fail_at(reading, 1, error, "expected a line for each vowel, found none");
    if (reading->table->voice == APERTA_VOICE_UNKNOWN)
        return fail_at(reading, 1, error, "expected a line \"# voice: woman\" (or man, child), found none");
    return TRUE;
}

/* ---- files ------------------------------------------------------------------------------------------------------- */

static gboolean is_path(const char *name)
{
    return strchr(name, '/') != NULL || g_str_has_suffix(name, ".tsv");
}

static const base_file_kind table_file = {.noun = "vowel table",
                                          .mb_max = VOWEL_TABLE_MB_MAX,
                                          .what_to_do = "name one as in aperta-table-file(5)",
                                          .kept = TRUE};

static char *shipped_path(const char *name)
{
    g_autofree char *file = g_strconcat(name, ".tsv", NULL);

    return g_build_filename(aperta_refdata_dir(), "vowels", file, NULL);
}

static char *find_table(const char *name, GError **error)
{
    if (is_path(name))
        return g_strdup(name);
    g_autofree char *path = shipped_path(name);
    if (g_file_test(path, G_FILE_TEST_IS_REGULAR))
        return g_steal_pointer(&path);
    g_auto(GStrv) names = aperta_vowel_table_names(error);
    if (names == NULL)
        return NULL;
    g_autofree char *list = g_strjoinv(", ", names);
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND, "there is no vowel table \"%s\" (there are %s)", name,
                list);
    return NULL;
}

static char *table_name(const char *path)
{
    g_autofree char *name = g_path_get_basename(path);

    if (g_str_has_suffix(name, ".tsv"))
        name[strlen(name) - strlen(".tsv")] = '\0';
    return g_steal_pointer(&name);
}

aperta_vowel_table *aperta_vowel_table_load(const char *name, GError **error)
{
    g_autofree char *path = find_table(name, error);
    if (path == NULL)
        return NULL;
    g_autofree char *text = base_text_read(path, &table_file, error);
    if (text == NULL)
        return NULL;

    g_autoptr(aperta_vowel_table) table = g_new0(aperta_vowel_table, 1);
    g_autoptr(GPtrArray) found_columns = g_ptr_array_new();
    table_reading reading = {path, 0, table, g_array_new(FALSE, TRUE, sizeof(aperta_vowel_row)), found_columns};
    table->name = table_name(path);
    table->title = g_strdup(table->name);
    table->source = g_strdup("not given");
    table->status = g_strdup(STATUS_NOT_GIVEN);
    gboolean good = read_lines(&reading, text, error);
    table->n_rows = reading.rows->len;
    table->rows = (aperta_vowel_row *)(gpointer)g_array_free(reading.rows, FALSE);
    return good ? g_steal_pointer(&table) : NULL;
}

void aperta_vowel_table_free(aperta_vowel_table *table)
{
    if (table == NULL)
        return;
    g_free(table->name);
    g_free(table->title);
    g_free(table->source);
    g_free(table->status);
    g_free(table->rows);
    g_free(table);
}

static int by_name(gconstpointer a, gconstpointer b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

char **aperta_vowel_table_names(GError **error)
{
    g_autofree char *folder = g_build_filename(aperta_refdata_dir(), "vowels", NULL);
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    if (dir == NULL) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND, "%s: the folder of vowel tables cannot be read",
                    folder);
        return NULL;
    }
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
    for (const char *file = g_dir_read_name(dir); file != NULL; file = g_dir_read_name(dir))
        if (g_str_has_suffix(file, ".tsv"))
            g_ptr_array_add(names, table_name(file));
    g_ptr_array_sort(names, by_name);
    g_ptr_array_add(names, NULL);
    return (char **)g_ptr_array_steal(names, NULL);
}

const char *aperta_vowel_table_for_voice(aperta_voice voice)
{
    switch (aperta_voice_group(voice)) {
    case APERTA_VOICE_MAN:
        return "hillenbrand1995-men";
    case APERTA_VOICE_CHILD:
        return "hillenbrand1995-children";
    default:
        return "hillenbrand1995-women";
    }
}

const aperta_vowel_row *aperta_vowel_table_row(const aperta_vowel_table *table, const aperta_vowel *vowel)
{
    for (guint i = 0; i < table->n_rows; i++)
        if (table->rows[i].vowel == vowel)
            return &table->rows[i];
    return NULL;
}
