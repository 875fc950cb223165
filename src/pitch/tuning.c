/* tuning.c - the A4 of a take and its key.
 *
 * Tuning: the circular mean of the notes' deviations from equal temperament, weighted by duration. Key: correlation of
 * the durations of the twelve pitch classes with the profiles of Krumhansl & Kessler 1982 (Psychological Review
 * 89:334-368; the figures are from memory, unchecked). */
#include "pitch/pitch-private.h"

#include <math.h>

double aperta_pitch_tuning_hz(const aperta_note *notes, guint n_notes)
{
    double x = 0.0, y = 0.0;

    if (n_notes < TUNING_NOTES_MIN)
        return 440.0;
    for (guint i = 0; i < n_notes; i++) {
        double angle = 2.0 * G_PI * aperta_hz_to_midi(notes[i].f0_hz, 440.0);
        double weight = MIN(notes[i].span.end_s - notes[i].span.start_s, 2.0);
        x += weight * cos(angle);
        y += weight * sin(angle);
    }
    return aperta_midi_to_hz(69.0 + atan2(y, x) / (2.0 * G_PI), 440.0);
}

static double correlation(const double a[12], const double b[12], int shift)
{
    double ma = 0.0, mb = 0.0, ab = 0.0, aa = 0.0, bb = 0.0;

    for (int i = 0; i < 12; i++) {
        ma += a[i] / 12.0;
        mb += b[i] / 12.0;
    }
    for (int i = 0; i < 12; i++) {
        double x = a[(i + shift) % 12] - ma, y = b[i] - mb;
        ab += x * y;
        aa += x * x;
        bb += y * y;
    }
    return aa > 0.0 && bb > 0.0 ? ab / sqrt(aa * bb) : 0.0;
}

aperta_key aperta_pitch_key(const aperta_note *notes, guint n_notes, double a4_hz)
{
    static const double profiles[2][12] = {{6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88},
                                           {6.33, 2.68, 3.52, 5.38, 2.60, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17}};
    double durations[12] = {0.0}, best = -1.0, next = -1.0;
    aperta_key key = {0};

    if (n_notes < KEY_NOTES_MIN)
        return key;
    for (guint i = 0; i < n_notes; i++) {
        int midi = (int)floor(aperta_hz_to_midi(notes[i].f0_hz, a4_hz) + 0.5);
        durations[((midi % 12) + 12) % 12] += MIN(notes[i].span.end_s - notes[i].span.start_s, 2.0);
    }
    for (int tonic = 0; tonic < 12; tonic++)
        for (int minor = 0; minor < 2; minor++) {
            double r = correlation(durations, profiles[minor], tonic);
            if (r > best) {
                next = best;
                best = r;
                key.tonic = tonic;
                key.minor = minor;
            } else {
                next = MAX(next, r);
            }
        }
    /* how clearly it wins, scaled so that a lead of 0.2 in correlation is certain; common practice, no source */
    key.confidence = CLAMP((best - next) / 0.2, 0.0, 1.0) * CLAMP(best, 0.0, 1.0);
    key.known = key.confidence >= KEY_CONFIDENCE_MIN;
    return key;
}
