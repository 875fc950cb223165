/* aperta/result.h - a recording in, everything that is measured and advised out. */
#ifndef APERTA_RESULT_H
#define APERTA_RESULT_H

#include <aperta/advice.h>
#include <aperta/base.h>
#include <aperta/vowel.h>

G_BEGIN_DECLS

/* A syllable of the lyric on a note; all but text may be NULL. */
typedef struct {
    char *text;
    char *word;
    char *ipa;
    int verse; /* 1.. */
} aperta_syllable;

/* A distance that may be unknown. */
typedef struct {
    gboolean known;
    double st; /* semitones, + = above */
} aperta_interval;

/* The part of a note that stands for its vowel. */
typedef enum {
    APERTA_PART_WHOLE,
    APERTA_PART_START, /* the vowel moves from one to another; the first is held longer */
    APERTA_PART_END,   /* the same, the last is held longer */
} aperta_part;

typedef struct {
    int number; /* 1.. in order of time */
    aperta_note note;
    char name[APERTA_PITCH_NAME_MAX]; /* spelled for the key */
    int midi;
    double cents; /* from equal temperament at the take's A4, -50..50 */
    aperta_tract_reading tract;
    aperta_part judged;               /* whose vowel, distances and advice follow */
    aperta_vowel_hearing vowel;       /* of that part */
    aperta_vowel_hearing first_vowel; /* only if judged is not WHOLE: at the start of the note */
    aperta_vowel_hearing last_vowel;  /* and at its end */
    const aperta_vowel *intended;     /* from a correction or a lyric; NULL: not known */
    gboolean corrected;               /* a teacher's correction named the vowel */
    aperta_interval f1_to_f0;         /* known only where F1 is measured */
    aperta_interval f1_to_2f0;
    aperta_syllable *syllable; /* NULL: no lyric */
    GPtrArray *advice;         /* aperta_finding, highest level first; may be empty */
    GPtrArray *explanations;   /* aperta_explanation; NULL unless asked for */
} aperta_sung_note;

typedef struct {
    const char *code; /* stable, for scripts: "clipping", "low-level", ...; static */
    char *text;       /* for the singer */
} aperta_warning;

typedef struct {
    /* source */
    char *file;
    double seconds; /* of the whole recording */
    int sample_rate_hz;
    int channel;         /* 1.., or APERTA_AUDIO_MIX */
    double from_s, to_s; /* what was read */
    /* settings */
    char *style;
    char *rules_title;
    char *singer; /* NULL: none */
    aperta_voice voice;
    gboolean voice_guessed; /* neither --voice nor --table was given */
    aperta_vowel_table *table;
    /* tuning */
    double a4_hz;
    gboolean a4_given;
    aperta_key key;
    /* what was sung */
    GPtrArray *notes; /* aperta_sung_note */
    guint n_removed;  /* notes that a correction called "not a note" */
    aperta_f0_track *track;
    aperta_tract_frame *frames;  /* one a frame of track; NULL unless keep_frames */
    const char *const *cautions; /* NULL-terminated, static */
    GPtrArray *warnings;         /* aperta_warning */
} aperta_result;

typedef struct {
    const char *style;       /* NULL: "belt"; or a .rules path */
    const char *table;       /* NULL: by voice */
    aperta_voice voice;      /* UNKNOWN: guessed, and said so */
    int channel;             /* 1.., or 0 for the mix */
    double from_s;           /* 0: from the start */
    double to_s;             /* 0: to the end */
    double a4_hz;            /* 0: estimated */
    double hop_s;            /* 0: 0.010 */
    const char *corrections; /* path of a CSV file, or NULL */
    gboolean explain;
    gboolean keep_frames;
    void (*progress)(double fraction, void *data); /* may be NULL; called often, 0..1 */
    void *progress_data;
    const volatile int *cancel; /* may be NULL; once nonzero the take ends with INTERRUPTED */
} aperta_take_options;

/* Reads a recording and advises. Errors are those of aperta_audio_open, aperta_vowel_table_load, aperta_rules_load, of
 * the corrections file (FORMAT), and INTERRUPTED. A file without singing is no error: no notes, and a warning. */
aperta_result *aperta_take(const char *path, const aperta_take_options *options, GError **error);
void aperta_result_free(aperta_result *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_result, aperta_result_free)

/* F1, F2, F3 of the part of the note that is judged; owned by the note. */
const aperta_resonance *aperta_sung_note_resonances(const aperta_sung_note *note);

/* Highest level among a note's findings; FINE when there are none. */
aperta_level aperta_sung_note_level(const aperta_sung_note *note);

G_END_DECLS

#endif
