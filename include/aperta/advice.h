/* aperta/advice.h - rules about a note and its vowel, what they say, and the shape to try instead. */
#ifndef APERTA_ADVICE_H
#define APERTA_ADVICE_H

#include <aperta/base.h>
#include <aperta/vowel.h>

G_BEGIN_DECLS

typedef enum { APERTA_LEVEL_FINE, APERTA_LEVEL_WATCH, APERTA_LEVEL_CHANGE } aperta_level;
const char *aperta_level_word(aperta_level level); /* "fine", "watch", "change"; static */

/* All that a rule may ask about a note. */
typedef struct {
    aperta_voice voice;
    double f0_hz;
    int midi;
    double duration_s;
    const aperta_vowel *vowel;      /* as intended, else as heard; NULL: not known by its name */
    aperta_vowel_class vowel_class; /* known: only this much of the vowel is told, and vowel is not its name */
    const aperta_vowel_share
        *shares;    /* n_shares vowels that it may be, where it was heard and nobody told it; a change */
    guint n_shares; /* is asked for only if nearly all of them want one. 0: the vowel is certain */
    aperta_resonance resonances[APERTA_N_RESONANCES]; /* as sung, or as the table expects when expected is TRUE */
    const aperta_posterior *posterior; /* behind resonances: tells where a bounded one lies; NULL: not known */
    int n_notes;                       /* that the resonances are of together; 0, 1: one */
    gboolean expected;                 /* no sound: resonances are the table's mean and spread */
    gboolean unstressed;               /* of its word, as a lyric tells */
    aperta_vibrato vibrato;
    const aperta_key *key;        /* for spelling pitches in words; NULL: not known */
    const char *pitch_name;       /* as a score spells it; NULL: spelled for the key */
    const char *other_pitch_name; /* of notes together: the higher pitch, where they have two; NULL: they have one */
    const aperta_vowel *const *avoid; /* shapes that are not wanted, NULL-terminated; NULL: none */
} aperta_situation;

/* What the jaw does on the way to a shape. */
typedef enum {
    APERTA_JAW_A_TOUCH, /* a touch lower than in speech: the vowel stays */
    APERTA_JAW_WIDE,    /* lower than in speech */
    APERTA_JAW_FALLS,   /* from the vowel that is sung to the shape's */
    APERTA_JAW_FALLS_TO /* to the shape's, where nobody would think of the vowel before as one of its own */
} aperta_jaw;

typedef enum {
    APERTA_TONGUE_FORWARD,
    APERTA_TONGUE_FLAT,
    APERTA_TONGUE_LOW,
    APERTA_TONGUE_OUT_OF_R, /* down from an r-coloured vowel */
} aperta_tongue;

typedef enum {
    APERTA_LIPS_EASY,
    APERTA_LIPS_NO_SMILE, /* easy, on a close vowel, which a smile does not open */
    APERTA_LIPS_ROUND,    /* softly, the opening larger */
    APERTA_LIPS_UNROUND,
} aperta_lips;

/* A way to sing the vowel: a target, and the way there. aperta_shape_name and aperta_shape_how say it. */
typedef struct {
    const aperta_vowel *vowel;  /* the vowel the shape is named after */
    const aperta_vowel *from;   /* the vowel that is sung; NULL: its name is not told */
    const aperta_vowel *before; /* only on the way to it: the vowel behind, "between ee and eh"; NULL: there */
    gboolean jaw_wide;          /* opened beyond the spoken vowel: "eh, jaw wide" */
    aperta_jaw jaw;
    aperta_tongue tongue;
    aperta_lips lips;
    gboolean jaw_last; /* the style moves tongue and lips before the jaw */
    double f1_hz;
    double f2_hz;
    double moved_bark; /* from the vowel as sung (or expected) */
} aperta_shape;
APERTA_ARRAY_OF(aperta_shape)

/* The caller frees the copy. */
aperta_shape *aperta_shape_copy(const aperta_shape *shape);
void aperta_shape_free(aperta_shape *shape); /* NULL is allowed */

/* What is said before the words of a rule that asks for less than it would. */
typedef enum {
    APERTA_HEDGE_NONE,
    APERTA_HEDGE_PASSING, /* a short unstressed syllable may pass as it is */
    APERTA_HEDGE_LIKELY,  /* it is likely, not sure */
} aperta_hedge;

typedef struct {
    char *rule; /* section name in the rules file: "belt-open" */
    aperta_level level;
    char *words; /* for the singer, as the rules file has them: with placeholders. aperta_finding_text fills them */
    aperta_hedge hedge;
    struct advice_facts *facts; /* what the placeholders stand for; NULL: the words have none */
    char *brief;                /* what is the matter, in one sentence without numbers, and ... */
    char *remedy;               /* ... what to try where there is no shape; placeholders as in words; NULL: not said */
    char *mark;                 /* a word for a sheet where a change has no shape: "lighter"; NULL: none */
    char *reason;
    char *source;        /* citation or "common practice, no source" */
    aperta_shape *shape; /* NULL: none */
    GPtrArray *ladder; /* aperta_shape: steps from the nearest to the farthest, the shape as the last; NULL: no shape */
} aperta_finding;
APERTA_ARRAY_OF(aperta_finding)

void aperta_finding_free(aperta_finding *finding);

/* One line of --explain: a rule, whether it spoke, and the first condition that decided
 * (aperta_explanation_because says it). */
typedef struct {
    char *rule;
    gboolean spoke;
    struct advice_account *account;
} aperta_explanation;
APERTA_ARRAY_OF(aperta_explanation)

void aperta_explanation_free(aperta_explanation *explanation);

typedef struct aperta_rules aperta_rules;

/* name: a style of the reference data ("belt"), or the path of a .rules file of one's own (it contains '/' or ends in
 * .rules). Errors: NOT_FOUND (lists the styles there are), UNREADABLE, FORMAT ("FILE:LINE:COLUMN: expected ...";
 * larger than 1 MB), INTERRUPTED. A pipe may be read more than once. */
aperta_rules *aperta_rules_load(const char *name, GError **error);
void aperta_rules_free(aperta_rules *rules);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_rules, aperta_rules_free)
const char *aperta_rules_style(const aperta_rules *rules); /* "belt" */
const char *aperta_rules_title(const aperta_rules *rules); /* "Belt: high notes sung in chest-like voice" */
/* Names of all shipped styles, sorted; free with g_strfreev. */
char **aperta_rules_names(GError **error);
/* What `aperta rules NAME` shows: every setting and rule with its reason and source, as text the caller frees. */
char *aperta_rules_describe(const aperta_rules *rules);

/* Applies all rules to one note. Returns findings (aperta_finding, freed with the array), highest level first; empty
 * when no rule speaks. explanations, if not NULL, gets one aperta_explanation a rule. */
GPtrArray *aperta_advise(const aperta_rules *rules, const aperta_vowel_table *table, const aperta_situation *situation,
                         GPtrArray **explanations);

/* Why no rule speaks about a note. */
typedef enum {
    APERTA_SILENCE_NONE,    /* one does */
    APERTA_SILENCE_LOW,     /* the note lies below all pitches that the rules for this voice speak about */
    APERTA_SILENCE_HIGH,    /* above them */
    APERTA_SILENCE_UNTOLD,  /* what a rule asks of vowel or resonances is not known */
    APERTA_SILENCE_NOTHING, /* where the resonances most probably lie, the rules ask for nothing */
} aperta_silence;
/* Of a note without findings. reach_midi: LOW, HIGH: the nearest pitch that rules speak about; else left alone. */
aperta_silence aperta_advise_silence(const aperta_rules *rules, const aperta_vowel_table *table,
                                     const aperta_situation *situation, int *reach_midi);

G_END_DECLS

#endif
