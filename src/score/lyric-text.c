/* lyric-text.c - our own plain form of a song, described in aperta-score-text(5): lines of words, one for each verse,
 * and under them a line with as many pitches.
 *
 *   title: Evening
 *   Sil-ver moon, _ a-bove the mill
 *   Gold-en sun _   be-hind the hill
 *   G4  A   B  A:2  G  E:0.5 F#:0.5 | G:2
 */
#include "score/lyric-text-private.h"

#include <string.h>

/* ---- words ------------------------------------------------------------------------------------------------------- */

typedef struct {
    const text_token *token;
    char *text; /* NULL: the syllable before goes on */
    int syllabic;
} text_syllable;

static void clear_syllable(gpointer data)
{
    g_free(((text_syllable *)data)->text);
}

/* "~" binds two syllables on one note; the common clean-up knows the undertie. */
static char *with_undertie(const char *piece)
{
    g_auto(GStrv) sides = g_strsplit(piece, "~", -1);

    return g_strjoinv("‿", sides);
}

/* "glo-_-ri-a" is four notes: glo, the same on, ri, a. open: the word of the line before goes on. */
static void add_word(GArray *syllables, const text_token *token, const char *word, gboolean *open)
{
    g_auto(GStrv) pieces = g_strsplit(word, "-", -1);

    for (guint i = 0; pieces[i] != NULL; i++) {
        gboolean more = pieces[i + 1] != NULL;
        gboolean holds = strcmp(pieces[i], "_") == 0;
        if (pieces[i][0] == '\0') /* a hyphen at an end of the word */
            continue;
        text_syllable syllable = {token, holds ? NULL : with_undertie(pieces[i]), APERTA_SYLLABIC_SINGLE};
        if (!holds) {
            syllable.syllabic = *open ? (more ? APERTA_SYLLABIC_MIDDLE : APERTA_SYLLABIC_END)
                                      : (more ? APERTA_SYLLABIC_BEGIN : APERTA_SYLLABIC_SINGLE);
            *open = more;
        }
        g_array_append_val(syllables, syllable);
    }
}

/* Dashes are stops like a comma, no syllables: one between blanks parts nothing more, a long one parts words also where
 * it stands between them without blanks. */
static void add_words(GArray *syllables, const text_token *token, gboolean *open)
{
    g_auto(GStrv) words = g_strsplit(token->text, "—", -1);

    for (char **word = words; *word != NULL; word++)
        if (strchr(*word, '_') != NULL || !score_is_only_dashes(*word))
            add_word(syllables, token, *word, open);
}

static GArray *syllables_of(const GArray *tokens, gboolean *open)
{
    GArray *syllables = g_array_new(FALSE, TRUE, sizeof(text_syllable));

    g_array_set_clear_func(syllables, clear_syllable);
    for (guint i = 0; i < tokens->len; i++) {
        const text_token *token = &g_array_index(tokens, text_token, i);
        if (!score_text_is_bar_line(token->text))
            add_words(syllables, token, open);
    }
    return syllables;
}

/* ---- blocks ------------------------------------------------------------------------------------------------------ */

static gboolean fits(const text_reading *in, const GArray *syllables, const GArray *events, guint words_line)
{
    if (syllables->len == events->len)
        return TRUE;
    guint column = 1;
    if (syllables->len > events->len)
        column = g_array_index(syllables, text_syllable, events->len).token->column;
    else if (syllables->len > 0)
        column = g_array_index(syllables, text_syllable, syllables->len - 1).token->column;
    return score_text_fail(in, words_line, column,
                           "%u syllable%s, but %u pitch%s in line %u (write _ where a syllable goes on "
                           "over another note, and - between syllables; a dash between words is none)",
                           syllables->len, syllables->len == 1 ? "" : "s", events->len, events->len == 1 ? "" : "es",
                           in->line);
}

static void give_words(text_reading *in, guint verse, const GArray *syllables, GArray *events)
{
    g_autofree char *key_name = g_strdup_printf("%u", verse + 1);
    guint key = score_name_index(in->part->verse_keys, key_name);

    for (guint i = 0; i < syllables->len; i++) {
        const text_syllable *syllable = &g_array_index(syllables, text_syllable, i);
        score_event *event = &g_array_index(events, score_event, i);
        if (syllable->text == NULL)
            continue;
        if (event->syllables == NULL)
            event->syllables = score_syllables_new();
        guint before = event->syllables->len;
        score_syllables_add(event->syllables, in->part, key, syllable->syllabic, syllable->text, in->language);
        in->part->n_syllables += event->syllables->len - before;
    }
}

static gboolean read_events(text_reading *in, const GArray *tokens, GArray *events)
{
    in->octave = -1;
    for (guint i = 0; i < tokens->len; i++) {
        score_event event = {.element = in->draft->n_elements};
        gboolean taken;
        if (!score_text_note(in, &g_array_index(tokens, text_token, i), &event, &taken))
            return FALSE;
        if (!taken)
            continue;
        g_array_append_val(events, event);
        if (++in->draft->n_elements > SCORE_NOTES_MAX || in->bar >= SCORE_BARS_MAX)
            return score_text_fail(in, in->line, 1, "too many notes (write one song)");
    }
    return TRUE;
}

static gboolean take_pitches(text_reading *in, const GArray *tokens)
{
    g_autoptr(GArray) events = g_array_new(FALSE, TRUE, sizeof(score_event));
    gboolean good = read_events(in, tokens, events);

    for (guint verse = 0; good && verse < in->verses->len; verse++) {
        if (verse >= in->verse_open->len)
            g_array_set_size(in->verse_open, verse + 1);
        g_autoptr(GArray) syllables =
            syllables_of(g_ptr_array_index(in->verses, verse), &g_array_index(in->verse_open, gboolean, verse));
        good = fits(in, syllables, events, in->verses_line + verse);
        if (good)
            give_words(in, verse, syllables, events);
    }
    if (good) {
        g_array_append_vals(in->part->events, events->data, events->len);
    } else {
        for (guint i = 0; i < events->len; i++)
            score_event_clear(&g_array_index(events, score_event, i));
    }
    g_ptr_array_set_size(in->verses, 0);
    in->started = TRUE;
    if (!in->has_bars && score_draft_bar(in->draft, in->bar)->meter.n_beats == 0)
        score_text_next_bar(in); /* with neither a meter nor bar lines, each line is a bar */
    return good;
}

/* Words, or pitches whose octave nobody wrote? */
static gboolean lacks_octave(const GArray *tokens)
{
    guint n = 0;

    for (guint i = 0; i < tokens->len; i++) {
        const char *at = g_array_index(tokens, text_token, i).text;
        if (score_text_is_rest(at) || score_text_is_bar_line(at))
            continue;
        if (strchr("ABCDEFGabcdefg", *at) == NULL)
            return FALSE;
        for (at++; score_text_accidental_bytes(at) > 0;)
            at += score_text_accidental_bytes(at);
        if (*at != '\0' && *at != ':')
            return FALSE;
        n++;
    }
    return n > 0;
}

static gboolean first_without_octave(const text_reading *in, const GArray *tokens)
{
    guint i = 0;

    while (score_text_is_rest(g_array_index(tokens, text_token, i).text) ||
           score_text_is_bar_line(g_array_index(tokens, text_token, i).text))
        i++;
    const text_token *first = &g_array_index(tokens, text_token, i);
    return score_text_fail_without_octave(in, first);
}

static gboolean words_without_pitches(const text_reading *in)
{
    const GArray *last = g_ptr_array_index(in->verses, in->verses->len - 1);

    if (lacks_octave(last))
        return first_without_octave(in, last);
    return score_text_fail(in, in->verses_line, 1,
                           "expected a line of pitches (\"G4 A4 B4\") under these words, found none (" SCORE_TEXT_MANUAL
                           ")");
}

static gboolean take_line(text_reading *in, const char *line)
{
    if (line[0] == '#')
        return TRUE;
    g_autoptr(GArray) tokens = score_text_split(line, in->line);
    if (tokens->len == 0)
        return in->verses->len == 0 || words_without_pitches(in);
    if (score_text_is_pitches(tokens))
        return take_pitches(in, tokens);
    if (score_text_is_heading(in, line))
        return in->verses->len == 0 ? score_text_heading(in, line) : words_without_pitches(in);
    if (in->verses->len > 0 && tokens->len > 1 && lacks_octave(tokens))
        return first_without_octave(in, tokens);
    if (in->verses->len >= SCORE_VERSES_MAX)
        return words_without_pitches(in);
    if (in->verses->len == 0)
        in->verses_line = in->line;
    g_ptr_array_add(in->verses, g_steal_pointer(&tokens));
    return TRUE;
}

static gboolean draws_bars(char **lines)
{
    for (; *lines != NULL; lines++) {
        g_autoptr(GArray) tokens = score_text_split(*lines, 0);
        if (!score_text_is_pitches(tokens))
            continue;
        for (guint i = 0; i < tokens->len; i++)
            if (score_text_is_bar_line(g_array_index(tokens, text_token, i).text))
                return TRUE;
    }
    return FALSE;
}

/* A first bar that is shorter than its meter is an upbeat, which is not counted. */
static void number_bars(score_draft *draft)
{
    const score_bar *first = score_draft_bar(draft, 0);
    gboolean upbeat = first->meter.n_beats > 0 &&
                      first->length < 4.0 * first->meter.n_beats / first->meter.beat_type - SCORE_SAME_QUARTERS &&
                      draft->bars->len > 1;

    for (guint i = 0; i < draft->bars->len; i++)
        g_array_index(draft->bars, score_bar, i).number = g_strdup_printf("%u", i + (upbeat ? 0 : 1));
}

static gboolean read_lines(text_reading *in, char **lines)
{
    in->has_bars = draws_bars(lines);
    for (; *lines != NULL; lines++) {
        in->line++;
        g_strchomp(*lines);
        if (!take_line(in, *lines))
            return FALSE;
    }
    if (in->verses->len > 0)
        return words_without_pitches(in);
    number_bars(in->draft);
    return TRUE;
}

/* The text in UTF-8; NULL: it is none. */
static char *decode(score_draft *draft, const score_input *input)
{
    const char *bytes = input->bytes;
    gsize n = input->n;

    if (n >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        bytes += 3;
        n -= 3;
    }
    if (n >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0))
        return g_convert(bytes, (gssize)n, "UTF-8", "UTF-16", NULL, NULL, NULL);
    for (gsize i = 0; i < n; i++)
        if ((guchar)bytes[i] < ' ' && strchr("\t\n\r\f", bytes[i]) == NULL)
            return NULL;
    if (memchr(bytes, '\0', n) != NULL)
        return NULL;
    if (g_utf8_validate(bytes, (gssize)n, NULL))
        return g_strndup(bytes, n);
    score_remark(draft->remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_TEXT_WESTERN});
    return g_convert(bytes, (gssize)n, "UTF-8", "WINDOWS-1252", NULL, NULL, NULL);
}

gboolean score_read_text(score_draft *draft, const score_input *input, GError **error)
{
    g_autofree char *text = input->n <= SCORE_TEXT_MB_MAX << 20 ? decode(draft, input) : NULL;
    text_reading in = {.draft = draft, .error = error, .usual_length = 1.0, .octave = -1};

    if (input->n > SCORE_TEXT_MB_MAX << 20)
        return score_fail(error, input->name, 0, "larger than %u MB, which no lyric text is (write one song)",
                          SCORE_TEXT_MB_MAX);
    if (text == NULL || !g_utf8_validate(text, -1, NULL))
        return score_fail(error, input->name, 0,
                          "this is no score that can be read (use MusicXML, MIDI or a lyric text, " SCORE_TEXT_MANUAL
                          ")");
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    in.part = score_draft_part(draft, "1");
    in.verses = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
    in.verse_open = g_array_new(FALSE, TRUE, sizeof(gboolean));
    score_name_index(in.part->voices, "1");
    gboolean read = read_lines(&in, lines);
    g_ptr_array_unref(in.verses);
    g_array_unref(in.verse_open);
    g_free(in.language);
    return read;
}
