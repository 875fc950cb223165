/* tract/fit-minima.h - the minima of the pooled fit's chi squared: ways to explain a note, or a part of it. */
#ifndef TRACT_FIT_MINIMA_H
#define TRACT_FIT_MINIMA_H

enum { FIT_POLES = 6 };

/* Parameters, each in units of its prior: 0 is the prior's centre, 1 one standard deviation. */
enum {
    FIT_B1 = 0,                  /* ln bandwidths re rule */
    FIT_F1 = FIT_B1 + FIT_POLES, /* ln frequencies */
    FIT_LENGTH = FIT_F1 + FIT_POLES,
    FIT_SHAPE,      /* ln Rd of the source */
    FIT_TILT,       /* dB per octave re that source */
    FIT_BEND_SHAPE, /* ln Rd that moves with the fundamental */
    FIT_BEND_TILT,  /* tilt that does */
    FIT_GAIN,
    FIT_BEND_GAIN,  /* gain that does, linear */
    FIT_BEND_GAIN2, /* and quadratic */
    FIT_PARAMS
};

typedef struct {
    double x[FIT_PARAMS];
    double chi2; /* robust, with priors */
    double f_hz[FIT_POLES];
} fit_minimum;

enum { FIT_MODES_MAX = 6, FIT_MINIMA_MAX = FIT_MODES_MAX + 1 };

/* Different ones, best first. */
typedef struct {
    int n;
    fit_minimum of[FIT_MINIMA_MAX];
} fit_minima;

/* Puts what was found in its place, unless one alike is better or most (<= FIT_MINIMA_MAX) are. What is alike and worse
 * goes. */
void fit_minima_keep(fit_minima *minima, int most, const fit_minimum *found);

#endif
