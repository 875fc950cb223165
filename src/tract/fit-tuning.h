/* tract/fit-tuning.h - the numbers of the pooled fit: unit, reason, source. */
#ifndef TRACT_FIT_TUNING_H
#define TRACT_FIT_TUNING_H

/* ---- priors ---- */

/* Quarter-wave resonance of a tract, Hz: a seventh of the mean F4 of Hillenbrand et al. 1995 (JASA 97:3099), rounded.
 */
#define FIT_NEUTRAL_MAN_HZ   515.0
#define FIT_NEUTRAL_WOMAN_HZ 605.0
#define FIT_NEUTRAL_CHILD_HZ 645.0
/* ln SD of that within a group; speakers' F4 there vary by 7 %. */
#define FIT_LENGTH_SD 0.08

/* Centre, in neutral_hz, and ln SD of each resonance: wide enough for every vowel, spoken or opened. Chosen. */
#define FIT_F_CENTRES 1.03, 2.85, 4.80, 6.6, 8.6, 10.7
#define FIT_F_SDS     0.42, 0.40, 0.16, 0.12, 0.11, 0.10

/* Bandwidth rule, Hz: base + share of the frequency; ln SD as in the literature on sung and spoken vowels. */
#define FIT_B_BASE_HZ 50.0
#define FIT_B_SHARE   0.030
#define FIT_B_SD      0.45

#define FIT_RD_CENTRE     1.1  /* between modal and soft; chosen */
#define FIT_RD_SD         0.45 /* ln */
#define FIT_TILT_SD       1.2  /* dB per octave */
#define FIT_BEND_RD_SD    0.1  /* ln per 100 cents */
#define FIT_BEND_TILT_SD  0.2  /* dB per octave per 100 cents */
#define FIT_GAIN_SD       30.0 /* dB: not known */
#define FIT_BEND_GAIN_SD  2.0  /* dB per 100 cents */
#define FIT_BEND_GAIN2_SD 1.0  /* dB per (100 cents)^2 */
#define FIT_RIPPLE_DB     2.2  /* SD of one harmonic's deviation from the source */

/* Least distance of neighbouring resonances, ln, and what they lack of it that costs as much as one standard deviation.
 */
#define FIT_APART     0.22, 0.10, 0.08, 0.08, 0.08
#define FIT_APART_SDS 0.06, 0.04, 0.04, 0.04, 0.04

/* ---- errors ---- */

#define FIT_FRAME_SD_DB 1.0  /* of one frame's level beyond its noise: shimmer, room */
#define FIT_ROOM_DB     2.5  /* SD of a room's response over frequency; scaled to the note by its residuals */
#define FIT_ROOM_HZ     30.0 /* and the width within which it is alike: reflections come some 30 ms late */
#define FIT_SNR_MIN_DB  6.0  /* cells nearer to the noise are left out */
#define FIT_STUDENT_DF  5.0  /* degrees of freedom of the robust error of a cell */
#define FIT_RIPPLE_DF   4.0  /* and of a harmonic's deviation below: a zero of a side branch takes single ones away */
/* and above, where nothing adds one, or the strongest two would pass for errors where F1 is missed */
#define FIT_RIPPLE_DF_ABOVE 30.0
/* Partials of others stand still, so that their beats are alike in many frames: that share of the error that they make
 * in one frame stays in the mean of a cell. None left F2's intervals at 85 % with chords at -20 dB, all widened F1's
 * errors by half (tests/bench/bleed). */
#define FIT_BESIDE_SHARE 0.3
/* A frame this many times the median frame's distance from its cells is left out: speech and ends of notes, where the
 * tract still moves. Chosen on spoken vowels; sung ones on the bench do not change. */
#define FIT_OUTLIER    1.5
#define FIT_OUTLIER_DB 20.0 /* distance of one harmonic counts up to this */
/* Side branches and single high resonances are not in the model: between these frequencies (in quarter-wave resonances)
 * doubt grows from none to so many dB, for a harmonic's deviation and for a cell. */
#define FIT_DOUBT_FROM      5.0
#define FIT_DOUBT_TO        7.5
#define FIT_DOUBT_RIPPLE_DB 4.0
#define FIT_DOUBT_CELL_DB   1.5
#define FIT_MODEL_DB        0.3 /* error of the model in a cell, everywhere */

/* A frame's gain is the mean level this far around it, s: a cycle of vibrato or more, so that what moves with the
 * vibrato stays in the cells. */
#define FIT_GAIN_S 0.1

/* Frames softer than the median by more than this are left out. Chosen. */
#define FIT_FRAME_RANGE_DB 15.0
/* The outermost frames of the excursion, a share at each end, do not stretch the bins; of them those count that lie no
 * farther outside, in bins. Chosen. */
#define FIT_F0_TAIL    0.02
#define FIT_BIN_SLACK  0.3
#define FIT_BIN_CENTS  20.0
#define FIT_CELL_HZ    12.0 /* cells of one harmonic are not narrower, */
#define FIT_CELLS_MIN  4    /* unless fewer than these would be left */
#define FIT_THIN_CELLS 3    /* cells a harmonic keeps for quick looks */

/* The scale of the errors is fitted to the note: degrees of freedom of its prior, and what the fit itself has used up.
 * The prior weighs next to nothing, and the least scale is far below any note's: a dry, steady note fits to a few
 * hundredths of a dB, and a floor on the scale hid from the search what told its minima apart (chosen on the bench). */
#define FIT_SCALE_PRIOR_DF  0.2
#define FIT_SCALE_SPENT_DF  4.0
#define FIT_SCALE_MIN       0.001
#define FIT_SCALE_MAX       30.0
#define FIT_SCALE_DOUBT_DB2 0.4 /* harmonics in more doubt than this do not count */
#define FIT_RIPPLE_PRIOR_DF 12.0
#define FIT_RIPPLE_SPENT_DF 6.0

/* ---- search and posterior ---- */

/* Levenberg-Marquardt: steps at most, and a fall of chi squared in one that is too little to go on. Coarse where only
 * the order of the starts is asked, fine where values are read. Chosen. */
#define FIT_LM_SOURCE      2, 1.0 /* source and gain to a start's tract */
#define FIT_LM_TRACT       5, 1.0 /* bandwidths held */
#define FIT_LM_COARSE      6, 0.5 /* all, on the coarse copy */
#define FIT_LM_SCALE       8, 0.5 /* the fit whose residuals give the scale, before and after its weights */
#define FIT_LM_SCALE_AGAIN 4, 0.5
#define FIT_LM_FIRST       8, 0.3 /* the whole note, in the first round of weights and in the next ones */
#define FIT_LM_NEXT        8, 0.05
#define FIT_LM_SLICED      8, 0.02 /* the minimum that is sliced, and each slice */
#define FIT_LM_SLICE       4, 0.05
#define FIT_LM_WINDOW      5, 0.3 /* a window of a moving vowel, and each place that it leaves open */
#define FIT_LM_PLACE       4, 0.1
/* F4 to F6 of a start lie so many times above its F3 at least: the first of them, and each further one. Chosen. */
#define FIT_HIGH_FIRST 1.1
#define FIT_HIGH_EACH  0.2

#define FIT_ALIKE 0.04 /* ln; minima nearer than this in F1, F2 and F3 are one */
/* A start whose chi squared, half-way, is above this share of the best so far and this much more is given up. */
#define FIT_HOPE_SHARE   1.3
#define FIT_HOPE_DEPTH   25.0
#define FIT_MOVED_MAX    3    /* quick minima of which an upper resonance is tried elsewhere */
#define FIT_ABOVE        1.22 /* and above all others: so many times the next */
#define FIT_ROUNDS       3    /* times that the robust weights are found anew */
#define FIT_MINIMA_DEPTH 40.0 /* chi squared above the best within which a quick minimum is polished */
#define FIT_MINIMA_SHARE 0.25 /* and this share of the best's: where nothing fits well, differences say less */
#define FIT_MODES_DEPTH  14.0 /* and within which a polished one is kept */
/* Likelihood tempering: the share of chi squared that counts as evidence. The errors of harmonics are less independent
 * than the model says (one reflection moves them all), and no voice's pulses are quite of the model's family; chosen on
 * the bench between the notes whose pulses are (90 % intervals hold 93 %) and those whose are not (86 %). */
#define FIT_TEMPERING         0.65
#define FIT_SLICE_STEP        0.8 /* SDs of F1 between slices of the posterior */
#define FIT_SLICE_STEP_MIN    0.004
#define FIT_SLICE_STEP_MAX    0.25
#define FIT_VALLEY            0.5  /* log weight by which a mode rises again after the end of another */
#define FIT_SLICED_WIDTHS     1.5  /* half widths of a slice within which a minimum is already sliced */
#define FIT_SLICE_DEPTH       9.0  /* chi squared above the minimum where slicing ends */
#define FIT_ALTERNATIVE_MIN   0.05 /* share of the probability from which a second minimum is shown */
#define FIT_ALTERNATIVE_APART 0.05 /* ln; what lies nearer is one place */
#define FIT_RANGE_LOW_HZ      50.0 /* where quantiles are looked for: wider than any posterior */
#define FIT_RANGE_HIGH_HZ     9000.0
/* Quantile of a note's posterior given as the 95 % limit of a bounded F1; chosen on the bench, where it holds that
 * often.
 */
#define FIT_BOUND_QUANTILE 0.97

/* Vowel shapes from which the search starts: F1, F2, F3 in units of the tract's quarter-wave resonance; spread over the
 * vowels of the published tables, chosen on the bench. */
#define FIT_STARTS                                                                                                     \
    {                                                                                                                  \
        {0.60, 4.5, 5.5}, {0.72, 4.6, 5.6}, {0.90, 4.1, 5.1}, {1.20, 3.5, 4.9}, {1.35, 3.2, 4.8}, {1.55, 2.6, 4.8},    \
            {1.50, 2.0, 4.8}, {1.20, 1.75, 4.7}, {0.90, 1.55, 4.7}, {0.70, 1.4, 4.6}, {0.75, 2.2, 4.5},                \
            {0.75, 3.2, 4.5}, {0.95, 2.7, 4.7}, {1.20, 2.5, 4.8}, {0.90, 2.6, 3.4}, {1.90, 2.9, 4.9},                  \
            {1.75, 2.3, 4.8}, {1.65, 3.4, 5.0}, {1.00, 3.6, 4.3}, {1.10, 4.1, 5.0},                                    \
    }
/* And, tried with each of them, F4 to F6 where a tract is wide or narrow above the larynx; chosen on the bench. */
#define FIT_HIGH_STARTS                                                                                                \
    {                                                                                                                  \
        {5.5, 7.0, 9.0}, {6.3, 8.2, 10.2},                                                                             \
        {                                                                                                              \
            7.1, 9.2, 11.2                                                                                             \
        }                                                                                                              \
    }
#define FIT_MOVES_MAX  2    /* places where an upper resonance is tried of each quick minimum */
#define FIT_WEIGHT_MIN 1e-4 /* share of the probability: lighter slices are left out of the modes */
/* Range of the pulse's one shape value: tense to breathy (Fant 1995). */
#define FIT_RD_LOW  0.3
#define FIT_RD_HIGH 2.7

/* ---- windows of a moving vowel ---- */

#define FIT_ANCHORS_AN_END 2    /* minima of each end of the note from which windows are searched */
#define FIT_WINDOW_DEPTH   14.0 /* chi squared above the best within which another place is kept */

#endif
