/* lpc-note.c - a note's resonances from its frames: medians, because a frame whose poles were joined wrongly must not
 * count by how far it is off. */
#include "dsp/dsp.h"
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <math.h>

static guint collect(const aperta_tract_frame *frames, guint n, guint formant, double *hz)
{
    guint n_known = 0;

    for (guint i = 0; i < n; i++)
        if (frames[i].known & (1 << formant))
            hz[n_known++] = frames[i].hz[formant];
    return n_known;
}

/* The interval holds the spread over the frames and the errors that all frames may share. */
static aperta_resonance resonance_of(const aperta_tract_frame *frames, guint n, guint formant, double f0_hz)
{
    double hz[TRACT_STRETCH_MAX];
    aperta_resonance resonance = {.status = APERTA_UNKNOWN};
    guint n_known = collect(frames, n, formant, hz);

    if (n_known < TRACT_FRAMES_MIN || 2 * n_known < n)
        return resonance;
    resonance.status = APERTA_MEASURED;
    resonance.hz = dsp_quantile(hz, n_known, 0.5);
    double bias_hz = hypot(TRACT_HARMONIC_BIAS * f0_hz, TRACT_FIT_BIAS * resonance.hz);
    resonance.has_low = resonance.has_high = TRUE;
    resonance.low_hz = fmax(resonance.hz - hypot(resonance.hz - dsp_quantile(hz, n_known, 0.05), bias_hz), 0);
    resonance.high_hz = resonance.hz + hypot(dsp_quantile(hz, n_known, 0.95) - resonance.hz, bias_hz);
    if (formant == 0 && resonance.hz < TRACT_F1_AT_F0_RATIO * f0_hz)
        resonance.low_hz = fmin(resonance.low_hz, TRACT_POLE_MIN_HZ);
    return resonance;
}

static void resonances_of(const aperta_tract_frame *frames, guint n, double f0_hz, aperta_resonance *resonances)
{
    for (guint f = 0; f < APERTA_N_RESONANCES; f++)
        resonances[f] = resonance_of(frames, n, f, f0_hz);
}

typedef struct {
    double middle_hz;
    double spread_bark; /* between the quartiles */
} part;

static gboolean measure_part(const aperta_tract_frame *frames, guint n, guint formant, part *p)
{
    double hz[TRACT_STRETCH_MAX];
    guint n_known = collect(frames, n, formant, hz);

    if (n_known < TRACT_GLIDE_FRAMES_MIN || 2 * n_known < n)
        return FALSE;
    p->middle_hz = dsp_quantile(hz, n_known, 0.5);
    p->spread_bark =
        aperta_hz_to_bark(dsp_quantile(hz, n_known, 0.75)) - aperta_hz_to_bark(dsp_quantile(hz, n_known, 0.25));
    return TRUE;
}

/* Has this formant moved, by more than its spread and the harmonics explain, and with its middle on the way? */
static gboolean has_moved(const aperta_tract_frame *frames, guint n, guint n_part, guint formant, double f0_hz)
{
    part first, middle, last;

    if (!measure_part(frames, n_part, formant, &first) || !measure_part(frames + n - n_part, n_part, formant, &last) ||
        !measure_part(frames + (n - n_part) / 2, n_part, formant, &middle))
        return FALSE;
    double start_bark = aperta_hz_to_bark(first.middle_hz);
    double end_bark = aperta_hz_to_bark(last.middle_hz);
    double moved_bark = fabs(end_bark - start_bark);
    double halfway_bark = aperta_hz_to_bark(middle.middle_hz);
    gboolean on_the_way = fabs(halfway_bark - start_bark) <= moved_bark && fabs(halfway_bark - end_bark) <= moved_bark;

    return moved_bark >= TRACT_GLIDE_BARK && on_the_way &&
           moved_bark >= TRACT_GLIDE_SPREADS * (first.spread_bark + last.spread_bark) / 2 &&
           fabs(last.middle_hz - first.middle_hz) >= TRACT_GLIDE_F0_SHARE * f0_hz;
}

void tract_lpc_summarise(const aperta_tract_frame *frames, guint n, double f0_hz, aperta_tract_reading *reading)
{
    guint n_part = (guint)(TRACT_GLIDE_PART * n);

    resonances_of(frames, n, f0_hz, reading->lpc);
    reading->glides = has_moved(frames, n, n_part, 0, f0_hz) || has_moved(frames, n, n_part, 1, f0_hz);
    if (reading->glides) {
        resonances_of(frames, n_part, f0_hz, reading->first);
        resonances_of(frames + n - n_part, n_part, f0_hz, reading->last);
    }
}
