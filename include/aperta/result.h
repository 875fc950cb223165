/* aperta/result.h - a recording or a score in, everything that is measured, expected and advised out. */
#ifndef APERTA_RESULT_H
#define APERTA_RESULT_H

#include <aperta/advice.h>
#include <aperta/align.h>
#include <aperta/base.h>
#include <aperta/score.h>
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

/* How it is known which vowel was meant. */
typedef enum {
    APERTA_INTENDED_UNKNOWN,
    APERTA_INTENDED_WORDS,      /* from the words of a score or lyric */
    APERTA_INTENDED_TOLD,       /* a teacher told the vowels of the take */
    APERTA_INTENDED_CORRECTION, /* and overruled what was heard on this note */
} aperta_intended_from;

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
    const aperta_vowel *intended;     /* NULL: not known */
    aperta_intended_from intended_from;
    aperta_resonance sharpened[APERTA_N_RESONANCES]; /* of that part, if its vowel is the intended one; all unknown
                                                      * where none is named. Nothing else is drawn from it */
    aperta_interval f1_to_f0;                        /* known only where F1 is measured */
    aperta_interval f1_to_2f0;
    aperta_syllable *syllable; /* NULL: no lyric */
    int judged_with;           /* notes that share this number, 1.., were judged together; 0: for itself */
    GPtrArray *advice;         /* aperta_finding, highest level first; may be empty */
    GPtrArray *explanations;   /* aperta_explanation; NULL unless asked for */
    aperta_silence silence;    /* NONE where advice is not empty, and where nothing was asked (withheld) */
    int reach_midi;            /* only if silence is LOW or HIGH */
} aperta_sung_note;
APERTA_ARRAY_OF(aperta_sung_note)

/* ---- what a person should know before believing a take or a sheet ------------------------------------------------ */

/* What a warning is about. Several kinds may share a code (aperta_warning_code). */
typedef enum {
    /* the file */
    APERTA_WARNING_TRUNCATED, /* end */
    APERTA_WARNING_DAMAGED,
    APERTA_WARNING_NOT_NUMBERS, /* n_samples */
    APERTA_WARNING_CLIPPING,    /* n_samples */
    APERTA_WARNING_CHANNELS_DIFFER,
    APERTA_WARNING_STRONG_COMPRESSION, /* bits_per_s */
    APERTA_WARNING_LOW_SAMPLE_RATE,    /* hz: of the file */
    /* the singing */
    APERTA_WARNING_SILENT,      /* no singing was found, since nothing sounds, ... */
    APERTA_WARNING_ALL_REMOVED, /* ... since corrections took every sound out, ... */
    APERTA_WARNING_TOO_SHORT,   /* ... since the recording is too short, ... */
    APERTA_WARNING_ONLY_HUM,    /* ... since it is mains hum, ... */
    APERTA_WARNING_UNPITCHED,   /* ... or since no pitch is steady */
    APERTA_WARNING_LOW_LEVEL,   /* db: of the notes, below full scale, > 0 */
    APERTA_WARNING_SPOKEN,
    APERTA_WARNING_PERHAPS_SPOKEN,
    APERTA_WARNING_NO_RESONANCES, /* most of what sounds is no voice, since it has no resonances */
    APERTA_WARNING_NO_OVERTONES,  /* or hardly an overtone */
    APERTA_WARNING_HUM,           /* hz: 50 or 60 */
    APERTA_WARNING_NOISE_FLOOR,   /* db: the notes above the rests, >= 0 */
    APERTA_WARNING_STILL_NOTES,   /* no voice: as a keyboard plays them */
    APERTA_WARNING_ONLY_CHORDS,   /* no voice can be told among several tones */
    APERTA_WARNING_VOICE_DOUBTED,
    APERTA_WARNING_ACCOMPANIED,    /* notes: n_loud of them are withheld for it */
    APERTA_WARNING_SEVERAL_TONES,  /* notes */
    APERTA_WARNING_NO_CORRECTIONS, /* the file of corrections holds none */
    /* the table of vowels */
    APERTA_WARNING_TABLE_STATUS, /* table */
    APERTA_WARNING_TABLE_VOICE,  /* table: is not of the voice */
    APERTA_WARNING_OTHER_TABLE,  /* lent; vowels: that are taken from there */
    APERTA_WARNING_NOT_JUDGED,   /* vowels: that no table has */
    /* the score, its words and how they are to be sung */
    APERTA_WARNING_SCORE, /* remark */
    APERTA_WARNING_NO_NOTES,
    APERTA_WARNING_NO_WORDS,
    APERTA_WARNING_EMPTY_VERSE,       /* words: verse, score: whose other verses may have words */
    APERTA_WARNING_LANGUAGE_UNTOLD,   /* words: verse */
    APERTA_WARNING_LANGUAGE_FOREIGN,  /* words: verse, tag */
    APERTA_WARNING_LANGUAGE_UNSURE,   /* words: verse, language as guessed */
    APERTA_WARNING_LANGUAGE_DOUBTFUL, /* words: verse, language as named, by_the_score, looks_like */
    APERTA_WARNING_LAID_OUT,          /* words: verse; names: words that the score cuts otherwise */
    APERTA_WARNING_NO_SOUND,          /* words: verse; names: words */
    APERTA_WARNING_NO_OTHER_WORDS,    /* words: language */
    APERTA_WARNING_STYLE_ASSUMED,
    APERTA_WARNING_LIES_HIGH, /* voice */
} aperta_warning_kind;

/* Its sentence: aperta_warning_text. What the kind does not name is 0 or NULL. Whatever is pointed to is of the take or
 * sheet, or static; only the two arrays are the warning's own. */
typedef struct {
    aperta_warning_kind kind;
    union {
        struct {
            double at_s;       /* what is there */
            double promised_s; /* what the file says of itself; 0: nothing */
        } end;
        guint64 n_samples;
        double bits_per_s;
        int hz;
        double db;
        struct {
            guint n;
            guint n_loud;
            guint n_all;
        } notes;
        aperta_voice voice;
        struct {
            const aperta_vowel_table *table;
            aperta_voice voice; /* of the singer */
        } table;
        struct {
            const aperta_vowel_table *table;           /* that lacks them */
            const struct aperta_expectation *expected; /* of one of the vowels: all are from the same place */
        } lent;
        const aperta_score_remark *remark; /* of the score's reader */
        struct {
            int verse; /* 1.. */
            const aperta_score *score;
            const char *language;
            const char *looks_like;
            const char *tag;       /* as the score has it */
            gboolean by_the_score; /* it named the language */
        } words;
    };
    const char **names;          /* NULL-terminated, or NULL */
    const aperta_vowel **vowels; /* likewise */
} aperta_warning;
APERTA_ARRAY_OF(aperta_warning)

/* Stable, for scripts: "clipping", "low-level", ...; static. */
const char *aperta_warning_code(const aperta_warning *warning);

/* By what a take or a sheet is judged. */
typedef struct {
    char *style;       /* "belt" */
    char *rules_title; /* "Belt: high notes ..."; NULL: none */
    aperta_voice voice;
    gboolean voice_guessed;    /* neither voice nor table was given */
    aperta_vowel_table *table; /* NULL: not chosen yet */
} aperta_settings;

/* Notes that are told the same: the same change (on a sheet of the same vowel; in a take of vowels that go there in the
 * same way), or the same words where no shape is asked for. */
typedef struct {
    aperta_level level;
    const aperta_finding
        *finding; /* of the note that stands for the group: the one that weighs most, the first of such */
    union {
        const aperta_sung_note *sung;         /* that note, in a take */
        const struct aperta_sheet_note *note; /* and in a sheet */
    };
    GPtrArray *notes;    /* const aperta_sung_note *, or const aperta_sheet_note *; in order of time */
    GPtrArray *findings; /* const aperta_finding *, one a note */
    double weight_s;     /* of a sheet's notes; 0 in a take */
} aperta_group;
APERTA_ARRAY_OF(aperta_group)

/* One of the things to try first: notes of one group or several, of one level, that lead to one shape or to one remedy.
 */
typedef struct {
    aperta_level level;
    const aperta_finding *finding; /* of the note with the smallest first step, which stands for all */
    GPtrArray *notes;              /* as a group's, in order of time */
    GPtrArray *findings;           /* const aperta_finding *, one a note */
    double share;                  /* of the singing, by time, 0..1 */
    double confidence;             /* that its notes want it: mean probability by time, 0..1 */
} aperta_try;
APERTA_ARRAY_OF(aperta_try)

#define APERTA_TRIES_MAX 3 /* as many at most are told first */

/* How far a take is to be trusted. */
typedef enum {
    APERTA_TRUST_WELL,
    APERTA_TRUST_PARTLY,
    APERTA_TRUST_CARE,
    APERTA_TRUST_NOTHING, /* no notes */
} aperta_trust_level;

/* What there is against it. */
typedef enum {
    APERTA_DOUBT_NOT_VOICE,
    APERTA_DOUBT_PERHAPS_SPOKEN,
    APERTA_DOUBT_SPOKEN,
    APERTA_DOUBT_NO_VOICE,
    APERTA_DOUBT_INSTRUMENT,
    APERTA_DOUBT_CLIPPED,
    APERTA_DOUBT_COMPRESSED,
    APERTA_DOUBT_SAMPLE_RATE,
    APERTA_DOUBT_CHANNELS,
    APERTA_DOUBT_SOFT,
    APERTA_DOUBT_HUM,
    APERTA_DOUBT_COMPANY,      /* with n_accompanied of the notes something else sounds, */
    APERTA_DOUBT_SOFT_COMPANY, /* or only something softer */
    APERTA_DOUBT_MUCH_NOISE,
    APERTA_DOUBT_SOME_NOISE,
    APERTA_DOUBT_LONG_ECHO,
    APERTA_DOUBT_ECHO,
    APERTA_DOUBT_ONE_NOTE,
    APERTA_DOUBT_TWO_NOTES,
} aperta_doubt;

enum { APERTA_N_DOUBTS = APERTA_DOUBT_TWO_NOTES + 1 };

/* Its sentence: aperta_trust_text. */
typedef struct {
    aperta_trust_level level;
    aperta_doubt doubts[APERTA_N_DOUBTS]; /* in the order they are told */
    guint n_doubts;
    gboolean all_removed; /* NOTHING: corrections took every note out */
    gboolean rests;       /* there are some, which tell of noise and echo */
    guint n_notes;        /* of them, vowel and F1 are */
    guint n_told;         /* told, */
    guint n_roughly;      /* only roughly: a limit or a wide range of F1, or an unsure vowel, */
    guint n_untold;       /* not at all */
    guint n_accompanied;  /* and with so many something else sounds */
} aperta_trust;

typedef struct {
    /* source */
    char *file;
    double seconds; /* of the whole recording */
    int sample_rate_hz;
    int channel;         /* 1.., or APERTA_AUDIO_MIX */
    double from_s, to_s; /* what was read */
    /* settings */
    aperta_settings settings;
    char *singer; /* NULL: none; nothing fills it, as no singer's own voice is learnt */
    /* tuning */
    double a4_hz;
    gboolean a4_given;
    aperta_key key;
    /* what was sung */
    GPtrArray *notes;  /* aperta_sung_note */
    guint n_removed;   /* notes that a correction called "not a note" */
    GPtrArray *groups; /* aperta_group above FINE: those that want a change first, then in order of time */
    GPtrArray *first;  /* aperta_try: of all that, what to try first; the best first, at most three */
    aperta_f0_track *track;
    aperta_tract_frame *frames; /* one a frame of track; NULL unless keep_frames */
    GPtrArray *warnings;        /* aperta_warning */
    aperta_trust trust;
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
    const char *sung;        /* vowels as aperta_sung_check reads them, or NULL; corrections of a note go before */
    gboolean explain;
    gboolean keep_frames;
    guint jobs;                                    /* threads; 0: one. The result does not depend on it */
    void (*progress)(double fraction, void *data); /* may be NULL; called often, 0..1 */
    void *progress_data;
    const volatile int *cancel; /* may be NULL; once nonzero the take ends with INTERRUPTED */
} aperta_take_options;

/* Whether text tells vowels: "ee", for all notes; "i e -", one a note in order, "-" left to hearing; "3:ee 5-7:ɑ", by
 * the numbers of the notes (the others are left to hearing), with one vowel more for all other notes if wanted. IPA
 * (length marks ignored) or respellings, parted by blanks or commas. Error: FORMAT, which names no file. */
gboolean aperta_sung_check(const char *text, GError **error);

/* Reads a recording and advises. Errors are those of aperta_audio_open, aperta_vowel_table_load, aperta_rules_load, of
 * the corrections file (FORMAT), of aperta_sung_check, RANGE for vowels told that do not fit the notes, and
 * INTERRUPTED. A file without singing is no error: no notes, and a warning. */
aperta_result *aperta_take(const char *path, const aperta_take_options *options, GError **error);
void aperta_result_free(aperta_result *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_result, aperta_result_free)

/* The vowel heard, as surely as advice may call it by its name: where that is likely, and sure where F1 or F2 is not
 * measured. NULL: it is not sure enough, or nothing is heard. */
const aperta_vowel *aperta_sung_note_heard(const aperta_sung_note *note);
/* The intended vowel, else that. */
const aperta_vowel *aperta_sung_note_told(const aperta_sung_note *note);
/* As much of the vowel as is told where its name is not; not known when the name is. */
aperta_vowel_class aperta_sung_note_told_class(const aperta_sung_note *note);
/* F1, F2, F3 of the part of the note that is judged; owned by the note. */
const aperta_resonance *aperta_sung_note_resonances(const aperta_sung_note *note);

/* Highest level among findings (aperta_finding); FINE when there are none. */
aperta_level aperta_findings_level(const GPtrArray *findings);
/* The same of a note. */
aperta_level aperta_sung_note_level(const aperta_sung_note *note);

/* ---- a score: what is expected before anybody has sung ----------------------------------------------------------- */

/* Where the figures of a vowel are from that the sheet's table lacks. */
typedef enum {
    APERTA_LENT_NOT,      /* it does not */
    APERTA_LENT_TABLE,    /* from another table */
    APERTA_LENT_CARDINAL, /* the cardinal vowels of one man */
} aperta_lent;

/* Where the resonances of a vowel are expected; shared by all notes on that vowel. */
typedef struct aperta_expectation {
    const aperta_vowel *vowel;
    gboolean known;                                   /* FALSE: no table has the vowel, so it cannot be judged */
    aperta_resonance resonances[APERTA_N_RESONANCES]; /* the mean, and the interval of 90 % of speakers */
    double sd_hz[APERTA_N_RESONANCES];                /* spread between speakers */
    aperta_lent lent;          /* the figures were brought from elsewhere to the scale of the sheet's table */
    char *lender;              /* the name of the other TABLE; else NULL */
    aperta_voice lender_voice; /* whose it is, where that is not the voice of the sheet's table; else UNKNOWN */
    char *lender_status;       /* what it says of its figures, where they are neither from the source nor secondary */
    gboolean regional;         /* the sheet's table has the vowel, but as a region speaks it; so it is lent */
} aperta_expectation;
APERTA_ARRAY_OF(aperta_expectation)

/* An advised shape that would make another word. */
typedef struct {
    char *word;            /* "bit" */
    aperta_shape *instead; /* the next best shape, which makes none that we know; NULL: keep the vowel, open the jaw */
} aperta_word_risk;

typedef struct aperta_sheet_note {
    int number; /* 1.. in order of the part, grace notes too; the same in every verse */
    int verse;  /* 0: the score has no words */
    const aperta_score_note *score_note;
    double f0_hz;
    aperta_syllable *syllable;          /* NULL: nothing begins here (the rest of a melisma, or no words) */
    const aperta_syllable_sound *sound; /* of the syllable it is sung on; NULL: no words here */
    const char *word;                   /* that it is sung on; NULL likewise */
    gboolean goes_on;                   /* it is sung on the vowel of an earlier note */
    const aperta_expectation *expected; /* NULL: no vowel to judge */
    aperta_interval f1_to_f0;
    aperta_interval f1_to_2f0;
    double weight_s;   /* length, at half its worth where neither the bar nor the word stresses it */
    GPtrArray *advice; /* aperta_finding, highest level first; may be empty, never NULL */
    const struct aperta_sheet_note *advice_of; /* the note of the same syllable whose advice this is; NULL: its own */
    aperta_word_risk *risk;                    /* NULL: none known */
} aperta_sheet_note;
APERTA_ARRAY_OF(aperta_sheet_note)

typedef enum {
    APERTA_LANGUAGE_GIVEN,    /* by the caller */
    APERTA_LANGUAGE_OF_SCORE, /* the score says so */
    APERTA_LANGUAGE_GUESSED,  /* from the words */
    APERTA_LANGUAGE_UNKNOWN,  /* the score names one that we cannot read, or the words tell nothing */
} aperta_language_from;

typedef struct {
    int number;           /* 0: no words */
    const char *language; /* "en-US"; NULL: UNKNOWN */
    aperta_language_from from;
    double confidence;          /* only if GUESSED */
    gboolean knows_other_words; /* FALSE: whether a shape makes another word cannot be told */
    aperta_underlay *underlay;
    guint first_note; /* of aperta_sheet.notes; there are as many as in the score */
} aperta_sheet_verse;
APERTA_ARRAY_OF(aperta_sheet_verse)

typedef struct {
    int semitones; /* up from the score as written */
    aperta_key key;
    int lowest, highest; /* midi; 0: no notes */
    double change_s;     /* weight of the notes that want change, and that want watching */
    double watch_s;
    guint n_change, n_watch;
    gboolean fits; /* the singer's range; TRUE when none was given */
    int rank;      /* 1: the easiest */
} aperta_sheet_key;
APERTA_ARRAY_OF(aperta_sheet_key)

typedef struct {
    aperta_score *score;
    int lowest, highest; /* midi, of the part; 0: no notes */
    /* settings */
    aperta_settings settings;
    int octave;
    int transposed;            /* semitones up from what is written; all pitches here are as transposed */
    const char *written_tonic; /* of the key before that, "F"; NULL: not transposed, or no key is known; static */
    int range_low, range_high; /* midi; 0: not given */
    /* what is expected */
    GPtrArray *verses;       /* aperta_sheet_verse */
    GPtrArray *notes;        /* aperta_sheet_note, verse after verse */
    GPtrArray *expectations; /* aperta_expectation, in the order they are first sung */
    GPtrArray *groups;       /* aperta_group, the heaviest first, those that want change before the others */
    GPtrArray *first;        /* aperta_try: of them, what to try first; the best first, at most three */
    double weight_s;         /* of all notes that could be judged */
    double change_s, watch_s;
    GPtrArray *keys;     /* aperta_sheet_key in order of pitch; NULL: not asked for */
    GPtrArray *warnings; /* aperta_warning; never NULL */
} aperta_sheet;

/* Pronunciations that several sheets use one after the other: reading the lists of a language takes a while. */
typedef struct aperta_dictions aperta_dictions;

/* word_list: as in aperta_diction_create. */
aperta_dictions *aperta_dictions_create(const char *word_list);
void aperta_dictions_free(aperta_dictions *dictions);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_dictions, aperta_dictions_free)
/* The diction of a language, made ready on first use and kept. Errors: those of aperta_diction_create. */
aperta_diction *aperta_dictions_get(aperta_dictions *dictions, const char *language, GError **error);

typedef struct {
    const char *style; /* as for a take */
    const char *table;
    aperta_voice voice; /* UNKNOWN: the table's, else guessed from the pitches */
    const char *part;   /* as in aperta_score_options */
    int octave;
    int transpose;             /* semitones up, -24..24 */
    const char *language;      /* one of aperta_diction_languages; NULL: the score's, else guessed */
    const char *word_list;     /* as in aperta_diction_create */
    aperta_dictions *dictions; /* shared with other sheets, and used instead of word_list; NULL: the sheet's own */
    int verse;                 /* 0: all */
    int range_low, range_high; /* midi, of the singer; 0: not known */
    gboolean try_keys;
    int keys_low, keys_high; /* semitones, -24..24 */
} aperta_sheet_options;

/* Reads a score and says what to expect. Errors: those of aperta_score_read, aperta_vowel_table_load,
 * aperta_rules_load, aperta_diction_create, and RANGE for a verse that is not there, an octave, a transposition or keys
 * beyond what the options say, and for more notes than a sheet holds. A score without words is no error: it has notes
 * without vowels, and a warning. */
aperta_sheet *aperta_sheet_read(const char *path, const aperta_sheet_options *options, GError **error);
void aperta_sheet_free(aperta_sheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_sheet, aperta_sheet_free)

G_END_DECLS

#endif
