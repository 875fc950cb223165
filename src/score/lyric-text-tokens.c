/* lyric-text-tokens.c - what lines are made of: words between blanks, what a pitch, a rest, a bar line looks like. */
#include "score/lyric-text-private.h"

#include <string.h>

gboolean score_text_fail(const text_reading *in, guint line, guint column, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    g_autofree char *text = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_set_error(in->error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s:%u:%u: %s", in->draft->file, line, column, text);
    return FALSE;
}

static void clear_token(gpointer data)
{
    g_free(((text_token *)data)->text);
}

GArray *score_text_split(const char *line, guint number)
{
    GArray *tokens = g_array_new(FALSE, TRUE, sizeof(text_token));
    guint column = 1;

    g_array_set_clear_func(tokens, clear_token);
    while (*line != '\0') {
        const char *start = line;
        guint start_column = column;
        for (; *line != '\0' && !g_unichar_isspace(g_utf8_get_char(line)); line = g_utf8_next_char(line))
            column++;
        if (line > start) {
            text_token token = {number, start_column, g_strndup(start, (gsize)(line - start))};
            g_array_append_val(tokens, token);
        } else {
            line = g_utf8_next_char(line);
            column++;
        }
    }
    return tokens;
}

gboolean score_text_length(const char *text, double *quarters)
{
    g_auto(GStrv) sides = g_strsplit(text, "/", 3);
    double below = 1.0;

    if (sides[0] == NULL || !score_number(sides[0], quarters) ||
        (sides[1] != NULL && !score_number(sides[1], &below)) || (sides[1] != NULL && sides[2] != NULL) || below <= 0.0)
        return FALSE;
    *quarters /= below;
    return *quarters > SCORE_SAME_QUARTERS && *quarters <= SCORE_LENGTH_MAX_QUARTERS;
}

gsize score_text_accidental_bytes(const char *text)
{
    if (*text == '#' || *text == 'b')
        return 1;
    return g_str_has_prefix(text, "♯") || g_str_has_prefix(text, "♭") ? strlen("♯") : 0;
}

/* A letter, accidentals and an octave: what a pitch must look like to make its line one of pitches. */
static gboolean looks_like_pitch(const char *text)
{
    if (strchr("ABCDEFGHabcdefgh", text[0]) == NULL || text[0] == '\0')
        return FALSE;
    for (text++; score_text_accidental_bytes(text) > 0;)
        text += score_text_accidental_bytes(text);
    return g_ascii_isdigit(*text) && (text[1] == '\0' || text[1] == ':');
}

gboolean score_text_is_rest(const char *token)
{
    return g_ascii_tolower(token[0]) == 'r' && (token[1] == '\0' || token[1] == ':');
}

gboolean score_text_is_bar_line(const char *token)
{
    return strcmp(token, "|") == 0 || strcmp(token, "||") == 0;
}

gboolean score_text_is_pitches(const GArray *tokens)
{
    gboolean silent = tokens->len > 0;

    for (guint i = 0; i < tokens->len; i++) {
        const char *token = g_array_index(tokens, text_token, i).text;
        if (looks_like_pitch(token))
            return TRUE;
        silent = silent && (score_text_is_rest(token) || score_text_is_bar_line(token));
    }
    return silent;
}
