/* ear.c - what the vowels of a take are named by.
 *
 * With a table that was asked for, that table alone; else also other accents, as far as the notes speak for them. */
#include "result/result-private.h"

/* aperta_posterior of the notes, of both ends where a vowel moves; they are the result's. */
static GPtrArray *all_posteriors(const aperta_result *r)
{
    GPtrArray *all = g_ptr_array_new();

    for (guint i = 0; i < r->notes->len; i++) {
        aperta_tract_reading *tract = &aperta_sung_note_at(r->notes, i)->tract;
        if (tract->glides) {
            g_ptr_array_add(all, &tract->first_posterior);
            g_ptr_array_add(all, &tract->last_posterior);
        } else {
            g_ptr_array_add(all, &tract->posterior);
        }
    }
    return all;
}

aperta_vowel_ear *result_ear_new(const aperta_result *result, gboolean accents, double doubt, GError **error)
{
    g_autoptr(aperta_vowel_ear) ear = aperta_vowel_ear_new(result->settings.table);

    if (accents && !aperta_vowel_ear_add_accents(ear, doubt, error))
        return NULL;
    g_autoptr(GPtrArray) posteriors = all_posteriors(result);
    for (guint i = 0; i < posteriors->len; i++)
        aperta_vowel_ear_listen(ear, g_ptr_array_index(posteriors, i));
    aperta_vowel_ear_expect_exercise(ear, (const aperta_posterior *const *)posteriors->pdata, posteriors->len);
    return g_steal_pointer(&ear);
}
