/* midi.c - a standard MIDI file as a draft: tracks (or, of a file of one track, channels) are parts; the words go to
 * the notes that begin with them. */
#include "score/midi-private.h"
#include "score/score-tuning.h"

#include <math.h>
#include <string.h>

enum { PERCUSSION_CHANNEL = 9 }; /* channel 10 of General MIDI */

typedef struct {
    score_draft *draft;
    const midi_file *file;
    const char *encoding;
    GArray *bar_starts; /* double, quarters; one more than there are bars */
} midi_reading;

static double quarters_at(const midi_file *file, guint64 tick)
{
    return (double)tick / file->ticks_per_quarter;
}

/* ---- bars, tempi, keys ------------------------------------------------------------------------------------------- */

static score_meter meter_of(int beats, int beat_type)
{
    g_autofree char *above = g_strdup_printf("%d", beats);
    g_autofree char *below = g_strdup_printf("%d", beat_type);
    score_meter meter = {0};

    score_meter_parse(above, below, &meter);
    return meter;
}

/* The meter that holds at a place, and up to where: 4/4 when none is written (Standard MIDI Files 1.0). next: index of
 * the first meter not yet met. */
static score_meter meter_at(const midi_file *file, double quarters, guint *next, score_meter meter, double *until)
{
    *until = G_MAXDOUBLE;
    for (; *next < file->meters->len; (*next)++) {
        const midi_mark *mark = &g_array_index(file->meters, midi_mark, *next);
        double at = quarters_at(file, mark->tick);
        if (at > quarters + SCORE_SAME_QUARTERS) {
            *until = at;
            break;
        }
        meter = meter_of(mark->a, mark->b);
    }
    return meter;
}

static gboolean make_bars(midi_reading *in, GError **error)
{
    double end = quarters_at(in->file, in->file->end) + SCORE_SAME_QUARTERS;
    double start = 0.0;
    double until = 0.0;
    guint next = 0;
    score_meter meter = meter_of(4, 4);

    g_array_append_val(in->bar_starts, start);
    while (start < end) {
        if (in->draft->bars->len >= SCORE_BARS_MAX)
            return score_fail(error, in->draft->file, 0, "it lasts more than %d bars (export one song)",
                              SCORE_BARS_MAX);
        if (start + SCORE_SAME_QUARTERS >= until)
            meter = meter_at(in->file, start, &next, meter, &until);
        score_bar *bar = score_draft_bar(in->draft, in->draft->bars->len);
        bar->meter = meter;
        bar->length = MIN(4.0 * meter.n_beats / meter.beat_type, until - start);
        start += bar->length;
        g_array_append_val(in->bar_starts, start);
    }
    return TRUE;
}

static guint bar_at(const midi_reading *in, double quarters)
{
    guint low = 0;
    guint high = in->bar_starts->len - 1;

    while (high - low > 1) {
        guint middle = (low + high) / 2;
        if (g_array_index(in->bar_starts, double, middle) <= quarters + SCORE_SAME_QUARTERS)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double offset_in(const midi_reading *in, guint bar, double quarters)
{
    return MAX(quarters - g_array_index(in->bar_starts, double, bar), 0.0);
}

static void read_tempi(midi_reading *in)
{
    for (guint i = 0; i < in->file->tempi->len && !in->file->smpte; i++) {
        const midi_mark *mark = &g_array_index(in->file->tempi, midi_mark, i);
        if (mark->a == 0)
            continue;
        double quarters = quarters_at(in->file, mark->tick);
        guint bar = bar_at(in, quarters);
        score_tempo tempo = {bar, offset_in(in, bar, quarters), 60e6 / mark->a, 0.0, FALSE};
        g_array_append_val(in->draft->tempi, tempo);
    }
}

/* The key at a tick, before the first one the first; NULL: there is none. */
static const midi_mark *key_at(const midi_file *file, guint64 tick)
{
    int index = MAX(midi_mark_index(file->keys, tick), 0);

    return file->keys->len > 0 ? &g_array_index(file->keys, midi_mark, index) : NULL;
}

/* ---- notes ------------------------------------------------------------------------------------------------------- */

static void add_note(midi_reading *in, score_part *part, const midi_note *note)
{
    double start = quarters_at(in->file, note->start);
    guint bar = bar_at(in, start);
    const midi_mark *key = key_at(in->file, note->start);
    score_event event = {.bar = bar,
                         .offset = offset_in(in, bar, start),
                         .length = quarters_at(in->file, note->end) - start,
                         .element = in->draft->n_elements++,
                         .midi = note->key,
                         .fifths = key != NULL ? key->a : 0};

    if (note->channel == PERCUSSION_CHANNEL) {
        part->n_unpitched++;
        part->met[APERTA_SCORE_REMARK_UNPITCHED]++;
    } else {
        g_array_append_val(part->events, event);
    }
}

/* channel: -1 for all. */
static score_part *add_part(midi_reading *in, guint track_number, const midi_track *track, int channel)
{
    g_autofree char *id =
        channel < 0 ? g_strdup_printf("track %u", track_number + 1) : g_strdup_printf("channel %d", channel + 1);
    score_part *part = score_draft_part(in->draft, id);
    const midi_mark *key = key_at(in->file, 0);

    if (channel < 0 && track->name != NULL) {
        char *name = midi_decode(track->name, strlen(track->name), in->encoding);
        g_free(part->name);
        part->name = name != NULL ? g_strstrip(name) : g_strdup("");
    }
    score_name_index(part->voices, "1");
    score_name_index(part->verse_keys, "1");
    part->key_known = key != NULL;
    part->first_fifths = key != NULL ? key->a : 0;
    part->first_minor = key != NULL && key->b;
    for (guint i = 0; i < track->notes->len; i++) {
        const midi_note *note = &g_array_index(track->notes, midi_note, i);
        if (channel < 0 || note->channel == channel)
            add_note(in, part, note);
    }
    return part;
}

static double start_of(const midi_reading *in, const score_event *event)
{
    return g_array_index(in->bar_starts, double, event->bar) + event->offset;
}

/* A singer has one voice: of notes that begin together the highest stays, and a note ends where the next begins. */
static void make_single_voiced(const midi_reading *in, score_part *part)
{
    g_autoptr(GArray) line = g_array_new(FALSE, FALSE, sizeof(score_event));

    for (guint i = 0; i < part->events->len; i++) {
        const score_event *event = &g_array_index(part->events, score_event, i);
        score_event *last = line->len > 0 ? &g_array_index(line, score_event, line->len - 1) : NULL;
        double since = last != NULL ? start_of(in, event) - start_of(in, last) : G_MAXDOUBLE;
        if (since <= SCORE_SAME_QUARTERS) {
            part->met[APERTA_SCORE_REMARK_SIMULTANEOUS]++;
            if (event->midi > last->midi)
                *last = *event;
            continue;
        }
        if (last != NULL && last->length > since)
            last->length = since;
        g_array_append_vals(line, event, 1);
    }
    g_array_set_size(part->events, 0);
    g_array_append_vals(part->events, line->data, line->len);
}

/* ---- words ------------------------------------------------------------------------------------------------------- */

/* The note that begins at quarters or near it (an eighth); else the one that sounds there; NULL: none. */
static score_event *note_at(const midi_reading *in, score_part *part, double quarters)
{
    score_event *best = NULL;
    double best_distance = SCORE_MIDI_WORD_QUARTERS;
    guint low = 0;
    guint high = part->events->len;

    while (low < high) { /* the first note that begins later than the word, and more */
        guint middle = (low + high) / 2;
        if (start_of(in, &g_array_index(part->events, score_event, middle)) < quarters - SCORE_MIDI_WORD_QUARTERS)
            low = middle + 1;
        else
            high = middle;
    }
    for (guint i = low; i < part->events->len; i++) {
        score_event *event = &g_array_index(part->events, score_event, i);
        double distance = fabs(start_of(in, event) - quarters);
        if (start_of(in, event) > quarters + SCORE_MIDI_WORD_QUARTERS)
            break;
        if (distance < best_distance) {
            best = event;
            best_distance = distance;
        }
    }
    if (best == NULL && low > 0) {
        score_event *before = &g_array_index(part->events, score_event, low - 1);
        if (start_of(in, before) + before->length > quarters)
            best = before;
    }
    return best;
}

static guint n_fitting(const midi_reading *in, score_part *part, const GArray *words)
{
    guint n = 0;

    for (guint i = 0; i < words->len; i++) {
        double quarters = quarters_at(in->file, g_array_index(words, midi_word, i).tick);
        const score_event *event = note_at(in, part, quarters);
        n += event != NULL && fabs(start_of(in, event) - quarters) <= SCORE_MIDI_WORD_QUARTERS;
    }
    return n;
}

/* The part whose notes begin where the words do; of equals the one with fewest notes. */
static score_part *part_of_words(const midi_reading *in, GPtrArray *parts, const GArray *words, guint *n_words)
{
    score_part *best = NULL;
    guint most = 0;

    for (guint i = 0; i < parts->len; i++) {
        score_part *part = score_part_at(parts, i);
        guint n = n_fitting(in, part, words);
        if (n > most || (n == most && best != NULL && part->events->len < best->events->len)) {
            best = part;
            most = n;
        }
    }
    *n_words = most;
    return best;
}

static void give_words(midi_reading *in, score_part *part, const GArray *words)
{
    for (guint i = 0; i < words->len; i++) {
        const midi_word *word = &g_array_index(words, midi_word, i);
        GPtrArray *syllables = score_syllables_new();
        score_event *event = note_at(in, part, quarters_at(in->file, word->tick));
        score_syllables_add(syllables, part, 0, word->syllabic, word->text, NULL);
        part->n_syllables += syllables->len;
        if (event != NULL) {
            event->syllables =
                event->syllables == NULL ? syllables : score_syllables_append(event->syllables, syllables);
        } else {
            score_part_lose(part, 0, syllables, "no note");
            g_ptr_array_unref(syllables);
        }
    }
}

/* Words of a track go to its own notes, or, when it has none or they do not fit, to the part they fit best. Text events
 * that fit nowhere are remarks about the file. */
static void place_words(midi_reading *in, GPtrArray *own_parts, const midi_track *track)
{
    g_autoptr(GArray) words = midi_words(track, in->encoding);
    guint n = 0;

    if (words == NULL)
        return;
    score_part *part = part_of_words(in, own_parts, words, &n);
    if (n * 2 < words->len)
        part = part_of_words(in, in->draft->parts, words, &n);
    if (part != NULL && n * 2 >= words->len)
        give_words(in, part, words);
    else if (words->len >= SCORE_MIDI_WORDS_MIN || g_array_index(track->texts, midi_text, 0).lyric)
        score_remark(in->draft->remarks,
                     (aperta_score_remark){.kind = APERTA_SCORE_REMARK_TEXTS_LEFT_OUT,
                                           .n = words->len,
                                           .text = g_strdup(g_array_index(words, midi_word, 0).text)});
}

/* ---- the file ---------------------------------------------------------------------------------------------------- */

static gboolean has_channel(const midi_track *track, int channel)
{
    for (guint i = 0; i < track->notes->len; i++)
        if (g_array_index(track->notes, midi_note, i).channel == channel)
            return TRUE;
    return FALSE;
}

static void add_parts(midi_reading *in, GPtrArray *parts_of_tracks)
{
    for (guint i = 0; i < in->file->tracks->len; i++) {
        const midi_track *track = g_ptr_array_index(in->file->tracks, i);
        GPtrArray *parts = g_ptr_array_new();
        g_ptr_array_add(parts_of_tracks, parts);
        if (track->notes->len == 0)
            continue;
        if (in->file->format == 1)
            g_ptr_array_add(parts, add_part(in, i, track, -1));
        for (int channel = 0; channel < 16 && in->file->format == 0; channel++)
            if (has_channel(track, channel))
                g_ptr_array_add(parts, add_part(in, i, track, channel));
    }
    for (guint i = 0; i < in->draft->parts->len; i++)
        make_single_voiced(in, g_ptr_array_index(in->draft->parts, i));
}

/* The first track's name is the title when it has no notes, or is the only one. */
static void read_title(midi_reading *in)
{
    const midi_track *first = in->file->tracks->len > 0 ? g_ptr_array_index(in->file->tracks, 0) : NULL;

    if (first == NULL || first->name == NULL || (first->notes->len > 0 && in->file->tracks->len > 1))
        return;
    g_autofree char *title = midi_decode(first->name, strlen(first->name), in->encoding);
    if (title != NULL && g_strstrip(title)[0] != '\0')
        in->draft->title = g_steal_pointer(&title);
}

static void tell(const midi_reading *in)
{
    GArray *remarks = in->draft->remarks;

    if (in->file->smpte)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_FILM_FRAMES});
    if (in->file->n_unended > 0)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_UNENDED, .n = in->file->n_unended});
    if (strcmp(in->encoding, "CP932") == 0)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_WORDS_JAPANESE});
    else if (strcmp(in->encoding, "UTF-8") != 0)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_WORDS_WESTERN});
}

gboolean score_read_midi(score_draft *draft, const score_input *input, GError **error)
{
    g_autoptr(midi_file) file = midi_file_read(input, error);

    if (file == NULL)
        return FALSE;
    midi_reading in = {draft, file, midi_encoding(file), g_array_new(FALSE, FALSE, sizeof(double))};
    g_autoptr(GPtrArray) parts_of_tracks = g_ptr_array_new_with_free_func((GDestroyNotify)g_ptr_array_unref);
    gboolean made = make_bars(&in, error);
    if (made) {
        read_tempi(&in);
        add_parts(&in, parts_of_tracks);
        for (guint i = 0; i < file->tracks->len; i++)
            place_words(&in, g_ptr_array_index(parts_of_tracks, i), g_ptr_array_index(file->tracks, i));
        read_title(&in);
        tell(&in);
    }
    g_array_unref(in.bar_starts);
    return made;
}
