/* lyric-text-headings.c - "title: Evening", "key: G major": what is said once and holds from there on. */
#include "score/lyric-text-private.h"

#include <stdlib.h>
#include <string.h>

#define HEADINGS "title, composer, words, language, key, meter, tempo, length"

static gboolean read_key(text_reading *in, const char *value, guint column)
{
    static const char letters[] = "FCGDAEB";
    const char *at = value[0] != '\0' ? strchr(letters, g_ascii_toupper(value[0])) : NULL;
    int fifths = at != NULL ? (int)(at - letters) - 1 : 0;
    const char *rest = value + 1;

    if (at == NULL)
        return score_text_fail(in, in->line, column,
                               "expected a key such as G major or F# minor, found \"%s\" (" SCORE_TEXT_MANUAL ")",
                               value);
    for (;; rest++) {
        if (*rest == '#')
            fifths += 7;
        else if (*rest == 'b')
            fifths -= 7;
        else
            break;
    }
    g_autofree char *mode = g_strstrip(g_ascii_strdown(rest, -1));
    gboolean minor = strcmp(mode, "minor") == 0;
    fifths -= minor ? 3 : 0;
    if ((!minor && mode[0] != '\0' && strcmp(mode, "major") != 0) || abs(fifths) > 7)
        return score_text_fail(in, in->line, column,
                               "expected a key such as G major or F# minor, found \"%s\" (" SCORE_TEXT_MANUAL ")",
                               value);
    in->fifths = fifths;
    if (!in->part->key_known) {
        in->part->key_known = TRUE;
        in->part->first_fifths = fifths;
        in->part->first_minor = minor;
    }
    return TRUE;
}

static gboolean read_meter(text_reading *in, const char *value, guint column)
{
    g_auto(GStrv) sides = g_strsplit(value, "/", 3);
    score_meter meter;

    if (g_strv_length(sides) != 2 || !score_meter_parse(sides[0], sides[1], &meter))
        return score_text_fail(in, in->line, column,
                               "expected a meter such as 3/4, found \"%s\" (" SCORE_TEXT_MANUAL ")", value);
    score_text_next_bar(in);
    score_draft_bar(in->draft, in->bar)->meter = meter;
    return TRUE;
}

static void set_text(char **field, const char *value)
{
    g_free(*field);
    *field = value[0] != '\0' ? g_strdup(value) : NULL;
}

static gboolean read_heading(text_reading *in, const char *name, const char *value, guint column)
{
    double number;

    if (strcmp(name, "title") == 0) {
        set_text(&in->draft->title, value);
    } else if (strcmp(name, "composer") == 0) {
        set_text(&in->draft->composer, value);
    } else if (strcmp(name, "words") == 0) {
        set_text(&in->draft->lyricist, value);
    } else if (strcmp(name, "language") == 0) {
        set_text(&in->language, value);
        score_cut_name(in->language);
    } else if (strcmp(name, "key") == 0) {
        return read_key(in, value, column);
    } else if (strcmp(name, "meter") == 0) {
        return read_meter(in, value, column);
    } else if (strcmp(name, "length") == 0) {
        if (!score_text_length(value, &in->usual_length))
            return score_text_fail(
                in, in->line, column,
                "expected a length in quarters such as 1 or 1/2, found \"%s\" (" SCORE_TEXT_MANUAL ")", value);
    } else if (strcmp(name, "tempo") == 0) {
        if (!score_number(value, &number) || number < SCORE_TEMPO_MIN_BPM || number > SCORE_TEMPO_MAX_BPM)
            return score_text_fail(in, in->line, column,
                                   "expected quarters a minute from %g to %g, found \"%s\" (" SCORE_TEXT_MANUAL ")",
                                   SCORE_TEMPO_MIN_BPM, SCORE_TEMPO_MAX_BPM, value);
        score_tempo tempo = {in->bar, in->cursor, number, 0.0, FALSE};
        g_array_append_val(in->draft->tempi, tempo);
    } else {
        return score_text_fail(in, in->line, 1, "\"%s:\" is no heading (there are " HEADINGS "; " SCORE_TEXT_MANUAL ")",
                               name);
    }
    return TRUE;
}

/* "name: value"; before the first note an unknown name is a mistake, later it may be words. */
gboolean score_text_is_heading(const text_reading *in, const char *line)
{
    static const char *const lasting[] = {"key", "meter", "tempo", "length", "language"};
    const char *colon = strchr(line, ':');
    gsize n = colon != NULL ? (gsize)(colon - line) : 0;

    for (gsize i = 0; i < n; i++)
        if (!g_ascii_isalpha(line[i]))
            return FALSE;
    for (gsize i = 0; n > 0 && in->started && i < G_N_ELEMENTS(lasting); i++)
        if (strlen(lasting[i]) == n && g_ascii_strncasecmp(line, lasting[i], n) == 0)
            return TRUE;
    return n > 0 && !in->started && in->verses->len == 0;
}

gboolean score_text_heading(text_reading *in, const char *line)
{
    const char *colon = strchr(line, ':');
    g_autofree char *name = g_ascii_strdown(line, colon - line);
    const char *value = colon + 1;

    while (g_ascii_isspace(*value))
        value++;
    return read_heading(in, name, value, 1 + (guint)g_utf8_strlen(line, value - line));
}
