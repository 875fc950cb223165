/* aperta/score.h - a score with words (MusicXML, MIDI, or our plain lyric text) → notes with their syllables.
 *
 * Reading never touches the network and never resolves external entities; sizes, depth and unzipped size are limited
 * (score-tuning.h). Repeats are read as written, not unfolded, and a warning says so. */
#ifndef APERTA_SCORE_H
#define APERTA_SCORE_H

#include <aperta/base.h>

G_BEGIN_DECLS

typedef enum {
    APERTA_SCORE_MUSICXML, /* .musicxml .xml .mxl, partwise or timewise */
    APERTA_SCORE_MIDI,     /* standard MIDI file, format 0 or 1 */
    APERTA_SCORE_TEXT,     /* our own, described in aperta-score-text(5) */
} aperta_score_format;

typedef struct {
    char *id;   /* "P1"; of a MIDI file "track 2"; never NULL */
    char *name; /* "Voice", may be empty, never NULL */
    guint n_notes;
    guint n_syllables; /* of all verses */
    gboolean percussion;
} aperta_score_part;

/* A syllable that stands in the part and in no note of it. */
typedef struct {
    char *text;
    int verse;       /* 0: nothing else of its line is sung */
    char *bar;       /* as in aperta_score_note */
    const char *why; /* static: "rest", "cue", "no pitch", "range" (of pitches), "voice" (another one), "no note" */
} aperta_left_out;

typedef struct {
    char *file;
    aperta_score_format format;
    char *title; /* NULL: the score does not say; the same for the next two */
    char *composer;
    char *lyricist;
    guint n_parts; /* of the whole score */
    aperta_score_part *parts;
    guint part;           /* the one that was read; meaningless when there are none */
    gboolean part_chosen; /* by the caller; FALSE: the part with most syllables, or most notes if there are no words */
    int n_verses;         /* highest number of a verse in the part; 0: no words */
    aperta_key key;       /* as the first key signature sounds; mode as written, else unknown mode reads as major */
    int key_fifths;       /* its signature, -7..7: sharps are positive; meaningless when the key is not known */
    double tempo_bpm;     /* first tempo, quarters a minute; 0: none written, 120 taken */
    guint n_notes;        /* of the part, in order */
    aperta_score_note *notes;
    guint n_left_out; /* with the notes' syllables, these are all that the part has */
    aperta_left_out *left_out;
    char **warnings; /* what a person should know ("chords: the top note was read"); NULL-terminated */
} aperta_score;

typedef struct {
    const char *part; /* id, name or number from 1; NULL: see part_chosen */
    int octave;       /* added to all pitches, -3..3: -1 for a man who reads a plain treble clef */
} aperta_score_options;

/* path: a score file, its kind told by its content. Errors: NOT_FOUND, UNREADABLE, FORMAT (file, line where there is
 * one, what is wrong and what to do), RANGE (no such part; the message lists them). A score without words is no error.
 */
aperta_score *aperta_score_read(const char *path, const aperta_score_options *options, GError **error);
void aperta_score_free(aperta_score *score);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_score, aperta_score_free)

/* Is there a syllable of that verse under any note? */
gboolean aperta_score_has_words(const aperta_score *score, int verse);
/* The language tag that most syllables of a verse carry; NULL: the score does not say. The score keeps it. */
const char *aperta_score_language(const aperta_score *score, int verse);

/* "G♭": the tonic of the first key signature as it is spelled there (score->key names it in the usual way, "F♯"). NULL:
 * no key is known. Static. */
const char *aperta_score_key_tonic(const aperta_score *score);

/* Moves all notes and keys of the score so many semitones up, -24..24, spelled for the new key. Error: RANGE when a
 * note would have no number; nothing is moved then. */
gboolean aperta_score_transpose(aperta_score *score, int semitones, GError **error);

/* What to print under a note in a marked copy. */
typedef struct {
    guint element; /* of aperta_score_note */
    char *text;    /* "aw" */
} aperta_score_mark;

/* The MusicXML of path (or the score inside an .mxl) with one more lyric line, numbered after the last verse, that
 * carries the marks; nothing else changes, except that marks of an earlier copy are taken out of the part. They stand
 * in lyrics named "Aperta marks", which aperta_score_read passes over. Uncompressed XML in the encoding of the input.
 * Errors: those of aperta_score_read, and FORMAT when the score is no MusicXML. */
GBytes *aperta_score_write_marked(const char *path, const aperta_score *score, const aperta_score_mark *marks,
                                  gsize n_marks, GError **error);

G_END_DECLS

#endif
