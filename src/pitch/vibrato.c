/* vibrato.c - rate and extent of vibrato.
 *
 * Method: in windows of about two and a half cycles a sine and a straight line are fitted to the pitch in cents by
 * least squares, over a grid of rates. Windows in which the sine explains most of what the line leaves are vibrato;
 * rate and extent are the medians over them, so that a straight start does not shrink the extent and an irregular rate
 * does not either (Prame 1994, J. Acoust. Soc. Am. 96:1979-1984, measures cycle by cycle for the same reason). */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>

/* Least squares of values, already without line, on cos and sin of one rate, these without their lines too. */
typedef struct {
    double cc, ss, cs, yc, ys;
} sine_sums;

/* Takes the least-squares line out of n values at t = -(n-1)/2 .. (n-1)/2. */
static double sum_without_line(const double *y, guint n, double *mean, double *slope)
{
    double half = (n - 1) / 2.0, sum = 0.0, moment = 0.0, square = 0.0, tt = n * ((double)n * n - 1.0) / 12.0;

    for (guint i = 0; i < n; i++) {
        sum += y[i];
        moment += (i - half) * y[i];
        square += y[i] * y[i];
    }
    *mean = sum / n;
    *slope = tt > 0.0 ? moment / tt : 0.0;
    return square - sum * sum / n - *slope * moment;
}

/* The sine of this rate that fits best. */
static pitch_sine try_rate(const double *y, guint n, double hop_s, double rate_hz, double mean, double slope,
                           double total)
{
    double half = (n - 1) / 2.0, step = 2.0 * G_PI * rate_hz * hop_s;
    sine_sums s = {0};
    double c_sum = 0.0, s_moment = 0.0, tt = n * ((double)n * n - 1.0) / 12.0;
    double co = cos(-half * step), si = sin(-half * step), turn_c = cos(step), turn_s = sin(step);

    for (guint i = 0; i < n; i++) {
        double r = y[i] - mean - slope * (i - half);
        s.cc += co * co;
        s.ss += si * si;
        s.yc += r * co;
        s.ys += r * si;
        c_sum += co;
        s_moment += (i - half) * si;
        double next = co * turn_c - si * turn_s;
        si = si * turn_c + co * turn_s;
        co = next;
    }
    /* about the middle cos is even and sin odd: cos loses its mean, sin its slope, and they stay apart */
    s.cc -= c_sum * c_sum / n;
    s.ss -= s_moment * s_moment / tt;
    double a = s.yc / s.cc, b = s.ys / s.ss;
    double share = total > 0.0 ? (a * s.yc + b * s.ys) / total : 0.0;
    return (pitch_sine){rate_hz, hypot(a, b), share, a, b};
}

pitch_sine pitch_fit_sine(const double *cents, guint n, double hop_s)
{
    pitch_sine best = {0};
    double mean, slope;
    double total = sum_without_line(cents, n, &mean, &slope);
    /* a window holds that many cycles, or a bend of the pitch would pass as a slow vibrato */
    double low_hz = MAX(VIBRATO_RATE_MIN_HZ, VIBRATO_CYCLES_MIN / (n * hop_s));

    for (double rate = low_hz; rate <= VIBRATO_RATE_MAX_HZ; rate += VIBRATO_GRID_STEP_HZ) {
        pitch_sine sine = try_rate(cents, n, hop_s, rate, mean, slope, total);
        if (sine.share > best.share)
            best = sine;
    }
    double step = VIBRATO_GRID_STEP_HZ / 2.0;
    for (int round = 0; round < 5 && best.share > 0.0; round++, step /= 2.0) {
        for (int side = -1; side <= 1; side += 2) {
            pitch_sine sine = try_rate(cents, n, hop_s, best.rate_hz + side * step, mean, slope, total);
            if (sine.share > best.share)
                best = sine;
        }
    }
    return best;
}

/* The pitch of a span in cents, gaps bridged by holding the value before; NULL when less than half is voiced. */
static double *span_cents(const aperta_f0_track *track, aperta_span span, guint *n)
{
    guint from = aperta_f0_track_frame_at(track, span.start_s);
    guint to = aperta_f0_track_frame_at(track, span.end_s);
    guint voiced = 0;
    double last = NAN;

    if (track->n_frames == 0 || to <= from)
        return NULL;
    *n = to - from + 1;
    double *cents = g_new(double, *n);
    for (guint i = 0; i < *n; i++) {
        const aperta_f0 *f = &track->frames[from + i];
        if (f->voiced) {
            last = 1200.0 * log2(f->f0_hz / 100.0);
            voiced++;
        }
        cents[i] = last;
    }
    for (guint i = *n; i-- > 0;)
        if (isnan(cents[i]))
            cents[i] = i + 1 < *n ? cents[i + 1] : 0.0;
    if (2 * voiced < *n)
        g_clear_pointer(&cents, g_free);
    return cents;
}

aperta_vibrato pitch_vibrato(const aperta_f0_track *track, aperta_span span)
{
    aperta_vibrato vibrato = {.status = APERTA_VIBRATO_TOO_SHORT};
    guint n = 0;
    g_autofree double *cents = NULL;

    if (span.end_s - span.start_s < VIBRATO_MIN_S || (cents = span_cents(track, span, &n)) == NULL)
        return vibrato;
    vibrato.status = APERTA_VIBRATO_STRAIGHT;
    guint window = MIN(n, (guint)(VIBRATO_WINDOW_S / track->hop_s));
    guint step = MAX(1, (guint)(VIBRATO_WINDOW_STEP_S / track->hop_s));
    guint n_windows = (n - window) / step + 1;
    g_autofree double *rates = g_new(double, n_windows);
    g_autofree double *extents = g_new(double, n_windows);
    guint found = 0;
    for (guint w = 0; w < n_windows; w++) {
        pitch_sine sine = pitch_fit_sine(cents + w * step, window, track->hop_s);
        if (sine.share >= VIBRATO_FIT_MIN && sine.extent_cents >= VIBRATO_EXTENT_MIN_CENTS) {
            rates[found] = sine.rate_hz;
            extents[found++] = sine.extent_cents;
        }
    }
    /* a single window of a long note may look like a sine by chance */
    if (found == 0 || (found < 3 && n_windows > 6))
        return vibrato;
    vibrato.status = APERTA_VIBRATO_MEASURED;
    vibrato.rate_hz = dsp_quantile(rates, found, 0.5);
    vibrato.extent_cents = dsp_quantile(extents, found, 0.5);
    return vibrato;
}
