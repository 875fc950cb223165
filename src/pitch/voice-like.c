/* voice-like.c - does a voice sing these notes, or an instrument?
 *
 * Nobody holds a pitch as still as a string, a pipe or a key does: straight tones of people waver by several cents
 * about a straight line. And a voice moves from note to note, be it for a twentieth of a second, where keys and frets
 * jump. Notes that stand still and jump are an instrument's. A bowed string or a wind instrument that is played with
 * life does neither, and cannot be told from a voice by its pitch. The method is our own; its numbers were chosen on
 * tests/bench/instruments. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>

/* RMS of the pitch about its best straight line. */
double pitch_wavering_cents(const aperta_f0_track *track, guint from, guint to)
{
    g_autofree double *frame = g_new(double, to - from + 1), *cents = g_new(double, to - from + 1);
    double slope;
    guint n = 0;

    for (guint i = from; i < to; i++) {
        if (!track->frames[i].voiced)
            continue;
        frame[n] = i - from;
        cents[n++] = aperta_cents_between(440.0, track->frames[i].f0_hz);
    }
    return n < 3 ? HUGE_VAL : dsp_line_rms(frame, cents, n, &slope);
}

/* Median over the notes that are long enough; FALSE if those are too few. */
static gboolean median_wavering(const aperta_f0_track *track, const aperta_note *notes, guint n, double *cents)
{
    g_autofree double *all = g_new(double, n + 1);
    guint used = 0;

    for (guint i = 0; i < n; i++) {
        guint from, to;
        if (notes[i].span.end_s - notes[i].span.start_s < VOICE_NOTE_MIN_S)
            continue;
        pitch_span_frames(track, notes[i].steady, &from, &to);
        all[used++] = pitch_wavering_cents(track, from, to);
    }
    if (used < VOICE_NOTES_MIN)
        return FALSE;
    *cents = dsp_quantile(all, used, 0.5);
    return TRUE;
}

/* Does the pitch pass what lies between two notes? */
static gboolean moves_over(const aperta_f0_track *track, const aperta_note *a, const aperta_note *b)
{
    double cents = aperta_cents_between(a->f0_hz, b->f0_hz);
    aperta_span way = {(a->steady.start_s + a->steady.end_s) / 2.0, (b->steady.start_s + b->steady.end_s) / 2.0};
    guint from, to, between = 0;

    pitch_span_frames(track, way, &from, &to);
    for (guint i = from; i < to; i++) {
        double share = aperta_cents_between(a->f0_hz, MAX(track->frames[i].f0_hz, 1.0)) / cents;
        between += track->frames[i].voiced && share > VOICE_BETWEEN && share < 1.0 - VOICE_BETWEEN;
    }
    return between * track->hop_s > VOICE_MOVES_S;
}

static void count_steps(const aperta_f0_track *track, const aperta_note *notes, guint n, guint *steps, guint *moved)
{
    *steps = *moved = 0;
    for (guint i = 0; i + 1 < n; i++) {
        double cents = fabs(aperta_cents_between(notes[i].f0_hz, notes[i + 1].f0_hz));
        if (notes[i + 1].span.start_s - notes[i].span.end_s > VOICE_STEP_GAP_S || cents < VOICE_STEP_MIN_CENTS ||
            cents > VOICE_STEP_MAX_CENTS)
            continue;
        ++*steps;
        *moved += moves_over(track, &notes[i], &notes[i + 1]);
    }
}

aperta_voice_heard aperta_pitch_voice_heard(const aperta_f0_track *track, const aperta_note *notes, guint n_notes)
{
    double cents;
    guint steps, moved;

    if (!median_wavering(track, notes, n_notes, &cents) || cents > VOICE_DOUBT_CENTS)
        return APERTA_VOICE_HEARD;
    count_steps(track, notes, n_notes, &steps, &moved);
    if (moved > VOICE_MOVED_SHARE * steps)
        return APERTA_VOICE_HEARD;
    if (steps < VOICE_STEPS_MIN)
        return cents < VOICE_STILL_ALONE_CENTS ? APERTA_NO_VOICE : APERTA_VOICE_HEARD;
    return cents < VOICE_STILL_CENTS ? APERTA_NO_VOICE : APERTA_VOICE_DOUBTED;
}
