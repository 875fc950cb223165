/* rest.c - sung or spoken: does the pitch rest, and on a scale? Sung notes stand for a while, spoken syllables slide.
 *
 * That speech moves in pitch where singing holds it is how both are told apart by ear and by machine (Ohishi, Goto,
 * Itou & Takeda 2005, "Discrimination between singing and speaking voices", Interspeech; from memory, unchecked). The
 * measure is our own: the share of the voiced time that lies in stretches over which the vibrato-free pitch stays put.
 */
#include "pitch/pitch-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Frames of a curve that lie in a stretch of n frames within REST_RANGE_CENTS. */
static guint count_resting(const double *cents, guint n_curve, guint n)
{
    guint resting = 0, counted = 0; /* counted: one past the last frame in resting */

    for (guint i = 0; i + n <= n_curve; i++) {
        double low = cents[i], high = cents[i];
        for (guint k = i + 1; k < i + n; k++) {
            low = MIN(low, cents[k]);
            high = MAX(high, cents[k]);
        }
        if (high - low > REST_RANGE_CENTS)
            continue;
        resting += i + n - MAX(counted, i);
        counted = i + n;
    }
    return resting;
}

static int by_value(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

/* Rayleigh's test of a direction (as in Mardia & Jupp 2000, "Directional statistics"; from memory, unchecked): the
 * number of pitches times the square of the mean vector of their places between semitones. Pitches so near to each
 * other that they are one count once, or a syllable that is spoken twice would be a scale. */
double aperta_pitch_on_scale(const aperta_note *notes, guint n_notes)
{
    g_autofree double *midi = g_new(double, n_notes + 1);
    double x = 0.0, y = 0.0;
    guint n = 0;

    for (guint i = 0; i < n_notes; i++)
        midi[i] = aperta_hz_to_midi(notes[i].f0_hz, 440.0);
    qsort(midi, n_notes, sizeof *midi, by_value);
    for (guint from = 0, to; from < n_notes; from = to, n++) {
        double sum = midi[from];
        for (to = from + 1; to < n_notes && midi[to] - midi[to - 1] < REST_SAME_ST; to++)
            sum += midi[to];
        x += cos(2.0 * G_PI * sum / (to - from));
        y += sin(2.0 * G_PI * sum / (to - from));
    }
    return n > 0 ? (x * x + y * y) / n : 0.0;
}

double aperta_pitch_resting_share(const aperta_f0_track *track)
{
    guint stretch = (guint)(REST_STRETCH_S / track->hop_s + 0.5), from = 0, voiced = 0, resting = 0;
    g_autofree double *cents = g_new(double, track->n_frames + 1);

    for (guint i = 0; i <= track->n_frames; i++) {
        if (i < track->n_frames && track->frames[i].voiced) {
            cents[i - from] = aperta_cents_between(440.0, track->frames[i].f0_hz);
            continue;
        }
        if (i - from >= stretch) {
            g_autofree pitch_stretch *vibrato = pitch_find_vibrato(cents, i - from, track->hop_s);
            pitch_smooth(cents, i - from, track->hop_s, vibrato);
            resting += count_resting(cents, i - from, stretch);
            voiced += i - from;
        }
        from = i + 1;
    }
    return voiced * track->hop_s >= REST_VOICED_MIN_S ? (double)resting / voiced : 1.0;
}
