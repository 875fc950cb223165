/* kin.c - vowels that are taken for each other before any other is: two names for nearly the same. */
#include "vowel/vowel-private.h"

#include <string.h>

/* Vowels that share a letter in most languages: e and ɛ, o and ɔ, i and ɪ, u and ʊ, all open ones with ʌ. */
static gboolean akin(const aperta_vowel *a, const aperta_vowel *b)
{
    static const char *const UH = "ʌ";
    gboolean a_is_open = a->height == APERTA_HEIGHT_OPEN || strcmp(a->ipa, UH) == 0;
    gboolean b_is_open = b->height == APERTA_HEIGHT_OPEN || strcmp(b->ipa, UH) == 0;

    if (a_is_open || b_is_open)
        return a_is_open && b_is_open;
    return a->height == b->height && a->place == b->place && a->rounded == b->rounded && a->r_coloured == b->r_coloured;
}

double vowel_sum_of_kin(const aperta_vowel_ear *ear, const double *values, guint place)
{
    double sum = 0.0;

    for (guint v = 0; v < ear->vowels->len; v++)
        if (akin(g_ptr_array_index(ear->vowels, v), g_ptr_array_index(ear->vowels, place)))
            sum += values[v];
    return sum;
}
