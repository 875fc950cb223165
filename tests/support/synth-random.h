/* synth-random.h - a small seeded generator, so that every synthetic sound is the same on every machine.
 *
 * splitmix64 (Steele, Lea & Flood 2014, "Fast splittable pseudorandom number generators", OOPSLA). */
#ifndef TESTS_SYNTH_RANDOM_H
#define TESTS_SYNTH_RANDOM_H

#include <glib.h>

typedef struct {
    guint64 state;
} synth_random;

/* Streams of neighbouring seeds are one stream, a draw apart. */
synth_random synth_random_seed(guint64 seed);
/* A seed far from those of the neighbours of seed, for many sounds that shall have nothing in common. */
guint64 synth_random_spread(guint64 seed);
guint64 synth_random_bits(synth_random *random);
double synth_random_uniform(synth_random *random, double low, double high);
double synth_random_gauss(synth_random *random, double sd);    /* mean 0 */
int synth_random_int(synth_random *random, int low, int high); /* both ends included */

/* A slow irregular movement of mean 0 and RMS 1: the sum of a few sinusoids between low_hz and high_hz. */
#define SYNTH_WANDER_PARTS 5
typedef struct {
    double hz[SYNTH_WANDER_PARTS];
    double phase_rad[SYNTH_WANDER_PARTS];
} synth_wander;

synth_wander synth_wander_draw(synth_random *random, double low_hz, double high_hz);
double synth_wander_at(const synth_wander *wander, double time_s);

#endif
