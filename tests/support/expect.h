/* expect.h - cmocka with the includes it needs, and comparisons of doubles that print what they saw. */
#ifndef TESTS_EXPECT_H
#define TESTS_EXPECT_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

static inline void expect_near_at(double value, double expected, double tolerance, const char *what, const char *file,
                                  int line)
{
    if (!(fabs(value - expected) <= tolerance)) {
        printf("%s = %.9g, expected %.9g within %.3g\n", what, value, expected, tolerance);
        _fail(file, line);
    }
}

/* |value - expected| <= tolerance; NaN fails. */
#define expect_near(value, expected, tolerance)                                                                        \
    expect_near_at((value), (expected), (tolerance), #value, __FILE__, __LINE__)
/* the same, tolerance as a share of expected */
#define expect_ratio(value, expected, share)                                                                           \
    expect_near_at((value), (expected), fabs((expected) * (share)), #value, __FILE__, __LINE__)

#endif
