/* midi-words.c - lyric and text events → syllables.
 *
 * What is common practice in MIDI files with words (the recommended practice for lyric events, MMA RP-017, and habits
 * that many files share; from memory): one event a syllable; a blank behind the syllable or before the next one parts
 * words, or a hyphen behind it joins them; "/" and "\" or a line break begin a line; text in braces or behind "@" is
 * about the file, not sung. */
#include "score/midi-private.h"
#include "score/score-tuning.h"

#include <string.h>

char *midi_decode(const char *bytes, gsize n, const char *encoding)
{
    return g_convert_with_fallback(bytes, (gssize)n, "UTF-8", encoding, (char *)"\uFFFD", NULL, NULL, NULL);
}

static gboolean is_kana(gunichar c)
{
    return c >= 0x3041 && c <= 0x30FF;
}

/* Shift-JIS is believed when it can be read as such and much of it is kana: curly quotes of Windows-1252 would read as
 * rare signs. */
static gboolean seems_japanese(const GString *bytes)
{
    g_autofree char *text = g_convert(bytes->str, (gssize)bytes->len, "UTF-8", "CP932", NULL, NULL, NULL);
    guint kana = 0, other = 0;

    if (text == NULL)
        return FALSE;
    for (const char *at = text; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        kana += is_kana(c);
        other += c >= 0x80 && !is_kana(c);
    }
    return kana > 0 && kana * 3 >= other;
}

const char *midi_encoding(const midi_file *file)
{
    GString *all = g_string_new(NULL);
    const char *encoding = "WINDOWS-1252";

    for (guint i = 0; i < file->tracks->len; i++) {
        const midi_track *track = g_ptr_array_index(file->tracks, i);
        for (guint k = 0; k < track->texts->len; k++) {
            const midi_text *text = &g_array_index(track->texts, midi_text, k);
            if (all->len + text->n > SCORE_MIDI_SAMPLE_BYTES)
                continue;
            g_string_append_len(all, text->bytes, text->n);
            g_string_append_c(all, '\n');
        }
    }
    if (g_utf8_validate(all->str, (gssize)all->len, NULL))
        encoding = "UTF-8";
    else if (seems_japanese(all))
        encoding = "CP932";
    g_string_free(all, TRUE);
    return encoding;
}

/* How an event's text is set off from its neighbours. */
typedef struct {
    gboolean new_word;  /* a blank or a new line before it */
    gboolean word_ends; /* a blank or a line break behind it */
    gboolean hyphen;    /* a hyphen behind it */
} word_edges;

static gboolean is_break(char c)
{
    return c == ' ' || c == '\r' || c == '\n' || c == '\t';
}

/* Cuts marks of lines and braces off, in place. */
static word_edges trim(char *text)
{
    word_edges edges = {FALSE, FALSE, FALSE};
    char *start = text;

    for (;; start++) {
        if (*start == '{' && strchr(start, '}') != NULL)
            start = strchr(start, '}');
        else if (is_break(*start) || *start == '/' || *start == '\\')
            edges.new_word = TRUE;
        else
            break;
    }
    gsize n = strlen(start);
    for (; n > 0 && (is_break(start[n - 1]) || start[n - 1] == '/' || start[n - 1] == '\\'); n--)
        edges.word_ends = TRUE;
    edges.hyphen = n > 0 && start[n - 1] == '-';
    memmove(text, start, n);
    text[n] = '\0';
    return edges;
}

static void clear_word(gpointer data)
{
    g_free(((midi_word *)data)->text);
}

/* Blanks part words in this track: then no blank joins. */
static gboolean uses_blanks(const GArray *edges)
{
    guint n = 0;

    for (guint i = 0; i < edges->len; i++) {
        const word_edges *edge = &g_array_index(edges, word_edges, i);
        n += edge->new_word || edge->word_ends;
    }
    return n * 10 >= edges->len && n > 1;
}

static void set_syllabics(GArray *words, const GArray *edges)
{
    gboolean blanks = uses_blanks(edges);
    gboolean inside = FALSE;

    for (guint i = 0; i < words->len; i++) {
        const word_edges *edge = &g_array_index(edges, word_edges, i);
        const word_edges *next = i + 1 < words->len ? edge + 1 : NULL;
        gboolean parted = edge->word_ends || next == NULL || next->new_word;
        gboolean on = next != NULL && (edge->hyphen || (blanks && !parted));
        g_array_index(words, midi_word, i).syllabic = inside ? (on ? APERTA_SYLLABIC_MIDDLE : APERTA_SYLLABIC_END)
                                                             : (on ? APERTA_SYLLABIC_BEGIN : APERTA_SYLLABIC_SINGLE);
        inside = on;
    }
}

static gboolean has_lyrics(const midi_track *track)
{
    for (guint i = 0; i < track->texts->len; i++)
        if (g_array_index(track->texts, midi_text, i).lyric)
            return TRUE;
    return FALSE;
}

/* A break that stands in an event of its own belongs to the event before it. */
static void add_word(GArray *words, GArray *edges, const midi_text *event, const char *encoding)
{
    g_autofree char *text = midi_decode(event->bytes, event->n, encoding);

    if (text == NULL || text[0] == '@')
        return;
    word_edges edge = trim(text);
    if (text[0] == '\0') {
        if (edges->len > 0 && (edge.new_word || edge.word_ends))
            g_array_index(edges, word_edges, edges->len - 1).word_ends = TRUE;
        return;
    }
    midi_word word = {event->tick, g_steal_pointer(&text), APERTA_SYLLABIC_SINGLE};
    g_array_append_val(words, word);
    g_array_append_val(edges, edge);
}

GArray *midi_words(const midi_track *track, const char *encoding)
{
    g_autoptr(GArray) words = g_array_new(FALSE, FALSE, sizeof(midi_word));
    g_autoptr(GArray) edges = g_array_new(FALSE, FALSE, sizeof(word_edges));
    gboolean lyrics = has_lyrics(track);

    g_array_set_clear_func(words, clear_word);
    for (guint i = 0; i < track->texts->len; i++) {
        const midi_text *event = &g_array_index(track->texts, midi_text, i);
        if (event->lyric == lyrics)
            add_word(words, edges, event, encoding);
    }
    set_syllabics(words, edges);
    return words->len > 0 ? g_steal_pointer(&words) : NULL;
}
