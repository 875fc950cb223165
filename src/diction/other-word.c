/* other-word.c - the word that a changed vowel makes: "beat" sung on ɪ is "bit".
 *
 * refdata/diction/other-words-en.tsv lists common words, commonest first, each with its sound reduced to a key: the
 * consonants, and of each vowel the reference vowel it is judged as; unstressed vowels are one class. English e and o
 * are the same whether they close to ɪ and ʊ or not.
 */
#include "diction/diction-private.h"

#define RARE_COLUMN 3

struct diction_other_words {
    char *name;
    guint column;      /* of the keys of this accent */
    GHashTable *words; /* key → word; NULL: not read yet */
};

diction_other_words *diction_other_words_new(const char *name, guint column)
{
    diction_other_words *others = g_new0(diction_other_words, 1);

    others->name = g_strdup(name);
    others->column = column;
    return others;
}

void diction_other_words_free(diction_other_words *others)
{
    if (others == NULL)
        return;
    g_free(others->name);
    g_clear_pointer(&others->words, g_hash_table_unref);
    g_free(others);
}

/* ---- keys -------------------------------------------------------------------------------------------------------- */

static guint count_vowels(const GArray *phones)
{
    guint n = 0;

    for (guint i = 0; i < phones->len; i++)
        n += g_array_index(phones, diction_phone, i).vowel;
    return n;
}

static void append_vowel(GString *key, const diction_rules *rules, const diction_phone *phone, const char *judged_as,
                         gboolean whole)
{
    const char *own = diction_rules_judged_as(rules, phone->text, phone->off_glide);

    if (!whole && phone->stress == STRESS_NONE) {
        g_string_append(key, "ə");
        return;
    }
    if (own == NULL)
        own = phone->text;
    g_string_append(key, judged_as != NULL ? judged_as : own);
    gboolean closes = phone->off_glide[0] != '\0' && strcmp(own, "e") != 0 && strcmp(own, "o") != 0;
    if (closes)
        g_string_append(key, phone->off_glide);
}

char *diction_sound_key(const diction_rules *rules, const GArray *phones, guint held, const char *judged_as)
{
    GString *key = g_string_new(NULL);
    gboolean one_vowel = count_vowels(phones) == 1;

    for (guint i = 0; i < phones->len; i++) {
        const diction_phone *phone = &g_array_index(phones, diction_phone, i);
        if (!phone->vowel)
            g_string_append(key, phone->text);
        else if (i == held)
            append_vowel(key, rules, phone, judged_as, TRUE);
        else
            append_vowel(key, rules, phone, NULL, one_vowel);
    }
    return g_string_free(key, FALSE);
}

/* ---- words ------------------------------------------------------------------------------------------------------- */

/* The commonest word of a key comes first in the file, and stays; a rare one is none that anybody would hear. */
static gboolean read_word(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    diction_other_words *others = data;

    if (n_fields <= others->column) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: expected a word and its keys", place);
        return FALSE;
    }
    gboolean rare = n_fields > RARE_COLUMN && strcmp(fields[RARE_COLUMN], "rare") == 0;
    if (!rare && !g_hash_table_contains(others->words, fields[others->column]))
        g_hash_table_insert(others->words, g_strdup(fields[others->column]), g_strdup(fields[0]));
    return TRUE;
}

static void read_words(diction_other_words *others)
{
    g_autofree char *path = diction_refdata_path(others->name);
    g_autoptr(GError) error = NULL;

    others->words = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    if (!diction_table_read(path, read_word, others, &error))
        g_warning("%s", error->message);
}

const char *diction_other_words_find(diction_other_words *others, const char *key)
{
    if (others->words == NULL)
        read_words(others);
    return g_hash_table_lookup(others->words, key);
}
