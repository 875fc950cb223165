/* dsp/posterior-tuning.h - the numbers of a posterior that is made of intervals. */
#ifndef DSP_POSTERIOR_TUNING_H
#define DSP_POSTERIOR_TUNING_H

/* From intervals: a limit is taken as spread evenly over so much on its known side, ln (an octave), and what is not
 * known as so wide a prior, ln SD, around a neutral tract's value, Hz, that it is uninformative. Chosen. */
#define POSTERIOR_ONE_SIDED  0.6931
#define POSTERIOR_NOTHING_SD 1.5
#define POSTERIOR_NEUTRAL_HZ 500.0, 1500.0, 2500.0

#endif
