/* advice-tuning.h - chosen numbers of the engine; those of a style stand in its rules file. */
#ifndef ADVICE_TUNING_H
#define ADVICE_TUNING_H

/* A rule speaks when its condition is at least this probable, unless the file has a setting speaks_at. More likely than
 * not; chosen. */
#define ADVICE_SPEAKS_AT 0.5
/* A rule asks for a change only when its condition is at least this probable, unless the file has a setting change_at;
 * below, it speaks as a watch. With 0.95 the whole 90 % interval of what was measured lies on the rule's side. Chosen.
 */
#define ADVICE_CHANGE_AT 0.95

/* Where nobody told the vowel, a change is asked for only if the vowels that want one hold this share of the
 * probability; below, it is a watch. The same 95 % as of F1: "leaves little doubt". */
#define ADVICE_VOWELS_SURE 0.95
/* Less probable vowels than this are not asked: all of a dozen together hold less than one in a hundred. */
#define ADVICE_SHARE_MIN 0.001

/* From these probabilities on, that the note stands above F1 is told as a fact, and as probable. The first is the
 * end of a 90 % interval, the second chosen. */
#define ADVICE_SURE_AT     0.95
#define ADVICE_PROBABLY_AT 0.75

/* Probability that a one-sided limit holds: the data contract's 95 %. */
#define ADVICE_BOUND_SURE 0.95
/* Where a resonance may lie at all, Hz: F1, F2, F3. Wider than any published vowel table, shapes of high sopranos
 * included (F1 to 1500 Hz, Garnier et al. 2010). A bounded resonance is spread evenly in log frequency between its
 * limit and the end of this range. */
#define ADVICE_RANGE_LOW_HZ  180.0, 450.0, 1300.0
#define ADVICE_RANGE_HIGH_HZ 1600.0, 3600.0, 5000.0
/* How far the remaining 5 % reach beyond a limit, semitones; chosen. */
#define ADVICE_BEYOND_BOUND_ST 12.0

/* F1 at least this much above the vowel's spoken mean is called "jaw wide", share; about the step that trained
 * listeners notice twice over (Kewley-Port & Watson 1994: 14 Hz of F1). */
#define ADVICE_JAW_WIDE_FROM 0.04
/* From this share of the way to a neighbour on, the shape bears the neighbour's name alone; before, both names. Chosen.
 */
#define ADVICE_NAMED_FROM 0.75

/* Steps on the way to a shape: so many at most, each of which brings F1 up by this ratio at least, about what trained
 * listeners notice (14 Hz of F1, Kewley-Port & Watson 1994) three times over; chosen. */
#define ADVICE_STEPS_MAX  3
#define ADVICE_STEP_RATIO 1.06

#define ADVICE_FILE_MB_MAX  1   /* 2^20 bytes; a rules file is some pages */
#define ADVICE_PROBLEMS_MAX 100 /* more are counted, not listed */
#define ADVICE_MARK_MAX     12  /* letters that fit under a note */
#define ADVICE_NESTING_MAX  40  /* parentheses and nots inside each other */
#define ADVICE_LIMITS_MAX   64  /* comparisons of one resonance in one condition */

#endif
