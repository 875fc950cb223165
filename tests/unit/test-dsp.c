/* test-dsp.c - the signal mathematics against slow direct computations, closed forms and properties. */
#include "dsp/dsp.h"
#include "expect.h"

#include <string.h>

/* Repeatable noise, uniform in -1..1. */
static double noise(guint32 *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return (double)(*seed >> 8) / (1 << 23) - 1;
}

static void fill_noise(double *x, gsize n, guint32 seed)
{
    for (gsize i = 0; i < n; i++)
        x[i] = noise(&seed);
}

/* ---- windows: the sums of their cosines in closed form --------------------------------------------------------- */

static double sum_of(const double *x, gsize n)
{
    double sum = 0;
    for (gsize i = 0; i < n; i++)
        sum += x[i];
    return sum;
}

static void expect_symmetric(const double *x, gsize n)
{
    for (gsize i = 0; i < n / 2; i++)
        expect_near(x[i], x[n - 1 - i], 1e-12);
}

static void test_windows(void **state)
{
    (void)state;
    static const gsize sizes[] = {1, 2, 7, 400, 401};
    double w[401];

    for (guint s = 0; s < G_N_ELEMENTS(sizes); s++) {
        gsize n = sizes[s];
        dsp_window_hann(w, n);
        expect_symmetric(w, n);
        expect_ratio(sum_of(w, n), 0.5 * (double)(n + 1), 1e-12);
        dsp_window_blackman(w, n);
        expect_symmetric(w, n);
        if (n > 1) /* with one sample the second cosine does not cancel */
            expect_ratio(sum_of(w, n), 0.42 * (double)(n + 1), 1e-12);
        dsp_window_gauss(w, n, 0.4);
        expect_symmetric(w, n);
        assert_true(w[0] > 0);
    }
    expect_near(w[200], 1, 1e-12);
    /* one standard deviation from the middle: exp(-1/2), but for the pedestal exp(-1 / (2 sigma^2)) taken away */
    expect_near(w[200] - w[200 + 80], 1 - exp(-0.5), 0.05);
    double pedestal = exp(-0.5 / 0.16);
    double x = 80.0 / (201 * 0.4);
    expect_near(w[280], (exp(-0.5 * x * x) - pedestal) / (1 - pedestal), 1e-12);
}

/* ---- FFT: the sum written out ---------------------------------------------------------------------------------- */

static double complex direct_dft(const double *x, guint n, guint k)
{
    double complex sum = 0;
    for (guint i = 0; i < n; i++)
        sum += x[i] * cexp(-2 * G_PI * I * (double)((guint64)i * k % n) / n);
    return sum;
}

static void test_fft(void **state)
{
    (void)state;
    static const guint sizes[] = {8, 64, 512};

    for (guint s = 0; s < G_N_ELEMENTS(sizes); s++) {
        guint n = sizes[s];
        g_autoptr(dsp_fft) fft = dsp_fft_create(n);
        double x[512], back[512], power[257];
        double complex bins[257];
        fill_noise(x, n, 7 + s);
        assert_int_equal(dsp_fft_size(fft), n);
        dsp_fft_forward(fft, x, bins);
        dsp_fft_power(fft, x, power);
        for (guint k = 0; k <= n / 2; k++) {
            double complex expected = direct_dft(x, n, k);
            expect_near(cabs(bins[k] - expected), 0, 1e-11);
            expect_near(power[k], pow(cabs(expected), 2), 1e-9);
        }
        dsp_fft_inverse(fft, bins, back);
        for (guint i = 0; i < n; i++)
            expect_near(back[i], x[i], 1e-13);
    }
}

static void test_fft_own_buffers(void **state)
{
    (void)state;
    g_autoptr(dsp_fft) fft = dsp_fft_create(64);

    fill_noise(dsp_fft_samples(fft), 64, 3);
    double first = dsp_fft_samples(fft)[0];
    double complex expected = direct_dft(dsp_fft_samples(fft), 64, 5);
    dsp_fft_forward(fft, NULL, NULL);
    expect_near(cabs(dsp_fft_bins(fft)[5] - expected), 0, 1e-12);
    dsp_fft_inverse(fft, NULL, NULL);
    expect_near(dsp_fft_samples(fft)[0], first, 1e-14);
}

/* ---- part of a spectrum ---------------------------------------------------------------------------------------- */

static void test_autocorrelation_of_band(void **state)
{
    (void)state;
    double power[129], r[25];

    for (guint k = 0; k < 129; k++)
        power[k] = exp(sin(k * 0.37)) + k * 0.01;
    for (guint last = 1; last <= 128; last += 127 / 3) {
        dsp_autocorrelation_of_band(power, last + 1, 24, r);
        for (guint lag = 0; lag <= 24; lag++) { /* mean over the circle, written out */
            double sum = 0;
            for (guint k = 0; k < 2 * last; k++)
                sum += power[k <= last ? k : 2 * last - k] * cos(G_PI * lag * k / last);
            expect_near(r[lag], sum / (2 * last), 1e-12);
        }
    }
}

/* Whole band: Wiener and Khinchin's theorem, checked in the time domain (zero padding makes it linear). */
static void test_autocorrelation_of_full_band(void **state)
{
    (void)state;
    g_autoptr(dsp_fft) fft = dsp_fft_create(256);
    double x[256] = {0}, power[129], r[13];

    fill_noise(x, 200, 11);
    dsp_fft_power(fft, x, power);
    dsp_autocorrelation_of_band(power, 129, 12, r);
    for (guint lag = 0; lag <= 12; lag++) {
        double sum = 0;
        for (guint i = lag; i < 200; i++)
            sum += x[i] * x[i - lag];
        expect_near(r[lag], sum, 1e-10);
    }
}

/* A sine between two bins, under a Gaussian window: its level is (amplitude / 2 * sum of window) squared. */
static void test_log_power_at(void **state)
{
    (void)state;
    g_autoptr(dsp_fft) fft = dsp_fft_create(1024);
    double window[600], x[1024], power[513];

    dsp_window_gauss(window, 600, 0.35);
    for (double bin = 100; bin <= 101; bin += 0.125) {
        memset(x, 0, sizeof x);
        for (guint i = 0; i < 600; i++)
            x[i] = 0.3 * window[i] * cos(2 * G_PI * bin * i / 1024 + 0.4);
        dsp_fft_power(fft, x, power);
        expect_near(dsp_log_power_at(power, 513, bin), 2 * log(0.15 * sum_of(window, 600)), 0.005);
    }
}

/* Power that is a power of the frequency between its harmonics' bins: straight in the logarithm, so nothing may change;
 * and valleys between the harmonics must not matter. */
static void test_envelope_of_harmonics(void **state)
{
    (void)state;
    double power[200], with_valleys[200], envelope[150];

    for (guint i = 0; i < 200; i++)
        power[i] = exp(3 - 0.05 * i);
    dsp_envelope_of_harmonics(power, 200, 12.5, -0.05 * 12.5, envelope, 150);
    for (guint i = 0; i < 150; i++)
        expect_ratio(envelope[i], i > 0 ? power[i] : exp(3), 1e-9);

    for (guint i = 0; i < 200; i++) /* harmonics every 10 bins, three bins wide, and holes */
        with_valleys[i] = (i + 1) % 10 <= 2 ? power[i] : 1e-6;
    dsp_envelope_of_harmonics(with_valleys, 200, 10, 1, envelope, 150);
    for (guint i = 10; i < 150; i++)
        expect_ratio(envelope[i], power[i], 1e-9);
    expect_ratio(envelope[0], power[10] * exp(-1), 1e-9);

    /* above the last harmonic that the spectrum holds, its level */
    dsp_envelope_of_harmonics(power, 100, 60, 0, envelope, 100);
    expect_ratio(envelope[99], power[60], 1e-9);
}

/* ---- linear prediction ----------------------------------------------------------------------------------------- */

/* A(z) of resonances given as pairs of frequency and bandwidth in Hz at 10 kHz. */
static guint polynomial_of(const double (*resonances)[2], guint n, double *a)
{
    a[0] = 1;
    for (guint r = 0; r < n; r++) {
        double radius = exp(-G_PI * resonances[r][1] / 10000);
        double b = -2 * radius * cos(2 * G_PI * resonances[r][0] / 10000);
        double c = radius * radius;
        a[2 * r + 1] = a[2 * r + 2] = 0;
        for (guint i = 2 * r + 2; i >= 1; i--)
            a[i] += b * a[i - 1] + (i >= 2 ? c * a[i - 2] : 0);
    }
    return 2 * n;
}

static const double vowel[][2] = {{660, 60}, {1720, 100}, {2410, 120}, {3500, 175}}; /* any four resonances */

/* Impulse response of 1 / A(z), long enough to die away. */
static void impulse_response(const double *a, guint order, double *h, guint n)
{
    for (guint i = 0; i < n; i++) {
        h[i] = i == 0;
        for (guint k = 1; k <= order && k <= i; k++)
            h[i] -= a[k] * h[i - k];
    }
}

static void expect_same_filter(const double *a, const double *expected, guint order, double tolerance)
{
    for (guint i = 0; i <= order; i++)
        expect_near(a[i], expected[i], tolerance);
}

static void test_levinson(void **state)
{
    (void)state;
    double expected[9], h[4000], r[9], a[9];
    guint order = polynomial_of(vowel, 4, expected);

    impulse_response(expected, order, h, 4000);
    for (guint lag = 0; lag <= order; lag++) {
        r[lag] = 0;
        for (guint i = lag; i < 4000; i++)
            r[lag] += h[i] * h[i - lag];
    }
    double residual = dsp_lpc_levinson(r, order, a);
    expect_same_filter(a, expected, order, 1e-8);
    expect_ratio(residual, 1 / r[0], 1e-8); /* the impulse has power 1 */

    memset(r, 0, sizeof r);
    expect_near(dsp_lpc_levinson(r, order, a), 1, 0);
    expect_near(a[0], 1, 0);
    expect_near(a[8], 0, 0);
}

static void test_covariance(void **state)
{
    (void)state;
    double expected[9], h[120], weight[120], a[9];
    guint order = polynomial_of(vowel, 4, expected);

    /* after the impulse the response is predictable without error: 100 samples of it give the filter */
    impulse_response(expected, order, h, 120);
    expect_near(dsp_lpc_covariance(h + 20, NULL, 100, order, a), 0, 1e-9);
    expect_same_filter(a, expected, order, 1e-3);

    /* a disturbance whose error has no weight does no harm */
    for (guint i = 0; i < 120; i++)
        weight[i] = i < 60 || i > 60 + order;
    h[60] += 0.5;
    dsp_lpc_covariance(h + 20, NULL, 100, order, a);
    assert_true(fabs(a[1] - expected[1]) > 1e-2);
    dsp_lpc_covariance(h + 20, weight + 20, 100, order, a);
    expect_same_filter(a, expected, order, 1e-3);
}

/* A sine obeys x[i] = 2 cos(w) x[i-1] - x[i-2]: two poles at its frequency. Burg's method finds it up to a bias that
 * shrinks with the number of periods (40 here). */
static void test_burg(void **state)
{
    (void)state;
    double x[800], scratch[1600], a[3];

    for (guint i = 0; i < 800; i++)
        x[i] = sin(2 * G_PI * 0.05 * i + 1);
    double residual = dsp_lpc_burg(x, 800, 2, a, scratch);
    expect_near(acos(-a[1] / (2 * sqrt(a[2]))) / (2 * G_PI), 0.05, 0.0002);
    assert_true(residual < 1e-3);
    memset(x, 0, sizeof x);
    dsp_lpc_burg(x, 800, 2, a, scratch);
    expect_near(a[1], 0, 0);
}

/* c[n] = sum of p^n / n over the poles p. */
static void test_cepstrum(void **state)
{
    (void)state;
    double a[9], c[21];
    guint order = polynomial_of(vowel, 4, a);

    dsp_lpc_cepstrum(a, order, c, 20);
    for (guint n = 1; n <= 20; n++) {
        double sum = 0;
        for (guint r = 0; r < 4; r++)
            sum += 2 * exp(-G_PI * vowel[r][1] / 10000 * n) * cos(2 * G_PI * vowel[r][0] / 10000 * n) / n;
        expect_near(c[n], sum, 1e-10);
    }
}

/* ---- roots ----------------------------------------------------------------------------------------------------- */

static void expand(const double complex *z, guint degree, double *a)
{
    double complex p[DSP_LPC_ORDER_MAX + 1] = {1};
    for (guint r = 0; r < degree; r++)
        for (guint i = r + 1; i >= 1; i--)
            p[i] -= z[r] * p[i - 1];
    for (guint i = 0; i <= degree; i++)
        a[i] = creal(p[i]);
}

static void expect_same_roots(const double complex *found, const double complex *expected, guint degree,
                              double tolerance)
{
    for (guint i = 0; i < degree; i++) {
        double nearest = INFINITY;
        for (guint j = 0; j < degree; j++)
            nearest = fmin(nearest, cabs(found[j] - expected[i]));
        expect_near(nearest, 0, tolerance);
    }
}

static void test_roots_known(void **state)
{
    (void)state;
    g_autoptr(dsp_roots) roots = dsp_roots_create(6);
    double complex expected[6] = {0.9 + 0.3 * I, 0.9 - 0.3 * I, -0.2 + 0.95 * I, -0.2 - 0.95 * I, 0.5, -0.7};
    double complex z[6];
    double a[7];

    expand(expected, 6, a);
    assert_true(dsp_roots_solve(roots, a, z));
    expect_same_roots(z, expected, 6, 1e-10);
    /* the two real roots meet and become a pair: the start from the call before must not hold the result on the axis */
    expected[4] = -0.1 + 0.2 * I;
    expected[5] = -0.1 - 0.2 * I;
    expand(expected, 6, a);
    assert_true(dsp_roots_solve(roots, a, z));
    expect_same_roots(z, expected, 6, 1e-10);
    for (guint i = 0; i < 7; i++)
        a[i] *= -3;
    dsp_roots_reset(roots);
    assert_true(dsp_roots_solve(roots, a, z));
    expect_same_roots(z, expected, 6, 1e-10);
}

/* Gliding resonances: the quick way from the roots before gives what a fresh solution gives. */
static void test_roots_follow(void **state)
{
    (void)state;
    g_autoptr(dsp_roots) follow = dsp_roots_create(8);
    g_autoptr(dsp_roots) fresh = dsp_roots_create(8);
    double complex z[8], expected[8];
    double a[9];

    for (int step = 0; step < 100; step++) {
        double t = step / 100.0;
        double glide[4][2] = {{700 - 400 * t, 60 + 100 * t}, {1200 + 1000 * t, 90}, {2500, 100}, {3500 - 900 * t, 400}};
        polynomial_of(glide, 4, a);
        dsp_roots_reset(fresh);
        assert_true(dsp_roots_solve(fresh, a, expected));
        assert_true(dsp_roots_solve(follow, a, z));
        expect_same_roots(z, expected, 8, 1e-8);
    }
}

/* ---- small systems --------------------------------------------------------------------------------------------- */

static void test_solve_spd(void **state)
{
    (void)state;
    double m[36], kept[36], b[6], x[6];

    for (guint i = 0; i < 6; i++) { /* the Hilbert matrix, positive definite and badly conditioned */
        x[i] = 1 + i;
        for (guint j = 0; j < 6; j++)
            m[i * 6 + j] = kept[i * 6 + j] = 1.0 / (i + j + 1);
    }
    for (guint i = 0; i < 6; i++) {
        b[i] = 0;
        for (guint j = 0; j < 6; j++)
            b[i] += kept[i * 6 + j] * x[j];
    }
    assert_true(dsp_solve_spd(m, b, 6));
    for (guint i = 0; i < 6; i++)
        expect_near(b[i], x[i], 1e-7);
    double indefinite[4] = {1, 0, 2, 1}, rhs[2] = {1, 1};
    assert_false(dsp_solve_spd(indefinite, rhs, 2));
}

/* The residual of a least-squares solution is at right angles to every column. */
static void test_least_squares(void **state)
{
    (void)state;
    double m[60], kept[60], b[20], rhs[20], x[3];

    fill_noise(kept, 60, 21);
    fill_noise(rhs, 20, 22);
    memcpy(m, kept, sizeof m);
    memcpy(b, rhs, sizeof b);
    assert_true(dsp_least_squares(m, b, 20, 3, x));
    for (guint c = 0; c < 3; c++) {
        double dot = 0;
        for (guint i = 0; i < 20; i++) {
            double fit = 0;
            for (guint j = 0; j < 3; j++)
                fit += kept[i * 3 + j] * x[j];
            dot += kept[i * 3 + c] * (rhs[i] - fit);
        }
        expect_near(dot, 0, 1e-12);
    }
    for (guint i = 0; i < 20; i++)
        kept[i * 3 + 2] = 2 * kept[i * 3];
    assert_false(dsp_least_squares(kept, rhs, 20, 3, x));
}

static void test_quantile(void **state)
{
    (void)state;
    double x[2000];
    double few[] = {3, 1, 2, 10};

    expect_near(dsp_quantile(few, 4, 0.5), 2.5, 1e-12);
    expect_near(dsp_quantile(few, 4, 0), 1, 0);
    expect_near(dsp_quantile(few, 4, 1), 10, 0);
    expect_near(dsp_quantile(&(double){7}, 1, 0.3), 7, 0);
    for (guint i = 0; i < 2000; i++)
        x[i] = (i * 769u) % 2000;                           /* every number once: 769 and 2000 share no factor */
    for (guint percent = 100; percent <= 100; percent -= 5) /* what one call leaves the next one must cope with */
        expect_near(dsp_quantile(x, 2000, percent / 100.0), percent / 100.0 * 1999, 1e-9);
    for (guint i = 0; i < 2000; i++)
        x[i] = (i * 769u) % 5; /* 400 of each */
    for (guint i = 0; i < 5; i++)
        expect_near(dsp_quantile(x, 2000, 0.1 + 0.2 * i), i, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_windows),
        cmocka_unit_test(test_fft),
        cmocka_unit_test(test_fft_own_buffers),
        cmocka_unit_test(test_autocorrelation_of_band),
        cmocka_unit_test(test_autocorrelation_of_full_band),
        cmocka_unit_test(test_log_power_at),
        cmocka_unit_test(test_envelope_of_harmonics),
        cmocka_unit_test(test_levinson),
        cmocka_unit_test(test_covariance),
        cmocka_unit_test(test_burg),
        cmocka_unit_test(test_cepstrum),
        cmocka_unit_test(test_roots_known),
        cmocka_unit_test(test_roots_follow),
        cmocka_unit_test(test_solve_spd),
        cmocka_unit_test(test_least_squares),
        cmocka_unit_test(test_quantile),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
