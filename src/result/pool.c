/* pool.c - what several notes of one sound tell together.
 *
 * The posterior of a note is its prior times what the note itself says. Of several notes the sayings are multiplied and
 * the prior is kept once. Readings of one singer share part of their errors (the source's ripple, habits of the
 * microphone and of the room), so each saying counts by a power below one: with n notes whose errors correlate by r it
 * is 1 / (1 + (n - 1) r), and together they never count for more than 1 / r notes (the variance of a mean of equally
 * correlated values; any textbook of statistics). Posteriors are mixtures of normal distributions; a power of one is
 * taken mode by mode, which is exact where the modes lie apart, and of the products only the heaviest modes go on. */
#include "dsp/dsp.h"
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <math.h>
#include <string.h>

enum { N = APERTA_N_RESONANCES };

/* A normal distribution as exp(-x'Lx/2 + e'x + c). */
typedef struct {
    double precision[N][N];
    double shift[N];
    double ln_constant;
} canonical;

/* Its mean, covariance and mass; FALSE where it is none, since its precision is not positive definite. */
static gboolean solve(const canonical *c, aperta_mode *mode, double *ln_mass)
{
    double ln_det = 0.0, square = 0.0;

    for (int i = 0; i <= N; i++) { /* the columns of the inverse, then the mean */
        double m[N][N], b[N];
        memcpy(m, c->precision, sizeof m);
        for (int k = 0; k < N; k++)
            b[k] = i == N ? c->shift[k] : (double)(i == k);
        if (!dsp_solve_spd(&m[0][0], b, N))
            return FALSE;
        for (int k = 0; k < N; k++) {
            *(i == N ? &mode->ln_hz[k] : &mode->covariance[k][i]) = b[k];
            ln_det += i == N ? 2.0 * log(m[k][k]) : 0.0;
        }
    }
    for (int k = 0; k < N; k++)
        square += c->shift[k] * mode->ln_hz[k];
    *ln_mass = c->ln_constant + 0.5 * square - 0.5 * ln_det;
    return TRUE;
}

/* A mode as a density times its weight; FALSE where its covariance is none. */
static gboolean canonical_of_mode(const aperta_mode *mode, canonical *c)
{
    double ln_det = 0.0, square = 0.0;

    *c = (canonical){.ln_constant = log(fmax(mode->weight, 1e-12))};
    for (int i = 0; i < N; i++) {
        double m[N][N], b[N];
        memcpy(m, mode->covariance, sizeof m);
        for (int k = 0; k < N; k++)
            b[k] = i == k;
        if (!dsp_solve_spd(&m[0][0], b, N))
            return FALSE;
        for (int k = 0; k < N; k++)
            c->precision[k][i] = b[k];
        ln_det += 2.0 * log(m[i][i]);
    }
    for (int i = 0; i < N; i++)
        for (int k = 0; k < N; k++)
            c->shift[i] += c->precision[i][k] * mode->ln_hz[k];
    for (int i = 0; i < N; i++)
        square += c->shift[i] * mode->ln_hz[i];
    c->ln_constant -= 0.5 * (square + ln_det);
    return TRUE;
}

static void add(canonical *to, const canonical *from, double times)
{
    for (int i = 0; i < N; i++) {
        to->shift[i] += times * from->shift[i];
        for (int k = 0; k < N; k++)
            to->precision[i][k] += times * from->precision[i][k];
    }
    to->ln_constant += times * from->ln_constant;
}

/* The prior of the reading, nothing where it had none. Its constant is left out: it is the same in all modes. */
static canonical canonical_of_prior(const aperta_posterior *posterior)
{
    canonical c = {.ln_constant = 0.0};

    for (int i = 0; i < N && posterior->has_prior; i++) {
        c.precision[i][i] = 1.0 / (posterior->prior_sd[i] * posterior->prior_sd[i]);
        c.shift[i] = posterior->prior_ln_hz[i] * c.precision[i][i];
    }
    return c;
}

typedef struct {
    canonical c;
    aperta_mode mode;
    double ln_mass;
} product;

static int heaviest_first(const void *a, const void *b)
{
    double first = ((const product *)a)->ln_mass, second = ((const product *)b)->ln_mass;

    return (first < second) - (first > second);
}

/* All modes so far times all modes of one more note, the heaviest kept; returns their number, 0 where none is a
 * distribution. */
static int multiply(const product *sofar, int n, const aperta_posterior *note, double power, product *out)
{
    product all[APERTA_MODES_MAX * APERTA_MODES_MAX];
    canonical prior = canonical_of_prior(note), mode;
    int n_all = 0;

    for (int i = 0; i < n; i++)
        for (int m = 0; m < note->n_modes; m++) {
            product *p = &all[n_all];
            p->c = sofar[i].c;
            if (!canonical_of_mode(&note->modes[m], &mode))
                continue;
            add(&p->c, &mode, power);
            add(&p->c, &prior, -power);
            n_all += solve(&p->c, &p->mode, &p->ln_mass);
        }
    qsort(all, (gsize)n_all, sizeof *all, heaviest_first);
    n_all = MIN(n_all, APERTA_MODES_MAX);
    memcpy(out, all, sizeof *all * (gsize)n_all);
    return n_all;
}

gboolean result_pool(const aperta_posterior *const *notes, guint n, aperta_posterior *pooled)
{
    double power = 1.0 / (1.0 + (n - 1) * RESULT_POOL_CORRELATION), sum = 0.0;
    product modes[APERTA_MODES_MAX] = {{.c = canonical_of_prior(notes[0])}};
    int n_modes = 1;

    for (guint i = 0; i < n && n_modes > 0; i++)
        n_modes = multiply(modes, n_modes, notes[i], power, modes);
    if (n_modes == 0)
        return FALSE;
    *pooled = *notes[0]; /* its prior is that of all */
    pooled->n_modes = n_modes;
    for (int m = 0; m < n_modes; m++) {
        pooled->modes[m] = modes[m].mode;
        pooled->modes[m].weight = exp(modes[m].ln_mass - modes[0].ln_mass);
        sum += pooled->modes[m].weight;
    }
    for (int m = 0; m < n_modes; m++)
        pooled->modes[m].weight /= sum;
    return TRUE;
}

/* ---- do they differ? --------------------------------------------------------------------------------------------- */

/* Mean and covariance of F1 and F2 over all modes. */
static void moments(const aperta_posterior *posterior, double mean[2], double covariance[2][2])
{
    memset(covariance, 0, sizeof(double[2][2]));
    mean[0] = mean[1] = 0.0;
    for (int m = 0; m < posterior->n_modes; m++)
        for (int i = 0; i < 2; i++)
            mean[i] += posterior->modes[m].weight * posterior->modes[m].ln_hz[i];
    for (int m = 0; m < posterior->n_modes; m++)
        for (int i = 0; i < 2; i++)
            for (int k = 0; k < 2; k++) {
                const aperta_mode *mode = &posterior->modes[m];
                covariance[i][k] +=
                    mode->weight * (mode->covariance[i][k] + (mode->ln_hz[i] - mean[i]) * (mode->ln_hz[k] - mean[k]));
            }
}

void result_spread_add(result_spread *spread, const aperta_posterior *posterior)
{
    double mean[2], c[2][2];

    moments(posterior, mean, c);
    double det = c[0][0] * c[1][1] - c[0][1] * c[1][0];
    double precision[2][2] = {{c[1][1] / det, -c[0][1] / det}, {-c[1][0] / det, c[0][0] / det}};
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 2; k++) {
            spread->precision[i][k] += precision[i][k];
            spread->shift[i] += precision[i][k] * mean[k];
            spread->square += mean[i] * precision[i][k] * mean[k];
        }
    spread->n++;
}

gboolean result_spread_is_chance(const result_spread *s)
{
    double det = s->precision[0][0] * s->precision[1][1] - s->precision[0][1] * s->precision[1][0];
    double at_best = (s->shift[0] * s->shift[0] * s->precision[1][1] + s->shift[1] * s->shift[1] * s->precision[0][0] -
                      2.0 * s->shift[0] * s->shift[1] * s->precision[0][1]) /
                     det;

    return s->n < 2 || s->square - at_best <= dsp_chi_squared_quantile(1.0 - RESULT_DIFFER_AT, 2 * (s->n - 1));
}
