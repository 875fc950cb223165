/* lyric-text.c - our own plain form of a song, described in aperta-score-text(5): lines of words, one for each verse,
 * and under them a line with as many pitches.
 *
 *   title: Evening
 *   Sil-ver moon, _ a-bove the mill
 *   Gold-en sun _   be-hind the hill
 *   G4  A   B  A:2  G  E:0.5 F#:0.5 | G:2
 */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <math.h>
#include <string.h>

#define MANUAL "see aperta-score-text(5)"

typedef struct {
    guint line;
    guint column; /* in signs, from 1 */
    char *text;
} text_token;

typedef struct {
    score_draft *draft;
    score_part *part;
    GError **error;
    guint line;
    GPtrArray *verses;  /* of GArray of text_token: the lines of words whose pitches are still to come */
    guint verses_line;  /* the first of them */
    GArray *verse_open; /* gboolean, for each verse: the last word goes on */
    gboolean has_bars;  /* bars are drawn in the text */
    guint bar;
    double cursor; /* quarters in the bar */
    double usual_length;
    int octave; /* of the pitch before; -1: none in this line */
    int fifths;
    gboolean started; /* notes have been read */
    char *language;
} text_reading;

/* FALSE always. */
static gboolean fail_at(const text_reading *in, guint line, guint column, const char *format, ...) G_GNUC_PRINTF(4, 5);
static gboolean fail_at(const text_reading *in, guint line, guint column, const char *format, ...)
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

/* The words of a line between blanks, with their places. */
static GArray *split(const char *line, guint number)
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

/* ---- headings ---------------------------------------------------------------------------------------------------- */

#define HEADINGS "title, composer, words, language, key, meter, tempo, length"

static gboolean read_key(text_reading *in, const char *value, guint column)
{
    static const char letters[] = "FCGDAEB";
    const char *at = value[0] != '\0' ? strchr(letters, g_ascii_toupper(value[0])) : NULL;
    int fifths = at != NULL ? (int)(at - letters) - 1 : 0;
    const char *rest = value + 1;

    if (at == NULL)
        return fail_at(in, in->line, column, "expected a key such as G major or F# minor, found \"%s\" (" MANUAL ")",
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
        return fail_at(in, in->line, column, "expected a key such as G major or F# minor, found \"%s\" (" MANUAL ")",
                       value);
    in->fifths = fifths;
    if (!in->part->key_known) {
        in->part->key_known = TRUE;
        in->part->first_fifths = fifths;
        in->part->first_minor = minor;
    }
    return TRUE;
}

/* Begins a new bar if the current one holds something. */
static void next_bar(text_reading *in)
{
    if (in->cursor <= SCORE_SAME_QUARTERS)
        return;
    in->bar++;
    in->cursor = 0.0;
    score_draft_bar(in->draft, in->bar);
}

static gboolean read_meter(text_reading *in, const char *value, guint column)
{
    g_auto(GStrv) sides = g_strsplit(value, "/", 3);
    score_meter meter;

    if (g_strv_length(sides) != 2 || !score_meter_parse(sides[0], sides[1], &meter))
        return fail_at(in, in->line, column, "expected a meter such as 3/4, found \"%s\" (" MANUAL ")", value);
    next_bar(in);
    score_draft_bar(in->draft, in->bar)->meter = meter;
    return TRUE;
}

/* "1.5" or "1/3", above 0. */
static gboolean read_length(const char *text, double *quarters)
{
    g_auto(GStrv) sides = g_strsplit(text, "/", 3);
    double below = 1.0;

    if (sides[0] == NULL || !score_number(sides[0], quarters) ||
        (sides[1] != NULL && !score_number(sides[1], &below)) || (sides[1] != NULL && sides[2] != NULL) || below <= 0.0)
        return FALSE;
    *quarters /= below;
    return *quarters > SCORE_SAME_QUARTERS && *quarters <= SCORE_LENGTH_MAX_QUARTERS;
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
        if (!read_length(value, &in->usual_length))
            return fail_at(in, in->line, column,
                           "expected a length in quarters such as 1 or 1/2, found \"%s\" (" MANUAL ")", value);
    } else if (strcmp(name, "tempo") == 0) {
        if (!score_number(value, &number) || number < SCORE_TEMPO_MIN_BPM || number > SCORE_TEMPO_MAX_BPM)
            return fail_at(in, in->line, column, "expected quarters a minute from %g to %g, found \"%s\" (" MANUAL ")",
                           SCORE_TEMPO_MIN_BPM, SCORE_TEMPO_MAX_BPM, value);
        score_tempo tempo = {in->bar, in->cursor, number, 0.0, FALSE};
        g_array_append_val(in->draft->tempi, tempo);
    } else {
        return fail_at(in, in->line, 1, "\"%s:\" is no heading (there are " HEADINGS "; " MANUAL ")", name);
    }
    return TRUE;
}

/* "name: value"; before the first note an unknown name is a mistake, later it may be words. */
static gboolean is_heading(const text_reading *in, const char *line)
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

static gboolean take_heading(text_reading *in, const char *line)
{
    const char *colon = strchr(line, ':');
    g_autofree char *name = g_ascii_strdown(line, colon - line);
    const char *value = colon + 1;

    while (g_ascii_isspace(*value))
        value++;
    return read_heading(in, name, value, 1 + (guint)g_utf8_strlen(line, value - line));
}

/* ---- pitches ----------------------------------------------------------------------------------------------------- */

static gsize accidental_bytes(const char *text)
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
    for (text++; accidental_bytes(text) > 0;)
        text += accidental_bytes(text);
    return g_ascii_isdigit(*text) && (text[1] == '\0' || text[1] == ':');
}

static gboolean is_rest(const char *token)
{
    return g_ascii_tolower(token[0]) == 'r' && (token[1] == '\0' || token[1] == ':');
}

static gboolean is_bar_line(const char *token)
{
    return strcmp(token, "|") == 0 || strcmp(token, "||") == 0;
}

/* One pitch makes a line of pitches; so do rests and bar lines alone. */
static gboolean is_line_of_pitches(const GArray *tokens)
{
    gboolean silent = tokens->len > 0;

    for (guint i = 0; i < tokens->len; i++) {
        const char *token = g_array_index(tokens, text_token, i).text;
        if (looks_like_pitch(token))
            return TRUE;
        silent = silent && (is_rest(token) || is_bar_line(token));
    }
    return silent;
}

static gboolean fail_without_octave(const text_reading *in, const text_token *token)
{
    g_autofree char *pitch = g_strndup(token->text, strcspn(token->text, ":"));

    return fail_at(in, token->line, token->column,
                   "the first pitch of a line needs its octave, such as %s4 (" MANUAL ")", pitch);
}

/* "F#" or "F#4" → the pitch and its name; an octave that is not written is that of the pitch before. */
static gboolean read_pitch(text_reading *in, const text_token *token, const char *text, score_event *event)
{
    gsize n = strlen(text);
    if (strpbrk(text, "+-") != NULL)
        return fail_at(in, token->line, token->column,
                       "expected an octave from 0 to 9 without a sign, found \"%s\" (" MANUAL ")", text);
    g_autofree char *whole =
        n > 0 && g_ascii_isdigit(text[n - 1]) ? g_strdup(text) : g_strdup_printf("%s%d", text, MAX(in->octave, 0));

    if (!aperta_pitch_parse(whole, &event->midi))
        return fail_at(in, token->line, token->column,
                       "expected a pitch such as G4, F#4 or Bb3, or r for a rest, found \"%s\" (" MANUAL ")", text);
    if (in->octave < 0 && !g_ascii_isdigit(text[n - 1]))
        return fail_without_octave(in, token);
    in->octave = whole[strlen(whole) - 1] - '0';
    event->name[0] = g_ascii_toupper(whole[0]);
    event->name[1] = '\0';
    for (const char *at = whole + 1; accidental_bytes(at) > 0; at += accidental_bytes(at))
        g_strlcat(event->name,
                  *at == '#'                  ? "♯"
                  : *at == 'b'                ? "♭"
                  : g_str_has_prefix(at, "♯") ? "♯"
                                              : "♭",
                  sizeof event->name);
    gsize used = strlen(event->name);
    if (used + 2 <= sizeof event->name) {
        event->name[used] = (char)('0' + in->octave);
        event->name[used + 1] = '\0';
    } else {
        event->name[0] = '\0';
    }
    return TRUE;
}

/* Where nobody draws bar lines, a full bar ends of itself. */
static void place_in_bar(text_reading *in)
{
    const score_bar *bar = score_draft_bar(in->draft, in->bar);
    double full = bar->meter.n_beats > 0 ? 4.0 * bar->meter.n_beats / bar->meter.beat_type : 0.0;
    score_meter meter = bar->meter;

    while (!in->has_bars && full > 0.0 && in->cursor >= full - SCORE_SAME_QUARTERS && in->bar < SCORE_BARS_MAX) {
        double over = MAX(in->cursor - full, 0.0);
        score_draft_bar(in->draft, in->bar)->length = full;
        score_bar *next = score_draft_bar(in->draft, ++in->bar);
        next->meter = meter;
        in->cursor = over;
    }
}

static void pass(text_reading *in, double quarters)
{
    score_bar *bar = score_draft_bar(in->draft, in->bar);

    in->cursor += quarters;
    bar->length = MAX(bar->length, in->cursor);
}

/* One token of a line of pitches; *taken: it is a note, and event is filled. */
static gboolean read_note(text_reading *in, const text_token *token, score_event *event, gboolean *taken)
{
    const char *colon = strchr(token->text, ':');
    g_autofree char *pitch =
        colon != NULL ? g_strndup(token->text, (gsize)(colon - token->text)) : g_strdup(token->text);
    double length = in->usual_length;

    *taken = FALSE;
    if (is_bar_line(token->text)) {
        next_bar(in);
        return TRUE;
    }
    if (colon != NULL && !read_length(colon + 1, &length))
        return fail_at(in, token->line, token->column,
                       "expected a length in quarters behind the colon, such as G4:2 or "
                       "G4:1/2, found \"%s\"",
                       token->text);
    if (!is_rest(token->text)) {
        if (!read_pitch(in, token, pitch, event))
            return FALSE;
        *taken = TRUE;
    }
    place_in_bar(in);
    event->bar = in->bar;
    event->offset = in->cursor;
    event->length = length;
    event->fifths = in->fifths;
    pass(in, length);
    return TRUE;
}

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
        if (!is_bar_line(token->text))
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
    return fail_at(in, words_line, column,
                   "%u syllable%s, but %u pitch%s in line %u (write _ where a syllable goes on "
                   "over another note, and - between syllables; a dash between words is none)",
                   syllables->len, syllables->len == 1 ? "" : "s", events->len, events->len == 1 ? "" : "es", in->line);
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
        if (!read_note(in, &g_array_index(tokens, text_token, i), &event, &taken))
            return FALSE;
        if (!taken)
            continue;
        g_array_append_val(events, event);
        if (++in->draft->n_elements > SCORE_NOTES_MAX || in->bar >= SCORE_BARS_MAX)
            return fail_at(in, in->line, 1, "too many notes (write one song)");
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
        next_bar(in); /* with neither a meter nor bar lines, each line is a bar */
    return good;
}

/* Words, or pitches whose octave nobody wrote? */
static gboolean lacks_octave(const GArray *tokens)
{
    guint n = 0;

    for (guint i = 0; i < tokens->len; i++) {
        const char *at = g_array_index(tokens, text_token, i).text;
        if (is_rest(at) || is_bar_line(at))
            continue;
        if (strchr("ABCDEFGabcdefg", *at) == NULL)
            return FALSE;
        for (at++; accidental_bytes(at) > 0;)
            at += accidental_bytes(at);
        if (*at != '\0' && *at != ':')
            return FALSE;
        n++;
    }
    return n > 0;
}

static gboolean first_without_octave(const text_reading *in, const GArray *tokens)
{
    guint i = 0;

    while (is_rest(g_array_index(tokens, text_token, i).text) || is_bar_line(g_array_index(tokens, text_token, i).text))
        i++;
    const text_token *first = &g_array_index(tokens, text_token, i);
    return fail_without_octave(in, first);
}

static gboolean words_without_pitches(const text_reading *in)
{
    const GArray *last = g_ptr_array_index(in->verses, in->verses->len - 1);

    if (lacks_octave(last))
        return first_without_octave(in, last);
    return fail_at(in, in->verses_line, 1,
                   "expected a line of pitches (\"G4 A4 B4\") under these words, found none (" MANUAL ")");
}

static gboolean take_line(text_reading *in, const char *line)
{
    if (line[0] == '#')
        return TRUE;
    g_autoptr(GArray) tokens = split(line, in->line);
    if (tokens->len == 0)
        return in->verses->len == 0 || words_without_pitches(in);
    if (is_line_of_pitches(tokens))
        return take_pitches(in, tokens);
    if (is_heading(in, line))
        return in->verses->len == 0 ? take_heading(in, line) : words_without_pitches(in);
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
        g_autoptr(GArray) tokens = split(*lines, 0);
        if (!is_line_of_pitches(tokens))
            continue;
        for (guint i = 0; i < tokens->len; i++)
            if (is_bar_line(g_array_index(tokens, text_token, i).text))
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
    score_draft_warn(draft, "the text is no UTF-8 and was read as Western European (Windows-1252)");
    return g_convert(bytes, (gssize)n, "UTF-8", "WINDOWS-1252", NULL, NULL, NULL);
}

gboolean score_read_text(score_draft *draft, const score_input *input, GError **error)
{
    g_autofree char *text = input->n <= SCORE_TEXT_BYTES_MAX ? decode(draft, input) : NULL;
    text_reading in = {.draft = draft, .error = error, .usual_length = 1.0, .octave = -1};

    if (input->n > SCORE_TEXT_BYTES_MAX)
        return score_fail(error, input->name, 0, "it has more than %u MB, too large for a lyric text (write one song)",
                          SCORE_TEXT_BYTES_MAX >> 20);
    if (text == NULL || !g_utf8_validate(text, -1, NULL))
        return score_fail(error, input->name, 0,
                          "this is no score that can be read (use MusicXML, MIDI or a lyric text, " MANUAL ")");
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
