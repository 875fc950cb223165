/* midi-private.h - a MIDI file as its bytes say it, before it becomes music. */
#ifndef MIDI_PRIVATE_H
#define MIDI_PRIVATE_H

#include "score/score-private.h"

typedef struct {
    guint64 start, end; /* ticks */
    guint8 channel;     /* 0..15 */
    guint8 key;
    guint next; /* while it sounds: 1 + index of the next note that sounds on this key; 0: none */
} midi_note;

typedef struct {
    guint64 tick;
    gboolean lyric; /* a lyric event; FALSE: a text event */
    const char *bytes;
    guint n;
} midi_text;

typedef struct {
    char *name;    /* NULL: none */
    GArray *notes; /* midi_note, by start */
    GArray *texts; /* midi_text, by tick */
} midi_track;

/* What holds from a tick on. Tempo: a in microseconds a quarter; meter: a beats of 1/b; key: a fifths, b minor. */
typedef struct {
    guint64 tick;
    int a, b;
} midi_mark;

typedef struct {
    int format;
    double ticks_per_quarter; /* of a file in SMPTE time: at 120 quarters a minute */
    gboolean smpte;
    GPtrArray *tracks;             /* midi_track */
    GArray *tempi, *meters, *keys; /* midi_mark, by tick */
    guint64 end;                   /* last tick of all */
    guint n_notes, n_texts;        /* of all tracks */
    guint n_unended;               /* notes that nothing ends */
} midi_file;

midi_file *midi_file_read(const score_input *input, GError **error); /* midi-file.c */
void midi_file_free(midi_file *file);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(midi_file, midi_file_free)

/* Index of the mark that holds at a tick: the last at or before it; -1: none yet. */
int midi_mark_index(const GArray *marks, guint64 tick);

/* The words of a track (midi-words.c): one for each event that carries any. */
typedef struct {
    guint64 tick;
    char *text; /* UTF-8 */
    int syllabic;
} midi_word;

/* Lyric events, or text events where there are no lyric events. GArray of midi_word with its clear function; NULL: the
 * track has none. */
GArray *midi_words(const midi_track *track, const char *encoding);
/* "UTF-8", "CP932" (Shift-JIS) or "WINDOWS-1252": what the texts of the file seem to be written in. Static. */
const char *midi_encoding(const midi_file *file);
/* Bytes in that encoding as UTF-8; what cannot be read becomes a replacement sign. */
char *midi_decode(const char *bytes, gsize n, const char *encoding);

#endif
