/* solve.c - small dense systems and order statistics, without a workspace. (GSL's solvers want its own matrix type, and
 * some of them allocate.) Golub & Van Loan, Matrix Computations, chapters 4 and 5. */
#include "dsp/dsp.h"

#include <math.h>

gboolean dsp_solve_spd(double *m, double *b, guint n)
{
    for (guint i = 0; i < n; i++) {
        for (guint j = 0; j <= i; j++) {
            double sum = m[i * n + j];
            for (guint k = 0; k < j; k++)
                sum -= m[i * n + k] * m[j * n + k];
            if (i == j && !(sum > 0))
                return FALSE;
            m[i * n + j] = i == j ? sqrt(sum) : sum / m[j * n + j];
        }
    }
    for (guint i = 0; i < n; i++) {
        for (guint k = 0; k < i; k++)
            b[i] -= m[i * n + k] * b[k];
        b[i] /= m[i * n + i];
    }
    for (guint i = n; i-- > 0;) {
        for (guint k = i + 1; k < n; k++)
            b[i] -= m[k * n + i] * b[k];
        b[i] /= m[i * n + i];
    }
    return TRUE;
}

/* Reflects column c of the rows from c on to a multiple of the first axis, and the later columns and b with it. */
static gboolean reflect(double *m, double *b, guint rows, guint cols, guint c, double smallest)
{
    double length = 0;

    for (guint i = c; i < rows; i++)
        length = hypot(length, m[i * cols + c]);
    if (!(length > smallest))
        return FALSE;
    double diagonal = m[c * cols + c] > 0 ? -length : length;
    double head = m[c * cols + c] - diagonal;
    double scale = -1 / (diagonal * head); /* 2 / |v|^2 for v = column - diagonal e1 */

    m[c * cols + c] = head;
    for (guint j = c + 1; j <= cols; j++) {
        double dot = 0;
        for (guint i = c; i < rows; i++)
            dot += m[i * cols + c] * (j < cols ? m[i * cols + j] : b[i]);
        for (guint i = c; i < rows; i++)
            *(j < cols ? &m[i * cols + j] : &b[i]) -= scale * dot * m[i * cols + c];
    }
    m[c * cols + c] = diagonal;
    return TRUE;
}

gboolean dsp_least_squares(double *m, double *b, guint rows, guint cols, double *x)
{
    double largest = 0;

    g_return_val_if_fail(rows >= cols && cols > 0, FALSE);
    for (guint i = 0; i < rows * cols; i++)
        largest = fmax(largest, fabs(m[i]));
    for (guint c = 0; c < cols; c++)
        if (!reflect(m, b, rows, cols, c, 1e-13 * largest * sqrt(rows)))
            return FALSE;
    for (guint c = cols; c-- > 0;) {
        x[c] = b[c];
        for (guint j = c + 1; j < cols; j++)
            x[c] -= m[c * cols + j] * x[j];
        x[c] /= m[c * cols + c];
    }
    return TRUE;
}

/* Shell's method with Ciura's gaps (2001): the C library's sort may allocate. */
static void sort(double *values, gsize n)
{
    static const gsize gaps[] = {701, 301, 132, 57, 23, 10, 4, 1};

    for (guint g = 0; g < G_N_ELEMENTS(gaps); g++) {
        for (gsize i = gaps[g]; i < n; i++) {
            double value = values[i];
            gsize j = i;
            for (; j >= gaps[g] && values[j - gaps[g]] > value; j -= gaps[g])
                values[j] = values[j - gaps[g]];
            values[j] = value;
        }
    }
}

double dsp_quantile(double *values, gsize n, double share)
{
    g_return_val_if_fail(n > 0, NAN);

    sort(values, n);
    double at = CLAMP(share, 0, 1) * (double)(n - 1);
    gsize below = (gsize)at;
    gsize above = MIN(below + 1, n - 1);
    return values[below] + (at - (double)below) * (values[above] - values[below]);
}
