/* The model of the levels of a note's harmonics, its derivatives, and what is known beforehand.
 *
 *   level(k, f0) = gain + gain's movement with the vibrato
 *                + source(k; Rd) + movement of Rd + (tilt + movement of the tilt) log2 k + ripple(k)
 *                + sum of six resonances at k f0 + the higher ones as the tract's length places them
 *
 * in dB. A resonance of frequency F and bandwidth B adds 10 log10 of
 * (F^2 + B^2/4)^2 / ((F^2 + B^2/4 - f^2)^2 + B^2 f^2), 0 dB at f = 0 (Fant 1960, "Acoustic Theory of Speech
 * Production"). The seventh and all higher ones are those of a uniform tube, in Fant's series for the correction by
 * higher poles.
 *
 * Every parameter is counted in standard deviations from its prior's centre, so its prior adds its square. The ripple
 * of each harmonic, normal around 0, is eliminated in closed form: for given other parameters the best ripple of
 * harmonic k is its posterior mean, the weighted mean residual shrunk toward 0, and what is left of chi squared, its
 * gradient and its curvature follows from sums over the cells of that harmonic. This leaves the slopes along a
 * harmonic's excursion as the main witness, as they do not depend on the source (Arroabarren & Carlosena 2004, EURASIP
 * J. Appl. Signal Process. 7:1007).
 */
#include <math.h>
#include <string.h>

#include "dsp/pair.h"
#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

static const double CENTRE[FIT_POLES] = {FIT_F_CENTRES};
static const double SD[FIT_POLES] = {FIT_F_SDS};
static const double APART[FIT_POLES - 1] = {FIT_APART};
static const double APART_SD[FIT_POLES - 1] = {FIT_APART_SDS};

#define DB_PER_LN_POWER 4.342944819032518 /* 10 / ln 10 */
#define SMALL           1e-6              /* per square of a frequency: keeps products in range */

/* Do the resonances scale with the tract's length? F1 and F2 are wide enough already. */
static gboolean scales(int pole)
{
    return pole >= 2;
}

/* The arrays over poles are what the loop over the cells would compute again and again. */
typedef struct {
    double hz[FIT_POLES];
    double bandwidth_hz[FIT_POLES];
    double bandwidth_slope[FIT_POLES]; /* d ln B / d ln F by the rule */
    double pole2[FIT_POLES], b2[FIT_POLES];
    double square[FIT_POLES], per_square[FIT_POLES]; /* F^2 + B^2/4, and one over it */
    double squares_db;                               /* of the square of the product of all square */
    double neutral_hz;
    double ln_rd;
} state;

static void unpack(const fit_model *model, const double *x, state *s)
{
    double length = model->voice.length_sd * x[FIT_LENGTH]; /* + = shorter, higher */
    double product = 1.0;
    s->neutral_hz = model->voice.neutral_hz * exp(length);
    for (int i = 0; i < FIT_POLES; i++) {
        double neutral = scales(i) ? s->neutral_hz : model->voice.neutral_hz;
        s->hz[i] = neutral * CENTRE[i] * exp(CLAMP(SD[i] * x[FIT_F1 + i], -2.0, 2.0));
        double rule = FIT_B_BASE_HZ + FIT_B_SHARE * s->hz[i];
        s->bandwidth_hz[i] = rule * exp(CLAMP(FIT_B_SD * x[FIT_B1 + i], -2.5, 2.5));
        s->bandwidth_slope[i] = FIT_B_SHARE * s->hz[i] / rule;
        s->pole2[i] = s->hz[i] * s->hz[i];
        s->b2[i] = s->bandwidth_hz[i] * s->bandwidth_hz[i];
        s->square[i] = s->pole2[i] + 0.25 * s->b2[i];
        s->per_square[i] = 1.0 / s->square[i];
        product *= s->square[i] * SMALL;
    }
    s->squares_db = 2.0 * DB_PER_LN_POWER * log(product);
    s->ln_rd = log(FIT_RD_CENTRE) + FIT_RD_SD * x[FIT_SHAPE];
}

/* Fant's correction for resonance 7 and above of a uniform tube, and its derivative by ln of the neutral frequency. */
static double higher_poles_db(double hz, double neutral_hz, double *slope)
{
    /* sums of (2n-1)^-2 and (2n-1)^-4 from n = 7 on */
    const double squares = 0.0415707, fourths = 0.0000951;
    double y = hz / neutral_hz, y2 = y * y;
    *slope = -2.0 * DB_PER_LN_POWER * (2.0 * squares * y2 + 2.0 * fourths * y2 * y2);
    return 2.0 * DB_PER_LN_POWER * (squares * y2 + 0.5 * fourths * y2 * y2);
}

/* Level of the resonances at hz; d: derivatives by ln F and ln B of each, if not NULL. */
static double poles_db(const state *restrict s, double hz, double d_f[restrict FIT_POLES],
                       double d_b[restrict FIT_POLES])
{
    double q[FIT_POLES], below[FIT_POLES], under = 1.0, f2 = hz * hz;
    for (int i = 0; i < FIT_POLES; i++) {
        q[i] = s->square[i] - f2;
        below[i] = q[i] * q[i] + s->b2[i] * f2;
    }
    for (int i = 0; i < FIT_POLES; i++)
        under *= below[i] * (SMALL * SMALL);
    for (int i = 0; d_f != NULL && i < FIT_POLES; i++) {
        double per_below = 1.0 / below[i];
        d_f[i] = DB_PER_LN_POWER * 4.0 * s->pole2[i] * (s->per_square[i] - q[i] * per_below);
        d_b[i] = DB_PER_LN_POWER * s->b2[i] * (s->per_square[i] - (q[i] + 2.0 * f2) * per_below);
    }
    return s->squares_db - DB_PER_LN_POWER * log(under);
}

/* Level of the tract at hz; slope, if not NULL, by its parameters. */
static double tract_db(const fit_model *model, const state *s, double hz, double *slope)
{
    double d_f[FIT_POLES], d_b[FIT_POLES], with_length;
    double poles = poles_db(s, hz, slope != NULL ? d_f : NULL, d_b);
    double higher = higher_poles_db(hz, s->neutral_hz, &with_length);
    for (int i = 0; slope != NULL && i < FIT_POLES; i++) {
        double by_f = d_f[i] + d_b[i] * s->bandwidth_slope[i];
        slope[FIT_F1 + i] = SD[i] * by_f;
        slope[FIT_B1 + i] = FIT_B_SD * d_b[i];
        with_length += scales(i) ? by_f : 0.0;
    }
    if (slope != NULL)
        slope[FIT_LENGTH] = model->voice.length_sd * with_length;
    return poles + higher;
}

/* Level of cell i but for the harmonic's ripple; slope, if not NULL, by the parameters. */
static double cell_db(const fit_model *model, const state *s, const double *x, guint i, double source_db,
                      double source_slope, double octave, double *slope)
{
    const fit_cell *cell = &model->cells->cells[i];
    double bend = cell->bend;
    double tract = model->tract_db != NULL ? model->tract_db[i] : tract_db(model, s, cell->hz, slope);
    if (slope != NULL) {
        slope[FIT_SHAPE] = FIT_RD_SD * source_slope;
        slope[FIT_TILT] = FIT_TILT_SD * octave;
        slope[FIT_BEND_SHAPE] = FIT_BEND_RD_SD * bend * source_slope;
        slope[FIT_BEND_TILT] = FIT_BEND_TILT_SD * bend * octave;
        slope[FIT_GAIN] = FIT_GAIN_SD;
        slope[FIT_BEND_GAIN] = FIT_BEND_GAIN_SD * bend;
        slope[FIT_BEND_GAIN2] = FIT_BEND_GAIN2_SD * bend * bend;
    }
    double gain = FIT_GAIN_SD * x[FIT_GAIN] +
                  bend * (FIT_BEND_GAIN_SD * x[FIT_BEND_GAIN] + bend * FIT_BEND_GAIN2_SD * x[FIT_BEND_GAIN2]);
    double tilt = FIT_TILT_SD * x[FIT_TILT] + bend * FIT_BEND_TILT_SD * x[FIT_BEND_TILT];
    double moved_db = bend * FIT_BEND_RD_SD * x[FIT_BEND_SHAPE] * source_slope;
    return gain + source_db + moved_db + tilt * octave + tract;
}

void fit_model_tract_db(const fit_model *model, const double *x, double *level_db)
{
    state s;
    unpack(model, x, &s);
    for (guint i = 0; i < model->cells->n_cells; i++)
        level_db[i] = tract_db(model, &s, model->cells->cells[i].hz, NULL);
}

enum { PAIRS = (FIT_PARAMS + 1) / 2, WIDE = 2 * PAIRS };

typedef union {
    double of[WIDE];
    dsp_pair pairs[PAIRS];
} row;

/* Of the curvature only what is on and above the diagonal is kept up to date. */
typedef struct {
    row gradient;
    row curvature[WIDE];
} sums;

/* Adds a residual, weighted, with its slopes; what stands before first is not wanted. Two rows at a time. */
static void add_square(double weight, double residual, const row *restrict slope, int first, sums *restrict to)
{
    for (int j = first / 2; j < PAIRS; j++)
        to->gradient.pairs[j] += weight * residual * slope->pairs[j];
    for (int i = first / 2; i < PAIRS; i++) {
        double upper = weight * slope->of[2 * i], lower = weight * slope->of[2 * i + 1];
        for (int j = i; j < PAIRS; j++) {
            to->curvature[2 * i].pairs[j] += upper * slope->pairs[j];
            to->curvature[2 * i + 1].pairs[j] += lower * slope->pairs[j];
        }
    }
}

/* to may be NULL, here and below: then only the sum of squares is wanted. */
static double add_group(const fit_model *model, const state *s, const double *x, const fit_group *group, sums *to)
{
    double sum_w = 0.0, sum_r = 0.0, sum_rr = 0.0, source_slope;
    row sum_slope = {{0}}, slope = {{0}};
    double source_db = fit_source_level_db(model->source, group->number, s->ln_rd, &source_slope);
    for (guint i = group->first; i < group->first + group->n; i++) {
        const fit_cell *cell = &model->cells->cells[i];
        double weight = cell->irls_weight / cell->variance_db2;
        double r = cell_db(model, s, x, i, source_db, source_slope, group->octave, to != NULL ? slope.of : NULL) -
                   cell->level_db;
        sum_w += weight;
        sum_r += weight * r;
        sum_rr += weight * r * r;
        if (to != NULL) {
            add_square(weight, r, &slope, model->first, to);
            for (int p = 0; p < PAIRS; p++)
                sum_slope.pairs[p] += weight * slope.pairs[p];
        }
    }
    /* the ripple takes out the weighted mean, less the more it is trusted to be small */
    double share = 1.0 / (sum_w + group->irls_weight / group->ripple_db2);
    if (to != NULL)
        add_square(-share, sum_r, &sum_slope, model->first, to);
    return sum_rr - share * sum_r * sum_r;
}

/* Neighbouring resonances keep a distance: a quadratic penalty for what they lack of it. */
static double add_distance_penalties(const fit_model *model, const state *s, sums *to)
{
    double sum = 0.0;
    for (int i = 0; i + 1 < FIT_POLES; i++) {
        double lack = (APART[i] - log(s->hz[i + 1] / s->hz[i])) / APART_SD[i];
        if (lack <= 0.0)
            continue;
        sum += lack * lack;
        if (to == NULL)
            continue;
        row slope = {{0}};
        slope.of[FIT_F1 + i] = SD[i] / APART_SD[i];
        slope.of[FIT_F1 + i + 1] = -SD[i + 1] / APART_SD[i];
        slope.of[FIT_LENGTH] =
            model->voice.length_sd * ((scales(i) ? 1.0 : 0.0) - (scales(i + 1) ? 1.0 : 0.0)) / APART_SD[i];
        add_square(1.0, lack, &slope, 0, to);
    }
    return sum;
}

double fit_model_chi2(const double *x, double *gradient, double *curvature, void *data)
{
    const fit_model *model = data;
    state s;
    sums total, *to = gradient != NULL ? memset(&total, 0, sizeof total) : NULL;
    double chi2 = 0.0;
    unpack(model, x, &s);
    for (guint g = 0; g < model->cells->n_groups; g++)
        chi2 += add_group(model, &s, x, &model->cells->groups[g], to);
    chi2 += add_distance_penalties(model, &s, to);
    for (int i = 0; i < FIT_PARAMS; i++)
        chi2 += x[i] * x[i];
    for (int i = 0; to != NULL && i < FIT_PARAMS; i++) {
        gradient[i] = total.gradient.of[i] + x[i];
        total.curvature[i].of[i] += 1.0;
        for (int j = i; j < FIT_PARAMS; j++)
            curvature[i * FIT_PARAMS + j] = curvature[j * FIT_PARAMS + i] = total.curvature[i].of[j];
    }
    return chi2;
}

void fit_model_poles(const fit_model *model, const double *x, double hz[FIT_POLES], double bandwidth_hz[FIT_POLES])
{
    state s;
    unpack(model, x, &s);
    memcpy(hz, s.hz, sizeof s.hz);
    if (bandwidth_hz != NULL)
        memcpy(bandwidth_hz, s.bandwidth_hz, sizeof s.bandwidth_hz);
}

double fit_model_x_of_hz(const fit_model *model, const double *x, int pole, double hz)
{
    double length = scales(pole) ? model->voice.length_sd * x[FIT_LENGTH] : 0.0;
    return (log(hz / (model->voice.neutral_hz * CENTRE[pole])) - length) / SD[pole];
}

void fit_model_residuals(const fit_model *model, const double *x, double *residual_db, double *ripple_db)
{
    state s;
    unpack(model, x, &s);
    for (guint g = 0; g < model->cells->n_groups; g++) {
        const fit_group *group = &model->cells->groups[g];
        double sum_w = 0.0, sum_r = 0.0, source_slope;
        double source_db = fit_source_level_db(model->source, group->number, s.ln_rd, &source_slope);
        for (guint i = group->first; i < group->first + group->n; i++) {
            const fit_cell *cell = &model->cells->cells[i];
            double weight = cell->irls_weight / cell->variance_db2;
            residual_db[i] = cell_db(model, &s, x, i, source_db, source_slope, group->octave, NULL) - cell->level_db;
            sum_w += weight;
            sum_r += weight * residual_db[i];
        }
        ripple_db[g] = sum_r / (sum_w + group->irls_weight / group->ripple_db2);
        for (guint i = group->first; i < group->first + group->n; i++)
            residual_db[i] -= ripple_db[g];
    }
}

double fit_model_irls_weights(const fit_model *model, fit_cells *cells, const double *x, double *residual_db)
{
    double ripple_db[APERTA_HARMONICS_MAX], chi2 = 0.0;
    fit_model_residuals(model, x, residual_db, ripple_db);
    for (guint i = 0; i < cells->n_cells; i++) {
        double t2 = residual_db[i] * residual_db[i] / cells->cells[i].variance_db2;
        cells->cells[i].irls_weight = (FIT_STUDENT_DF + 1.0) / (FIT_STUDENT_DF + t2);
        chi2 += (FIT_STUDENT_DF + 1.0) * log1p(t2 / FIT_STUDENT_DF);
    }
    for (guint g = 0; g < cells->n_groups; g++) {
        double t2 = ripple_db[g] * ripple_db[g] / cells->groups[g].ripple_db2;
        double tail = ripple_db[g] > 0.0 ? FIT_RIPPLE_DF : FIT_RIPPLE_DF_ABOVE;
        cells->groups[g].irls_weight = (tail + 1.0) / (tail + t2);
        chi2 += (tail + 1.0) * log1p(t2 / tail);
    }
    for (int p = 0; p < FIT_PARAMS; p++)
        chi2 += x[p] * x[p];
    return chi2;
}
