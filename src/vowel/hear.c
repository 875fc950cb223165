/* hear.c - names a vowel from its resonances.
 *
 * The probabilities of evidence.c become a name as sure as listeners would be of it, the vowels it may be, and, by the
 * sums over close, mid and open, front, central and back, the class where the name cannot be told. */
#include "vowel/vowel-private.h"
#include "vowel/vowel-tuning.h"

#include <math.h>

/* Share of the confidence that listeners keep at a pitch. */
static double listener_share(const double *shares, double f0_hz)
{
    static const double points_hz[] = {VOWEL_LISTENER_POINTS_HZ};

    if (f0_hz <= points_hz[0])
        return shares[0];
    for (gsize i = 1; i < G_N_ELEMENTS(points_hz); i++) {
        if (f0_hz < points_hz[i]) {
            double t = log(f0_hz / points_hz[i - 1]) / log(points_hz[i] / points_hz[i - 1]);
            return shares[i - 1] + t * (shares[i] - shares[i - 1]);
        }
    }
    return shares[G_N_ELEMENTS(points_hz) - 1];
}

static guint most_probable(const double *probability, guint n, guint but)
{
    guint best = but == 0 ? 1 : 0;

    for (guint v = 0; v < n; v++)
        if (v != but && probability[v] > probability[best])
            best = v;
    return best;
}

/* Where accents differ, the most probable vowel of the most probable kin: two names for nearly the same vowel share its
 * probability, and a third, that is far from both, must not win by that. */
static guint best_of_best_kin(const aperta_vowel_ear *ear, const double *probability)
{
    guint best = 0;
    double most = -1.0;

    for (guint v = 0; v < ear->vowels->len; v++) {
        double kin = vowel_sum_of_kin(ear, probability, v);
        if (kin > most || (kin == most && probability[v] > probability[best])) {
            best = v;
            most = kin;
        }
    }
    return best;
}

/* The finest class that is probable enough: height and place, then either. */
static aperta_vowel_class class_of(const aperta_vowel_hearing *hearing, double both[3][3])
{
    aperta_vowel_class found = {.has_height = TRUE, .has_place = TRUE};
    guint height = most_probable(hearing->heights, 3, 3), place = most_probable(hearing->places, 3, 3);

    for (guint h = 0; h < 3; h++)
        for (guint p = 0; p < 3; p++)
            if (both[h][p] > found.confidence) {
                found.confidence = both[h][p];
                found.height = h;
                found.place = p;
            }
    if (found.confidence < VOWEL_CLASS_MIN) {
        found.has_height = hearing->heights[height] >= hearing->places[place];
        found.has_place = !found.has_height;
        found.height = found.has_height ? height : 0;
        found.place = found.has_place ? place : 0;
        found.confidence = fmax(hearing->heights[height], hearing->places[place]);
    }
    found.known = hearing->confidence < VOWEL_NAME_MIN && found.confidence >= VOWEL_CLASS_MIN;
    return found.known ? found : (aperta_vowel_class){.known = FALSE};
}

static void fill_classes(const aperta_vowel_ear *ear, const double *probability, double share,
                         aperta_vowel_hearing *hearing)
{
    double both[3][3] = {{0.0}};

    for (guint v = 0; v < ear->vowels->len; v++) {
        const aperta_vowel *vowel = g_ptr_array_index(ear->vowels, v);
        hearing->heights[vowel->height] += share * probability[v];
        hearing->places[vowel->place] += share * probability[v];
        both[vowel->height][vowel->place] += share * probability[v];
    }
    hearing->vowel_class = class_of(hearing, both);
}

/* The most probable vowels, in order. */
static void fill_shares(const aperta_vowel_ear *ear, const double *probability, aperta_vowel_hearing *hearing)
{
    g_autofree gboolean *taken = g_new0(gboolean, ear->vowels->len);

    hearing->n_shares = MIN(ear->vowels->len, APERTA_VOWEL_SHARES_MAX);
    for (guint i = 0; i < hearing->n_shares; i++) {
        guint best = G_MAXUINT;
        for (guint v = 0; v < ear->vowels->len; v++)
            if (!taken[v] && (best == G_MAXUINT || probability[v] > probability[best]))
                best = v;
        taken[best] = TRUE;
        hearing->shares[i] = (aperta_vowel_share){g_ptr_array_index(ear->vowels, best), probability[best]};
    }
}

aperta_vowel_hearing aperta_vowel_hear(const aperta_vowel_ear *ear, const aperta_posterior *posterior, double f0_hz)
{
    static const double name_shares[] = {VOWEL_LISTENER_SHARES}, class_shares[] = {VOWEL_LISTENER_CLASS_SHARES};
    aperta_vowel_hearing hearing = {.heard = NULL};
    g_autofree double *probability = g_new0(double, ear->vowels->len);

    if (posterior->n_modes == 0 || !vowel_anything_fits(ear, posterior))
        return hearing;
    vowel_weigh(ear, posterior, probability);
    guint best = ear->accents->len > 1 ? best_of_best_kin(ear, probability)
                                       : most_probable(probability, ear->vowels->len, ear->vowels->len);
    hearing.heard = g_ptr_array_index(ear->vowels, best);
    hearing.confidence = probability[best] * listener_share(name_shares, f0_hz);
    if (ear->vowels->len > 1)
        hearing.next = g_ptr_array_index(ear->vowels, most_probable(probability, ear->vowels->len, best));
    fill_classes(ear, probability, listener_share(class_shares, f0_hz), &hearing);
    fill_shares(ear, probability, &hearing);
    return hearing;
}
