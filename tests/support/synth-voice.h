/* synth-voice.h - renders one voice from control values 1000 times a second.
 *
 * Additive: harmonic k has the complex amplitude source(k) * ripple(k) * tract(k f0) of that instant, so vibrato moves
 * the harmonics along the true gain of the tract, in level and in phase. Breath noise is pulsed with the glottal cycle
 * and goes through the same tract. Most users want synth-phrase.h, which makes the controls. */
#ifndef TESTS_SYNTH_VOICE_H
#define TESTS_SYNTH_VOICE_H

#include "synth-source.h"
#include "synth-tract.h"

#define SYNTH_CONTROLS_PER_S 1000

typedef struct {
    double f0_hz;      /* > 0, also where nothing sounds */
    double voice;      /* amplitude of the voiced sound, 1 = full */
    double aspiration; /* amplitude of the breath noise that goes through the tract; at 1 it lies snr_db below full
                          voice */
    double hiss;       /* RMS of breaths and fricatives re full voice; these do not go through the tract */
    double hiss_hz;    /* centre of that noise */
    double rd;         /* source shape, see synth-source.h */
    double tract;      /* place in the list of tracts; 2.5 is half way from number 2 to number 3, which must be alike */
} synth_control;

typedef struct {
    int sample_rate_hz;  /* 8000..48000 */
    double level_db;     /* RMS over the sounding part, dB re full scale */
    double snr_db;       /* voiced sound over its breath noise; INFINITY = no breath noise */
    synth_source source; /* family of pulses */
    double ripple_db;    /* SD of a fixed deviation of each harmonic of the source */
    double floor_db;     /* RMS of white background noise, dB re full scale; -INFINITY = none */
    double room_rt60_s;  /* 0 = no room */
    guint64 seed;
} synth_voice;

/* 16 kHz, -20 dB, breath noise 40 dB down, no ripple, no background, no room, seed 1. */
synth_voice synth_voice_default(void);

/* Samples (free with g_free), n_controls / 1000 seconds of them. */
float *synth_voice_render(const synth_voice *voice, synth_tract *const *tracts, int n_tracts,
                          const synth_control *controls, gsize n_controls, gsize *n_samples);

/* In place: direct sound, six early reflections, a tail that falls by 60 dB in rt60_s; level of the direct sound is
 * kept. */
void synth_room_apply(float *samples, gsize n, int sample_rate_hz, double rt60_s, guint64 seed);

#endif
