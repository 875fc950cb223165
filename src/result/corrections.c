/* corrections.c - a teacher overrules what was heard.
 *
 * The file has one line a note: its number in the report, a comma, and the vowel meant (IPA or respelling) or the words
 * "not a note". Empty lines, lines that start with '#' and a header line "note,vowel" are passed over. */
#include "base/user-file.h"
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <string.h>

static gboolean fail(GError **error, const char *path, int line, int column, const char *found, const char *expected)
{
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s:%d:%d: found \"%s\", expected %s", path, line, column,
                found, expected);
    return FALSE;
}

char *result_known_vowels(void)
{
    GString *known = g_string_new(NULL);
    gsize n;
    const aperta_vowel *vowels = aperta_vowel_all(&n);

    for (gsize i = 0; i < n; i++)
        g_string_append_printf(known, "%s%s", i > 0 ? ", " : "", vowels[i].respelling);
    return g_string_free(known, FALSE);
}

static gboolean fail_vowel(GError **error, const char *path, int line, int column, const char *found)
{
    g_autofree char *known = result_known_vowels();
    g_autofree char *expected = g_strdup_printf("a vowel in IPA or as it is respelled (%s), or: not a note", known);

    return fail(error, path, line, column, found, expected);
}

static gboolean read_line(char *text, const char *path, int line, GArray *corrections, GError **error)
{
    result_correction correction = {0};
    gint64 number;
    char *comma = strchr(text, ',');

    if (comma == NULL)
        return fail(error, path, line, 1, text, "a note number, a comma and a vowel, such as 12,eh");
    *comma = '\0';
    char *what = g_strchomp(comma + 1);
    while (g_ascii_isspace(*what))
        what++;
    int column = (int)(what - text) + 1;
    g_strstrip(text);
    if (!g_ascii_string_to_signed(text, 10, 1, G_MAXINT, &number, NULL))
        return fail(error, path, line, 1, text, "the number of a note in the report");
    correction.number = (int)number;
    gsize n = strlen(what);
    if (n >= 2 && what[0] == '"' && what[n - 1] == '"') {
        what[n - 1] = '\0';
        what++;
    }
    if (g_ascii_strcasecmp(what, "not a note") != 0) {
        correction.vowel = aperta_vowel_parse(what);
        if (correction.vowel == NULL)
            return fail_vowel(error, path, line, column, what);
    }
    for (guint i = 0; i < corrections->len; i++)
        if (g_array_index(corrections, result_correction, i).number == correction.number)
            return fail(error, path, line, 1, text, "each note once");
    g_array_append_val(corrections, correction);
    return TRUE;
}

static const base_file_kind corrections_file = {.noun = "corrections file",
                                                .mb_max = RESULT_CORRECTIONS_MB_MAX,
                                                .what_to_do = "name a file with lines such as 12,eh"};

GArray *result_corrections_load(const char *path, GError **error)
{
    g_autofree char *text = base_text_read(path, &corrections_file, error);

    if (text == NULL)
        return NULL;
    g_autoptr(GArray) corrections = g_array_new(FALSE, FALSE, sizeof(result_correction));
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (int i = 0; lines[i] != NULL; i++) {
        char *line = g_strchomp(lines[i]);
        if (line[0] == '\0' || line[0] == '#' || (i == 0 && g_ascii_strcasecmp(line, "note,vowel") == 0))
            continue;
        if (!read_line(line, path, i + 1, corrections, error))
            return NULL;
    }
    return g_steal_pointer(&corrections);
}

gboolean result_find_note(const aperta_result *result, int number, guint *index)
{
    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = aperta_sung_note_at(result->notes, i);
        if (note->number == number) {
            *index = i;
            return TRUE;
        }
    }
    return FALSE;
}

gboolean result_correct(aperta_result *result, const GArray *corrections, const char *path, GError **error)
{
    guint n_notes = result->notes->len;

    for (guint i = 0; i < corrections->len; i++) {
        const result_correction *correction = &g_array_index(corrections, result_correction, i);
        guint index;
        if (!result_find_note(result, correction->number, &index)) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                        "%s: there is no note %d to correct (the take has %u notes)", path, correction->number,
                        n_notes);
            return FALSE;
        }
        if (correction->vowel == NULL) {
            g_ptr_array_remove_index(result->notes, index);
            result->n_removed++;
            continue;
        }
        aperta_sung_note *note = aperta_sung_note_at(result->notes, index);
        note->intended = correction->vowel;
        note->intended_from = APERTA_INTENDED_CORRECTION;
    }
    return TRUE;
}
