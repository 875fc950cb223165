/* track.c - F1, F2, F3 over the time of a note whose vowel moves.
 *
 * The note is cut into windows of about half a vibrato cycle, and each is fitted for itself (fit-window.c). Of the few
 * places a window leaves open, dynamic programming (Viterbi 1967) takes those that together cost least, in fit and in
 * movement. The
 * values so chosen are observations of a random walk of ln F with their own variances; a Kalman filter forward and the
 * smoother of Rauch, Tung & Striebel 1965 (AIAA J. 3:1445) backward give the track and its uncertainty. How far the
 * walk steps is itself read from the note, by the likelihood of the innovations: a vowel that stands still in F2 is
 * pooled there, while its F1 moves.
 */
#include "tract/track.h"

#include <math.h>

#include "dsp/dsp.h"
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

enum { N = APERTA_N_RESONANCES, WINDOWS_MAX = TRACT_STRETCH_MAX / TRACT_TRACK_HOP + 2 };

struct tract_track {
    guint n;
    tract_window windows[WINDOWS_MAX];
    guint8 chosen[WINDOWS_MAX];
    double ln_hz[N][WINDOWS_MAX]; /* smoothed */
    double variance[N][WINDOWS_MAX];
};

tract_track *tract_track_create(void)
{
    return g_new0(tract_track, 1);
}

void tract_track_destroy(tract_track *track)
{
    g_free(track);
}

/* ---- a quick look ------------------------------------------------------------------------------------------------ */

static guint mean_levels(const tract_harmonic_frame *frames, guint n, double *level_db)
{
    guint least = APERTA_HARMONICS_MAX;

    for (guint i = 0; i < n; i++)
        least = MIN(least, frames[i].n);
    for (guint k = 0; k < least; k++) {
        level_db[k] = 0.0;
        for (guint i = 0; i < n; i++)
            level_db[k] += MAX(frames[i].level_db[k], frames[i].noise_db[k]) / n;
    }
    return least;
}

double tract_track_change_db(const tract_harmonic_frame *frames, guint n_frames)
{
    double first_db[APERTA_HARMONICS_MAX], last_db[APERTA_HARMONICS_MAX], most_db = -INFINITY;
    double sum = 0.0, squares = 0.0, weights = 0.0;
    guint part = (guint)(TRACT_TRACK_PART * n_frames);

    if (part < TRACT_FRAMES_MIN)
        return 0.0;
    guint n = MIN(mean_levels(frames, part, first_db), mean_levels(frames + n_frames - part, part, last_db));
    for (guint k = 0; k < n; k++)
        most_db = fmax(most_db, fmax(first_db[k], last_db[k]));
    for (guint k = 0; k < n; k++) {
        if (fmax(first_db[k], last_db[k]) < most_db - TRACT_TRACK_RANGE_DB)
            continue;
        double change_db = last_db[k] - first_db[k];
        sum += change_db;
        squares += change_db * change_db;
        weights += 1.0;
    }
    return weights > 0.0 ? sqrt(MAX(squares / weights - sum * sum / (weights * weights), 0.0)) : 0.0;
}

gboolean tract_track_may_move(const tract_harmonic_frame *frames, guint n_frames)
{
    return tract_track_change_db(frames, n_frames) > TRACT_TRACK_CHANGE_DB;
}

/* ---- which places ------------------------------------------------------------------------------------------------ */

static double transition_cost(const tract_window *from, int p, const tract_window *to, int q)
{
    static const double sds[N] = {TRACT_TRACK_STEP_SDS};
    double cost = 0.0;

    for (int i = 0; i < N; i++) {
        double steps = (to->places[q].ln_hz[i] - from->places[p].ln_hz[i]) / sds[i];
        cost += fmin(0.5 * steps * steps, TRACT_TRACK_STEP_MAX);
    }
    return cost;
}

static void find_path(tract_track *track)
{
    double cost[2][TRACT_WINDOW_PLACES_MAX];
    guint8 from[WINDOWS_MAX][TRACT_WINDOW_PLACES_MAX];
    int best = 0;

    for (int q = 0; q < track->windows[0].n; q++)
        cost[0][q] = track->windows[0].places[q].cost;
    for (guint w = 1; w < track->n; w++)
        for (int q = 0; q < track->windows[w].n; q++) {
            double least = INFINITY;
            for (int p = 0; p < track->windows[w - 1].n; p++) {
                double sum = cost[(w - 1) % 2][p] + transition_cost(&track->windows[w - 1], p, &track->windows[w], q);
                if (sum < least) {
                    least = sum;
                    from[w][q] = (guint8)p;
                }
            }
            cost[w % 2][q] = least + track->windows[w].places[q].cost;
        }
    for (int q = 1; q < track->windows[track->n - 1].n; q++)
        if (cost[(track->n - 1) % 2][q] < cost[(track->n - 1) % 2][best])
            best = q;
    for (guint w = track->n; w-- > 0; best = w > 0 ? from[w][best] : 0)
        track->chosen[w] = (guint8)best;
}

/* ---- smoothing --------------------------------------------------------------------------------------------------- */

static double observed(const tract_track *track, int i, guint w, double *variance)
{
    *variance = track->windows[w].places[track->chosen[w]].variance[i] + TRACT_TRACK_FLOOR_SD * TRACT_TRACK_FLOOR_SD;
    return track->windows[w].places[track->chosen[w]].ln_hz[i];
}

/* Kalman filter of a random walk with this step variance per window; returns the negative log likelihood. A window far
 * from where the walk can be counts as less sure, so that one wrong place does not bend the track. */
static double filter(tract_track *track, int i, double step)
{
    double cost = 0.0, noise, *mean = track->ln_hz[i], *variance = track->variance[i];

    mean[0] = observed(track, i, 0, &variance[0]);
    for (guint w = 1; w < track->n; w++) {
        double ahead = variance[w - 1] + step, apart = observed(track, i, w, &noise) - mean[w - 1];
        noise *= fmax(1.0, apart * apart / (TRACT_TRACK_FAR * TRACT_TRACK_FAR * (ahead + noise)));
        double gain = ahead / (ahead + noise);
        cost += 0.5 * (log(ahead + noise) + apart * apart / (ahead + noise));
        mean[w] = mean[w - 1] + gain * apart;
        variance[w] = (1.0 - gain) * ahead;
    }
    return cost;
}

static void smooth(tract_track *track, int i)
{
    static const double sds[] = {TRACT_TRACK_WALK_SDS};
    double least = INFINITY, step = 0.0, *mean = track->ln_hz[i], *variance = track->variance[i];

    for (gsize s = 0; s < G_N_ELEMENTS(sds); s++) {
        double cost = filter(track, i, sds[s] * sds[s]);
        if (cost < least) {
            least = cost;
            step = sds[s] * sds[s];
        }
    }
    filter(track, i, step);
    for (guint w = track->n - 1; w-- > 0;) {
        double ahead = variance[w] + step, gain = variance[w] / ahead;
        mean[w] += gain * (mean[w + 1] - mean[w]);
        variance[w] += gain * gain * (variance[w + 1] - ahead);
    }
}

gboolean tract_track_follow(tract_track *track, tract_fit *fit, const fit_minima ends[TRACT_ENDS],
                            const tract_harmonic_frame *frames, guint n_frames)
{
    track->n = 0;
    for (guint first = 0; first + TRACT_TRACK_FRAMES <= n_frames; first += TRACT_TRACK_HOP) {
        const tract_window *before = track->n > 0 ? &track->windows[track->n - 1] : NULL;
        tract_fit_window(fit, frames + first, TRACT_TRACK_FRAMES, ends, before, &track->windows[track->n]);
        track->n += track->windows[track->n].n > 0;
    }
    if (track->n < TRACT_TRACK_WINDOWS_MIN)
        return FALSE;
    find_path(track);
    for (int i = 0; i < N; i++)
        smooth(track, i);
    return TRUE;
}

/* ---- what it says ------------------------------------------------------------------------------------------------ */

double tract_track_moved_bark(const tract_track *track)
{
    guint last = track->n - 1;
    double most = 0.0;

    for (int i = 0; i < 2; i++) {
        double start = track->ln_hz[i][0], end = track->ln_hz[i][last];
        double sds = fabs(end - start) / sqrt(track->variance[i][0] + track->variance[i][last]);
        if (sds >= TRACT_TRACK_SURE)
            most = fmax(most, fabs(aperta_hz_to_bark(exp(end)) - aperta_hz_to_bark(exp(start))));
    }
    return most;
}

/* Ratio of the ends of the 90 % interval of a resonance that is normal. */
static double interval_ratio(double variance)
{
    return exp(2.0 * dsp_normal_quantile(0.95) * sqrt(variance));
}

static double below_f0(double ln_f1, double variance, double f0_hz)
{
    return dsp_normal_cdf((log(f0_hz) - ln_f1) / sqrt(variance));
}

void tract_track_end(const tract_track *track, gboolean last, double f0_hz,
                     aperta_resonance resonances[APERTA_N_RESONANCES], aperta_posterior *posterior)
{
    guint w = last ? track->n - 1 : 0;
    double f1_below_f0 = below_f0(track->ln_hz[0][w], track->variance[0][w], f0_hz);

    *posterior = (aperta_posterior){.n_modes = 1, .modes = {{.weight = 1.0}}};
    for (int i = 0; i < N; i++) {
        posterior->modes[0].ln_hz[i] = track->ln_hz[i][w];
        posterior->modes[0].covariance[i][i] = track->variance[i][w];
    }
    for (int i = 0; i < N; i++)
        resonances[i] = aperta_posterior_resonance(posterior, i,
                                                   tract_status(i, interval_ratio(track->variance[i][w]), f1_below_f0));
}

aperta_tract_frame tract_track_at(const tract_track *track, double time_s, double f0_hz)
{
    aperta_tract_frame frame = {.known = 0};
    double f1_below_f0 = 0.0;
    guint w = 0;

    while (w + 2 < track->n && track->windows[w + 1].time_s < time_s)
        w++;
    double share = CLAMP(
        (time_s - track->windows[w].time_s) / (track->windows[w + 1].time_s - track->windows[w].time_s), 0.0, 1.0);
    for (int i = 0; i < N; i++) {
        double ln_hz = (1.0 - share) * track->ln_hz[i][w] + share * track->ln_hz[i][w + 1];
        double variance = (1.0 - share) * track->variance[i][w] + share * track->variance[i][w + 1];
        if (i == 0)
            f1_below_f0 = below_f0(ln_hz, variance, f0_hz);
        double ratio = interval_ratio(variance);
        if (tract_status(i, ratio, f1_below_f0) != APERTA_MEASURED || ratio > TRACT_KNOWN_RATIO)
            continue; /* a frame has no interval that would tell how wide F1 is */
        frame.hz[i] = (float)exp(ln_hz);
        frame.known |= (guint8)(1 << i);
    }
    return frame;
}
