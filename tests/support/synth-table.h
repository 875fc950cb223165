/* synth-table.h - a vowel given by its formants and bandwidths, as printed tables give them.
 *
 * A cascade of resonators (Fant 1960, "Acoustic Theory of Speech Production"), evaluated in the continuous frequency
 * domain; above the formants that are given come those of a uniform tube of the same length. */
#ifndef TESTS_SYNTH_TABLE_H
#define TESTS_SYNTH_TABLE_H

#include "synth-random.h"
#include "synth-tract.h"

#define SYNTH_FORMANTS_MAX 6

typedef struct {
    int n;
    double hz[SYNTH_FORMANTS_MAX];           /* rising */
    double bandwidth_hz[SYNTH_FORMANTS_MAX]; /* > 0 */
    double length_cm; /* of the tract: places the higher formants; 17.5 man, 15 woman, 12.5 child */
} synth_table;

typedef enum {
    SYNTH_BANDWIDTHS_HAWKS_MILLER, /* Hawks & Miller 1995, at f0 = 132 Hz; held from 5000 Hz on */
    SYNTH_BANDWIDTHS_FANT,         /* Fant 1972, STL-QPSR 13(2-3) (formula from memory); needs four formants */
} synth_bandwidths;

/* Formant bandwidth at hz for fundamental f0_hz; Hawks & Miller 1995 (JASA 97:1343-1344). Range 100..5000 Hz. */
double synth_bandwidth_hawks_miller_hz(double hz, double f0_hz);

/* n formants with bandwidths by rule. */
synth_table synth_table_vowel(const double *hz, int n, double length_cm, synth_bandwidths rule);

/* A token from published means and standard deviations: each formant normal, kept within 2 SD and at least 15 % (and
 * 150 Hz) above the one below. sd_hz has n values; 0 keeps the mean. Bandwidths by the Hawks-Miller rule. */
synth_table synth_table_token(const double *mean_hz, const double *sd_hz, int n, double length_cm,
                              synth_random *random);

/* Each bandwidth times a random factor whose logarithm has this SD. */
void synth_table_spread_bandwidths(synth_table *table, double log_sd, synth_random *random);

/* Formants move on a log scale; a and b have the same number. */
synth_table synth_table_between(const synth_table *a, const synth_table *b, double x);

synth_tract *synth_table_tract(const synth_table *table, double top_hz);

#endif
