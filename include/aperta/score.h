/* aperta/score.h - a score with words (MusicXML, MIDI, or our plain lyric text) → notes with their syllables.
 *
 * Reading never touches the network and never resolves external entities; sizes, depth and unzipped size are limited
 * (score-tuning.h). Repeats are read as written, not unfolded, and a remark says so. */
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

/* What a reader chose, left out or took for granted, of the file or of the part that was read. */
typedef enum {
    /* n: how many times */
    APERTA_SCORE_REMARK_CHORD, /* chords, of which the top note was read */
    APERTA_SCORE_REMARK_SIMULTANEOUS,
    APERTA_SCORE_REMARK_CUE,
    APERTA_SCORE_REMARK_UNPITCHED, /* spoken or percussion */
    APERTA_SCORE_REMARK_NO_PITCH,
    APERTA_SCORE_REMARK_OUT_OF_RANGE,
    APERTA_SCORE_REMARK_QUARTER_TONE,
    APERTA_SCORE_REMARK_NO_DURATION,
    APERTA_SCORE_REMARK_BAD_DURATION,
    APERTA_SCORE_REMARK_LONG_NOTE,
    APERTA_SCORE_REMARK_NO_DIVISIONS,
    APERTA_SCORE_REMARK_BAD_DIVISIONS,
    APERTA_SCORE_REMARK_BACK_TOO_FAR,
    APERTA_SCORE_REMARK_HUMMED,
    APERTA_SCORE_REMARK_ONLY_HYPHEN,
    APERTA_SCORE_REMARK_OWN_MARKS,
    APERTA_SCORE_REMARK_TOO_LONG, /* lyrics */
    APERTA_SCORE_REMARK_STRANGE_LETTER,
    APERTA_SCORE_REMARK_TOO_MANY_LINES,  /* of lyrics */
    APERTA_SCORE_REMARK_TOO_MANY_VOICES, /* n: notes of those that are too many */
    APERTA_SCORE_REMARK_REPEAT,
    APERTA_SCORE_REMARK_JUMP,
    APERTA_SCORE_REMARK_MODE,
    APERTA_SCORE_REMARK_KEY,
    APERTA_SCORE_REMARK_UNENDED, /* notes that last to the end of their track */
    /* the words */
    APERTA_SCORE_REMARK_VERSE_NUMBERED, /* text: name of a line of lyrics; verse: as which it is read */
    APERTA_SCORE_REMARK_LEFT_OUT,       /* syllables: where nothing is sung */
    APERTA_SCORE_REMARK_TEXTS_LEFT_OUT, /* n: texts that fit no notes; text: the first */
    APERTA_SCORE_REMARK_NO_WORDS,       /* in no part */
    APERTA_SCORE_REMARK_NO_WORDS_HERE,  /* but in other parts */
    /* the voices of the part */
    APERTA_SCORE_REMARK_VOICE_GOES_ON,  /* voice, main_voice; n: notes */
    APERTA_SCORE_REMARK_VOICE_LENDS,    /* voice, main_voice; n: syllables read under the main voice's notes */
    APERTA_SCORE_REMARK_VOICE_LEFT_OUT, /* voice, part_id, syllables */
    APERTA_SCORE_REMARK_MAIN_VOICE,     /* main_voice, most_words; n: voices of the part */
    /* the part and the file */
    APERTA_SCORE_REMARK_PART,       /* part_id, part_name, most_words; n: parts of the score */
    APERTA_SCORE_REMARK_PERCUSSION, /* the part is written for it */
    APERTA_SCORE_REMARK_NO_TEMPO,
    APERTA_SCORE_REMARK_FILM_FRAMES,
    APERTA_SCORE_REMARK_WORDS_JAPANESE, /* the words are no UTF-8, but Shift-JIS */
    APERTA_SCORE_REMARK_WORDS_WESTERN,  /* or Windows-1252 */
    APERTA_SCORE_REMARK_TEXT_WESTERN,   /* the whole text is */
    APERTA_SCORE_N_REMARKS,             /* how many kinds there are */
} aperta_score_remark_kind;

/* Its sentence: aperta_score_remark_text. What the kind does not name is 0 or NULL; all that is pointed to is the
 * remark's own. */
typedef struct {
    aperta_score_remark_kind kind;
    guint n;             /* >= 1 */
    int verse;           /* 1.. */
    gboolean most_words; /* it was read since it has most words; FALSE: most notes */
    char *part_id;       /* as in aperta_score_part */
    char *part_name;
    char *voice;      /* as the file names it */
    char *main_voice; /* the one that is read */
    char *text;       /* of the file */
    char **syllables; /* NULL-terminated, as printed; at least one */
} aperta_score_remark;

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
    guint n_remarks;
    aperta_score_remark *remarks; /* in the order in which they are told */
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

/* Moves all notes and keys of the score so many semitones up, -24..24, spelled for the new key. Error: RANGE beyond
 * that, and when a note would have no number; nothing is moved then. */
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
