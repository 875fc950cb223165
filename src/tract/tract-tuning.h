/* tract/tract-tuning.h - the numbers of the classical tracker that were chosen, each with its reason. */
#ifndef TRACT_TRACT_TUNING_H
#define TRACT_TRACT_TUNING_H

/* ---- which frames of a note are read ---------------------------------------------------------------------------- */

/* Resonances move slowly: 10 ms is the usual frame step of formant tracking (common practice). */
#define TRACT_HOP_S 0.010
/* A frame this far below the note's median level is a consonant, a breath or an end. Vibrato and a swell stay within it
 * (chosen on the bench). */
#define TRACT_LEVEL_DROP_DB 10.0
/* Least confidence, 0..1, that a frame is voiced (chosen on the bench). */
#define TRACT_CONFIDENCE_MIN 0.4
/* Spectral change over 40 ms, dB RMS, above which a frame is a transition, if it is also this many times the note's
 * median: a vowel that glides all the time, or vibrato across the harmonics, is not one (chosen on the bench). */
#define TRACT_CHANGE_DB    4.0
#define TRACT_CHANGE_RATIO 3.0
/* Fewest frames that make a reading: 50 ms. Below, one odd frame would be the answer. */
#define TRACT_FRAMES_MIN 5

/* ---- one frame --------------------------------------------------------------------------------------------------- */

/* Periods of the fundamental in a window, Gaussian: 3 still show single periods' phases, more only smear vibrato;
 * errors were the same from 3 to 6 (chosen on the bench). */
#define TRACT_WINDOW_PERIODS 3.5
/* Shortest and longest window, s: below 25 ms a low formant's own ringing is cut; 64 ms hold 3.5 periods of 55 Hz. */
#define TRACT_WINDOW_MIN_S 0.025
#define TRACT_WINDOW_MAX_S 0.064
/* Standard deviation of the window in half-lengths: side lobes below -50 dB. */
#define TRACT_WINDOW_SIGMA 0.4
/* Corner of the pre-emphasis, Hz: +6 dB an octave above it undoes the source's -12 and the lips' +6 (common practice).
 * 300 Hz doubled the error of a man's F1 (chosen on the bench). */
#define TRACT_EMPHASIS_HZ 50.0
/* White noise added before the fit, as a share of the power: -60 dB, so that an empty part of the band does not draw
 * poles (common practice). */
#define TRACT_NOISE_SHARE 1e-6

/* Band that holds five formants, Hz. A uniform tube of 17.5 cm has one every 1000 Hz; women's and children's tracts are
 * shorter. Common practice: 5000 for men, 5500 for women; children by the ratio of their F3 to men's in Hillenbrand et
 * al. 1995, rounded. */
#define TRACT_BAND_MAN_HZ   5000.0
#define TRACT_BAND_WOMAN_HZ 5500.0
#define TRACT_BAND_CHILD_HZ 6500.0
#define TRACT_BAND_FORMANTS 5
/* Pairs of poles beyond those: one, for the source and for tracts that have a sixth formant in the band. None made the
 * errors of F2 twice as large, two those of F1 larger by an eighth (chosen on the bench). */
#define TRACT_PAIRS_EXTRA 1
/* Fall of the envelope from the first harmonic to 0 Hz, natural logarithm of power (9 dB; chosen on the bench). */
#define TRACT_ENVELOPE_DROP 2.0

/* What can be a formant: lowest frequency, Hz (a closed vowel of a bass reaches 220; below stands the source), distance
 * to the band's edge, and widest bandwidth, Hz (chosen on the bench). */
#define TRACT_POLE_MIN_HZ           170.0
#define TRACT_POLE_EDGE_HZ          50.0
#define TRACT_POLE_BANDWIDTH_MAX_HZ 1000.0

/* ---- joining over time: costs, without unit, all chosen on the bench ------------------------------------------- */

#define TRACT_COST_BANDWIDTH  0.03 /* per 100 Hz of bandwidth; 0.10 lost one F2 of ten from 440 Hz on */
#define TRACT_COST_NOMINAL    0.10 /* per Bark from the voice's mean formant */
#define TRACT_COST_MOVE       0.40 /* per Bark from frame to frame */
#define TRACT_COST_MOVE_MAX   1.20 /* a jump of 3 Bark or more costs this: consonants do jump */
#define TRACT_COST_ABSENT     0.90 /* a formant without a pole */
#define TRACT_COST_SKIPPED    0.40 /* passing over a pole, if it is narrow; none from TRACT_SKIPPED_WIDE_HZ on */
#define TRACT_SKIPPED_WIDE_HZ 300.0

/* ---- what can be told (status.c) --------------------------------------------------------------------------------- */

/* A 90 % interval of F2 or F3 whose ends have a larger ratio than this says nothing. Chosen: a third of its range. */
#define TRACT_KNOWN_RATIO 1.7
/* Probability of F1 below f0 from which only a bound is given (chosen on the bench: at 0.55 F1's errors at 523 to 622
 * Hz were 1.2 to 1.7 times as large, one note in a hundred more had only a bound). */
#define TRACT_BOUNDED_SHARE 0.6

/* ---- a note's values --------------------------------------------------------------------------------------------- */

/* Half-width of the 90 % interval from harmonic attraction alone, as a share of f0. The expected error of linear
 * prediction is 10 % of f0 (Vallabha & Tuller 2002, Speech Comm. 38:141-160), 0.21 would be the half-width if it were
 * normal; with 0.25 nine intervals of ten hold the truth at 250 Hz, more below (chosen on the bench). */
#define TRACT_HARMONIC_BIAS 0.25
/* The same from all else (the band's edge, the source's own spectrum), as a share of the value (chosen on the bench).
 */
#define TRACT_FIT_BIAS 0.02
/* An F1 within this ratio of f0 is the fundamental's line: the resonance may lie anywhere below, down to
 * TRACT_POLE_MIN_HZ. */
#define TRACT_F1_AT_F0_RATIO 1.25

/* A vowel glides if F1 or F2 differ by this many Bark between the first and the last part of the steady frames: the
 * step from one English vowel to its neighbour is 1 to 2 Bark in Hillenbrand et al. 1995. */
#define TRACT_GLIDE_BARK 1.0
/* ... and if its spectrum changes by as much between them (dB RMS, its level taken out) as it hardly does in a held
 * vowel: of 207 notes held by diphones of five people 48 glide without this and 23 with it (what is left are diphones
 * that move), of the 77 of solmisation 9 and none, of 39 diphthongs of one of them 22 and 19. Judged on five others: of
 * 181 held 25 and 11, of 33 diphthongs 16 and 15. */
#define TRACT_GLIDE_CHANGE_DB 7.0
/* Less than that, but more than this, is told frame by frame only: listeners tell vowels about 0.3 Bark apart (from
 * memory, unchecked; Kewley-Port & Zheng 1996). */
#define TRACT_SHADE_BARK 0.3
/* ... by this share of f0 (less is harmonic attraction), and this many times the spread within the parts. */
#define TRACT_GLIDE_F0_SHARE 0.75
#define TRACT_GLIDE_SPREADS  1.5
/* Share of the steady frames in each part, and the fewest frames of a part. */
#define TRACT_GLIDE_PART       0.3
#define TRACT_GLIDE_FRAMES_MIN 5

/* ---- the track of a moving vowel (track.c) ----------------------------------------------------------------------- */

/* Frames in a window and from one to the next: half a cycle of a vibrato of 5 Hz carries a harmonic over its whole
 * range (chosen on the bench). */
#define TRACT_TRACK_FRAMES      7
#define TRACT_TRACK_HOP         3
#define TRACT_TRACK_WINDOWS_MIN 3
/* A note is looked at closely when its harmonics change by this much from the first to the last part, dB RMS after the
 * change of level is taken out; those within this range of the strongest count (chosen on the bench). */
#define TRACT_TRACK_PART      0.3
#define TRACT_TRACK_CHANGE_DB 4.0
#define TRACT_TRACK_RANGE_DB  40.0
/* Movement of F1, F2, F3 from window to window that costs as much as one standard deviation, ln, and the most that any
 * movement costs (chosen: a diphthong moves by an octave in a quarter of a second). */
#define TRACT_TRACK_STEP_SDS 0.15, 0.12, 0.06
#define TRACT_TRACK_STEP_MAX 6.0
/* Steps of the random walk that are tried, ln per window: from standing still to a fast diphthong. */
#define TRACT_TRACK_WALK_SDS 0.003, 0.01, 0.03, 0.1, 0.25
#define TRACT_TRACK_FLOOR_SD 0.02 /* ln; errors of a window that its own fit does not see (chosen on the bench) */
#define TRACT_TRACK_FAR      4.0  /* standard deviations from which a window is doubted */
#define TRACT_TRACK_SURE     2.5  /* and those that a movement must have */

/* ---- what sounds beside the voice (beside.c) --------------------------------------------------------------------- */

/* Harmonics on either side whose neighbourhood tells what a harmonic may hide (chosen on tests/bench/bleed). */
#define TRACT_BESIDE_REACH 1

/* ---- harmonic levels --------------------------------------------------------------------------------------------- */

#define TRACT_LEVELS_TOP_HZ 5000.0
/* Window in periods, and its standard deviation in half-lengths: the next harmonic's line is down by 96 dB, side lobes
 * by 70. */
#define TRACT_LEVELS_PERIODS 5.0
#define TRACT_LEVELS_SIGMA   0.3
/* Harmonics within this range of the strongest count as heard; fewer than this many draw no envelope (a whistle, a test
 * tone), and nothing is said of the resonances. Three resonances cannot be told from two numbers. */
#define TRACT_HEARD_RANGE_DB 50.0
#define TRACT_HEARD_MIN      3
/* A sound whose harmonics below this lie within so much (RMS) of a line over log frequency that falls less than that
 * has no resonance; few harmonics may do so by chance, then they must lie on the line. Trains of clicks, with and
 * without jitter, lie within 0.02 to 3.1 dB, sawtooths within 0.03; of 1294 notes sung with diphones of ten people and
 * 83 of three others none that falls so little is nearer than 3.5 dB. Where the even harmonics lie so far under their
 * neighbours they are missing: 8.4 dB was the most in people, 24 dB the least in square waves. */
#define TRACT_SOUND_TOP_HZ        4500.0
#define TRACT_SOUND_HARMONICS_MIN 7
#define TRACT_SOUND_MANY          10
#define TRACT_SOUND_EVEN_DB       3.2
#define TRACT_SOUND_EXACT_DB      0.5
#define TRACT_SOUND_FALL_DB       (-8.0) /* an octave */
#define TRACT_SOUND_ODD_DB        15.0
#define TRACT_LEVELS_STRIDE       3 /* every third frame: the mean over a note gains nothing from more */

/* Harmonics by time warping (harmonics.c): no voice is lower; of an f0 corrected by more the phases were not those of
 * one voice; periods in a window, and its least length, at high pitch; the Kaiser window of the interpolation, flat to
 * 0.75 and below -70 dB beyond 1.25 of half the rate. Chosen. */
#define TRACT_HARMONICS_F0_MIN_HZ    50.0
#define TRACT_HARMONICS_SHIFT_MAX    0.03 /* of f0 */
#define TRACT_HARMONICS_PERIODS_MIN  4.0
#define TRACT_HARMONICS_WINDOW_MIN_S 0.013
#define TRACT_HARMONICS_KAISER_BETA  7.0

/* The pooled fit reads harmonics up to here: F5 of a woman; above, side branches rule. Chosen on the bench. */
#define TRACT_FIT_BAND_HZ 5200.0

#endif
