/* several.c - is what was taken for one pitch the common undertone of several tones?
 *
 * The tones of a chord are nearly whole multiples of a pitch that nobody sounds: C4, E4 and G4 are 4, 5 and 6 times C2.
 * There the fundamental is missing, and so are most harmonics that are multiples of none of the tones. A voice has them
 * all, as far as they are not filtered away at the low end or fade out at the high one. The method is our own. */
#include "pitch/pitch-private.h"

#include <math.h>

/* Which harmonics are there: bit k - 1 for number k. */
static guint32 present_of(const pitch_partial *partials, guint n, double f0_hz)
{
    double level_db[SEVERAL_HARMONICS + 1], strongest_db = -HUGE_VAL;
    guint32 present = 0;

    for (int k = 1; k <= SEVERAL_HARMONICS; k++)
        level_db[k] = -HUGE_VAL;
    for (guint i = 0; i < n; i++) {
        double hz = partials[i].tenth_hz / 10.0, number = floor(hz / f0_hz + 0.5);
        if (number < 1.0 || number > SEVERAL_HARMONICS ||
            fabs(hz - number * f0_hz) > PARTIAL_OWN_HZ + PARTIAL_OWN_SHARE * hz)
            continue;
        level_db[(int)number] = MAX(level_db[(int)number], partials[i].tenth_db / 10.0);
        strongest_db = MAX(strongest_db, partials[i].tenth_db / 10.0);
    }
    for (int k = 1; k <= SEVERAL_HARMONICS; k++)
        if (level_db[k] >= strongest_db - SEVERAL_RANGE_DB)
            present |= 1u << (k - 1);
    return present;
}

/* All that is there are multiples of one number from 2 on: one tone, its pitch an octave or more too low. */
static gboolean is_one_tone(guint32 present, guint first)
{
    for (guint k = first; k <= SEVERAL_HARMONICS; k++)
        if (present >> (k - 1) & 1 && k % first != 0)
            return FALSE;
    return TRUE;
}

static gboolean is_several(guint32 present)
{
    guint first = 0, last = 0, n = 0;

    for (guint k = 1; k <= SEVERAL_HARMONICS; k++)
        if (present >> (k - 1) & 1) {
            first = first == 0 ? k : first;
            last = k;
            n++;
        }
    if (n < 2 || first < 2 || is_one_tone(present, first))
        return FALSE;
    double holes = 1.0 - (double)n / (last - first + 1);
    return holes >= SEVERAL_HOLES || (first >= SEVERAL_FIRST && n <= SEVERAL_FEW);
}

void pitch_find_several(const pitch_slices *slices, const aperta_f0_track *track, aperta_pitch_feature *features)
{
    guint frames_per_slice = (guint)(PARTIAL_HOP_S / track->hop_s + 0.5);
    const pitch_partial *partials = (const pitch_partial *)(void *)slices->partials->data;

    for (guint s = 0; s < slices->starts->len; s++) {
        guint from = g_array_index(slices->starts, guint32, s);
        guint to = s + 1 < slices->starts->len ? g_array_index(slices->starts, guint32, s + 1) : slices->partials->len;
        for (guint i = s * frames_per_slice; i < MIN((s + 1) * frames_per_slice, track->n_frames); i++)
            features[i].several =
                track->frames[i].voiced && is_several(present_of(partials + from, to - from, track->frames[i].f0_hz));
    }
}
