/* tuning.c - the A4 of a take and its key.
 *
 * Tuning: the circular mean of the notes' deviations from equal temperament, weighted by duration. Key: the posterior
 * over the 24 major and minor keys when each stretch of a note's length is a draw from the scale degrees of the key,
 * with the shares that Temperley 2007 ("Music and Probability", MIT Press, ch. 6) counted in the Kostka-Payne corpus
 * (the figures are from memory, unchecked). The last note counts once more, since tunes end on their tonic more than
 * elsewhere (common practice, no source). tests/bench/keys compares. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>

enum { N_KEYS = 24 }; /* major keys from C up, then minor ones */

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

static const double DEGREE_SHARES[2][12] = {
    {0.748, 0.060, 0.488, 0.082, 0.670, 0.460, 0.096, 0.715, 0.104, 0.366, 0.057, 0.400},
    {0.712, 0.084, 0.474, 0.618, 0.049, 0.460, 0.105, 0.747, 0.404, 0.067, 0.133, 0.330}};

static double length_s(const aperta_note *note)
{
    return note->span.end_s - note->span.start_s;
}

static int pitch_class(const aperta_note *note, double a4_hz)
{
    int midi = (int)floor(aperta_hz_to_midi(note->f0_hz, a4_hz) + 0.5);

    return ((midi % 12) + 12) % 12;
}

/* How long each pitch class sounds, in lengths of the median note. */
static void count_classes(const aperta_note *notes, guint n_notes, double a4_hz, double counts[12])
{
    g_autofree double *lengths = g_new(double, n_notes);

    for (guint i = 0; i < n_notes; i++)
        lengths[i] = length_s(&notes[i]);
    double median = dsp_quantile(lengths, n_notes, 0.5);
    for (guint i = 0; i < n_notes; i++)
        counts[pitch_class(&notes[i], a4_hz)] += MIN(length_s(&notes[i]) / median, KEY_LONGEST);
}

/* How much more often than a chromatic note a tune ends on this degree. */
static double ending(int degree, gboolean minor)
{
    static const double MAJOR[12] = {6, 1, 2, 1, 3, 2, 1, 3, 1, 2, 1, 2},
                        MINOR[12] = {6, 1, 2, 3, 1, 2, 1, 3, 2, 1, 2, 1};

    return (minor ? MINOR : MAJOR)[degree];
}

/* ln probability of the notes in a key, up to a constant. */
static double log_likelihood(const double counts[12], int last, int tonic, gboolean minor)
{
    const double *shares = DEGREE_SHARES[minor ? 1 : 0];
    double whole = 0.0, sum = 0.0;

    for (int degree = 0; degree < 12; degree++)
        whole += shares[degree];
    for (int degree = 0; degree < 12; degree++) {
        double share = (1.0 - KEY_OUTSIDE) * shares[degree] / whole + KEY_OUTSIDE / 12.0;
        sum += counts[(tonic + degree) % 12] * log(share);
    }
    return KEY_INDEPENDENT * sum + log(ending((last - tonic + 12) % 12, minor));
}

static void find_posterior(const double counts[12], int last, double posterior[N_KEYS])
{
    double most = -HUGE_VAL, sum = 0.0;

    for (int k = 0; k < N_KEYS; k++) {
        posterior[k] = log_likelihood(counts, last, k % 12, k >= 12);
        most = MAX(most, posterior[k]);
    }
    for (int k = 0; k < N_KEYS; k++)
        sum += posterior[k] = exp(posterior[k] - most);
    for (int k = 0; k < N_KEYS; k++)
        posterior[k] /= sum;
}

static int most_probable(const double posterior[N_KEYS], int but)
{
    int best = but == 0 ? 1 : 0;

    for (int k = 0; k < N_KEYS; k++)
        if (k != but && posterior[k] > posterior[best])
            best = k;
    return best;
}

aperta_key aperta_pitch_key(const aperta_note *notes, guint n_notes, double a4_hz)
{
    double counts[12] = {0.0}, posterior[N_KEYS];

    if (n_notes < KEY_NOTES_MIN)
        return (aperta_key){0};
    count_classes(notes, n_notes, a4_hz, counts);
    find_posterior(counts, pitch_class(&notes[n_notes - 1], a4_hz), posterior);
    int best = most_probable(posterior, -1), next = most_probable(posterior, best);
    gboolean two = posterior[next] > KEY_TWO_RATIO * posterior[best];
    return (aperta_key){.known = posterior[best] + (two ? posterior[next] : 0.0) >= KEY_KNOWN_MIN,
                        .tonic = best % 12,
                        .minor = best >= 12,
                        .confidence = posterior[best],
                        .has_other = two,
                        .other_tonic = next % 12,
                        .other_minor = next >= 12};
}
