/* liaison.c - French liaison: which words link their last consonant to a vowel that follows
 * (refdata/diction/liaison-fr.tsv).
 *
 *   word <TAB> consonant      "les  z";  "-" as consonant: no word is linked to this one ("héros", and "et");
 *                             "+": words are linked to it, though it begins with a glide that is written y ("yeux")
 *
 * A word that begins with a glide is linked to like one that begins with a vowel when it is written with o, i, u or h
 * ("oiseau", "hier"), not when it is written with w or y ("week-end", "yacht").
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

static gboolean begins_like_a_vowel(const char *next, const char *next_ipa, const char *next_row)
{
    g_autofree char *letters = diction_plain_letters(next);

    if (diction_is_vowel(next_ipa) || g_strcmp0(next_row, "+") == 0)
        return TRUE;
    gboolean glide = strpbrk(next_ipa, "jw") == next_ipa || g_str_has_prefix(next_ipa, "ɥ");
    return glide && letters[0] != '\0' && strchr("oiuh", letters[0]) != NULL;
}

const char *diction_liaison_between(const diction_liaison *liaison, const char *word, const char *next,
                                    const char *next_ipa)
{
    const char *consonant = consonant_of(liaison, word);
    const char *next_row = consonant_of(liaison, next);

    if (consonant == NULL || strchr("-+", consonant[0]) != NULL || g_strcmp0(next_row, "-") == 0 ||
        !begins_like_a_vowel(next, next_ipa, next_row))
        return NULL;
    return consonant;
}
