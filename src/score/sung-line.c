/* sung-line.c - of all that a part writes, the line that one singer sings.
 *
 * A part may hold several voices on a staff, and a singer sings one: the voice with most words (or, without words, with
 * most notes). Printed scores move a melody between voices, so another voice joins the line where the first is silent,
 * if nearly all its words stand there or under notes that begin with one of the first voice's and have none; a voice
 * whose words sound together with the first one's is another singer. Notes that begin together are a chord, of which
 * the top note is read. Tied notes are joined here. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <math.h>
#include <string.h>

typedef struct {
    guint n_notes;
    guint n_syllables;
} voice_count;

static void count_voices(const score_part *part, voice_count *counts)
{
    for (guint i = 0; i < part->events->len; i++) {
        const score_event *event = &g_array_index(part->events, score_event, i);
        counts[event->voice].n_notes++;
        if (event->syllables != NULL)
            counts[event->voice].n_syllables += event->syllables->len;
    }
}

static guint richest_voice(const voice_count *counts, guint n)
{
    guint best = 0;

    for (guint i = 1; i < n; i++)
        if (counts[i].n_syllables > counts[best].n_syllables ||
            (counts[i].n_syllables == counts[best].n_syllables && counts[i].n_notes > counts[best].n_notes))
            best = i;
    return best;
}

static double start_of(const score_event *event, const double *bar_starts)
{
    return bar_starts[event->bar] + event->offset;
}

static int by_time(gconstpointer a, gconstpointer b)
{
    const score_event *first = *(const score_event *const *)a;
    const score_event *second = *(const score_event *const *)b;

    if (first->bar != second->bar)
        return first->bar < second->bar ? -1 : 1;
    gint64 first_step = score_grid_step(first->offset);
    gint64 second_step = score_grid_step(second->offset);
    if (first_step != second_step)
        return first_step < second_step ? -1 : 1;
    return first->element < second->element ? -1 : first->element > second->element;
}

/* How many notes of the line, which is in order, begin before a place. */
static guint n_before(const GPtrArray *line, double place, const double *bar_starts)
{
    guint low = 0;
    guint high = line->len;

    while (low < high) {
        guint middle = (low + high) / 2;
        if (start_of(g_ptr_array_index(line, middle), bar_starts) < place)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* Does any note of the line sound while event does? */
static gboolean sounds_with(const GPtrArray *line, const score_event *event, const double *bar_starts)
{
    double start = start_of(event, bar_starts) + SCORE_TIE_GAP_QUARTERS;
    double end = start_of(event, bar_starts) + event->length - SCORE_TIE_GAP_QUARTERS;
    guint n = n_before(line, end, bar_starts);
    const score_event *last = n > 0 ? g_ptr_array_index(line, n - 1) : NULL;

    return last != NULL && start_of(last, bar_starts) + last->length > start;
}

/* The note of the line that begins with event; NULL: none. A grace note begins with nothing. Of a crowd of grace notes
 * on one place only the last are looked through, or a hostile score would take the square of their number. */
static score_event *beginning_with(const GPtrArray *line, const score_event *event, const double *bar_starts)
{
    enum { GRACES_MAX = 64 };
    double start = start_of(event, bar_starts);
    guint n = n_before(line, start + SCORE_SAME_QUARTERS, bar_starts);
    guint least = n > GRACES_MAX ? n - GRACES_MAX : 0;

    for (guint i = n; i-- > least && event->length > 0.0;) {
        score_event *note = score_event_at(line, i);
        if (start_of(note, bar_starts) < start - SCORE_SAME_QUARTERS)
            break;
        if (note->length > 0.0)
            return note;
    }
    return NULL;
}

static GPtrArray *notes_of_voice(const score_part *part, guint voice)
{
    GPtrArray *notes = g_ptr_array_new();

    for (guint i = 0; i < part->events->len; i++) {
        score_event *event = &g_array_index(part->events, score_event, i);
        if (event->voice == voice)
            g_ptr_array_add(notes, event);
    }
    g_ptr_array_sort(notes, by_time);
    return notes;
}

static void add_to_line(GPtrArray *line, GPtrArray *notes)
{
    for (guint i = 0; i < notes->len; i++)
        score_event_at(notes, i)->in_line = TRUE;
    g_ptr_array_extend(line, notes, NULL, NULL);
    g_ptr_array_sort(line, by_time);
}

/* What a syllable of another voice finds on the note of the line that begins with it. */
typedef enum { PLACE_FREE, PLACE_SAME, PLACE_TAKEN } place;

static place place_for(const score_event *note, const score_syllable *syllable)
{
    gboolean taken = FALSE;

    for (guint i = 0; note->syllables != NULL && i < note->syllables->len; i++) {
        const score_syllable *known = score_syllable_at(note->syllables, i);
        if (known->key != syllable->key)
            continue;
        if (strcmp(known->text, syllable->text) == 0)
            return PLACE_SAME;
        taken = TRUE;
    }
    return taken ? PLACE_TAKEN : PLACE_FREE;
}

static guint count_places(const score_event *note, const score_event *event, place wanted)
{
    guint n = 0;

    for (guint i = 0; note != NULL && event->syllables != NULL && i < event->syllables->len; i++)
        n += place_for(note, g_ptr_array_index(event->syllables, i)) == wanted;
    return n;
}

/* Moves the syllables of event whose place is free to the note of the line that begins with it. */
static guint lend(const GPtrArray *line, score_event *event, const double *bar_starts)
{
    score_event *note = beginning_with(line, event, bar_starts);
    g_autoptr(GPtrArray) free_ones = g_ptr_array_new();

    for (guint i = 0; note != NULL && event->syllables != NULL && i < event->syllables->len; i++)
        if (place_for(note, g_ptr_array_index(event->syllables, i)) == PLACE_FREE)
            g_ptr_array_add(free_ones, g_ptr_array_index(event->syllables, i));
    if (free_ones->len > 0 && note->syllables == NULL)
        note->syllables = score_syllables_new();
    for (guint i = 0; i < free_ones->len; i++) {
        guint index = 0;
        g_ptr_array_find(event->syllables, g_ptr_array_index(free_ones, i), &index);
        g_ptr_array_add(note->syllables, g_ptr_array_steal_index(event->syllables, index));
    }
    return free_ones->len;
}

/* Lets a voice step in where the line is silent, and lend its syllables to notes that begin with it and have none of
 * that line of lyrics. Returns what of it has joined the line. */
static voice_count join_voice(const score_part *part, GPtrArray *line, guint voice, voice_count all,
                              const double *bar_starts)
{
    g_autoptr(GPtrArray) notes = notes_of_voice(part, voice);
    g_autoptr(GPtrArray) fitting = g_ptr_array_new();
    voice_count joined = {0, 0};
    guint n_same = 0;

    for (guint i = 0; i < notes->len; i++) {
        score_event *event = score_event_at(notes, i);
        const score_event *with = beginning_with(line, event, bar_starts);
        n_same += count_places(with, event, PLACE_SAME);
        if (sounds_with(line, event, bar_starts)) {
            joined.n_syllables += count_places(with, event, PLACE_FREE);
            continue;
        }
        g_ptr_array_add(fitting, event);
        joined.n_syllables += event->syllables != NULL ? event->syllables->len : 0;
    }
    /* who says the same words at the same time all along is another singer, and so is who says others */
    if (2 * n_same > all.n_syllables || joined.n_syllables < (all.n_syllables - n_same) * SCORE_SAME_SINGER_SHARE)
        return (voice_count){0, 0};
    for (guint i = 0; i < notes->len; i++)
        if (sounds_with(line, g_ptr_array_index(notes, i), bar_starts))
            lend(line, g_ptr_array_index(notes, i), bar_starts);
    joined.n_notes = fitting->len;
    add_to_line(line, fitting);
    return joined;
}

/* What a voice still has to say that the line does not is left out. texts: borrowed of the part. */
static GPtrArray *lose_voice(score_part *part, const GPtrArray *line, guint voice, const double *bar_starts)
{
    g_autoptr(GPtrArray) notes = notes_of_voice(part, voice);
    GPtrArray *texts = g_ptr_array_new();

    for (guint i = 0; i < notes->len; i++) {
        score_event *event = score_event_at(notes, i);
        const score_event *with = beginning_with(line, event, bar_starts);
        if (event->syllables == NULL || event->in_line)
            continue;
        for (guint k = event->syllables->len; with != NULL && k-- > 0;)
            if (place_for(with, g_ptr_array_index(event->syllables, k)) == PLACE_SAME)
                g_ptr_array_remove_index(event->syllables, k);
        for (guint k = 0; k < event->syllables->len; k++)
            g_ptr_array_add(texts, score_syllable_at(event->syllables, k)->text);
        score_part_lose(part, event->bar, event->syllables, "voice");
    }
    return texts;
}

static gboolean begin_together(const score_event *a, const score_event *b)
{
    return a->bar == b->bar && fabs(a->offset - b->offset) <= SCORE_SAME_QUARTERS && a->length > 0.0 && b->length > 0.0;
}

/* Two notes of the line at one time, not written as a chord: the higher one stays in a, with the words of both. */
static void merge_simultaneous(score_event *a, score_event *b)
{
    GPtrArray *syllables = score_syllables_join(a->syllables, g_steal_pointer(&b->syllables));
    guint element = MIN(a->element, b->element);

    if (b->midi > a->midi)
        *a = *b;
    a->syllables = syllables;
    a->element = element;
}

/* Makes chords of what begins together. */
static GPtrArray *merge_chords(GPtrArray *line, score_part *part)
{
    GPtrArray *merged = g_ptr_array_new();

    for (guint i = 0; i < line->len; i++) {
        score_event *event = score_event_at(line, i);
        score_event *last = merged->len > 0 ? g_ptr_array_index(merged, merged->len - 1) : NULL;
        if (last != NULL && begin_together(last, event)) {
            merge_simultaneous(last, event);
            part->met[APERTA_SCORE_REMARK_SIMULTANEOUS]++;
        } else {
            g_ptr_array_add(merged, event);
        }
    }
    g_ptr_array_unref(line);
    return merged;
}

static const char *voice_name(const score_part *part, guint voice)
{
    return g_ptr_array_index(part->voices, voice);
}

static void tell_joined(const score_part *part, guint main_voice, guint voice, voice_count joined, GArray *remarks)
{
    aperta_score_remark remark = {.kind = APERTA_SCORE_REMARK_VOICE_GOES_ON, .n = joined.n_notes};

    if (joined.n_notes == 0)
        remark = (aperta_score_remark){.kind = APERTA_SCORE_REMARK_VOICE_LENDS, .n = joined.n_syllables};
    if (remark.n == 0)
        return;
    remark.voice = g_strdup(voice_name(part, voice));
    remark.main_voice = g_strdup(voice_name(part, main_voice));
    score_remark(remarks, remark);
}

/* Before chords and ties are joined. */
static void tell_voices(score_part *part, const GPtrArray *line, guint main_voice, const voice_count *counts,
                        const voice_count *joined, const double *bar_starts, GArray *remarks)
{
    guint others = 0;

    for (guint v = 0; v < part->voices->len; v++) {
        if (v == main_voice || counts[v].n_notes == 0)
            continue;
        others++;
        tell_joined(part, main_voice, v, joined[v], remarks);
        g_autoptr(GPtrArray) left_out = lose_voice(part, line, v, bar_starts);
        if (left_out->len > 0)
            score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_VOICE_LEFT_OUT,
                                                        .part_id = g_strdup(part->id),
                                                        .voice = g_strdup(voice_name(part, v)),
                                                        .syllables = score_remark_texts(left_out)});
    }
    if (others > 0)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_MAIN_VOICE,
                                                    .n = others + 1,
                                                    .most_words = counts[main_voice].n_syllables > 0,
                                                    .main_voice = g_strdup(voice_name(part, main_voice))});
}

static gboolean goes_on_in(const score_event *last, const score_event *event, const double *bar_starts)
{
    double gap = start_of(event, bar_starts) - start_of(last, bar_starts) - last->length;

    return last->tie_start && event->tie_stop && event->midi == last->midi && event->syllables == NULL &&
           event->length > 0.0 && fabs(gap) <= SCORE_TIE_GAP_QUARTERS;
}

/* A tied note becomes one, but never over a note that has a syllable of its own in any verse. */
static GPtrArray *join_ties(GPtrArray *line, const double *bar_starts)
{
    GPtrArray *joined = g_ptr_array_new();
    score_event *last = NULL; /* that takes time: a grace note between the two does not part them */

    for (guint i = 0; i < line->len; i++) {
        score_event *event = score_event_at(line, i);
        if (last != NULL && goes_on_in(last, event, bar_starts)) {
            last->length = start_of(event, bar_starts) + event->length - start_of(last, bar_starts);
            last->tie_start = event->tie_start;
            continue;
        }
        g_ptr_array_add(joined, event);
        if (event->length > 0.0)
            last = event;
    }
    g_ptr_array_unref(line);
    return joined;
}

/* No singer holds a note so long: a damaged number, or a chain of ties without an end. */
static void cut_long_notes(const GPtrArray *line, score_part *part)
{
    for (guint i = 0; i < line->len; i++) {
        score_event *event = score_event_at(line, i);
        if (event->length <= SCORE_LENGTH_MAX_QUARTERS)
            continue;
        event->length = SCORE_LENGTH_MAX_QUARTERS;
        part->met[APERTA_SCORE_REMARK_LONG_NOTE]++;
    }
}

GPtrArray *score_line(score_part *part, int voice, const double *bar_starts, GArray *remarks)
{
    guint n = part->voices->len;
    g_autofree voice_count *counts = g_new0(voice_count, n + 1);
    g_autofree voice_count *joined = g_new0(voice_count, n + 1);

    count_voices(part, counts);
    guint main_voice = voice >= 0 ? (guint)voice : richest_voice(counts, n);
    g_autoptr(GPtrArray) notes = notes_of_voice(part, main_voice);
    GPtrArray *line = g_ptr_array_new();

    add_to_line(line, notes);
    for (guint v = 0; v < n && voice < 0; v++)
        if (v != main_voice && counts[v].n_syllables > 0)
            joined[v] = join_voice(part, line, v, counts[v], bar_starts);
    if (voice < 0 && remarks != NULL)
        tell_voices(part, line, main_voice, counts, joined, bar_starts, remarks);
    line = join_ties(merge_chords(line, part), bar_starts);
    cut_long_notes(line, part);
    return line;
}
