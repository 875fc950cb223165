/* printed-text.c - what a printed syllable has beside its letters: punctuation, the number of a verse, an elision. */
#include "align/align-private.h"

#include <string.h>

static gboolean closes(gunichar c)
{
    GUnicodeType type = g_unichar_type(c);

    return type == G_UNICODE_CLOSE_PUNCTUATION || type == G_UNICODE_FINAL_PUNCTUATION || c == '"' || c == '\'' ||
           c == 0x201C /* closes in German */;
}

align_ending align_text_ending(const char *text)
{
    static const char stops[] = ".;:!?…。";
    static const char commas[] = ",–—،、";

    for (const char *at = text + strlen(text); at > text;) {
        at = g_utf8_prev_char(at);
        gunichar c = g_utf8_get_char(at);
        if (closes(c) || g_unichar_isspace(c))
            continue;
        if (g_utf8_strchr(stops, -1, c) != NULL)
            return ALIGN_STOP;
        return g_utf8_strchr(commas, -1, c) != NULL ? ALIGN_COMMA : ALIGN_GOES_ON;
    }
    return ALIGN_GOES_ON;
}

gboolean align_has_letters(const char *text)
{
    for (; *text != '\0'; text = g_utf8_next_char(text))
        if (g_unichar_isalnum(g_utf8_get_char(text)))
            return TRUE;
    return FALSE;
}

/* "1. Si", "2)Si", "(1) Si", "1.-3. Si" or "1/2: Si": the text behind the numbers of verses, if there are letters. A
 * number that no sign closes is sung: "20 men". */
static const char *behind_verse_number(const char *text)
{
    static const char ends[] = ".):]", between[] = " \u00A0,/&+-–—";
    const char *at = text + strspn(text, "([");
    const char *behind = text;
    gboolean closed = FALSE;

    if (!g_ascii_isdigit(*at))
        return text;
    for (gunichar c = g_utf8_get_char(at); c != '\0'; c = g_utf8_get_char(at)) {
        gboolean ends_here = g_utf8_strchr(ends, -1, c) != NULL;
        gboolean digit = g_unichar_isdigit(c);
        if (!digit && !ends_here && g_utf8_strchr(between, -1, c) == NULL)
            break;
        at = g_utf8_next_char(at);
        closed = ends_here || (closed && !digit);
        behind = closed ? at : behind;
    }
    return align_has_letters(behind) ? behind : text;
}

static gboolean parts_words(gunichar c)
{
    return g_unichar_isspace(c) || c == 0x203F /* undertie */;
}

void align_text_parts(const char *text, GPtrArray *parts)
{
    g_autoptr(GString) part = g_string_new(NULL);
    const char *at = behind_verse_number(text);
    guint before = parts->len;

    for (;; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (c != '\0' && !parts_words(c)) {
            g_string_append_unichar(part, c);
            continue;
        }
        /* a lone mark ("—") stays with the word before it */
        if (part->len > 0 && parts->len > before && !align_has_letters(part->str)) {
            char **last = (char **)&g_ptr_array_index(parts, parts->len - 1);
            char *joined = g_strjoin(" ", *last, part->str, NULL);
            g_free(*last);
            *last = joined;
        } else if (part->len > 0) {
            g_ptr_array_add(parts, g_strdup(part->str));
        }
        g_string_truncate(part, 0);
        if (c == '\0')
            break;
    }
    if (parts->len == before)
        g_ptr_array_add(parts, g_strdup(text));
}

static gboolean of_word(gunichar c)
{
    return g_unichar_isalnum(c) || g_unichar_ismark(c) || c == '\'' || c == 0x2019 /* apostrophe */;
}

char *align_bare_word(const char *text)
{
    const char *start = text;
    const char *end = text + strlen(text);

    while (*start != '\0' && !of_word(g_utf8_get_char(start)))
        start = g_utf8_next_char(start);
    while (end > start && !of_word(g_utf8_get_char(g_utf8_prev_char(end))))
        end = g_utf8_prev_char(end);
    return end > start ? g_strndup(start, (gsize)(end - start)) : g_strdup(text);
}
