/* midi-file.c - the bytes of a standard MIDI file (Standard MIDI Files 1.0, MIDI Manufacturers Association 1988):
 * chunks, variable-length numbers, running status, meta events. */
#include "score/midi-private.h"
#include "score/score-tuning.h"

#include <string.h>

typedef struct {
    const guint8 *at, *end;
} bytes_left;

/* A number of n bytes, the highest first. The caller has checked that they are there. */
static guint32 take_number(bytes_left *in, int n)
{
    guint32 value = 0;

    for (; n > 0; n--)
        value = value << 8 | *in->at++;
    return value;
}

static gsize left(const bytes_left *in)
{
    return (gsize)(in->end - in->at);
}

/* Seven bits a byte, at most four bytes. */
static gboolean take_length(bytes_left *in, guint32 *value)
{
    *value = 0;
    for (int i = 0; i < 4 && in->at < in->end; i++) {
        guint8 byte = *in->at++;
        *value = *value << 7 | (byte & 0x7F);
        if (byte < 0x80)
            return TRUE;
    }
    return FALSE;
}

/* ---- one track --------------------------------------------------------------------------------------------------- */

/* One for all tracks: it is large. */
typedef struct {
    const score_input *input; /* its name is for messages */
    GError **error;
    midi_file *file;
    midi_track *track;
    bytes_left in;
    guint64 tick;
    guint8 status;        /* running status; 0: none yet */
    guint first[16][128]; /* 1 + index of the first note that sounds on a key, and of the last; 0: none */
    guint last[16][128];
} track_reading;

static midi_note *note_at(const track_reading *in, guint number)
{
    return &g_array_index(in->track->notes, midi_note, number - 1);
}

static void begin_note(track_reading *in, int channel, int key)
{
    midi_note note = {in->tick, in->tick, (guint8)channel, (guint8)key, 0};
    guint number = in->track->notes->len + 1;

    g_array_append_val(in->track->notes, note);
    in->file->n_notes++;
    if (in->first[channel][key] == 0)
        in->first[channel][key] = number;
    else
        note_at(in, in->last[channel][key])->next = number;
    in->last[channel][key] = number;
}

/* Of several notes on one key the first ends. */
static void end_note(track_reading *in, int channel, int key)
{
    guint number = in->first[channel][key];

    if (number == 0)
        return;
    note_at(in, number)->end = in->tick;
    in->first[channel][key] = note_at(in, number)->next;
}

/* What sounds at the end of the track ends there. */
static void end_all(track_reading *in)
{
    for (int channel = 0; channel < 16; channel++)
        for (int key = 0; key < 128; key++)
            for (; in->first[channel][key] != 0; end_note(in, channel, key))
                in->file->n_unended++;
}

static void add_mark(const track_reading *in, GArray *marks, int a, int b)
{
    midi_mark mark = {in->tick, a, b};

    g_array_append_val(marks, mark);
}

enum {
    META_TEXT = 0x01,
    META_NAME = 0x03,
    META_LYRIC = 0x05,
    META_END = 0x2F,
    META_TEMPO = 0x51,
    META_METER = 0x58,
    META_KEY = 0x59
};

static void take_meta(track_reading *in, guint8 type, const guint8 *data, guint32 n)
{
    if (type == META_TEXT || type == META_LYRIC) {
        midi_text text = {in->tick, type == META_LYRIC, (const char *)data, n};
        g_array_append_val(in->track->texts, text);
        in->file->n_texts++;
    } else if (type == META_NAME && in->track->name == NULL) {
        in->track->name = g_strndup((const char *)data, n);
    } else if (type == META_TEMPO && n >= 3) {
        add_mark(in, in->file->tempi, data[0] << 16 | data[1] << 8 | data[2], 0);
    } else if (type == META_METER && n >= 2 && data[0] > 0 && data[0] <= 32 && data[1] <= 7) {
        add_mark(in, in->file->meters, data[0], 1 << data[1]);
    } else if (type == META_KEY && n >= 2 && (gint8)data[0] >= -7 && (gint8)data[0] <= 7) {
        add_mark(in, in->file->keys, (gint8)data[0], data[1] != 0);
    }
}

/* FALSE: the track breaks off. *ended: its end was reached. */
static gboolean take_system_event(track_reading *in, guint8 status, gboolean *ended)
{
    guint8 type = 0;
    guint32 n;

    if (status == 0xFF) {
        if (left(&in->in) < 1)
            return FALSE;
        type = *in->in.at++;
    }
    if (!take_length(&in->in, &n) || n > left(&in->in))
        return FALSE;
    if (status == 0xFF)
        take_meta(in, type, in->in.at, n);
    *ended = status == 0xFF && type == META_END;
    in->in.at += n;
    return TRUE;
}

/* Running status: a byte below 128 is the data of another event of the kind before. */
static gboolean take_event(track_reading *in, gboolean *ended)
{
    if (left(&in->in) < 1)
        return FALSE;
    guint8 status = *in->in.at;
    if (status >= 0x80)
        in->in.at++;
    else
        status = in->status;
    if (status < 0x80)
        return FALSE;
    if (status == 0xF0 || status == 0xF7 || status == 0xFF)
        return take_system_event(in, status, ended);
    if (status > 0xEF)
        return FALSE; /* has no place in a file */
    in->status = status;
    int kind = status >> 4;
    gsize n = kind == 0xC || kind == 0xD ? 1 : 2;
    if (left(&in->in) < n)
        return FALSE;
    int key = in->in.at[0] & 0x7F;
    if (kind == 0x9 && in->in.at[1] > 0)
        begin_note(in, status & 0x0F, key);
    else if (kind == 0x9 || kind == 0x8)
        end_note(in, status & 0x0F, key);
    in->in.at += n;
    return TRUE;
}

static gboolean fail_track(const track_reading *in)
{
    return score_fail(in->error, in->input->name, 0, "track %u of the MIDI file is damaged (export it again)",
                      in->file->tracks->len);
}

/* Asked after each event and each track: a small file can hold very many of them. */
static gboolean is_within_limits(const track_reading *in)
{
    const midi_file *file = in->file;
    const struct {
        guint n, most;
        const char *what;
    } counts[] = {
        {file->tracks->len, SCORE_MIDI_TRACKS_MAX, "tracks"},
        {file->n_notes, SCORE_NOTES_MAX, "notes"},
        {file->n_texts, SCORE_MIDI_WORDS_MAX, "lyric or text events"},
        {file->tempi->len + file->meters->len + file->keys->len, SCORE_MIDI_MARKS_MAX, "tempi, meters and keys"}};

    for (gsize i = 0; i < G_N_ELEMENTS(counts); i++)
        if (counts[i].n > counts[i].most)
            return score_fail(in->error, in->input->name, 0, "it has more than %u %s (export one song)", counts[i].most,
                              counts[i].what);
    return TRUE;
}

/* A track without an end event ends with its last byte. */
static gboolean read_track(track_reading *in)
{
    gboolean ended = FALSE;

    while (!ended && left(&in->in) > 0) {
        guint32 delta;
        if (!take_length(&in->in, &delta))
            return fail_track(in);
        in->tick += delta;
        if (!take_event(in, &ended))
            return fail_track(in);
        if (!is_within_limits(in))
            return FALSE;
    }
    in->file->end = MAX(in->file->end, in->tick);
    end_all(in);
    return TRUE;
}

/* ---- the file ---------------------------------------------------------------------------------------------------- */

static void free_track(gpointer data)
{
    midi_track *track = data;

    g_free(track->name);
    g_array_unref(track->notes);
    g_array_unref(track->texts);
    g_free(track);
}

void midi_file_free(midi_file *file)
{
    if (file == NULL)
        return;
    g_ptr_array_unref(file->tracks);
    g_array_unref(file->tempi);
    g_array_unref(file->meters);
    g_array_unref(file->keys);
    g_free(file);
}

/* Pulses a quarter, or (bit 15 set) frames a second and ticks a frame: then 120 quarters a minute are taken. */
static gboolean read_division(midi_file *file, guint32 division)
{
    if ((division & 0x8000) == 0) {
        file->ticks_per_quarter = division;
    } else {
        int frames = 0x100 - (int)(division >> 8);
        file->smpte = TRUE;
        file->ticks_per_quarter = (frames == 29 ? 30000.0 / 1001.0 : frames) * (division & 0xFF) * 0.5;
    }
    return file->ticks_per_quarter > 0.0;
}

static gboolean read_header(midi_file *file, const score_input *input, bytes_left *in, GError **error)
{
    guint32 n;

    if (left(in) < 14 || memcmp(in->at, "MThd", 4) != 0)
        return score_fail(error, input->name, 0, "the MIDI file breaks off in its header (export it again)");
    in->at += 4;
    n = take_number(in, 4);
    if (n < 6 || n > left(in))
        return score_fail(error, input->name, 0, "the MIDI header makes no sense (export the file again)");
    const guint8 *behind = in->at + n;
    file->format = (int)take_number(in, 2);
    take_number(in, 2); /* the number of tracks: they are counted as they come */
    if (!read_division(file, take_number(in, 2)))
        return score_fail(error, input->name, 0, "the MIDI file has no unit of time (export it again)");
    if (file->format > 1)
        return score_fail(error, input->name, 0,
                          "this is a MIDI file of format %d, a set of patterns; formats 0 and 1 "
                          "are songs (save it as format 1)",
                          file->format);
    in->at = behind;
    return TRUE;
}

/* Makes reading ready for a further track: nothing sounds, as end_all() has left it. */
static void begin_track(track_reading *reading, const guint8 *bytes, gsize n)
{
    midi_track *track = g_new0(midi_track, 1);

    track->notes = g_array_new(FALSE, FALSE, sizeof(midi_note));
    track->texts = g_array_new(FALSE, FALSE, sizeof(midi_text));
    g_ptr_array_add(reading->file->tracks, track);
    reading->track = track;
    reading->in = (bytes_left){bytes, bytes + n};
    reading->tick = 0;
    reading->status = 0;
}

static gboolean read_chunk(track_reading *reading, bytes_left *in)
{
    gboolean is_track = memcmp(in->at, "MTrk", 4) == 0;
    in->at += 4;
    guint32 n = take_number(in, 4);

    if (n > left(in))
        return score_fail(reading->error, reading->input->name, 0,
                          "the MIDI file breaks off in track %u (export it again)", reading->file->tracks->len + 1);
    if (is_track) {
        begin_track(reading, in->at, n);
        if (!is_within_limits(reading) || !read_track(reading))
            return FALSE;
    }
    in->at += n;
    return TRUE;
}

static int by_tick(gconstpointer a, gconstpointer b)
{
    const midi_mark *first = a;
    const midi_mark *second = b;

    return first->tick < second->tick ? -1 : first->tick > second->tick;
}

int midi_mark_index(const GArray *marks, guint64 tick)
{
    int low = -1;
    int high = (int)marks->len;

    while (high - low > 1) {
        int middle = (low + high) / 2;
        if (g_array_index(marks, midi_mark, middle).tick <= tick)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* A RIFF file may hold a MIDI file. */
static const guint8 *start_of(const score_input *input)
{
    const guint8 *bytes = (const guint8 *)input->bytes;

    return input->n >= 20 && memcmp(bytes, "RIFF", 4) == 0 ? bytes + 20 : bytes;
}

gboolean score_is_midi(const score_input *input)
{
    return (input->n >= 4 && memcmp(input->bytes, "MThd", 4) == 0) ||
           (input->n >= 24 && memcmp(input->bytes, "RIFF", 4) == 0 && memcmp(input->bytes + 8, "RMID", 4) == 0);
}

midi_file *midi_file_read(const score_input *input, GError **error)
{
    g_autoptr(midi_file) file = g_new0(midi_file, 1);
    bytes_left in = {start_of(input), (const guint8 *)input->bytes + input->n};

    file->tracks = g_ptr_array_new_with_free_func(free_track);
    file->tempi = g_array_new(FALSE, FALSE, sizeof(midi_mark));
    file->meters = g_array_new(FALSE, FALSE, sizeof(midi_mark));
    file->keys = g_array_new(FALSE, FALSE, sizeof(midi_mark));
    if (!read_header(file, input, &in, error))
        return NULL;
    g_autofree track_reading *reading = g_new0(track_reading, 1);
    reading->input = input;
    reading->error = error;
    reading->file = file;
    while (left(&in) >= 8)
        if (!read_chunk(reading, &in))
            return NULL;
    g_array_sort(file->tempi, by_tick);
    g_array_sort(file->meters, by_tick);
    g_array_sort(file->keys, by_tick);
    return g_steal_pointer(&file);
}
