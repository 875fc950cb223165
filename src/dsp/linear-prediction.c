/* linear-prediction.c - the methods of autocorrelation, of covariance, and Burg's. The first two and the notation:
 * Makhoul 1975 (Proc. IEEE 63:561-580); Burg's recursion: Burg 1975 (Maximum entropy spectral analysis, PhD thesis,
 * Stanford). */
#include "dsp/dsp.h"

#include <string.h>

/* One step of the recursion: the filter of order m - 1 becomes that of order m with reflection k. */
static void step_up(double *a, guint m, double k)
{
    a[m] = 0;
    for (guint i = 0, j = m; i <= j; i++, j--) {
        double front = a[i] + k * a[j];
        double back = a[j] + k * a[i];
        a[i] = front;
        a[j] = back;
    }
}

static void set_to_one(double *a, guint order)
{
    memset(a, 0, (order + 1) * sizeof *a);
    a[0] = 1;
}

double dsp_lpc_levinson(const double *r, guint order, double *a)
{
    double residual = r[0];

    set_to_one(a, order);
    if (!(r[0] > 0))
        return 1;
    for (guint m = 1; m <= order && residual > 0; m++) {
        double sum = 0;
        for (guint i = 0; i < m; i++)
            sum += a[i] * r[m - i];
        double k = -sum / residual;
        if (!(k > -1 && k < 1))
            break; /* rounding only: an exactly predictable signal needs no higher order */
        step_up(a, m, k);
        residual *= 1 - k * k;
    }
    return residual / r[0];
}

double dsp_lpc_burg(const double *samples, gsize n, guint order, double *a, double *scratch)
{
    double *forward = scratch;
    double *backward = scratch + n;
    double residual = 1;

    memcpy(forward, samples, n * sizeof *samples);
    memcpy(backward, samples, n * sizeof *samples);
    set_to_one(a, order);
    for (guint m = 1; m <= order; m++) {
        double cross = 0;
        double power = 0;
        for (gsize i = m; i < n; i++) {
            cross += forward[i] * backward[i - 1];
            power += forward[i] * forward[i] + backward[i - 1] * backward[i - 1];
        }
        if (!(power > 0))
            break;
        double k = -2 * cross / power;
        step_up(a, m, k);
        residual *= 1 - k * k;
        for (gsize i = n - 1; i >= m; i--) {
            double f = forward[i];
            double b = backward[i - 1];
            forward[i] = f + k * b;
            backward[i] = b + k * f;
        }
    }
    return residual;
}

/* sum over i of weight[i] samples[i - j] samples[i - k] */
static double lagged_product(const double *samples, const double *weight, gsize n, guint order, guint j, guint k)
{
    double sum = 0;

    if (weight == NULL)
        for (gsize i = order; i < n; i++)
            sum += samples[i - j] * samples[i - k];
    else
        for (gsize i = order; i < n; i++)
            sum += weight[i] * samples[i - j] * samples[i - k];
    return sum;
}

double dsp_lpc_covariance(const double *samples, const double *weight, gsize n, guint order, double *a)
{
    double m[DSP_LPC_ORDER_MAX * DSP_LPC_ORDER_MAX];
    double b[DSP_LPC_ORDER_MAX];
    double c[DSP_LPC_ORDER_MAX];
    double power = lagged_product(samples, weight, n, order, 0, 0);
    double residual = power;

    set_to_one(a, order);
    if (!(power > 0))
        return 1;
    for (guint j = 1; j <= order; j++) {
        for (guint k = 1; k <= j; k++)
            m[(j - 1) * order + k - 1] = lagged_product(samples, weight, n, order, j, k);
        m[(j - 1) * order + j - 1] += 1e-12 * power; /* a pure tone must not make the system singular */
        b[j - 1] = c[j - 1] = -lagged_product(samples, weight, n, order, 0, j);
    }
    if (!dsp_solve_spd(m, b, order))
        return 1;
    for (guint j = 1; j <= order; j++) {
        a[j] = b[j - 1];
        residual -= b[j - 1] * c[j - 1];
    }
    return CLAMP(residual / power, 0, 1);
}

void dsp_lpc_cepstrum(const double *a, guint order, double *c, guint n)
{
    c[0] = 0;
    for (guint i = 1; i <= n; i++) {
        double sum = i <= order ? -a[i] * i : 0;
        for (guint k = 1; k < i; k++)
            if (i - k <= order)
                sum -= k * c[k] * a[i - k];
        c[i] = sum / i;
    }
}
