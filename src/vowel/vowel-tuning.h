/* vowel-tuning.h - every chosen number of the vowel folder: unit, reason, source. */
#ifndef VOWEL_TUNING_H
#define VOWEL_TUNING_H

/* Spread between speakers where a table publishes none, as a share of the mean: F1, F2, F3. The middle of the shares in
 * Hillenbrand et al. 1995 (men 5-9 %, women 7-15 % in F1; 6-11 % in F2; 4-9 % in F3). */
#define VOWEL_DEFAULT_SPREADS 0.09, 0.08, 0.07

/* Allowance for singers' shapes beside the spoken spread, share of the mean (log-normal): F1 and F2 move with style and
 * pitch; F3 moves with larynx height and the singer's formant, so it gets little weight, which still tells an
 * r-coloured vowel, whose F3 lies a third below all others. Chosen on the tokens of Hillenbrand et al. 1995. */
#define VOWEL_SINGING_SPREADS 0.05, 0.05, 0.08

/* Narrowest measurement error assumed, share: the paper's own re-measurements differ by 2 % (F1) and 1.5 % (F2). */
#define VOWEL_MEASURING_SPREAD_MIN 0.02

/* A target keeps the reader's prior where its variance is more than this share of the prior's: dividing two normals of
 * nearly one width leaves one that has nearly none. Chosen. */
#define VOWEL_PRIOR_NARROWER 0.8

/* Nothing fits when the best row lies farther than this in each resonance used, in standard deviations (root mean
 * square): 3.3 is passed by 1 in 1000 of a normal spread. */
#define VOWEL_FAR_SD 3.3

/* Share of a name's confidence that is left at a pitch, as listeners lose sung vowels: 80 % right up to about 500 Hz,
 * 50 % at about 650 Hz (positions reviewed by Maurer and colleagues 2014, usually credited to Sundberg), close to
 * guessing at 880 Hz in classical singing (Bloothooft & Plomp 1985). Between the points: linear in log frequency. */
#define VOWEL_LISTENER_POINTS_HZ 500.0, 660.0, 880.0, 1400.0
#define VOWEL_LISTENER_SHARES    1.0, 0.6, 0.25, 0.1
/* The same of a class (front or back, open or close): at 659 Hz those are what remains, at 880 Hz differences are
 * marginal (Bloothooft & Plomp 1985). */
#define VOWEL_LISTENER_CLASS_SHARES 1.0, 0.95, 0.5, 0.2

/* A class is named where the best single vowel is less probable than the first and the class at least as probable as
 * the second. Even odds, and the usual "likely". Chosen. */
#define VOWEL_NAME_MIN  0.5
#define VOWEL_CLASS_MIN 0.7

/* ---- accents ----------------------------------------------------------------------------------------------------- */

/* Weight of the ear's own table before anything is heard; the other accents share the rest. 0.4 would serve Michigan's
 * speakers better in takes of one word (64 % of the single tokens of 1995 against 48 %; by talker it is 78 either way),
 * but singers worse: of takes of one sung vowel (synthesised from eight vowel systems) 82 % are heard right with 0.4,
 * 86 % with 0.15. */
#define VOWEL_OWN_ACCENT 0.15
/* Least probability that the tract is as long as the other group's, though the voice was told: 0.1 costs nothing where
 * it is not (people's held vowels, the same synthesised singers) and gives back 3 to 6 in 100 where it is. */
#define VOWEL_VOICE_DOUBT 0.1
/* Share of a note's evidence that counts for an accent: notes of one singer share the singer's own habits, and often
 * the vowel, and are not independent witnesses. On held vowels of people and on synthesised singers all shares from 0.1
 * to 0.25 name alike and 0.5 fewer right; with 0.15 the talkers of 1995 are named less often (75 against 78 %). */
#define VOWEL_ACCENT_CANDOUR 0.25
/* Fewest speakers of a table that is an accent: one person's vowels are a person. With the tables of one man among
 * them, a woman whose ee and oo lay low was heard in their accent as ay and oh (chosen on held vowels, make
 * bench-spoken). */
#define VOWEL_ACCENT_SPEAKERS_MIN 4
/* Fewest of the vowels that a table must have to be an accent: the five that most languages have. */
#define VOWEL_ACCENT_ROWS_MIN 5
/* Share of each accent that is expected to be sung with a low larynx, before anything is heard, and the ratio of F2 and
 * F3 of front vowels then: lower in sung than in spoken vowels of bass singers (Sundberg 1972, STL-QPSR 13(1):45-53,
 * from its summary); the amounts are chosen. */
#define VOWEL_LOW_LARYNX    0.3
#define VOWEL_LOW_LARYNX_F2 0.85
#define VOWEL_LOW_LARYNX_F3 0.95
/* Women's and children's resonances over men's, F1, F2, F3: means over the twelve vowels of Hillenbrand et al. 1995. */
#define VOWEL_WOMAN_OVER_MAN 1.18, 1.17, 1.14
#define VOWEL_CHILD_OVER_MAN 1.24, 1.29, 1.24

/* ---- exercises --------------------------------------------------------------------------------------------------- */

/* Share of takes that are exercises on one vowel, before anything is heard, and of the notes in one that are not on it.
 * From 0.2 to 0.5, and from 0.1 to 0.2, alike on synthesised singers. */
#define VOWEL_EXERCISE           0.3
#define VOWEL_EXERCISE_STRANGERS 0.1
/* Share of a note's evidence for an exercise that counts: an error of reading repeats from note to note. With 0.5,
 * takes of one vowel are heard right in 88 of 100 notes instead of 86, and takes of all vowels as before; with 1 no
 * better on people's held vowels. */
#define VOWEL_EXERCISE_CANDOUR 0.5

/* Resonances against a man's: man, woman, child. Geometric means of the ratios of all F1 and F2 of Hillenbrand et al.
 * 1995; Kent & Vorperian 2018 (J Commun Disord 74:74-97) give 1.17 and 1.18 for women. A test computes them anew. */
#define VOWEL_SCALES 1.0, 1.168, 1.267
/* First resonance of a uniform tube, closed and open, of 17.5 cm at 350 m/s: c / 4 L (Fant 1960). */
#define VOWEL_NEUTRAL_F1_HZ 500.0
/* Spread of a scaled value, share of the mean, F1 and F2: between speakers, and of a uniform scale, which misses a
 * vowel by up to a sixth (Calliope 1989 against Catford 1988: F1 of y, ø, œ by 3 to 28 %, their F2 by up to 34 %).
 * Chosen. */
#define VOWEL_EXPECTED_SPREADS   0.17, 0.20
#define VOWEL_EXPECTED_F3_SPREAD 0.10 /* of F3, which hardly differs from vowel to vowel; chosen */

/* ---- vowels borrowed from another table -------------------------------------------------------------------------- */

/* Fewest shared vowels that tell how wide one scale is against the other; a line needs two points, and a third to see
 * that it is one. */
#define VOWEL_BORROW_SHARED_MIN 3
/* No two of the tables that come with the program, of three shared vowels or more, differ by more (the widest: F2 of
 * Bradlow 1995 against Catford 1988, 1.99); beyond it a table is odd. */
#define VOWEL_BORROW_SLOPE_MAX 2.0
/* A shared vowel nearer than this weighs as if it stood here: two vowels less than half a Bark apart are one to the ear
 * (chosen). */
#define VOWEL_BORROW_NEAREST_BARK 0.5

#define VOWEL_TABLE_MB_MAX 1 /* 2^20 bytes; a table is a page */

#endif
