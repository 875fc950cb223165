/* From frames to cells: the harmonics of all frames of a note, sorted by where the vibrato had carried the fundamental.
 *
 * Frames with nearly the same fundamental see the tract at the same frequencies; only their gain differs. Levels are
 * averaged over such frames with the gain of each frame taken out (an additive fit of frame and cell), which turns
 * thousands of levels into at most a few hundred cells and loses nothing that the fit could use. Harmonics that move
 * with a quarter period's lag behind the fundamental (the tract needs time to answer) cancel, since each bin is passed
 * upward as often as downward.
 */
#include <math.h>
#include <string.h>

#include "dsp/dsp.h"
#include "tract/fit-private.h"
#include "tract/fit-tuning.h"
#include "tract/tract-tuning.h"

#define DB2_PER_NOISE 37.7 /* (20 / ln 10)^2 / 2: variance of a level by its noise-to-signal power */

typedef struct {
    double level, noise, beside;
    guint n;
} tally;

static double square(double x)
{
    return x * x;
}

static gboolean clear_of_noise(const tract_harmonic_frame *frame, guint k)
{
    return frame->level_db[k] > frame->noise_db[k] + (float)FIT_SNR_MIN_DB;
}

/* Level of all harmonics together. */
static double frame_level_db(const tract_harmonic_frame *frame)
{
    double power = 0.0;
    for (guint k = 0; k < frame->n; k++)
        power += pow(10.0, (double)frame->level_db[k] / 10.0);
    return aperta_power_to_db(power);
}

static void place_bins(fit_cells *cells, const tract_harmonic_frame *frames, guint n_frames, double *scratch)
{
    for (guint i = 0; i < n_frames; i++)
        scratch[i] = log2(frames[i].f0_hz);
    /* a stray frame must not stretch the range */
    double low = dsp_quantile(scratch, n_frames, FIT_F0_TAIL),
           high = dsp_quantile(scratch, n_frames, 1.0 - FIT_F0_TAIL);
    double bins = ceil((high - low) * 1200.0 / FIT_BIN_CENTS);
    cells->f0_hz = exp2(dsp_quantile(scratch, n_frames, 0.5));
    cells->f0_low_hz = exp2(low);
    cells->f0_high_hz = exp2(high);
    cells->n_bins = (guint)CLAMP(bins, 1.0, FIT_BINS_MAX);
}

/* -1 for a frame that is not used. */
static int bin_of(const fit_cells *cells, double f0_hz)
{
    double place = log(f0_hz / cells->f0_low_hz) / log(cells->f0_high_hz / cells->f0_low_hz) * cells->n_bins;
    if (!(cells->f0_high_hz > cells->f0_low_hz))
        place = 0.5;
    if (place < -FIT_BIN_SLACK || place > cells->n_bins + FIT_BIN_SLACK)
        return -1;
    return CLAMP((int)floor(place), 0, (int)cells->n_bins - 1);
}

static void tally_levels(const fit_cells *cells, const tract_harmonic_frame *frames, guint n_frames,
                         const double *gain_db, tally tallies[FIT_BINS_MAX][APERTA_HARMONICS_MAX])
{
    memset(tallies, 0, sizeof(tally) * FIT_BINS_MAX * APERTA_HARMONICS_MAX);
    for (guint i = 0; i < n_frames; i++) {
        int bin = bin_of(cells, frames[i].f0_hz);
        for (guint k = 0; bin >= 0 && k < frames[i].n; k++)
            if (clear_of_noise(&frames[i], k) && !isnan(gain_db[i])) {
                tally *t = &tallies[bin][k];
                t->level += (double)frames[i].level_db[k] - gain_db[i];
                double noise = pow(10.0, ((double)frames[i].noise_db[k] - (double)frames[i].level_db[k]) / 10.0);
                t->noise += noise;
                t->beside += frames[i].accompanied ? noise : 0.0;
                t->n++;
            }
    }
}

/* Gain of each frame: how far its harmonics lie above their cells, on average. */
static void update_gains(const fit_cells *cells, const tract_harmonic_frame *frames, guint n_frames,
                         tally tallies[FIT_BINS_MAX][APERTA_HARMONICS_MAX], double *gain_db)
{
    for (guint i = 0; i < n_frames; i++) {
        int bin = bin_of(cells, frames[i].f0_hz);
        double sum = 0.0, weights = 0.0;
        for (guint k = 0; bin >= 0 && k < frames[i].n; k++)
            if (clear_of_noise(&frames[i], k) && tallies[bin][k].n > 0) {
                sum += (double)frames[i].level_db[k] - tallies[bin][k].level / tallies[bin][k].n;
                weights += 1.0;
            }
        if (!isnan(gain_db[i]))
            gain_db[i] = weights > 0.0 ? sum / weights : NAN;
    }
}

/* Leaves out the frames that are least like the others of their bin: the tract was still, or already, on its way. */
static void drop_outliers(const fit_cells *cells, const tract_harmonic_frame *frames, guint n_frames,
                          tally tallies[FIT_BINS_MAX][APERTA_HARMONICS_MAX], double *gain_db, double *away_db2)
{
    double *sorted_db2 = away_db2 + n_frames;
    guint kept = 0;
    for (guint i = 0; i < n_frames; i++) {
        int bin = bin_of(cells, frames[i].f0_hz);
        double sum = 0.0, n = 0.0;
        for (guint k = 0; bin >= 0 && k < frames[i].n; k++)
            if (clear_of_noise(&frames[i], k) && tallies[bin][k].n > 0) {
                double away_db = (double)frames[i].level_db[k] - gain_db[i] - tallies[bin][k].level / tallies[bin][k].n;
                sum += MIN(square(away_db), square(FIT_OUTLIER_DB));
                n += 1.0;
            }
        away_db2[i] = n > 0.0 && !isnan(gain_db[i]) ? sum / n : NAN;
        if (!isnan(away_db2[i]))
            sorted_db2[kept++] = away_db2[i];
    }
    if (kept < TRACT_FRAMES_MIN)
        return;
    double most = square(FIT_OUTLIER) * dsp_quantile(sorted_db2, kept, 0.5);
    for (guint i = 0; i < n_frames; i++)
        if (away_db2[i] > most)
            gain_db[i] = NAN;
}

static void centre_gains(const double *level_db, guint n_frames, double *gain_db, double *scratch)
{
    guint n = 0;
    for (guint i = 0; i < n_frames; i++)
        scratch[n++] = level_db[i];
    double middle = dsp_quantile(scratch, n, 0.5);
    for (guint i = 0; i < n_frames; i++)
        gain_db[i] = level_db[i] < middle - FIT_FRAME_RANGE_DB ? NAN : level_db[i] - middle;
}

/* A first guess of the gains must not move with the vibrato: the level of a frame is that of its strongest harmonic,
 * whose movement along the response is what the fit looks for. So each gain becomes the mean around it. */
static void smooth_gains(const tract_harmonic_frame *frames, guint n_frames, double *gain_db, double *mean_db)
{
    guint first = 0;
    for (guint i = 0; i < n_frames; i++) {
        double sum = 0.0, n = 0.0;
        while (frames[first].time_s < frames[i].time_s - FIT_GAIN_S)
            first++;
        for (guint j = first; j < n_frames && frames[j].time_s < frames[i].time_s + FIT_GAIN_S; j++)
            if (!isnan(gain_db[j])) {
                sum += gain_db[j];
                n += 1.0;
            }
        mean_db[i] = sum / n;
    }
    for (guint i = 0; i < n_frames; i++)
        gain_db[i] = isnan(gain_db[i]) ? NAN : mean_db[i];
}

/* Adds a cell made of one or more bins of one harmonic. */
static void write_cell(fit_cells *cells, fit_group *group, const tally *sum, double hz)
{
    double noise = sum->noise / sum->n, independent = 0.5 * (sum->n + 1);
    double frame = FIT_FRAME_SD_DB * FIT_FRAME_SD_DB + DB2_PER_NOISE * noise;
    fit_cell *cell = &cells->cells[cells->n_cells++];
    cell->hz = hz;
    cell->bend = 12.0 * log2(hz / (group->number * cells->f0_hz));
    cell->level_db = sum->level / sum->n + 10.0 * log10(1.0 - MIN(noise, 0.5));
    cell->beside_db2 = FIT_BESIDE_SHARE * DB2_PER_NOISE * sum->beside / sum->n;
    cell->variance_db2 = frame / independent;
    cell->irls_weight = 1.0;
    group->n++;
}

/* Variance that n cells across range_hz get for what a room does. Its response deviates by FIT_ROOM_DB, alike within
 * FIT_ROOM_HZ: over a shorter range it is a slope, over a longer one so many independent errors. Cells are taken as
 * independent, so each gets what gives the slope across the range the right error. */
static double room_db2(double range_hz, guint n)
{
    double spans = MAX(range_hz, 1.0) / FIT_ROOM_HZ;
    return square(FIT_ROOM_DB) * n / (12.0 / square(spans) + spans);
}

/* Neighbouring bins join until a cell spans FIT_CELL_HZ, as long as some are left. */
static void write_cells(fit_cells *cells, tally tallies[FIT_BINS_MAX][APERTA_HARMONICS_MAX], const double *bin_f0_hz,
                        double band_hz, double neutral_hz)
{
    cells->n_groups = cells->n_cells = 0;
    for (guint k = 0; k < APERTA_HARMONICS_MAX && (k + 1) * cells->f0_hz < band_hz; k++) {
        fit_group group = {.number = k + 1, .octave = log2(k + 1), .first = cells->n_cells, .irls_weight = 1.0};
        double range_hz = (k + 1) * (cells->f0_high_hz - cells->f0_low_hz), hz = 0.0;
        guint parts = (guint)CLAMP(range_hz / FIT_CELL_HZ, MIN(FIT_CELLS_MIN, cells->n_bins), cells->n_bins), part = 0;
        tally sum = {0};
        for (guint bin = 0; bin < cells->n_bins; bin++) {
            const tally *t = &tallies[bin][k];
            sum.level += t->level;
            sum.noise += t->noise;
            sum.beside += t->beside;
            sum.n += t->n;
            hz += t->n * (k + 1) * bin_f0_hz[bin];
            if ((bin + 1) * parts < (part + 1) * cells->n_bins)
                continue;
            part++;
            if (sum.n > 0)
                write_cell(cells, &group, &sum, hz / sum.n);
            sum = (tally){0};
            hz = 0.0;
        }
        double room = room_db2(range_hz, group.n);
        for (guint i = group.first; i < cells->n_cells; i++) {
            cells->cells[i].variance_db2 += room + cells->cells[i].beside_db2;
            group.beside_db2 += cells->cells[i].beside_db2 / group.n;
        }
        double over =
            CLAMP(((k + 1) * cells->f0_hz / neutral_hz - FIT_DOUBT_FROM) / (FIT_DOUBT_TO - FIT_DOUBT_FROM), 0.0, 1.0);
        group.ripple_db2 = FIT_RIPPLE_DB * FIT_RIPPLE_DB + square(over * FIT_DOUBT_RIPPLE_DB);
        group.doubt_db2 = square(over * FIT_DOUBT_CELL_DB) + square(FIT_MODEL_DB);
        if (group.n > 0)
            cells->groups[cells->n_groups++] = group;
    }
}

gboolean fit_cells_fill(fit_cells *cells, const tract_harmonic_frame *frames, guint n_frames, double band_hz,
                        double neutral_hz, double *scratch)
{
    static const guint ROUNDS = 3;
    tally tallies[FIT_BINS_MAX][APERTA_HARMONICS_MAX];
    double *gain_db = scratch, *level_db = scratch + n_frames, bin_f0_hz[FIT_BINS_MAX] = {0}, bin_n[FIT_BINS_MAX] = {0};

    cells->n_groups = cells->n_cells = 0;
    if (n_frames < TRACT_FRAMES_MIN)
        return FALSE;
    place_bins(cells, frames, n_frames, scratch);
    for (guint i = 0; i < n_frames; i++)
        level_db[i] = frame_level_db(&frames[i]);
    centre_gains(level_db, n_frames, gain_db, scratch + 2 * n_frames);
    smooth_gains(frames, n_frames, gain_db, scratch + 2 * n_frames);
    for (guint round = 0; round < ROUNDS; round++) {
        tally_levels(cells, frames, n_frames, gain_db, tallies);
        update_gains(cells, frames, n_frames, tallies, gain_db);
        if (round > 0)
            drop_outliers(cells, frames, n_frames, tallies, gain_db, scratch + 2 * n_frames);
    }
    tally_levels(cells, frames, n_frames, gain_db, tallies);
    for (guint i = 0; i < n_frames; i++) {
        int bin = bin_of(cells, frames[i].f0_hz);
        if (bin >= 0 && !isnan(gain_db[i])) {
            bin_f0_hz[bin] += frames[i].f0_hz;
            bin_n[bin] += 1.0;
        }
    }
    for (guint bin = 0; bin < cells->n_bins; bin++)
        bin_f0_hz[bin] /= MAX(bin_n[bin], 1.0);
    write_cells(cells, tallies, bin_f0_hz, band_hz, neutral_hz);
    return cells->n_groups >= 3;
}

void fit_cells_thin(const fit_cells *cells, guint n_bins, fit_cells *thin)
{
    *thin = *cells;
    thin->n_cells = 0;
    for (guint g = 0; g < cells->n_groups; g++) {
        const fit_group *from = &cells->groups[g];
        fit_group *to = &thin->groups[g];
        guint parts = MIN(n_bins, from->n);
        to->first = thin->n_cells;
        to->n = parts;
        for (guint part = 0; part < parts; part++) {
            guint begin = part * from->n / parts, end = (part + 1) * from->n / parts;
            double weights = 0.0;
            fit_cell sum = {.irls_weight = 1.0};
            for (guint i = begin; i < end; i++) {
                const fit_cell *cell = &cells->cells[from->first + i];
                double weight = 1.0 / cell->variance_db2;
                weights += weight;
                sum.hz += weight * cell->hz;
                sum.bend += weight * cell->bend;
                sum.level_db += weight * cell->level_db;
            }
            sum.hz /= weights;
            sum.bend /= weights;
            sum.level_db /= weights;
            sum.variance_db2 = 1.0 / weights;
            thin->cells[thin->n_cells++] = sum;
        }
    }
}

void fit_cells_reset_weights(fit_cells *cells)
{
    for (guint i = 0; i < cells->n_cells; i++)
        cells->cells[i].irls_weight = 1.0;
    for (guint g = 0; g < cells->n_groups; g++)
        cells->groups[g].irls_weight = 1.0;
}
