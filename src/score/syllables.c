/* syllables.c - texts under notes → syllables, and how they join to words. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <string.h>

/* Characters that bind two syllables on one note: the undertie and the lyric elisions of SMuFL (U+E550..E552). */
static gboolean is_elision(gunichar c)
{
    return c == 0x203F || (c >= 0xE550 && c <= 0xE552);
}

static gboolean is_gap(gunichar c)
{
    return g_unichar_isspace(c) || is_elision(c);
}

static gboolean has_letter(const char *from, const char *to)
{
    for (; from < to; from = g_utf8_next_char(from))
        if (g_unichar_isalpha(g_utf8_get_char(from)))
            return TRUE;
    return FALSE;
}

/* Signs that print nothing: the soft hyphen, zero width and word joining blanks, and a byte order mark gone astray. */
static gboolean is_unseen(gunichar c)
{
    return c == 0xAD || c == 0x200B || c == 0x2060 || c == 0xFEFF;
}

/* Latin ligatures of old fonts (U+FB00..FB06) as the letters they stand for. */
static char *without_ligatures(const char *text)
{
    static const char *const letters[] = {"ff", "fi", "fl", "ffi", "ffl", "st", "st"};
    GString *plain = g_string_new(NULL);

    for (; *text != '\0'; text = g_utf8_next_char(text)) {
        gunichar c = g_utf8_get_char(text);
        if (c >= 0xFB00 && c <= 0xFB06)
            g_string_append(plain, letters[c - 0xFB00]);
        else if (!is_unseen(c))
            g_string_append_unichar(plain, c);
    }
    return g_string_free(plain, FALSE);
}

/* Cuts blanks and elision signs off both ends, in place. */
static void strip(char *text)
{
    const char *start = text;

    while (*start != '\0' && is_gap(g_utf8_get_char(start)))
        start = g_utf8_next_char(start);
    memmove(text, start, strlen(start) + 1);
    char *end = text + strlen(text);
    while (end > text) {
        char *last = g_utf8_find_prev_char(text, end);
        if (last == NULL || !is_gap(g_utf8_get_char(last)))
            break;
        *last = '\0';
        end = last;
    }
}

static gsize hyphen_bytes(const char *at)
{
    if (*at == '-' || *at == '_')
        return 1;
    return g_str_has_prefix(at, "\u2010") || g_str_has_prefix(at, "\u2011") ? strlen("\u2010") : 0;
}

gboolean score_is_only_dashes(const char *text)
{
    for (; *text != '\0'; text = g_utf8_next_char(text)) {
        gunichar c = g_utf8_get_char(text);
        if (c != '-' && c != '_' && c != 0x2212 && !(c >= 0x2010 && c <= 0x2015))
            return FALSE;
    }
    return TRUE;
}

/* Takes hyphens and extender lines typed as text off the end; returns whether a hyphen was there. */
static gboolean cut_hyphens(char *text)
{
    gboolean hyphen = FALSE;
    char *end = text + strlen(text);

    while (end > text) {
        char *last = g_utf8_find_prev_char(text, end);
        if (last == NULL || last == text || hyphen_bytes(last) == 0)
            break;
        hyphen |= *last != '_';
        *last = '\0';
        end = last;
    }
    return hyphen;
}

static void cut_leading_hyphen(char *text)
{
    gsize n = hyphen_bytes(text);

    if (n > 0 && text[n] != '\0')
        memmove(text, text + n, strlen(text + n) + 1);
}

/* How the pieces of one text are joined to words: only the outer ends belong to a longer one. */
static int syllabic_of_piece(int whole, gboolean first, gboolean last)
{
    gboolean from_before = whole == APERTA_SYLLABIC_MIDDLE || whole == APERTA_SYLLABIC_END;
    gboolean goes_on = whole == APERTA_SYLLABIC_MIDDLE || whole == APERTA_SYLLABIC_BEGIN;

    if ((first && last) || ((first || last) && whole < 0))
        return whole;
    if (first && from_before)
        return APERTA_SYLLABIC_END;
    if (last && goes_on)
        return APERTA_SYLLABIC_BEGIN;
    return APERTA_SYLLABIC_SINGLE;
}

/* text is taken over. */
static void add_piece(GPtrArray *syllables, guint key, int syllabic, char *text, const char *language)
{
    score_syllable *syllable = g_new0(score_syllable, 1);

    if (syllabic != APERTA_SYLLABIC_SINGLE && syllabic != APERTA_SYLLABIC_BEGIN)
        cut_leading_hyphen(text);
    /* an end may have a hyphen of its own: "moon-" of "moon-light" as two words */
    if (syllabic != APERTA_SYLLABIC_END && cut_hyphens(text) &&
        (syllabic == APERTA_SYLLABIC_SINGLE || syllabic == SCORE_SYLLABIC_UNKNOWN))
        syllabic = SCORE_SYLLABIC_HYPHEN;
    syllable->key = key;
    syllable->syllabic = syllabic;
    syllable->text = text;
    syllable->language = g_strdup(language);
    g_ptr_array_add(syllables, syllable);
}

/* The first gap from start on with letters on both sides of it; NULL: none. "1. Down" and "oh !" have none. */
static const char *next_cut(const char *start, const char *from)
{
    for (; *from != '\0'; from = g_utf8_next_char(from)) {
        if (!is_gap(g_utf8_get_char(from)) || !has_letter(start, from))
            continue;
        const char *word = from;
        while (is_gap(g_utf8_get_char(word)))
            word = g_utf8_next_char(word);
        const char *end = word;
        while (*end != '\0' && !is_gap(g_utf8_get_char(end)))
            end = g_utf8_next_char(end);
        if (has_letter(word, end))
            return from;
    }
    return NULL;
}

void score_syllables_add(GPtrArray *syllables, score_part *part, guint key, int syllabic, const char *text,
                         const char *language)
{
    g_autofree char *plain = without_ligatures(text);

    strip(plain);
    if (plain[0] == '\0')
        return;
    if (score_is_only_dashes(plain)) {
        part->met[APERTA_SCORE_REMARK_ONLY_HYPHEN]++;
        return;
    }
    if (strlen(plain) > SCORE_SYLLABLE_BYTES_MAX) {
        part->met[APERTA_SCORE_REMARK_TOO_LONG]++;
        char *end = g_utf8_find_prev_char(plain, plain + SCORE_SYLLABLE_BYTES_MAX);
        *end = '\0';
    }
    const char *start = plain;
    gboolean first = TRUE;
    const char *cut;
    while ((cut = next_cut(start, start)) != NULL) {
        add_piece(syllables, key, syllabic_of_piece(syllabic, first, FALSE), g_strndup(start, (gsize)(cut - start)),
                  language);
        first = FALSE;
        for (start = cut; is_gap(g_utf8_get_char(start));)
            start = g_utf8_next_char(start);
    }
    add_piece(syllables, key, syllabic_of_piece(syllabic, first, TRUE), g_strdup(start), language);
}

static gboolean stands_in(const GPtrArray *syllables, guint n, const score_syllable *syllable)
{
    for (guint i = 0; i < n; i++) {
        const score_syllable *known = score_syllable_at(syllables, i);
        if (known->key == syllable->key && strcmp(known->text, syllable->text) == 0)
            return TRUE;
    }
    return FALSE;
}

GPtrArray *score_syllables_append(GPtrArray *syllables, GPtrArray *more)
{
    if (more == NULL || syllables == NULL)
        return syllables != NULL ? syllables : more;
    g_ptr_array_extend_and_steal(syllables, more);
    return syllables;
}

GPtrArray *score_syllables_join(GPtrArray *syllables, GPtrArray *more)
{
    for (guint i = more != NULL && syllables != NULL ? more->len : 0; i-- > 0;)
        if (syllables->len > SCORE_LYRICS_MAX || stands_in(syllables, syllables->len, g_ptr_array_index(more, i)))
            g_ptr_array_remove_index(more, i);
    return score_syllables_append(syllables, more);
}

static void complete_syllabic(score_syllable *syllable, gboolean *inside)
{
    if (syllable->syllabic == SCORE_SYLLABIC_HYPHEN)
        syllable->syllabic = *inside ? APERTA_SYLLABIC_MIDDLE : APERTA_SYLLABIC_BEGIN;
    else if (syllable->syllabic == SCORE_SYLLABIC_UNKNOWN)
        syllable->syllabic = *inside ? APERTA_SYLLABIC_END : APERTA_SYLLABIC_SINGLE;
    *inside = syllable->syllabic == APERTA_SYLLABIC_BEGIN || syllable->syllabic == APERTA_SYLLABIC_MIDDLE;
}

void score_complete_syllabics(const GPtrArray *line, const score_part *part)
{
    g_autofree gboolean *inside = g_new0(gboolean, part->verse_keys->len + 1);

    for (guint i = 0; i < line->len; i++) {
        const GPtrArray *syllables = score_event_at(line, i)->syllables;
        for (guint k = 0; syllables != NULL && k < syllables->len; k++) {
            score_syllable *syllable = score_syllable_at(syllables, k);
            complete_syllabic(syllable, &inside[syllable->key]);
        }
    }
}
