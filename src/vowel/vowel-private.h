/* vowel-private.h - what the files of src/vowel share. */
#ifndef VOWEL_PRIVATE_H
#define VOWEL_PRIVATE_H

#include <aperta/vowel.h>

/* Where one vowel of one accent lies: normal in ln Hz, each resonance by itself, the allowance for singing within. */
typedef struct {
    guint place; /* of the vowel, in the ear's list */
    guint accent;
    double weight; /* of the vowel within its accent */
    double ln_hz[APERTA_N_RESONANCES];
    double variance[APERTA_N_RESONANCES];
} vowel_target;

typedef struct {
    double ln_weight;   /* after all that was listened to; not normalised */
    aperta_voice voice; /* whose tract it is of */
} vowel_accent;

struct aperta_vowel_ear {
    aperta_voice voice;
    char *source;      /* of its own table */
    int n_resonances;  /* 3, or 2 where the table has no F3 throughout */
    GPtrArray *vowels; /* const aperta_vowel *, as in the table */
    GArray *targets;   /* vowel_target; those of an accent lie together, the table's own first */
    GArray *accents;   /* vowel_accent; [0] is the table itself */
    double *ln_use;    /* of each vowel, what the take as a whole says for it (exercise.c); or NULL */
};

/* ---- kin.c ------------------------------------------------------------------------------------------------------- */

/* Sum of the values of all vowels that share a letter with one. */
double vowel_sum_of_kin(const aperta_vowel_ear *ear, const double *values, guint place);

/* ---- evidence.c -------------------------------------------------------------------------------------------------- */

/* Each mode of the posterior times the target, the posterior's prior taken out. The weights of the products are
 * logarithms. */
void vowel_multiply(const aperta_vowel_ear *ear, const aperta_posterior *posterior, const vowel_target *target,
                    aperta_mode products[APERTA_MODES_MAX]);
/* ln of the integral of all of them. */
double vowel_ln_evidence(const aperta_vowel_ear *ear, const aperta_posterior *posterior, const vowel_target *target);
/* Is any mode near any target? */
gboolean vowel_anything_fits(const aperta_vowel_ear *ear, const aperta_posterior *posterior);
/* ln of what a target weighs before the note is heard. */
double vowel_ln_weight(const aperta_vowel_ear *ear, guint target);
/* Probability of each of the ear's vowels, added to probability. */
void vowel_weigh(const aperta_vowel_ear *ear, const aperta_posterior *posterior, double *probability);

#endif
