/* synth-tube.h - a vocal tract as a row of short tubes, computed in the frequency domain: the ground truth of the
 * tests.
 *
 * Plane waves in each section; losses at the walls (friction, heat, yielding) as in Sondhi & Schroeter 1987, "A hybrid
 * time-frequency domain articulatory speech synthesizer", IEEE Trans. ASSP 35:955-967 (their constants from memory,
 * unchecked); the load of the open lips as in Flanagan 1972, "Speech Analysis, Synthesis and Perception", section 3.4
 * (from memory, unchecked). All of it is analytic in the complex frequency s, so the resonances are found as what they
 * are, zeros of the denominator in the s-plane, and not as peaks, which neighbours and losses shift. */
#ifndef TESTS_SYNTH_TUBE_H
#define TESTS_SYNTH_TUBE_H

#include "synth-random.h"
#include "synth-tract.h"

#define SYNTH_SECTIONS_MAX 64

typedef struct {
    int n;             /* sections, from glottis to lips */
    double section_cm; /* length of each */
    double area_cm2[SYNTH_SECTIONS_MAX];
    double sound_cm_per_s; /* speed of sound; 35000 in warm moist air */
    gboolean lossless;     /* hard, smooth, cold walls */
    gboolean ideal_lips;   /* no load at the lips: pressure 0 there */
    double glottis_cm2;    /* 0: closed end; else the mean opening, whose resistance and mass load the tract */
    int branch_section;    /* a closed side tube hangs on the glottal end of this section; */
    double branch_cm;      /* its length, 0 = none; a quarter wave of it is a zero of the gain */
    double branch_cm2;
} synth_tube;

/* A uniform tube of length_cm and area_cm2 in n sections, with losses, lip load and closed glottis. */
synth_tube synth_tube_uniform(double length_cm, double area_cm2, int n);

/* Area functions of one man, eleven vowels: i ɪ ɛ æ ʌ ɑ ɔ o ʊ u ɝ. Story, Titze & Hoffman 1996, "Vocal tract area
 * functions from magnetic resonance imaging", JASA 100(1):537-554, Table III. FALSE for any other vowel. */
gboolean synth_tube_story(const char *ipa, synth_tube *tube);
#define SYNTH_STORY_VOWELS 11
const char *synth_story_vowel(int i); /* IPA of vowel 0..10 */

/* Changes of a tube; each leaves a new truth, to be computed again. */
void synth_tube_scale(synth_tube *tube, double ratio); /* every length times ratio, every area times its square */
void synth_tube_open_jaw(synth_tube *tube,
                         double amount); /* 0 = as it is, 1 = wide: mouth and lips open, pharynx narrows */
void synth_tube_perturb(synth_tube *tube, double sd,
                        synth_random *random); /* smooth; sd of the log area, 0.1 is mild */
void synth_tube_add_branch(synth_tube *tube, double zero_hz, double area_cm2); /* 2 cm above the glottis */
/* Between a (x = 0) and b (x = 1): areas move on a log scale. Any numbers of sections; the result has those of a. */
synth_tube synth_tube_between(const synth_tube *a, const synth_tube *b, double x);

double synth_tube_length_cm(const synth_tube *tube);

/* Gain (lip flow over glottal flow) at complex frequency s, rad/s. */
double complex synth_tube_gain(const synth_tube *tube, double complex s);
/* The denominator of that gain, an entire function of s but for the cut of the square root; exact zero at a pole. */
double complex synth_tube_denominator(const synth_tube *tube, double complex s);

/* The resonances below top_hz, in order; the number found. */
int synth_tube_resonances(const synth_tube *tube, double top_hz, synth_resonance resonances[SYNTH_RESONANCES_MAX]);

/* The gain on a grid up to top_hz, with the resonances. */
synth_tract *synth_tube_tract(const synth_tube *tube, double top_hz);

#endif
