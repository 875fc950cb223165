/* players.h - what may sound beside a voice, made by simple synthesis or, where it is installed, by fluidsynth. */
#ifndef TESTS_PLAYERS_H
#define TESTS_PLAYERS_H

#include <glib.h>

typedef enum {
    PLAYER_DRONE,  /* root and fifth without end, eight harmonics each */
    PLAYER_PIANO,  /* chords struck twice a second, stretched partials that decay, the high ones sooner */
    PLAYER_GUITAR, /* the same chords note after note */
    PLAYER_DRUMS,  /* clicks and thumps: no pitch */
    PLAYER_HUM_50, /* mains hum with its odd harmonics */
    PLAYER_HUM_60,
    PLAYER_FAN,      /* noise that falls by 6 dB an octave, with a hum of its blades */
    PLAYER_GM_PIANO, /* General MIDI sounds, by fluidsynth: other people's instruments, for judging */
    PLAYER_GM_GUITAR,
    PLAYER_GM_ORGAN,
    PLAYER_GM_STRINGS,
    PLAYER_GM_CHOIR,
    N_PLAYERS,
} player_kind;

extern const char *const PLAYER_NAMES[N_PLAYERS];

/* n samples at rate_hz, RMS 1 over all of them; free with g_free. NULL: fluidsynth or its sounds are not there. */
float *player_sound(player_kind kind, gsize n, int rate_hz, guint64 seed);

typedef enum {
    PLAYER_MELODY, /* one tone after the other */
    PLAYER_CHORDS,
    PLAYER_BAND, /* chords of the program and of strings, a bass, drums */
} player_score;

/* The same by a General MIDI program (0 .. 127). The sound font is default-GM.sf2, or that of APERTA_SOUND_FONT. */
float *player_score_sound(player_score score, int program, gsize n, int rate_hz, guint64 seed);

/* Struck strings at these moments, n samples at rate_hz; free with g_free. */
float *player_strings(const int *midi, const double *start_s, guint n_strings, gsize n, int rate_hz, guint64 seed);

#endif
