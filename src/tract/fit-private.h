/* tract/fit-private.h - what the parts of the pooled fit share. */
#ifndef TRACT_FIT_PRIVATE_H
#define TRACT_FIT_PRIVATE_H

#include <aperta/base.h>

#include "dsp/nlls.h"
#include "tract/fit-minima.h"
#include "tract/harmonics.h"
#include "tract/tract-fit.h"

/* ---- source (fit-source.c) --------------------------------------------------------------------------------------- */

enum { FIT_SHAPES = 25 };

/* Levels of the harmonics of the glottal pulse over its shape, log-spaced from pressed to breathy. */
typedef struct {
    double level_db[FIT_SHAPES][APERTA_HARMONICS_MAX];
} fit_source;

void fit_source_fill(fit_source *source);
/* Level of harmonic k (1..) for a shape with this ln Rd, and its derivative by ln Rd. */
double fit_source_level_db(const fit_source *source, guint k, double ln_rd, double *slope);

/* ---- cells (fit-cells.c) ----------------------------------------------------------------------------------------- */

enum { FIT_BINS_MAX = 14, FIT_CELLS_MAX = APERTA_HARMONICS_MAX * FIT_BINS_MAX };

/* One harmonic in one bin of the fundamental's excursion, averaged over the frames there. */
typedef struct {
    double hz;
    double bend; /* log2 of the bin's fundamental over the note's, in units of 100 cents */
    double level_db;
    double variance_db2;
    double beside_db2;  /* of it: what partials beside the voice can make; no scale of the errors changes that */
    double irls_weight; /* robust weight, 1 for a cell that fits */
} fit_cell;

/* The cells of one harmonic lie together. */
typedef struct {
    guint number;
    double octave; /* log2 of number */
    guint first, n;
    double ripple_db2;  /* prior variance of the source's deviation at this harmonic */
    double irls_weight; /* robust weight of that prior */
    double doubt_db2;   /* variance of a cell by what the model leaves out there */
    double beside_db2;  /* mean of its cells' */
} fit_group;

typedef struct {
    double f0_hz;                 /* centre, log scale */
    double f0_low_hz, f0_high_hz; /* all but the outermost 2 % of the frames */
    guint n_bins;
    guint n_groups, n_cells;
    fit_group groups[APERTA_HARMONICS_MAX];
    fit_cell cells[FIT_CELLS_MAX];
} fit_cells;

/* Harmonics above band_hz are left out; neutral_hz: quarter-wave resonance of the tract, which tells where the model is
 * in doubt. FALSE when the frames are too few. scratch: 4 n_frames values. */
gboolean fit_cells_fill(fit_cells *cells, const tract_harmonic_frame *frames, guint n_frames, double band_hz,
                        double neutral_hz, double *scratch);
/* The same note in at most so many bins, for quick looks. */
void fit_cells_thin(const fit_cells *cells, guint n_bins, fit_cells *thin);
/* Sets all robust weights to 1. */
void fit_cells_reset_weights(fit_cells *cells);

/* ---- model (fit-model.c) ----------------------------------------------------------------------------------------- */

/* ln centres and spreads of what is known before listening. */
typedef struct {
    double neutral_hz; /* quarter-wave resonance of the voice group's tract */
    double length_sd;
} fit_voice;

typedef struct {
    const fit_source *source;
    fit_voice voice;
    const fit_cells *cells;
    int first;              /* parameters before it are held: spares their derivatives */
    const double *tract_db; /* of each cell, where only source and gain may move (first: FIT_SHAPE); else NULL */
} fit_model;

/* dsp_nlls_model: chi squared with priors; data is a fit_model. */
double fit_model_chi2(const double *x, double *gradient, double *curvature, void *data);
/* Frequencies (and bandwidths, if not NULL) of the poles. */
void fit_model_poles(const fit_model *model, const double *x, double hz[FIT_POLES], double bandwidth_hz[FIT_POLES]);
/* Level of the tract at each cell. */
void fit_model_tract_db(const fit_model *model, const double *x, double *level_db);
/* x of a frequency, others (the length) as they are. */
double fit_model_x_of_hz(const fit_model *model, const double *x, int pole, double hz);
/* Residual of every cell (with the harmonic's ripple taken out) and the ripple of every group. */
void fit_model_residuals(const fit_model *model, const double *x, double *residual_db, double *ripple_db);

/* Chi squared of the robust errors at x, and the weights that make it a sum of squares nearby, into cells (those of the
 * model). residual_db: room for n_cells values. */
double fit_model_irls_weights(const fit_model *model, fit_cells *cells, const double *x, double *residual_db);

/* ---- search (fit-search.c) --------------------------------------------------------------------------------------- */

/* The different minima of fit->cells, FIT_MODES_MAX at most. Sets the scale of the errors in fit->cells. */
void fit_search(tract_fit *fit, const aperta_resonance hint[APERTA_N_RESONANCES], fit_minima *minima);

/* ---- posterior (fit-slices.c, fit-posterior.c) ------------------------------------------------------------------- */

/* The posterior where F1 has one value: everything else normal around its best value there. */
typedef struct {
    int mode;
    double log_weight; /* of the slice's whole width */
    double ln_f1, half_width;
    double mean[APERTA_N_RESONANCES]; /* ln Hz */
    double sd[APERTA_N_RESONANCES];   /* ln; [0] is not used */
    double cross;                     /* covariance of ln F2 and ln F3 */
} fit_slice;

/* Around one minimum there may be more modes than one: valleys part modes up to a number that leaves room for one of
 * each minimum still to come. */
enum {
    FIT_MODES_PARTED = 3 * FIT_MODES_MAX,
    FIT_MODES_ALL = FIT_MODES_PARTED + FIT_MODES_MAX,
    FIT_SLICES_EACH_WAY = 20,
    FIT_SLICES_MAX = FIT_MODES_MAX * (2 * FIT_SLICES_EACH_WAY + 1)
};

typedef struct {
    int n_modes;
    int n_slices;
    fit_slice slices[FIT_SLICES_MAX];
} fit_posterior;

/* Cuts the posterior around minimum m into slices; nothing if those of another minimum have passed it. */
void fit_slice_minimum(tract_fit *fit, const fit_minimum *m);
/* What the posterior says of the three resonances; f0_hz: the middle of the note. */
void fit_posterior_read(fit_posterior *posterior, double f0_hz, aperta_resonance resonances[APERTA_N_RESONANCES]);
/* The same, already read, in a few normal distributions (fit-modes.c). */
void fit_posterior_modes(const fit_posterior *posterior, const fit_voice *voice, aperta_posterior *out);

/* ---- the whole (fit.c) ------------------------------------------------------------------------------------------- */

struct tract_fit {
    tract_fit_config config;
    fit_source source;
    fit_voice voice;
    fit_cells cells;
    fit_cells thin; /* the same note, coarser */
    fit_posterior posterior;
    dsp_nlls *nlls;
    double *scratch;
    double residual_db[FIT_CELLS_MAX];
    double tract_db[FIT_CELLS_MAX]; /* of thin, at a start */
};

#endif
