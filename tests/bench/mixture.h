/* mixture.h - phrases sung by our synthesiser, and what is laid under them. */
#ifndef TESTS_MIXTURE_H
#define TESTS_MIXTURE_H

#include "players.h"
#include "synth-phrase.h"

#include <aperta/base.h>

typedef struct {
    const char *name;
    int low_midi, high_midi;
    aperta_voice voice;
} mixture_range;

enum { MIXTURE_N_RANGES = 4 };
extern const mixture_range MIXTURE_RANGES[MIXTURE_N_RANGES];

typedef struct {
    const char *name;
    double snr_db, room_rt60_s, vibrato_cents, ripple_db;
} mixture_manner;

/* A random phrase of this voice. */
synth_take *mixture_sing(const mixture_range *range, const mixture_manner *how, guint64 seed);
/* Beyond the players: a second singer of another phrase; a piano that strikes a chord with each sung note. */
enum { MIXTURE_DUET = N_PLAYERS, MIXTURE_HARMONY, MIXTURE_KINDS };

/* A player or one of these, level_db re the voice where it sounds. FALSE: this player is not installed. */
gboolean mixture_add(synth_take *take, guint kind, double level_db, guint64 seed);
const char *mixture_name(guint kind);

#endif
