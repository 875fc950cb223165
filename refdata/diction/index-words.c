/* index-words.c - makes other-words-en.tsv: common words by their sound, American and British.
 *
 *   index-words WORDS... -- RARER...    lists of words, one a line, the commonest list first
 *
 * Kept are words of one or two vowels that some other word of the lists becomes when one vowel is sung as another. Of
 * the rarer lists only words of one vowel without an ending are kept: nobody hears "neighed" for "need". */
#include "diction/diction-private.h"

#include <stdio.h>

#define MOST_VOWELS 2

typedef struct {
    const char *language;
    aperta_diction *diction;
    GHashTable *first;  /* key → the commonest word */
    GHashTable *needed; /* set of words that another one can become */
} accent;

static const char *const vowels[] = {"i", "ɪ", "e", "ɛ", "æ", "ʌ", "ɑ", "ɒ", "ɔ", "o", "ʊ", "u", "ɝ", "ɜ"};

static gboolean is_plain(const char *word)
{
    return strspn(word, "abcdefghijklmnopqrstuvwxyz") == strlen(word) && strpbrk(word, "aeiouy") != NULL;
}

/* n_common: how many words stand in the lists before "--". */
static GPtrArray *read_lists(char **paths, guint *n_common)
{
    GPtrArray *words = g_ptr_array_new_with_free_func(g_free);
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);

    *n_common = G_MAXUINT;
    for (; *paths != NULL; paths++) {
        g_autofree char *text = NULL;
        if (strcmp(*paths, "--") == 0) {
            *n_common = words->len;
            continue;
        }
        if (!g_file_get_contents(*paths, &text, NULL, NULL))
            g_error("%s: cannot be read", *paths);
        g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
        for (char **line = lines; *line != NULL; line++) {
            g_strstrip(*line);
            if (!is_plain(*line) || g_hash_table_contains(seen, *line))
                continue;
            g_ptr_array_add(words, g_strdup(*line));
            g_hash_table_add(seen, g_ptr_array_index(words, words->len - 1));
        }
    }
    return words;
}

static char *key_of(const accent *a, const char *word)
{
    return diction_word_key(a->diction, word, G_MAXUINT, NULL);
}

static accent open_accent(const char *language)
{
    g_autoptr(GError) error = NULL;
    accent a = {language, aperta_diction_create(language, NULL, &error), NULL, NULL};

    if (a.diction == NULL)
        g_error("%s", error->message);
    a.first = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    a.needed = g_hash_table_new(g_str_hash, g_str_equal);
    return a;
}

static void index_words(accent *a, const GPtrArray *words)
{
    for (guint i = 0; i < words->len; i++) {
        const char *word = g_ptr_array_index(words, i);
        char *key = key_of(a, word);
        if (diction_word_vowels(a->diction, word) <= MOST_VOWELS && !g_hash_table_contains(a->first, key))
            g_hash_table_insert(a->first, key, (gpointer)word);
        else
            g_free(key);
    }
}

static void mark_needed(accent *a, const GPtrArray *words)
{
    for (guint i = 0; i < words->len; i++) {
        const char *word = g_ptr_array_index(words, i);
        g_autofree char *own = key_of(a, word);
        guint n = diction_word_vowels(a->diction, word);
        for (guint vowel = 0; n <= MOST_VOWELS && vowel < n; vowel++)
            for (gsize k = 0; k < G_N_ELEMENTS(vowels); k++) {
                g_autofree char *key = diction_word_key(a->diction, word, vowel, vowels[k]);
                const char *other = g_hash_table_lookup(a->first, key);
                if (other != NULL && strcmp(key, own) != 0)
                    g_hash_table_add(a->needed, (gpointer)other);
            }
    }
}

static gboolean is_stem(const accent *a, const char *word)
{
    gboolean plural = g_str_has_suffix(word, "s") && !g_str_has_suffix(word, "ss");

    return !plural && !g_str_has_suffix(word, "ed") && diction_word_vowels(a->diction, word) == 1;
}

int main(int argc, char **argv)
{
    guint n_common = 0;
    g_autoptr(GPtrArray) words = argc > 1 ? read_lists(argv + 1, &n_common) : NULL;
    accent us = open_accent("en-US"), gb = open_accent("en-GB");

    if (words == NULL)
        return 2;
    index_words(&us, words);
    index_words(&gb, words);
    mark_needed(&us, words);
    mark_needed(&gb, words);
    printf("# Common English words by their sound, commonest list first; made by index-words.c, see SOURCES.md.\n"
           "# word\tAmerican\tBritish\t\"rare\": not offered\n");
    for (guint i = 0; i < words->len; i++) {
        const char *word = g_ptr_array_index(words, i);
        if (!g_hash_table_contains(us.needed, word) && !g_hash_table_contains(gb.needed, word))
            continue;
        g_autofree char *american = key_of(&us, word);
        g_autofree char *british = key_of(&gb, word);
        gboolean rare = i >= n_common && !is_stem(&us, word);
        printf("%s\t%s\t%s%s\n", word, american, british, rare ? "\trare" : "");
    }
    return 0;
}
