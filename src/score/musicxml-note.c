/* musicxml-note.c - one <note> with its lyrics.
 *
 * <pitch> is written before <transpose> is applied; an octave clef does not move it, its octave is already the one that
 * sounds (W3C MusicXML 4.0, elements <pitch>, <transpose>, <clef-octave-change>). A note's length is its <duration>;
 * <type> is only what it looks like. */
#include "score/musicxml-private.h"

#include <math.h>
#include <string.h>

typedef struct {
    gboolean grace, cue, chord, rest, unpitched, pitched;
    int step; /* C = 0 ... B = 6 */
    double alter;
    int octave;
    gboolean duration_written;
    double duration; /* divisions; negative: makes no sense */
    double value;    /* quarters that its looks stand for; 0: unknown */
    char *voice;     /* NULL: not said */
    guint staff;
    gboolean tie_start, tie_stop;
} written_note;

static const int natural_semitones[] = {0, 2, 4, 5, 7, 9, 11};

static gboolean read_pitch(written_note *note, const xmlNode *node)
{
    static const char letters[] = "CDEFGAB";
    g_autofree char *step = musicxml_child_text(node, "step");
    double octave;

    if (step == NULL || step[0] == '\0' || step[1] != '\0')
        return FALSE;
    const char *letter = strchr(letters, g_ascii_toupper(step[0]));
    if (letter == NULL || !musicxml_child_number(node, "octave", &octave) || octave < SCORE_OCTAVE_MIN ||
        octave > SCORE_OCTAVE_MAX)
        return FALSE;
    if (!musicxml_child_number(node, "alter", &note->alter) || fabs(note->alter) > 12.0)
        note->alter = 0.0;
    note->step = (int)(letter - letters);
    note->octave = (int)octave;
    return TRUE;
}

/* The note value with dots and tuplet, in quarters. */
static double value_of_looks(const xmlNode *node)
{
    g_autofree char *type = musicxml_child_text(node, "type");
    const xmlNode *tuplet = musicxml_child(node, "time-modification");
    double actual, normal;
    int dots = 0;

    for (const xmlNode *child = node->children; child != NULL; child = child->next)
        dots += musicxml_is(child, "dot");
    double quarters = type != NULL ? musicxml_note_value(type, dots) : 0.0;
    if (tuplet != NULL && musicxml_child_number(tuplet, "actual-notes", &actual) && actual >= 1.0 &&
        musicxml_child_number(tuplet, "normal-notes", &normal) && normal >= 1.0)
        quarters *= normal / actual;
    return quarters;
}

static void read_tie(written_note *note, const xmlNode *node)
{
    g_autofree char *type = musicxml_attribute(node, "type");

    note->tie_start |= type != NULL && strcmp(type, "start") == 0;
    note->tie_stop |= type != NULL && strcmp(type, "stop") == 0;
}

/* <tie> is what sounds; where a file has only the printed <tied>, that is taken. */
static void read_printed_ties(written_note *note, const xmlNode *node)
{
    for (const xmlNode *group = node->children; group != NULL; group = group->next)
        for (const xmlNode *child = group->children; child != NULL && musicxml_is(group, "notations");
             child = child->next)
            if (musicxml_is(child, "tied"))
                read_tie(note, child);
}

static void read_staff_and_voice(written_note *note, const xmlNode *node)
{
    g_autofree char *staff = musicxml_child_text(node, "staff");

    note->voice = score_cut_name(musicxml_child_text(node, "voice"));
    note->staff = musicxml_staff_index(staff);
    if (note->voice != NULL && note->voice[0] != '\0')
        return;
    g_free(note->voice);
    note->voice = note->staff > 0 ? g_strdup_printf("staff %u", note->staff + 1) : g_strdup("1");
}

static void read_note(written_note *note, const xmlNode *node)
{
    gboolean tie_written = FALSE;

    for (const xmlNode *child = node->children; child != NULL; child = child->next) {
        if (child->type != XML_ELEMENT_NODE)
            continue;
        note->grace |= musicxml_is(child, "grace");
        note->cue |= musicxml_is(child, "cue");
        note->chord |= musicxml_is(child, "chord");
        note->rest |= musicxml_is(child, "rest");
        note->unpitched |= musicxml_is(child, "unpitched");
        note->duration_written |= musicxml_is(child, "duration");
        if (musicxml_is(child, "pitch"))
            note->pitched = read_pitch(note, child);
        if (musicxml_is(child, "tie")) {
            read_tie(note, child);
            tie_written = TRUE;
        }
    }
    if (!note->duration_written || !musicxml_child_number(node, "duration", &note->duration))
        note->duration = -1.0;
    note->value = value_of_looks(node);
    if (!tie_written)
        read_printed_ties(note, node);
    read_staff_and_voice(note, node);
}

/* ---- length and pitch -------------------------------------------------------------------------------------------- */

static double length_of(musicxml_part *at, const written_note *note)
{
    guint *met = at->part->met;

    if (note->grace)
        return 0.0;
    if (!note->duration_written) {
        met[APERTA_SCORE_REMARK_NO_DURATION]++;
        return note->value;
    }
    double length = musicxml_quarters(at, note->duration);
    if (note->duration < 0.0 || length > SCORE_LENGTH_MAX_QUARTERS) {
        met[APERTA_SCORE_REMARK_BAD_DURATION]++;
        return note->value;
    }
    if (at->divisions > 0.0)
        return length;
    met[APERTA_SCORE_REMARK_NO_DIVISIONS]++;
    return note->value > 0.0 ? note->value : length;
}

/* "F♯4"; "" where the letters do not tell (quarter tones, four sharps). */
static void write_name(char name[APERTA_PITCH_NAME_MAX], int step, int octave, int alter)
{
    name[0] = '\0';
    if (abs(alter) > 2 || octave < 0 || octave > 9)
        return;
    name[0] = "CDEFGAB"[step];
    name[1] = '\0';
    for (int i = 0; i < abs(alter); i++)
        g_strlcat(name, alter > 0 ? "♯" : "♭", APERTA_PITCH_NAME_MAX);
    gsize n = strlen(name);
    name[n] = (char)('0' + octave);
    name[n + 1] = '\0';
}

static void set_pitch(musicxml_part *at, score_event *event, const written_note *note)
{
    const musicxml_staff *staff = &at->staves[note->staff];
    int written = natural_semitones[note->step] + 12 * (note->octave + 1);
    double rounded = floor(note->alter + 0.5);

    at->part->met[APERTA_SCORE_REMARK_QUARTER_TONE] += fabs(note->alter - rounded) > SCORE_SAME_SEMITONES;
    event->midi = written + (int)rounded + staff->chromatic + 12 * staff->octaves;
    event->name[0] = '\0';
    if (!staff->diatonic_known && staff->chromatic != 0)
        return;
    /* 20 octaves keep it positive: SCORE_OCTAVE_MIN, and what read_transpose() lets through, are 11 below 0 */
    int place = note->step + staff->diatonic + 7 * (note->octave + staff->octaves + 20);
    int octave = place / 7 - 20;
    write_name(event->name, place % 7, octave, event->midi - natural_semitones[place % 7] - 12 * (octave + 1));
}

/* ---- lyrics ------------------------------------------------------------------------------------------------------ */

static guint verse_key(score_part *part, const char *name)
{
    int known = score_name_find(part->verse_keys, name);

    if (known >= 0)
        return (guint)known;
    if (part->verse_keys->len >= SCORE_VERSE_KEYS_MAX) {
        part->met[APERTA_SCORE_REMARK_TOO_MANY_LINES]++;
        return 0;
    }
    return score_name_index(part->verse_keys, name);
}

/* Which line of lyrics: its number; without one its name; without both, its place under the note. Two of one number
 * under one note are told apart by their names. used: the keys of this note so far; n: its lyrics so far. */
static guint key_of_lyric(score_part *part, const xmlNode *lyric, gboolean *used, guint n)
{
    g_autofree char *number = musicxml_attribute(lyric, "number");
    g_autofree char *name = musicxml_attribute(lyric, "name");
    g_autofree char *place = g_strdup_printf("%u", n + 1);
    guint key = verse_key(part, number != NULL ? number : name != NULL ? name : place);

    if (used[key] && name != NULL && number != NULL) {
        g_autofree char *both = g_strdup_printf("%s %s", name, number);
        key = verse_key(part, both);
    } else if (used[key] && number == NULL) {
        key = verse_key(part, place);
    }
    used[key] = TRUE;
    return key;
}

static gboolean is_same_or_none(const char *wanted, const char *has)
{
    return wanted == NULL || (has != NULL && strcmp(wanted, has) == 0);
}

/* The language of a text: its own xml:lang, else the header's <lyric-language>. */
static char *language_of(const musicxml_reading *reading, const xmlNode *lyric, const xmlNode *text)
{
    g_autofree char *number = musicxml_attribute(lyric, "number");
    g_autofree char *name = musicxml_attribute(lyric, "name");
    char *own = musicxml_attribute(text, "lang");

    for (guint i = 0; own == NULL && i < reading->languages->len; i++) {
        const musicxml_language *language = &g_array_index(reading->languages, musicxml_language, i);
        if (is_same_or_none(language->number, number) && is_same_or_none(language->name, name))
            own = g_strdup(language->language);
    }
    return own;
}

static int read_syllabic(const xmlNode *node)
{
    static const char *const words[] = {"single", "begin", "middle", "end"}; /* as in aperta_syllabic */
    g_autofree char *text = musicxml_text(node, NULL);

    for (int i = 0; i < (int)G_N_ELEMENTS(words); i++)
        if (strcmp(text, words[i]) == 0)
            return i;
    return SCORE_SYLLABIC_UNKNOWN;
}

/* A syllable of a lyric while it is read: texts that follow each other without an elision are one. */
typedef struct {
    GString *text;
    int syllabic;
    char *language;
} open_syllable;

static void close_syllable(open_syllable *open, GPtrArray *syllables, score_part *part, guint key)
{
    score_syllables_add(syllables, part, key, open->syllabic, open->text->str, open->language);
    g_string_truncate(open->text, 0);
    g_clear_pointer(&open->language, g_free);
    open->syllabic = SCORE_SYLLABIC_UNKNOWN;
}

static void read_lyric(musicxml_reading *reading, const xmlNode *lyric, guint key, GPtrArray *syllables)
{
    score_part *part = reading->at->part;
    open_syllable open = {g_string_new(NULL), SCORE_SYLLABIC_UNKNOWN, NULL};

    for (const xmlNode *child = lyric->children; child != NULL; child = child->next) {
        gboolean syllabic = musicxml_is(child, "syllabic");
        if ((syllabic || musicxml_is(child, "elision")) && open.text->len > 0)
            close_syllable(&open, syllables, part, key);
        if (syllabic) {
            open.syllabic = read_syllabic(child);
        } else if (musicxml_is(child, "text")) {
            g_autofree char *text = musicxml_raw_text(child, part);
            g_string_append(open.text, text);
            if (open.language == NULL)
                open.language = language_of(reading, lyric, child);
        } else if (musicxml_is(child, "humming") || musicxml_is(child, "laughing")) {
            part->met[APERTA_SCORE_REMARK_HUMMED]++;
        }
    }
    close_syllable(&open, syllables, part, key);
    g_string_free(open.text, TRUE);
}

/* A line that aperta sheet added (marked.c). */
static gboolean is_own_mark(const xmlNode *lyric)
{
    g_autofree char *name = musicxml_attribute(lyric, "name");

    return g_strcmp0(name, SCORE_MARKS_NAME) == 0;
}

static GPtrArray *read_lyrics(musicxml_reading *reading, const xmlNode *note)
{
    score_part *part = reading->at->part;
    GPtrArray *syllables = NULL;
    gboolean used[SCORE_VERSE_KEYS_MAX] = {FALSE};
    guint n = 0;

    for (const xmlNode *child = note->children; child != NULL; child = child->next) {
        if (!musicxml_is(child, "lyric"))
            continue;
        if (is_own_mark(child)) {
            part->met[APERTA_SCORE_REMARK_OWN_MARKS]++;
            continue;
        }
        if (syllables == NULL)
            syllables = score_syllables_new();
        if (n >= SCORE_LYRICS_MAX) {
            part->met[APERTA_SCORE_REMARK_TOO_MANY_LINES]++;
            break;
        }
        read_lyric(reading, child, key_of_lyric(part, child, used, n), syllables);
        n++;
    }
    if (syllables != NULL && syllables->len == 0)
        g_clear_pointer(&syllables, g_ptr_array_unref);
    part->n_syllables += syllables != NULL ? syllables->len : 0;
    return syllables;
}

/* ---- the note ---------------------------------------------------------------------------------------------------- */

/* Joins a chord's further note to its first one: the higher of the two is sung. syllables are taken over. */
static void join_chord(musicxml_part *at, const written_note *note, GPtrArray *syllables)
{
    score_part *part = at->part;
    score_event *event = &g_array_index(part->events, score_event, part->events->len - 1);
    score_event higher = *event;

    part->met[APERTA_SCORE_REMARK_CHORD] += !at->chord_counted;
    at->chord_counted = TRUE;
    set_pitch(at, &higher, note);
    if (higher.midi > event->midi) {
        higher.tie_start = note->tie_start;
        higher.tie_stop = note->tie_stop;
        *event = higher;
    }
    event->syllables = score_syllables_join(event->syllables, syllables);
}

/* A voice that is met for the first time is at home on that staff. -1: there are too many. */
static int voice_named(musicxml_part *at, const char *name, guint staff)
{
    GPtrArray *voices = at->part->voices;
    int known = score_name_find(voices, name);

    if (known >= 0 || voices->len >= SCORE_VOICES_MAX)
        return known;
    at->home_staff[voices->len] = staff;
    return (int)score_name_index(voices, name);
}

/* Voices are numbered through all staves of a part, but some files begin anew on each staff: what a voice writes on
 * another staff than its first one is another voice. */
static guint voice_index(musicxml_part *at, const written_note *note)
{
    int index = voice_named(at, note->voice, note->staff);

    if (index >= 0 && at->home_staff[index] != note->staff) {
        g_autofree char *name = g_strdup_printf("%s staff %u", note->voice, note->staff + 1);
        index = voice_named(at, name, note->staff);
    }
    at->part->met[APERTA_SCORE_REMARK_TOO_MANY_VOICES] += index < 0;
    return (guint)MAX(index, 0);
}

static void add_event(musicxml_reading *reading, const written_note *note, double length, GPtrArray *syllables)
{
    musicxml_part *at = reading->at;
    score_event event = {.bar = at->bar,
                         .offset = at->last_start,
                         .length = length,
                         .element = reading->draft->n_elements,
                         .fifths = musicxml_sounding_fifths(&at->staves[note->staff]),
                         .tie_start = note->tie_start,
                         .tie_stop = note->tie_stop,
                         .syllables = syllables};

    event.voice = voice_index(at, note);
    set_pitch(at, &event, note);
    g_array_append_val(at->part->events, event);
}

/* A note that nobody sings: what is met, and the syllables that are lost with it. */
static gboolean is_silent(musicxml_part *at, const written_note *note, GPtrArray *syllables)
{
    score_part *part = at->part;
    const char *why = note->cue ? "cue" : note->rest ? "rest" : "no pitch";

    if (!note->rest && !note->cue && note->pitched)
        return FALSE;
    if (note->cue)
        part->met[APERTA_SCORE_REMARK_CUE]++;
    else if (note->unpitched)
        part->met[APERTA_SCORE_REMARK_UNPITCHED]++;
    else if (!note->rest)
        part->met[APERTA_SCORE_REMARK_NO_PITCH]++;
    part->n_unpitched += note->unpitched;
    score_part_lose(part, at->bar, syllables, why);
    return TRUE;
}

void musicxml_note(musicxml_reading *reading, const xmlNode *node)
{
    musicxml_part *at = reading->at;
    written_note note = {0};

    read_note(&note, node);
    note.chord &= at->last_known;
    GPtrArray *syllables = read_lyrics(reading, node);
    double length = length_of(at, &note);
    if (!note.chord) {
        at->last_start = at->cursor;
        at->chord_counted = FALSE;
        musicxml_move(reading, length);
    }
    gboolean silent = is_silent(at, &note, syllables);
    if (silent)
        g_clear_pointer(&syllables, g_ptr_array_unref);
    else if (note.chord && at->last_kept)
        join_chord(at, &note, syllables);
    else
        add_event(reading, &note, length, syllables);
    at->last_known = TRUE;
    at->last_kept = !silent;
    reading->draft->n_elements++;
    g_free(note.voice);
}
