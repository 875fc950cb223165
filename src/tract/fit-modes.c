/* fit-modes.c - the posterior as a mixture of a few normal distributions, for those who ask about F1, F2 and F3
 * together.
 *
 * Mixture reduction: slices that lie next to each other are merged, the pair first whose merging changes least, until
 * few are left (Runnalls 2007, IEEE Trans. Aerosp. Electron. Syst. 43:989: an upper bound of the Kullback-Leibler
 * divergence). A bounded F1, whose posterior is wide and skewed, keeps more than one of them. */
#include <math.h>
#include <string.h>

#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

enum { N = APERTA_N_RESONANCES };

static const double F_CENTRES[FIT_POLES] = {FIT_F_CENTRES};
static const double F_SDS[FIT_POLES] = {FIT_F_SDS};

/* A component of the mixture and the log determinant of its covariance. */
typedef struct {
    aperta_mode mode;
    double ln_det;
} component;

static double ln_determinant(double c[N][N])
{
    double det = c[0][0] * (c[1][1] * c[2][2] - c[1][2] * c[2][1]) - c[0][1] * (c[1][0] * c[2][2] - c[1][2] * c[2][0]) +
                 c[0][2] * (c[1][0] * c[2][1] - c[1][1] * c[2][0]);
    return log(MAX(det, 1e-30));
}

/* One slice: F1 evenly spread over its width, F2 and F3 normal. How they go with F1 shows between the slices. */
static component component_of_slice(const fit_slice *slice)
{
    component l = {.mode = {.weight = exp(slice->log_weight)}};
    memcpy(l.mode.ln_hz, slice->mean, sizeof l.mode.ln_hz);
    l.mode.covariance[0][0] = slice->half_width * slice->half_width / 3.0;
    l.mode.covariance[1][1] = slice->sd[1] * slice->sd[1];
    l.mode.covariance[2][2] = slice->sd[2] * slice->sd[2];
    l.mode.covariance[1][2] = l.mode.covariance[2][1] = slice->cross;
    l.ln_det = ln_determinant(l.mode.covariance);
    return l;
}

/* The normal distribution with the moments of both together. */
static component merged(const component *a, const component *b)
{
    component l = {0};
    double sum = a->mode.weight + b->mode.weight, wa = a->mode.weight / sum, wb = b->mode.weight / sum, apart[N];
    l.mode.weight = sum;
    for (int i = 0; i < N; i++) {
        l.mode.ln_hz[i] = wa * a->mode.ln_hz[i] + wb * b->mode.ln_hz[i];
        apart[i] = a->mode.ln_hz[i] - b->mode.ln_hz[i];
    }
    for (int i = 0; i < N; i++)
        for (int j = 0; j < N; j++)
            l.mode.covariance[i][j] =
                wa * a->mode.covariance[i][j] + wb * b->mode.covariance[i][j] + wa * wb * apart[i] * apart[j];
    l.ln_det = ln_determinant(l.mode.covariance);
    return l;
}

static double merging_cost(const component *a, const component *b)
{
    component both = merged(a, b);
    return both.mode.weight * both.ln_det - a->mode.weight * a->ln_det - b->mode.weight * b->ln_det;
}

static void merge(component *components, int *n, int i, int j)
{
    components[i] = merged(&components[i], &components[j]);
    memmove(&components[j], &components[j + 1], sizeof *components * (gsize)(*n - 1 - j));
    (*n)--;
}

/* Merges the cheapest pairs of neighbours (reach 1) or of all (reach *n) until at most so many are left. */
static void reduce(component *components, int *n, int most, int reach)
{
    while (*n > most) {
        int best_i = 0, best_j = 1;
        double least = INFINITY;
        for (int i = 0; i < *n; i++)
            for (int j = i + 1; j < *n && j <= i + reach; j++) {
                double cost = merging_cost(&components[i], &components[j]);
                if (cost < least) {
                    least = cost;
                    best_i = i;
                    best_j = j;
                }
            }
        merge(components, n, best_i, best_j);
    }
}

static int by_f1(gconstpointer a, gconstpointer b)
{
    const component *left = a, *right = b;
    return left->mode.ln_hz[0] < right->mode.ln_hz[0] ? -1 : left->mode.ln_hz[0] > right->mode.ln_hz[0];
}

void fit_posterior_modes(const fit_posterior *posterior, const fit_voice *voice, aperta_posterior *out)
{
    component all[FIT_MODES_ALL * APERTA_MODES_MAX];
    int n_all = 0;
    for (int mode = 0; mode < posterior->n_modes; mode++) {
        component components[FIT_SLICES_MAX];
        int n = 0;
        for (int j = 0; j < posterior->n_slices; j++)
            if (posterior->slices[j].mode == mode && exp(posterior->slices[j].log_weight) > FIT_WEIGHT_MIN)
                components[n++] = component_of_slice(&posterior->slices[j]);
        qsort(components, (gsize)n, sizeof *components, by_f1);
        reduce(components, &n, APERTA_MODES_MAX, 1);
        memcpy(&all[n_all], components, sizeof *components * (gsize)n);
        n_all += n;
    }
    reduce(all, &n_all, APERTA_MODES_MAX, n_all);
    double sum = 0.0;
    for (int i = 0; i < n_all; i++)
        sum += all[i].mode.weight;
    *out = (aperta_posterior){.n_modes = n_all, .has_prior = TRUE};
    for (int i = 0; i < n_all; i++) {
        out->modes[i] = all[i].mode;
        out->modes[i].weight /= sum;
    }
    for (int i = 0; i < N; i++) {
        out->prior_ln_hz[i] = log(F_CENTRES[i] * voice->neutral_hz);
        out->prior_sd[i] = i < 2 ? F_SDS[i] : hypot(F_SDS[i], voice->length_sd); /* F3 scales with the tract's length */
    }
}
