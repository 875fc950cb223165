/* aperta/base.h - the words every part of Aperta shares: units, errors and plain records.
 *
 * Conventions of the whole library
 *   Units stand last in every name (f0_hz, level_db, start_s, extent_cents). dB are re full scale.
 *   Samples are float, mono, +-1.0 full scale; analysis is double.
 *   A function that can fail because of a user's data takes a GError **; it sets it and returns FALSE or NULL.
 *   "None", "cannot be measured" and "failed" are three different answers: a status says which, never a bare 0 or NaN.
 *   Strings inside records belong to the record unless said otherwise; const char * results that are said to be static
 *   are never freed.
 */
#ifndef APERTA_BASE_H
#define APERTA_BASE_H

#include <glib.h>

G_BEGIN_DECLS

/* ---- errors -------------------------------------------------------------------------------------------------- */

#define APERTA_ERROR (aperta_error_quark())
GQuark aperta_error_quark(void);

typedef enum {
    APERTA_ERROR_NOT_FOUND,   /* no such file, or nothing of that name */
    APERTA_ERROR_UNREADABLE,  /* it is there but cannot be opened or read */
    APERTA_ERROR_FORMAT,      /* it was read, but is not what it should be */
    APERTA_ERROR_RANGE,       /* a value outside what makes sense (--from after the end, channel 9 of 2) */
    APERTA_ERROR_UNWRITABLE,  /* output could not be written; nothing half-written is left */
    APERTA_ERROR_INTERRUPTED, /* the caller's cancel flag was raised */
} aperta_error;

/* ---- units --------------------------------------------------------------------------------------------------- */

/* Declares NAME_at: an element of a GPtrArray of NAME, as what it is. */
#define APERTA_ARRAY_OF(NAME)                                                                                          \
    static inline NAME *NAME##_at(const GPtrArray *array, guint index)                                                 \
    {                                                                                                                  \
        return (NAME *)g_ptr_array_index(array, index);                                                                \
    }

/* Text of others (files, their names, words of a command line) as it may be shown. A copy on one line that is valid
 * UTF-8: a line feed or tab is a blank; every other command to a screen is U+FFFD: C0 and C1 controls (ISO 6429), marks
 * that turn the direction of what follows (UAX #9), line and paragraph separators. NULL gives "". The caller frees. */
char *aperta_shown(const char *text);
/* The same of several lines, whose line feeds stay. */
char *aperta_shown_lines(const char *text);

/* Equal temperament (ISO 16:1975 for A4 = 440 Hz). midi: 69 = A4, fractions are cents / 100. hz > 0, a4_hz > 0. */
double aperta_hz_to_midi(double hz, double a4_hz);
double aperta_midi_to_hz(double midi, double a4_hz);

/* From low_hz up to high_hz; negative when high_hz is the lower. Both > 0. */
double aperta_semitones_between(double low_hz, double high_hz);
double aperta_cents_between(double low_hz, double high_hz);

/* Critical-band rate, Traunmueller 1990 (JASA 88:97-100), with its end corrections below 2 and above 20.1 Bark.
 * hz in 0..20000; exact inverses of each other. */
double aperta_hz_to_bark(double hz);
double aperta_bark_to_hz(double bark);

double aperta_power_to_db(double power); /* 10 log10, never below -200 dB */

/* ---- notes and keys ------------------------------------------------------------------------------------------ */

typedef struct {
    gboolean known; /* FALSE: too few notes, or no key stands out; the rest is then meaningless */
    int tonic;      /* pitch class, 0 = C ... 11 = B */
    gboolean minor;
    double confidence;  /* 0..1 */
    gboolean has_other; /* another key fits nearly as well */
    int other_tonic;
    gboolean other_minor;
} aperta_key;

#define APERTA_PITCH_NAME_MAX 12

/* Writes a pitch name such as "A♭4" (UTF-8) for a whole midi number 0..127, spelled for the key; with key NULL or
 * unknown, the usual spellings C C♯ D E♭ E F F♯ G A♭ A B♭ B. */
void aperta_pitch_spell(int midi, const aperta_key *key, char name[APERTA_PITCH_NAME_MAX]);

/* Reads "A4", "Ab4", "A♭4", "F#4", "F♯4", "Bbb3", all that aperta_pitch_spell writes. FALSE when it is none, or its
 * midi number is not in 0..127. */
gboolean aperta_pitch_parse(const char *text, int *midi);

/* "A♭"; static. key must be known. */
const char *aperta_key_tonic_name(const aperta_key *key);

/* The other key of a key that has one. */
aperta_key aperta_key_other(const aperta_key *key);

/* ---- voices -------------------------------------------------------------------------------------------------- */

typedef enum {
    APERTA_VOICE_UNKNOWN,
    APERTA_VOICE_WOMAN,
    APERTA_VOICE_MAN,
    APERTA_VOICE_CHILD,
    APERTA_VOICE_SOPRANO,
    APERTA_VOICE_MEZZO,
    APERTA_VOICE_ALTO,
    APERTA_VOICE_TENOR,
    APERTA_VOICE_BARITONE,
    APERTA_VOICE_BASS,
} aperta_voice;

/* "woman", "soprano", ...; FALSE for any other word. */
gboolean aperta_voice_parse(const char *word, aperta_voice *voice);
const char *aperta_voice_word(aperta_voice voice); /* static; "unknown" for UNKNOWN */
/* WOMAN, MAN, CHILD, or UNKNOWN: the group whose tract length and table a voice type shares. */
aperta_voice aperta_voice_group(aperta_voice voice);

/* ---- misspelt names ------------------------------------------------------------------------------------------- */

/* The one of n names that word is a slip of; NULL: none is near enough. */
const char *aperta_name_nearest(const char *word, const char *const *names, gsize n);
/* "; did you mean \"high\"?", or "" when no name is near enough; the caller frees. */
char *aperta_name_hint(const char *word, const char *const *names, gsize n);

/* ---- records that the analysing folders hand to each other ----------------------------------------------------- */

typedef struct {
    double start_s;
    double end_s;
} aperta_span;

/* One frame of the fundamental. f0_hz means something only where voiced. */
typedef struct {
    float f0_hz;
    float confidence; /* 0..1, that the frame is voiced at this f0 */
    float level_db;   /* RMS of the frame, dB re full scale */
    guint8 voiced;
} aperta_f0;

/* Equally spaced frames; frame i is centred on start_s + i * hop_s (seconds of the recording). */
typedef struct {
    double start_s;
    double hop_s;
    guint n_frames;
    aperta_f0 *frames; /* owned */
} aperta_f0_track;

aperta_f0_track *aperta_f0_track_new(double start_s, double hop_s, guint n_frames);
void aperta_f0_track_free(aperta_f0_track *track); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_f0_track, aperta_f0_track_free)
double aperta_f0_track_time_s(const aperta_f0_track *track, guint frame);
/* The frame nearest to time_s, held to 0 .. n_frames-1. */
guint aperta_f0_track_frame_at(const aperta_f0_track *track, double time_s);

typedef enum {
    APERTA_VIBRATO_TOO_SHORT, /* the steady part is too short to tell */
    APERTA_VIBRATO_STRAIGHT,  /* long enough, and no regular vibrato */
    APERTA_VIBRATO_MEASURED,
} aperta_vibrato_status;

typedef struct {
    aperta_vibrato_status status;
    double rate_hz;      /* only if measured */
    double extent_cents; /* only if measured; +- this, half of peak to peak */
} aperta_vibrato;

/* Why vowel and resonances of a note are not looked for. */
typedef enum {
    APERTA_WITHHELD_NOT,
    APERTA_WITHHELD_COMPANY,  /* something as loud sounds too, and the pitch may be its own */
    APERTA_WITHHELD_SEVERAL,  /* the pitch is the common undertone of several tones */
    APERTA_WITHHELD_NO_VOICE, /* what sounds is rather an instrument */
    APERTA_WITHHELD_ADVICE,   /* it may be one: they are told as guesses, and only advice is withheld */
} aperta_withheld;

/* A sung note as the pitch tells it. */
typedef struct {
    aperta_span span;
    aperta_span steady; /* within span: onset, consonants and slides left out */
    double f0_hz;       /* centre of the steady part, vibrato averaged out on a log scale */
    aperta_vibrato vibrato;
    gboolean accompanied; /* another pitch sounds about that time: resonances are told as far as it leaves them clear */
    aperta_withheld withheld;
} aperta_note;

/* One harmonic of a note, averaged over its steady part. */
typedef struct {
    int number; /* 1 = the fundamental */
    double hz;
    double level_db;
} aperta_harmonic;

#define APERTA_HARMONICS_MAX 48

typedef enum {
    APERTA_UNKNOWN,  /* cannot be told */
    APERTA_MEASURED, /* hz, low_hz and high_hz are known */
    APERTA_BOUNDED,  /* only one side is known (f0 above F1: no harmonic lies below it) */
} aperta_status;

typedef struct {
    double hz;
    double weight; /* 0..1, share of the probability */
} aperta_alternative;

#define APERTA_ALTERNATIVES_MAX 3

/* A resonance of the vocal tract (fR1, fR2 ... in the notation of Titze et al. 2015; singers say F1, F2). */
typedef struct {
    aperta_status status;
    double hz;        /* only if measured */
    gboolean has_low; /* measured: both TRUE, the 90 % interval; bounded: one of them TRUE, the one-sided 95 % limit */
    gboolean has_high;
    double low_hz;
    double high_hz;
    int n_alternatives;
    aperta_alternative alternatives[APERTA_ALTERNATIVES_MAX]; /* other values that fit nearly as well */
} aperta_resonance;

/* TRUE where a measured resonance is better told by its ends than by a value: its interval is wider than some
 * semitones. */
gboolean aperta_resonance_is_wide(const aperta_resonance *resonance);

#define APERTA_N_RESONANCES 3 /* F1, F2, F3 */

/* One way to explain a note: F1, F2 and F3 together, normal on a scale of ln Hz. */
typedef struct {
    double weight; /* 0..1, share of the probability; those of a posterior sum to 1 */
    double ln_hz[APERTA_N_RESONANCES];
    double covariance[APERTA_N_RESONANCES][APERTA_N_RESONANCES];
} aperta_mode;

#define APERTA_MODES_MAX 4

/* All that a reading says of F1, F2 and F3 at once, correlations and second minima included. What a status calls
 * bounded is in it too: as a wide share below f0. */
typedef struct {
    int n_modes; /* 0: nothing is known */
    aperta_mode modes[APERTA_MODES_MAX];
    gboolean has_prior; /* the modes hold this normal prior too (ln Hz, independent); one's own must take its place */
    double prior_ln_hz[APERTA_N_RESONANCES];
    double prior_sd[APERTA_N_RESONANCES];
} aperta_posterior;

/* Probability that resonance i (0 is F1) lies below hz. The posterior has modes. */
double aperta_posterior_below(const aperta_posterior *posterior, int i, double hz);
/* The hz below which that share of its probability lies; share in 0..1, both ends left out. */
double aperta_posterior_quantile_hz(const aperta_posterior *posterior, int i, double share);

/* What it says of resonance i, whose status is known: the median and the 90 % interval, the one-sided 95 % limit, or
 * nothing. Without alternatives. */
aperta_resonance aperta_posterior_resonance(const aperta_posterior *posterior, int i, aperta_status status);

/* Why a sound has no vowel, as far as its harmonics tell; a voice is never certain. */
typedef enum {
    APERTA_SOUND_POSSIBLE, /* a voice may sound like this */
    APERTA_SOUND_BARE,     /* hardly an overtone: a whistle, a flute, a test tone, a voice hidden by noise */
    APERTA_SOUND_EVEN,     /* no resonance stands out: clicks, buzzers, test tones */
    APERTA_SOUND_ODD,      /* every second harmonic is missing: a square wave, a clarinet */
} aperta_sound;

/* What is known of the tract during one note. */
typedef struct {
    aperta_sound sound;                               /* other than POSSIBLE: nothing else but harmonics is told */
    aperta_resonance resonances[APERTA_N_RESONANCES]; /* the best estimate */
    aperta_posterior posterior;                       /* and what is behind it */
    aperta_resonance lpc[APERTA_N_RESONANCES];        /* the classical tracker alone */
    gboolean glides;                                  /* the vowel moves (a diphthong) */
    aperta_resonance first[APERTA_N_RESONANCES];      /* only if glides: near the start of the steady part */
    aperta_resonance last[APERTA_N_RESONANCES];       /* only if glides: near its end */
    aperta_posterior first_posterior;                 /* only if glides: what is behind first */
    aperta_posterior last_posterior;                  /* and last */
    int n_harmonics;
    aperta_harmonic harmonics[APERTA_HARMONICS_MAX];
} aperta_tract_reading;

/* One frame of the resonance track; a value means something only where its bit is set in known (1 = F1, 2 = F2, 4 =
 * F3). */
typedef struct {
    float hz[APERTA_N_RESONANCES];
    guint8 known;
} aperta_tract_frame;

/* ---- records of a score ---------------------------------------------------------------------------------------- */

typedef enum {
    APERTA_SYLLABIC_SINGLE, /* a word of one syllable */
    APERTA_SYLLABIC_BEGIN,
    APERTA_SYLLABIC_MIDDLE,
    APERTA_SYLLABIC_END,
} aperta_syllabic;

/* What is printed under a note for one verse. */
typedef struct {
    int verse;  /* 1.. */
    char *text; /* as printed, hyphens of the engraving left out; never NULL or empty */
    aperta_syllabic syllabic;
    char *language; /* BCP 47 tag of the score ("it", "en-GB"), or NULL */
} aperta_lyric;

/* A note of a score as it sounds: ties joined, transposed and shifted to the octave that is sung. */
typedef struct {
    double start_s; /* at the written tempi, repeats not unfolded; a grace note takes no time: start_s == end_s */
    double end_s;
    double start_quarters;  /* from the start of the piece */
    double length_quarters; /* 0: a grace note */
    double stress;          /* 0..1, metric weight: 1 on the first beat of a bar; from memory, see score-tuning.h */
    int midi;
    char name[APERTA_PITCH_NAME_MAX]; /* spelled as written where the score writes a spelling, else for its key */
    int fifths;                       /* key signature that sounds here, -7..7: sharps are positive */
    char *bar;                        /* number of the bar as printed, "12", "0" for a pickup; never NULL */
    guint element;                    /* for aperta_score_write_marked: which note of the file this one begins with */
    guint n_lyrics;                   /* 0: a melisma goes on, or nothing is sung */
    aperta_lyric *lyrics; /* by verse, then as printed; several of one verse are an elision (two syllables sung on
                           * one note) */
} aperta_score_note;

void aperta_score_note_clear(aperta_score_note *note); /* frees what it holds, not itself */

/* How much of a syllable's sound is known. */
typedef enum {
    APERTA_SOUND_SURE,     /* the nuclei of the word match its syllables */
    APERTA_SOUND_LAID_OUT, /* their counts differ; which vowel falls on which syllable was decided by us */
    APERTA_SOUND_OWN,      /* from the user's own word list */
    APERTA_SOUND_NONE,     /* cannot be told: no letters, or no rule */
} aperta_sound_origin;

/* What a person should know of a sound. */
typedef enum {
    APERTA_SOUND_REMARK_NONE,
    APERTA_SOUND_REMARK_LISTED, /* text: of the word list, or of the table of what singing does with sounds */
    /* it cannot be told, since */
    APERTA_SOUND_REMARK_NOT_LATIN, /* the word is not written in Latin letters */
    APERTA_SOUND_REMARK_NO_LETTER, /* or without the letter of a vowel */
    APERTA_SOUND_REMARK_TOO_LONG,  /* or too long for a word */
    APERTA_SOUND_REMARK_NO_VOWEL,  /* or none of its vowels falls on the syllable */
    /* it can */
    APERTA_SOUND_REMARK_MORE_VOWELS, /* text: IPA of those that the note carries too, "e a" */
    APERTA_SOUND_REMARK_LIAISON,     /* text: the word that ends in its first consonant */
    APERTA_SOUND_REMARK_SYLLABIC,    /* spoken, a consonant holds the syllable */
    APERTA_SOUND_REMARK_GLIDE,       /* spoken, the vowel is a glide */
    APERTA_SOUND_N_REMARKS,          /* how many kinds there are */
} aperta_sound_remark_kind;

/* In words: aperta_sound_remark_text. */
typedef struct {
    aperta_sound_remark_kind kind;
    char *text; /* NULL where the kind names none */
} aperta_sound_remark;

/* How one syllable is sung. IPA in UTF-8, no length marks and no stress marks. */
typedef struct {
    aperta_sound_origin origin;
    gboolean stressed; /* carries the stress of its word */
    char *ipa;         /* the whole syllable, "mun"; NULL: NONE */
    char *nucleus;     /* what is sustained, "u"; the first vowel of a diphthong; NULL: NONE or a syllabic consonant */
    char *off_glide;   /* what a diphthong closes to, "ɪ"; NULL: no diphthong */
    char *judged_as;   /* the reference vowel whose row in a table stands for the nucleus, "u"; NULL: none does */
    aperta_sound_remark remark; /* its text belongs to the sound */
} aperta_syllable_sound;

void aperta_syllable_sound_clear(aperta_syllable_sound *sound); /* frees what it holds, not itself */

/* ---- where the reference data is ------------------------------------------------------------------------------- */

/* Folder that holds vowels/ and rules/. Run from the build tree it is the source's refdata; installed, it is
 * share/aperta beside the library, wherever the whole was moved. Static, never NULL. */
const char *aperta_refdata_dir(void);

/* Folder of the programs that the library starts by itself (aperta-decode). Run from the build tree it is that;
 * installed, it is libexec/aperta beside the library, wherever the whole was moved. Static, never NULL. */
const char *aperta_libexec_dir(void);

G_END_DECLS

#endif
