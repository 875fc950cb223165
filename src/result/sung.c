/* sung.c - a teacher tells the vowels: one for all notes, one a note in order, or some notes by their numbers.
 *
 * The words are parted by blanks or commas. A word is a vowel (IPA or respelling), "-" for a note that is left to
 * hearing, or NOTE:VOWEL and FIRST-LAST:VOWEL with the numbers of the report. Vowels without numbers are one a note, in
 * order; a single one is for all notes, those left out that have a word of their own. What mixes the two otherwise has
 * more than one reading and is refused. */
#include "result/result-private.h"

#include <string.h>

#define AS_HEARD   "-"
#define SEPARATORS " \t\r\n,;"

typedef struct {
    int first, last;
    const aperta_vowel *vowel; /* NULL: as heard */
} told_notes;

struct result_sung {
    GPtrArray *in_order; /* const aperta_vowel *; NULL: as heard */
    GArray *by_number;   /* told_notes, none of them overlapping */
};

void result_sung_free(result_sung *sung)
{
    if (sung == NULL)
        return;
    g_ptr_array_unref(sung->in_order);
    g_array_unref(sung->by_number);
    g_free(sung);
}

static gboolean fail(GError **error, const char *format, ...) G_GNUC_PRINTF(2, 3);

static gboolean fail(GError **error, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    g_autofree char *message = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_set_error_literal(error, APERTA_ERROR, APERTA_ERROR_FORMAT, message);
    return FALSE;
}

/* ---- words ------------------------------------------------------------------------------------------------------- */

static gboolean read_vowel(const char *word, const char *text, const aperta_vowel **vowel, GError **error)
{
    *vowel = NULL;
    if (strcmp(text, AS_HEARD) == 0)
        return TRUE;
    *vowel = aperta_vowel_parse(text);
    if (*vowel != NULL)
        return TRUE;
    if (*text == '\0')
        return fail(error, "\"%s\" has no vowel after the colon", word);
    g_autofree char *known = result_known_vowels();
    return fail(error, "\"%s\" is no vowel (%s, or the letter of the phonetic alphabet)", text, known);
}

/* Reads the digits that text begins with, and goes on behind them; FALSE when they are no number of a note. */
static gboolean read_number(const char **text, int *number)
{
    const char *at = *text;
    gint64 value = 0;

    while (g_ascii_isdigit(*at) && value <= G_MAXINT)
        value = 10 * value + g_ascii_digit_value(*at++);
    gboolean good = at > *text && value >= 1 && value <= G_MAXINT;
    *number = (int)value;
    *text = at;
    return good;
}

/* "3:" or "3-5:" (or with the dash that reports print), and where the vowel begins. */
static gboolean read_numbers(const char *word, told_notes *notes, const char **vowel)
{
    const char *at = word;

    if (!read_number(&at, &notes->first))
        return FALSE;
    notes->last = notes->first;
    gsize dash = *at == '-' ? 1 : g_str_has_prefix(at, "–") ? strlen("–") : 0;
    at += dash;
    if (dash > 0 && (!read_number(&at, &notes->last) || notes->last < notes->first))
        return FALSE;
    *vowel = at + 1;
    return *at == ':';
}

static gboolean add_numbered(result_sung *sung, const char *word, GError **error)
{
    told_notes notes;
    const char *vowel;

    if (!read_numbers(word, &notes, &vowel))
        return fail(error, "\"%s\" is neither a vowel nor NOTE:VOWEL such as 3:ee or 3-5:ee", word);
    for (guint i = 0; i < sung->by_number->len; i++) {
        const told_notes *other = &g_array_index(sung->by_number, told_notes, i);
        if (notes.first <= other->last && other->first <= notes.last)
            return fail(error, "note %d has two vowels", MAX(notes.first, other->first));
    }
    if (!read_vowel(word, vowel, &notes.vowel, error))
        return FALSE;
    g_array_append_val(sung->by_number, notes);
    return TRUE;
}

/* "a:3", turned round. */
static gboolean is_turned_round(const char *word)
{
    const char *colon = strchr(word, ':');
    int number;

    if (colon == NULL || colon == word)
        return FALSE;
    colon++;
    return read_number(&colon, &number) && *colon == '\0';
}

static gboolean add_word(result_sung *sung, const char *word, GError **error)
{
    const aperta_vowel *vowel;

    if (g_ascii_isdigit(word[0]))
        return add_numbered(sung, word, error);
    if (is_turned_round(word))
        return fail(error, "\"%s\": the number of the note stands first, as in 3:ee", word);
    if (!read_vowel(word, word, &vowel, error))
        return FALSE;
    g_ptr_array_add(sung->in_order, (gpointer)vowel);
    return TRUE;
}

static gboolean check_forms(const result_sung *sung, GError **error)
{
    if (sung->in_order->len + sung->by_number->len == 0)
        return fail(error, "no vowel is named");
    if (sung->in_order->len > 1 && sung->by_number->len > 0)
        return fail(
            error,
            "%u vowels without a note stand beside some with one: number all of them, or give one vowel for all "
            "other notes",
            sung->in_order->len);
    return TRUE;
}

result_sung *result_sung_read(const char *text, GError **error)
{
    g_autoptr(result_sung) sung = g_new0(result_sung, 1);

    sung->in_order = g_ptr_array_new();
    sung->by_number = g_array_new(FALSE, FALSE, sizeof(told_notes));
    if (!g_utf8_validate(text, -1, NULL)) {
        fail(error, "it is not UTF-8 text");
        return NULL;
    }
    g_auto(GStrv) words = g_strsplit_set(text, SEPARATORS, -1);
    for (char **word = words; *word != NULL; word++)
        if (**word != '\0' && !add_word(sung, *word, error))
            return NULL;
    return check_forms(sung, error) ? g_steal_pointer(&sung) : NULL;
}

gboolean aperta_sung_check(const char *text, GError **error)
{
    g_autoptr(result_sung) sung = result_sung_read(text, error);

    return sung != NULL;
}

/* ---- notes ------------------------------------------------------------------------------------------------------- */

/* A correction of a note is the later word on it, and stays. */
static void tell(aperta_sung_note *note, const aperta_vowel *vowel)
{
    if (note->intended_from == APERTA_INTENDED_CORRECTION)
        return;
    note->intended = vowel;
    note->intended_from = vowel != NULL ? APERTA_INTENDED_TOLD : APERTA_INTENDED_UNKNOWN;
}

static gboolean lay_in_order(aperta_result *result, const GPtrArray *vowels, GError **error)
{
    guint n_notes = result->notes->len;

    if (vowels->len > 1 && vowels->len != n_notes) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                    "%s: %u vowels are told, but the take has %u note%s (tell one for all, one for each note of the "
                    "report, or some with their numbers, such as 3:ee)",
                    result->file, vowels->len, n_notes, n_notes == 1 ? "" : "s");
        return FALSE;
    }
    for (guint i = 0; vowels->len > 0 && i < n_notes; i++)
        tell(g_ptr_array_index(result->notes, i), g_ptr_array_index(vowels, vowels->len > 1 ? i : 0));
    return TRUE;
}

static gboolean lay_by_number(aperta_result *result, const told_notes *told, GError **error)
{
    for (int number = told->first; number <= told->last; number++) {
        guint index;
        if (!result_find_note(result, number, &index)) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                        "%s: a vowel is told for note %d, which is not there (the take has %u note%s)", result->file,
                        number, result->notes->len, result->notes->len == 1 ? "" : "s");
            return FALSE;
        }
        tell(g_ptr_array_index(result->notes, index), told->vowel);
    }
    return TRUE;
}

gboolean result_sung_lay(aperta_result *result, const result_sung *sung, GError **error)
{
    if (!lay_in_order(result, sung->in_order, error))
        return FALSE;
    for (guint i = 0; i < sung->by_number->len; i++)
        if (!lay_by_number(result, &g_array_index(sung->by_number, told_notes, i), error))
            return FALSE;
    return TRUE;
}
