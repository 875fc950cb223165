/* dictions.c - pronunciations that several sheets share.
 *
 * The list of other words is read when it is first asked for; it is asked for here, so that processes that are forked
 * from this one have it already. */
#include <aperta/result.h>

#include <string.h>

struct aperta_dictions {
    char *word_list;
    GHashTable *by_language; /* name -> aperta_diction; names are static */
};

aperta_dictions *aperta_dictions_create(const char *word_list)
{
    aperta_dictions *dictions = g_new0(aperta_dictions, 1);

    dictions->word_list = g_strdup(word_list);
    dictions->by_language = g_hash_table_new_full(g_str_hash, g_str_equal, NULL, (GDestroyNotify)aperta_diction_free);
    return dictions;
}

void aperta_dictions_free(aperta_dictions *dictions)
{
    if (dictions == NULL)
        return;
    g_free(dictions->word_list);
    g_hash_table_unref(dictions->by_language);
    g_free(dictions);
}

static void make_ready(aperta_diction *diction)
{
    static const char *const syllables[] = {"see"};
    const aperta_diction_word word = {1, syllables, TRUE};

    if (aperta_diction_knows_other_words(diction))
        g_free(aperta_diction_other_word(diction, &word, 0, "ɛ"));
}

aperta_diction *aperta_dictions_get(aperta_dictions *dictions, const char *language, GError **error)
{
    aperta_diction *diction = g_hash_table_lookup(dictions->by_language, language);

    if (diction != NULL)
        return diction;
    diction = aperta_diction_create(language, dictions->word_list, error);
    if (diction == NULL)
        return NULL;
    make_ready(diction);
    g_hash_table_insert(dictions->by_language, (gpointer)aperta_diction_language(language), diction);
    return diction;
}
