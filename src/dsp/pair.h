/* dsp/pair.h - two numbers that one instruction works on. gcc and clang know such vectors on every processor; where it
 * has no such instruction they write two. The sums of the two lanes are kept apart by who uses them, so results are the
 * same everywhere. */
#ifndef DSP_PAIR_H
#define DSP_PAIR_H

#include <string.h>

typedef double dsp_pair __attribute__((vector_size(16), may_alias));

/* x[0] and x[1], wherever they stand. */
static inline dsp_pair dsp_pair_of_floats(const float *x)
{
    float two __attribute__((vector_size(8)));

    memcpy(&two, x, sizeof two);
    return __builtin_convertvector(two, dsp_pair);
}

#endif
