/* token.h - sung vowels drawn at random, with their true resonances and their true f0, ready for aperta_tract_read.
 *
 * Half of them are tubes (measured area functions, mildly deformed), half are table vowels (published means and
 * spreads). Breath noise 20 to 40 dB down, ripple of the source, vibrato, pressed to breathy voice; half of them in a
 * room of 0.3 s. */
#ifndef TESTS_TOKEN_H
#define TESTS_TOKEN_H

#include "synth-phrase.h"

#include <aperta/tract.h>

typedef struct {
    aperta_voice voice; /* MAN or WOMAN */
    double low_hz;      /* f0 is drawn between these, evenly in semitones */
    double high_hz;
    double vibrato_max_cents;
    double ripple_max_db;
    guint64 seed;
} token_spec;

token_spec token_spec_default(void);

typedef struct {
    aperta_voice voice;
    synth_take *take; /* take->notes[0] is the truth */
    aperta_f0_track *track;
    aperta_note note;
} token;

token *token_new(const token_spec *spec);
void token_free(token *t); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(token, token_free)

void token_read(const token *t, aperta_tract_reading *reading);

/* The parts, for takes that are made otherwise. */
aperta_f0_track *token_track(const synth_take *take); /* true f0, measured level */
aperta_note token_note(const synth_take *take, guint i);

#endif
