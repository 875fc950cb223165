/* score-private.h - what the readers of src/score share.
 *
 * A reader (MusicXML, MIDI, text) fills a score_draft: everything that is written, of all parts, unjudged.
 * score_finish() makes of it the one sung line of the chosen part. So chords, voices, ties, verses and tempi are judged
 * in one place. */
#ifndef SCORE_PRIVATE_H
#define SCORE_PRIVATE_H

#include <aperta/score.h>

/* ---- faults and numbers (basics.c) ------------------------------------------------------------------------------- */

/* FALSE always: sets error to "NAME:LINE: TEXT"; line 0: none. */
gboolean score_fail(GError **error, const char *name, guint line, const char *format, ...) G_GNUC_PRINTF(4, 5);
/* A whole text, blanks around it allowed, as a finite number; never follows the locale. */
gboolean score_number(const char *text, double *value);

/* ---- the draft (draft.c) ----------------------------------------------------------------------------------------- */

/* Beside the values of aperta_syllabic: it is not written how a syllable joins its neighbours, and a hyphen follows or
 * not. */
#define SCORE_SYLLABIC_UNKNOWN (-1)
#define SCORE_SYLLABIC_HYPHEN  (-2)

/* A syllable as written under a note. */
typedef struct {
    guint key;    /* index of score_part.verse_keys: the line of lyrics it stands in */
    int syllabic; /* an aperta_syllabic, or one of the two above */
    char *text;
    char *language; /* NULL: not said */
} score_syllable;
APERTA_ARRAY_OF(score_syllable)

/* A syllable that is left out. */
typedef struct {
    score_syllable *syllable;
    guint bar;       /* index of score_draft.bars */
    const char *why; /* as in aperta_left_out */
} score_lost;

/* A sounding note, or a chord reduced to its top note. */
typedef struct {
    guint bar;                        /* index of score_draft.bars */
    double offset;                    /* quarters from the beginning of the bar */
    double length;                    /* quarters; 0: a grace note */
    guint voice;                      /* index of score_part.voices */
    guint element;                    /* number of the file's note it begins with, from 0 */
    int midi;                         /* as it sounds, without the caller's octave */
    int fifths;                       /* of the key that sounds here */
    char name[APERTA_PITCH_NAME_MAX]; /* spelled as written; "": not known */
    gboolean tie_start, tie_stop;
    gboolean in_line;     /* of the singer who is read (sung-line.c) */
    GPtrArray *syllables; /* score_syllable; NULL: none */
} score_event;
APERTA_ARRAY_OF(score_event)

typedef struct {
    char *id;
    char *name;
    GPtrArray *voices;     /* char *, as named in the file */
    GPtrArray *verse_keys; /* char *, "1", "chorus" */
    GArray *events;        /* score_event, in the order of the file */
    guint n_syllables;     /* written anywhere in the part, lost ones too */
    guint n_unpitched;
    gboolean percussion_clef, other_clef;
    gboolean key_known;
    int first_fifths;
    gboolean first_minor;
    guint met[APERTA_SCORE_N_REMARKS]; /* of the kinds that are counted: how often; each is told once */
    GArray *lost;                      /* score_lost */
} score_part;
APERTA_ARRAY_OF(score_part)

/* Beats of a bar; all zero: not known. */
typedef struct {
    int n_beats;
    int beat_type;
    guint32 groups;    /* bit b: a group begins on beat b */
    gboolean compound; /* the groups are what is felt as beats: 6/8, 3+2/8 */
} score_meter;

typedef struct {
    double length; /* quarters, the longest of all parts */
    char *number;  /* as printed; NULL: none written */
    score_meter meter;
    gboolean continues; /* written as part of the bar before it */
} score_bar;

typedef struct {
    guint bar;
    double offset;        /* quarters from the beginning of the bar */
    double bpm;           /* quarters a minute, > 0; or */
    double ratio;         /* > 0: times the tempo before */
    gboolean approximate; /* read from a printed mark; one for playback at the same place wins */
} score_tempo;

typedef struct {
    const char *file; /* for messages; not owned */
    aperta_score_format format;
    char *title, *composer, *lyricist;
    GPtrArray *parts; /* score_part */
    GArray *bars;     /* score_bar */
    GArray *tempi;    /* score_tempo */
    guint n_elements; /* notes of the file met so far */
    GArray *remarks;  /* aperta_score_remark, of the file */
} score_draft;

score_draft *score_draft_new(const char *file, aperta_score_format format);
void score_draft_free(score_draft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(score_draft, score_draft_free)

/* The part of that id, made if there is none yet. */
score_part *score_draft_part(score_draft *draft, const char *id);
/* Bar number index, made with all before it. */
score_bar *score_draft_bar(score_draft *draft, guint index);

/* Index of name in a list of names, added if it is new. */
guint score_name_index(GPtrArray *names, const char *name);
int score_name_find(const GPtrArray *names, const char *name); /* -1: it is not among them */
/* Cuts what a file writes once and every note repeats (an id, a bar number, a voice, a verse, a language: UTF-8) to
 * SCORE_NAME_BYTES_MAX, in place. Returns name, which may be NULL. */
char *score_cut_name(char *name);

/* An empty list of score_syllable, which it owns. */
GPtrArray *score_syllables_new(void);
/* Takes the syllables out of their array, which may be NULL. why: see aperta_left_out; static. */
void score_part_lose(score_part *part, guint bar, GPtrArray *syllables, const char *why);
/* Frees what an event holds. */
void score_event_clear(gpointer event);

/* "4", or "3+2+3" beats of 1/beat_type. FALSE: makes no sense. */
gboolean score_meter_parse(const char *beats, const char *beat_type, score_meter *meter);

/* ---- remarks (remarks.c) ----------------------------------------------------------------------------------------- */

/* An empty list of aperta_score_remark, which it owns. */
GArray *score_remarks_new(void);
/* Adds a remark and takes over what it points to. */
void score_remark(GArray *remarks, aperta_score_remark remark);
/* Copy of texts (char *) as an array that ends with NULL. */
char **score_remark_texts(const GPtrArray *texts);
/* Frees what a remark holds. */
void score_remark_clear(gpointer remark);

/* ---- syllables (syllables.c) ------------------------------------------------------------------------------------- */

/* Cleans text (as printed under one note) and appends it as one syllable, or as several when it is an elision written
 * as one text ("che‿a", "the old"). A text of hyphens or dashes only is met, not added; other signs without a letter
 * are a syllable. */
void score_syllables_add(GPtrArray *syllables, score_part *part, guint key, int syllabic, const char *text,
                         const char *language);
/* Hyphens, dashes of any length, minus signs and lines, or nothing. */
gboolean score_is_only_dashes(const char *text);
/* Moves all of more to the end of syllables; either may be NULL; more is freed. join leaves out what stands there
 * already: the notes of a chord often repeat their syllable. */
GPtrArray *score_syllables_append(GPtrArray *syllables, GPtrArray *more);
GPtrArray *score_syllables_join(GPtrArray *syllables, GPtrArray *more);
/* Where the file does not write how the syllables of a line join, their hyphens tell. line: score_event of part. */
void score_complete_syllabics(const GPtrArray *line, const score_part *part);

/* ---- verses (verses.c) ------------------------------------------------------------------------------------------- */

/* Numbers of the verses that the keys of a part stand for, 0 where nothing is sung; the caller frees. Strange keys are
 * told in remarks. */
int *score_verse_numbers(const score_part *part, GArray *remarks, int *highest);

/* ---- the sung line (sung-line.c) --------------------------------------------------------------------------------- */

/* The events (owned by the part, and changed: chords and ties are joined) that one singer sings, in order. voice:
 * index, or -1: the one with the words. What is left out is told in remarks (which may be NULL). Once per part. */
GPtrArray *score_line(score_part *part, int voice, const double *bar_starts, GArray *remarks);

/* ---- time (tempo.c) ---------------------------------------------------------------------------------------------- */

/* The nearest step of a grid as fine as SCORE_SAME_QUARTERS: places are ordered by it, since of three places each may
 * be near the next one and the first not near the last. */
gint64 score_grid_step(double quarters);

/* Seconds of a place that is so many quarters from the start. */
typedef struct score_clock score_clock;
score_clock *score_clock_new(const score_draft *draft, const double *bar_starts);
double score_clock_seconds(const score_clock *clock, double quarters);
/* The tempo at the start; 0: none written. */
double score_clock_first_bpm(const score_clock *clock);
void score_clock_free(score_clock *clock);

/* Metric weight 0..1 of a place in a bar that lasts length quarters. */
double score_stress(const score_bar *bar, double offset, double length_before);

/* ---- a score of the draft (finish.c) ----------------------------------------------------------------------------- */

aperta_score *score_finish(score_draft *draft, const aperta_score_options *options, GError **error);

/* ---- readers ----------------------------------------------------------------------------------------------------- */

typedef struct {
    const char *name; /* for messages */
    const char *bytes;
    gsize n;
} score_input;

/* aperta_score_read from memory; name stands in messages. The target of the fuzzers and tests. (score.c) */
aperta_score *score_read_bytes(const char *name, const void *bytes, gsize n, const aperta_score_options *options,
                               GError **error);

gboolean score_is_musicxml(const score_input *input); /* any XML */
gboolean score_is_zip(const score_input *input);

gboolean score_is_midi(const score_input *input);
gboolean score_read_midi(score_draft *draft, const score_input *input, GError **error);
gboolean score_read_text(score_draft *draft, const score_input *input, GError **error);
gboolean score_read_musicxml(score_draft *draft, const score_input *input, GError **error);

/* FALSE: the XML would be costly to parse. (xml-guard.c) */
gboolean score_guard_xml(const score_input *input, GError **error);
/* Options of libxml2 beside the usual ones: the declared encoding is not believed where the bytes show that it cannot
 * be. (xml-guard.c) */
int score_xml_options(const score_input *input);
/* NULL is: none is written. */
gboolean score_is_usual_encoding(const char *encoding);

/* What <lyric name> says of the line that a marked copy has more. */
#define SCORE_MARKS_NAME "Aperta marks"

/* Document with one more lyric line, in place of those of earlier markings of the part; input has been read once and is
 * sound. */
GBytes *score_mark(const score_input *input, const aperta_score *score, const aperta_score_mark *marks, gsize n_marks,
                   GError **error);

/* The score inside an .mxl; the caller frees bytes. */
gboolean score_unzip(const score_input *input, char **bytes, gsize *n, GError **error);

#endif
