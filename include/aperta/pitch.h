/* aperta/pitch.h - from samples to a fundamental-frequency track, and from the track to notes. */
#ifndef APERTA_PITCH_H
#define APERTA_PITCH_H

#include <aperta/base.h>

G_BEGIN_DECLS

typedef struct {
    int sample_rate_hz; /* 8000 .. 48000 */
    double floor_hz;    /* lowest fundamental looked for, >= 50 */
    double ceiling_hz;  /* highest, <= 1600, above the floor */
    double hop_s;       /* 0.005 or 0.010 */
} aperta_pitch_config;

/* What else a frame tells; notes and warnings are made with it. */
typedef struct {
    float brightness;  /* 0..1: share of the power above 3 kHz (sibilants, breath) */
    float sonority_db; /* level between 400 and 3500 Hz: a vowel has more of it than a consonant, even a voiced one */
    float change;      /* >= 0: how fast the spectrum's shape moves, dB per 10 ms */
    float other_db;    /* level of lasting partials that are not the voice's, re all partials; -200: none */
    guint8 n_others;   /* how many they are */
    float echo_db;     /* the same of those that are left of what was sung before */
    float hum_db;      /* the same of mains hum */
    guint8 mains_hz;   /* of that hum: 50 or 60; 0: none */
    guint8 several;    /* 1: the pitch may be the common undertone of several tones */
    float borrowed;    /* 0..1: share of the pitch's power in partials that sound under other pitches too */
} aperta_pitch_feature;

typedef struct aperta_pitch aperta_pitch;

/* 60..1400 Hz at 10 ms for sample_rate_hz. */
aperta_pitch_config aperta_pitch_config_default(int sample_rate_hz);
aperta_pitch *aperta_pitch_create(const aperta_pitch_config *config);
void aperta_pitch_destroy(aperta_pitch *pitch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_pitch, aperta_pitch_destroy)

/* Any number of samples; start_s of the first is 0. */
void aperta_pitch_push(aperta_pitch *pitch, const float *samples, gsize n);

/* Ends the stream and resolves octaves and voicing over the whole of it. The track is the caller's; features, if not
 * NULL, gets one record a frame (free with g_free). offset_s is added to all times. */
aperta_f0_track *aperta_pitch_finish(aperta_pitch *pitch, double offset_s, aperta_pitch_feature **features);

/* Notes in order of time, never overlapping; an array of aperta_note the caller unrefs. features may be NULL. */
GArray *aperta_pitch_notes(const aperta_f0_track *track, const aperta_pitch_feature *features);

typedef enum {
    APERTA_VOICE_HEARD,   /* or too few notes to doubt it */
    APERTA_VOICE_DOUBTED, /* the notes are as still, and as sharply parted, as many an instrument's */
    APERTA_NO_VOICE,      /* no voice holds its pitch so still */
} aperta_voice_heard;

/* Whether a voice sings these notes, by how they stand and how one leads to the next. aperta_pitch_notes withholds the
 * vowels of all where none does. */
aperta_voice_heard aperta_pitch_voice_heard(const aperta_f0_track *track, const aperta_note *notes, guint n_notes);

/* Share of the voiced time in which the pitch, without its vibrato, rests: low in speech. 1 when there is too little to
 * tell. */
double aperta_pitch_resting_share(const aperta_f0_track *track);

/* How surely the notes' different pitches lie on one scale of semitones, whatever its A4: 1 in the mean, and over 3 in
 * one case of twenty, for pitches from anywhere; up to the number of pitches for exact ones. */
double aperta_pitch_on_scale(const aperta_note *notes, guint n_notes);

/* The A4 that the singer's notes agree best with, within a quarter tone of 440 Hz; 440 when there are too few notes. */
double aperta_pitch_tuning_hz(const aperta_note *notes, guint n_notes);

/* Key from the durations of the pitch classes and the last note; with a second one where that fits nearly as well. */
aperta_key aperta_pitch_key(const aperta_note *notes, guint n_notes, double a4_hz);

G_END_DECLS

#endif
