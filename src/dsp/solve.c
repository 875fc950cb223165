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

/* Reorders n values so that [k] is what it would be if they were sorted, with none larger before it and none smaller
 * after it (Hoare 1961, Commun. ACM 4:321, algorithm 65 "Find"). */
static void find(double *values, gssize n, gssize k)
{
    gssize left = 0, right = n - 1;

    while (left < right) {
        double border = values[k];
        gssize i = left, j = right;
        while (i <= j) {
            while (values[i] < border)
                i++;
            while (border < values[j])
                j--;
            if (i > j)
                break;
            double value = values[i];
            values[i++] = values[j];
            values[j--] = value;
        }
        if (j < k)
            left = i;
        if (k < i)
            right = j;
    }
}

double dsp_quantile(double *values, gsize n, double share)
{
    g_return_val_if_fail(n > 0, NAN);

    double at = CLAMP(share, 0, 1) * (double)(n - 1);
    gsize below = (gsize)at;
    find(values, (gssize)n, (gssize)below);
    double above = below + 1 < n ? values[below + 1] : values[below];
    for (gsize i = below + 2; i < n; i++)
        above = MIN(above, values[i]);
    return values[below] + (at - (double)below) * (above - values[below]);
}
