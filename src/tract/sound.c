/* sound.c - can this be a voice at all?
 *
 * A tract puts resonances into what sounds through it: the levels of a vowel's harmonics stand by several decibels to
 * either side of any straight fall. A train of clicks, a sawtooth or a buzzer has none, and what is fitted to it is the
 * fit's own expectation. A voice has all harmonics; and of a whistle there is too little to say anything of a tract. */
#include "dsp/dsp.h"
#include "tract/tract-private.h"
#include "tract/tract-tuning.h"

#include <math.h>

/* Harmonics up to the last that is heard. */
static int count_heard(const aperta_tract_reading *reading, int *heard)
{
    double strongest_db = -G_MAXDOUBLE;
    int last = 0;

    *heard = 0;
    for (int k = 0; k < reading->n_harmonics; k++)
        strongest_db = MAX(strongest_db, reading->harmonics[k].level_db);
    for (int k = 0; k < reading->n_harmonics; k++)
        if (reading->harmonics[k].level_db >= strongest_db - TRACT_HEARD_RANGE_DB) {
            (*heard)++;
            last = reading->harmonics[k].hz <= TRACT_SOUND_TOP_HZ ? k + 1 : last;
        }
    return last;
}

/* Levels about their best line over log frequency. */
static double unevenness_db(const aperta_harmonic *h, int n, double *db_per_octave)
{
    double octaves[APERTA_HARMONICS_MAX], level_db[APERTA_HARMONICS_MAX];

    for (int k = 0; k < n; k++) {
        octaves[k] = log2(h[k].number);
        level_db[k] = h[k].level_db;
    }
    return dsp_line_rms(octaves, level_db, (guint)n, db_per_octave);
}

/* By how much the even harmonics lie under their neighbours, in the mean. (Odd ones would be a pitch read too low.) */
static double alternation_db(const aperta_harmonic *h, int n)
{
    double sum = 0.0;

    for (int k = 1; k + 1 < n; k++)
        sum += (k % 2 ? 1.0 : -1.0) * (0.5 * (h[k - 1].level_db + h[k + 1].level_db) - h[k].level_db);
    return sum / (n - 2);
}

aperta_sound tract_sound_kind(const aperta_tract_reading *reading)
{
    int heard, n = count_heard(reading, &heard);
    double db_per_octave;

    if (reading->n_harmonics > 0 && heard < TRACT_HEARD_MIN)
        return APERTA_SOUND_BARE;
    if (n < TRACT_SOUND_HARMONICS_MIN)
        return APERTA_SOUND_POSSIBLE;
    if (alternation_db(reading->harmonics, n) > TRACT_SOUND_ODD_DB)
        return APERTA_SOUND_ODD;
    if (unevenness_db(reading->harmonics, n, &db_per_octave) <
            (n < TRACT_SOUND_MANY ? TRACT_SOUND_EXACT_DB : TRACT_SOUND_EVEN_DB) &&
        db_per_octave > TRACT_SOUND_FALL_DB)
        return APERTA_SOUND_EVEN;
    return APERTA_SOUND_POSSIBLE;
}
