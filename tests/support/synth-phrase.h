/* synth-phrase.h - sung notes and phrases with everything about them known.
 *
 * One note, for tests of the tract (times in the take; the note begins SYNTH_LEAD_S after its start):
 *
 *     synth_note_spec spec = synth_note_default();
 *     synth_tube tube;
 *     synth_tube_story("ɛ", &tube);
 *     synth_tube_scale(&tube, 0.86);                       // a woman's length
 *     spec.vowel = synth_vowel_of_tube(&tube);
 *     spec.f0_hz = 440.0;
 *     spec.vibrato.extent_cents = 60.0;
 *     spec.voice.snr_db = 25.0;
 *     spec.voice.ripple_db = 2.0;
 *     spec.voice.room_rt60_s = 0.3;
 *     spec.voice.seed = 7;
 *     g_autoptr(synth_take) take = synth_note_sing(&spec);
 *     ... take->samples, take->n_samples ...
 *     double true_f1_hz = take->notes[0].resonances[0].hz;
 *
 * A random phrase, for tests of pitch and notes: synth_phrase_random() and then the same fields; or a phrase of one's
 * own: fill synth_syllable records (start from synth_syllable_default()) and call synth_phrase_sing(). */
#ifndef TESTS_SYNTH_PHRASE_H
#define TESTS_SYNTH_PHRASE_H

#include "synth-table.h"
#include "synth-tube.h"
#include "synth-voice.h"

/* ---- vowels ---------------------------------------------------------------------------------------------------- */

typedef struct {
    gboolean is_tube;
    synth_tube tube;
    synth_table table;
} synth_vowel;

synth_vowel synth_vowel_of_tube(const synth_tube *tube);
synth_vowel synth_vowel_of_table(const synth_table *table);
synth_tract *synth_vowel_tract(const synth_vowel *vowel, double top_hz);

/* ---- what is to be sung ---------------------------------------------------------------------------------------- */

typedef struct {
    double rate_hz;
    double extent_cents; /* half of peak to peak; 0 = straight */
    double delay_s;      /* from the start of the note; then it grows within 0.15 s */
    double irregularity; /* RMS share by which the rate wanders, 2.5 times that for the extent; 0.02 is natural */
} synth_vibrato;

typedef enum {
    SYNTH_ONSET_VOWEL,     /* straight into the vowel; after another note without a rest: legato */
    SYNTH_ONSET_DIP,       /* the same, the voice drops by about 20 dB for a moment */
    SYNTH_ONSET_STOP,      /* silence, then a burst: p t k */
    SYNTH_ONSET_FRICATIVE, /* unvoiced noise: s f sh */
    SYNTH_ONSET_ASPIRATE,  /* breath through the vowel: h */
    SYNTH_ONSET_NASAL,     /* voiced murmur: m n */
    SYNTH_ONSET_LATERAL,   /* voiced, softer, low F1: l w j */
} synth_onset;

typedef struct {
    double start_s; /* of the vowel; a consonant stands before it and shortens the note before */
    double end_s;
    double midi; /* 69 = A4 = 440 Hz; fractions are cents / 100 */
    synth_vibrato vibrato;
    synth_onset onset;
    double glide_s;    /* length of the pitch slide from the note before, when the voice goes on; 0 = none */
    double breath_s;   /* an audible breath that ends just before the note (only in a rest) */
    double level_db;   /* re the phrase */
    double breathy_db; /* more breath noise than the voice's snr_db says */
    double rd;         /* source shape, 0.3 pressed .. 1 .. 2.7 breathy */
    double rd_vibrato; /* +- change of rd with the vibrato */
    synth_vowel vowel;
    gboolean glides; /* a diphthong: the vowel moves to vowel_end in the second half of the note */
    synth_vowel vowel_end;
} synth_syllable;

synth_syllable synth_syllable_default(void); /* one second of a man's uniform tube at A3, straight */

/* ---- what was sung: sound and truth ---------------------------------------------------------------------------- */

#define SYNTH_TRUTH_HOP_S 0.010

typedef struct {
    double start_s; /* the vowel's; of a legato note the middle of the slide */
    double end_s;   /* the consonant or the silence after it; before a legato note the middle of the slide */
    synth_onset onset;
    double midi;
    double f0_hz;                /* of midi at A4 = 440 Hz: vibrato and drift averaged out */
    gboolean vibrato_partial;    /* there is vibrato, but less than one cycle of it is fully grown; rate and extent 0 */
    double vibrato_rate_hz;      /* as sung, where the vibrato is fully grown; 0 = straight, or partial */
    double vibrato_extent_cents; /* half of peak to peak */
    int n_resonances;
    synth_resonance resonances[SYNTH_RESONANCES_MAX]; /* of the vowel, at its start if it glides */
    gboolean glides;
    synth_resonance last[SYNTH_RESONANCES_MAX]; /* only if it glides: at its end */
} synth_truth;

typedef struct {
    int sample_rate_hz;
    gsize n_samples;
    float *samples;
    guint n_frames; /* frame i stands at i * SYNTH_TRUTH_HOP_S */
    double *f0_hz;  /* 0 where there is no voice */
    guint n_notes;
    synth_truth *notes;
} synth_take;

void synth_take_free(synth_take *take); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(synth_take, synth_take_free)

/* Syllables in order of time, not overlapping; seconds >= the last end. drift_cents: RMS of a slow wander of the pitch.
 */
synth_take *synth_phrase_sing(const synth_voice *voice, const synth_syllable *syllables, guint n, double drift_cents,
                              double seconds);

/* ---- one note -------------------------------------------------------------------------------------------------- */

#define SYNTH_LEAD_S  0.10 /* silence before a single note */
#define SYNTH_TRAIL_S 0.15

typedef struct {
    double f0_hz;
    double seconds;
    synth_vibrato vibrato;
    synth_vowel vowel;
    gboolean glides;
    synth_vowel vowel_end;
    double rd;
    double rd_vibrato;
    double drift_cents;
    synth_voice voice; /* sample rate, SNR, ripple, room, level, seed */
} synth_note_spec;

/* One second at 220 Hz, vibrato 5.8 Hz of extent 0, uniform tube of 17.5 cm, rd 1, no drift, synth_voice_default(). */
synth_note_spec synth_note_default(void);
synth_take *synth_note_sing(const synth_note_spec *spec);

/* ---- random phrases -------------------------------------------------------------------------------------------- */

typedef struct {
    int low_midi; /* E2 = 40 .. C6 = 84 */
    int high_midi;
    guint n_notes;
    double vibrato_max_cents; /* each note draws from 0 .. this; a third of them are straight */
    double shortest_s;
    double longest_s;
    synth_voice voice; /* its seed also draws the phrase */
} synth_phrase_spec;

/* A baritone to tenor range (45..64), 10 notes of 0.25..1.2 s, vibrato up to 100 cents, breath noise 20 dB down. */
synth_phrase_spec synth_phrase_default(void);
synth_take *synth_phrase_random(const synth_phrase_spec *spec);

#endif
