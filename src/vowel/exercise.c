/* exercise.c - is the whole take an exercise on one vowel?
 *
 * Scales and arpeggios are sung on one vowel; songs are not. Each kin of vowels (e and ɛ, all open ones ...) is a
 * hypothesis of such an exercise, beside that of a song, in which notes tell nothing of each other. In an exercise a
 * few notes may be strangers (a breath, a consonant, another vowel). Bayes' rule over the notes says which it is; the
 * names of all notes are then averaged over the hypotheses. A song is not drawn toward its commonest vowel: among many
 * notes one clear other vowel or two leave no exercise. */
#include "vowel/vowel-private.h"
#include "vowel/vowel-tuning.h"

#include <math.h>

/* Probability of each vowel before a note is heard. */
static void share_vowels(const aperta_vowel_ear *ear, double *share)
{
    double most = -INFINITY, sum = 0.0;

    for (guint a = 0; a < ear->accents->len; a++)
        most = fmax(most, g_array_index(ear->accents, vowel_accent, a).ln_weight);
    for (guint t = 0; t < ear->targets->len; t++) {
        const vowel_target *target = &g_array_index(ear->targets, vowel_target, t);
        double weight =
            exp(g_array_index(ear->accents, vowel_accent, target->accent).ln_weight - most) * target->weight;
        share[target->place] += weight;
        sum += weight;
    }
    for (guint v = 0; v < ear->vowels->len; v++)
        share[v] /= sum;
}

/* The part of the kin of v that is in values, of what is in share; 0 for a kin that only ruled-out accents have. */
static double part_of_kin(const aperta_vowel_ear *ear, const double *values, const double *share, guint v)
{
    double whole = vowel_sum_of_kin(ear, share, v);

    return whole > 0.0 ? vowel_sum_of_kin(ear, values, v) / whole : 0.0;
}

/* Adds to each vowel what a note says for an exercise on its kin and against a song, ln. */
static void count_note(const aperta_vowel_ear *ear, const aperta_posterior *note, const double *share, double *ln_ratio)
{
    g_autofree double *probability = g_new0(double, ear->vowels->len);

    if (note->n_modes == 0)
        return;
    vowel_weigh(ear, note, probability);
    for (guint v = 0; v < ear->vowels->len; v++) {
        double ratio = part_of_kin(ear, probability, share, v);
        ln_ratio[v] +=
            VOWEL_EXERCISE_CANDOUR * log(VOWEL_EXERCISE_STRANGERS + (1.0 - VOWEL_EXERCISE_STRANGERS) * ratio);
    }
}

void aperta_vowel_ear_expect_exercise(aperta_vowel_ear *ear, const aperta_posterior *const *notes, guint n)
{
    static const double LN_MAX = 500.0; /* stays within a double */
    guint n_vowels = ear->vowels->len;
    g_autofree double *share = g_new0(double, n_vowels), *exercise = g_new0(double, n_vowels);
    double song = 1.0 - VOWEL_EXERCISE, all = song;

    g_clear_pointer(&ear->ln_use, g_free);
    if (ear->accents->len == 1) /* of one table names are told apart by the note alone */
        return;
    share_vowels(ear, share);
    for (guint i = 0; i < n; i++)
        count_note(ear, notes[i], share, exercise);
    for (guint v = 0; v < n_vowels; v++) {
        exercise[v] = VOWEL_EXERCISE * share[v] * exp(fmin(exercise[v], LN_MAX));
        all += exercise[v];
    }
    double *ln_use = g_new(double, n_vowels);
    for (guint v = 0; v < n_vowels; v++) {
        double own = part_of_kin(ear, exercise, share, v);
        ln_use[v] =
            log((song + VOWEL_EXERCISE_STRANGERS * (all - song) + (1.0 - VOWEL_EXERCISE_STRANGERS) * own) / all);
    }
    ear->ln_use = ln_use;
}
