/* liaison.c - French liaison: which words link their last consonant to a vowel that follows
 * (refdata/diction/liaison-fr.tsv).
 *
 *   word <TAB> consonant      "les  z";  "-" as consonant: no word is linked to this one ("héros", and "et")
 */
#include "diction/diction-private.h"

struct diction_liaison {
    GHashTable *consonants; /* char * → char * */
};

static gboolean read_link(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    diction_liaison *liaison = data;

    if (n_fields < 2) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: expected a word, a tab and its consonant", place);
        return FALSE;
    }
    g_hash_table_insert(liaison->consonants, g_strdup(fields[0]), g_strdup(fields[1]));
    return TRUE;
}

diction_liaison *diction_liaison_read(const char *name, GError **error)
{
    g_autofree char *path = diction_refdata_path(name);
    diction_liaison *liaison = g_new0(diction_liaison, 1);

    liaison->consonants = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    if (diction_table_read(path, read_link, liaison, error))
        return liaison;
    diction_liaison_free(liaison);
    return NULL;
}

void diction_liaison_free(diction_liaison *liaison)
{
    if (liaison == NULL)
        return;
    g_hash_table_unref(liaison->consonants);
    g_free(liaison);
}

static const char *consonant_of(const diction_liaison *liaison, const char *word)
{
    g_autofree char *lower = g_utf8_strdown(word, -1);

    return g_hash_table_lookup(liaison->consonants, lower);
}

const char *diction_liaison_between(const diction_liaison *liaison, const char *word, const char *next)
{
    const char *consonant = consonant_of(liaison, word);
    const char *refusal = consonant_of(liaison, next);

    if (consonant == NULL || strcmp(consonant, "-") == 0 || (refusal != NULL && strcmp(refusal, "-") == 0))
        return NULL;
    return consonant;
}
