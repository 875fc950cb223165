/* cmu-agreement.c - the stressed vowel of common English words against the CMU Pronouncing Dictionary.
 *
 *   cmu-agreement DICTIONARY WORDS      its lines are  "word": "W ER1 D",
 *
 * A word agrees when its stressed vowel is of the class that one of the dictionary's pronunciations has. Before r,
 * American English keeps no more than five vowels apart, and the dictionary writes them now one way, now the other
 * (here HH IY R, near N IH R), so there IH and IY, EH EY and AE, AO and OW, UH and UW are one class. Counted as well
 * without that. Fails below 95 % of 5,000 words. */
#include "sing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WORDS_MIN     5000
#define AGREEMENT_MIN 0.95
#define EXAMPLES      6

typedef struct {
    const char *cmu;
    const char *nucleus;
    const char *off_glide; /* NULL: any */
} vowel_class;

static const vowel_class classes[] = {
    {"AY", "a", "ɪ"},  {"AW", "a", "ʊ"},  {"OY", "ɔ", "ɪ"},  {"EY", "e", NULL}, {"OW", "o", NULL}, {"ER", "ɝ", NULL},
    {"ER", "ɚ", NULL}, {"AO", "ɔ", NULL}, {"AA", "ɑ", NULL}, {"AE", "æ", NULL}, {"AH", "ʌ", NULL}, {"AH", "ə", NULL},
    {"EH", "ɛ", NULL}, {"IH", "ɪ", NULL}, {"IY", "i", NULL}, {"UH", "ʊ", NULL}, {"UW", "u", NULL}, {"AA", "a", NULL},
};

static const char *class_of(const aperta_syllable_sound *sound)
{
    for (gsize i = 0; sound->nucleus != NULL && i < G_N_ELEMENTS(classes); i++)
        if (strcmp(sound->nucleus, classes[i].nucleus) == 0 &&
            (classes[i].off_glide == NULL || g_strcmp0(sound->off_glide, classes[i].off_glide) == 0))
            return classes[i].cmu;
    return "??";
}

static const char *before_r(const char *class)
{
    static const char *const merged[][2] = {{"IY", "IH"}, {"EY", "EH"}, {"AE", "EH"}, {"OW", "AO"}, {"UW", "UH"}};

    for (gsize i = 0; i < G_N_ELEMENTS(merged); i++)
        if (strcmp(class, merged[i][0]) == 0)
            return merged[i][1];
    return class;
}

/* ---- the dictionary ---------------------------------------------------------------------------------------------- */

/* "water" → its pronunciations; "water(2)" is another one. */
static GHashTable *read_dictionary(const char *path)
{
    GHashTable *entries = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_ptr_array_unref);
    g_autofree char *text = NULL;

    if (!g_file_get_contents(path, &text, NULL, NULL))
        return entries;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        g_auto(GStrv) parts = g_strsplit(*line, "\"", -1);
        if (g_strv_length(parts) != 5)
            continue;
        char *word = g_strndup(parts[1], strcspn(parts[1], "("));
        GPtrArray *spoken = g_hash_table_lookup(entries, word);
        if (spoken == NULL) {
            spoken = g_ptr_array_new_with_free_func(g_free);
            g_hash_table_insert(entries, word, spoken);
        } else {
            g_free(word);
        }
        g_ptr_array_add(spoken, g_strdup(parts[3]));
    }
    return entries;
}

/* Class of the vowel that carries 1, and whether an r follows in its syllable or the next. FALSE: none is stressed. */
static gboolean stressed_of(const char *spoken, char class[3], gboolean *r_follows)
{
    const char *one = strchr(spoken, '1');

    if (one == NULL || one - spoken < 2)
        return FALSE;
    memcpy(class, one - 2, 2);
    class[2] = '\0';
    *r_follows = strncmp(one + 1, " R", 2) == 0;
    return TRUE;
}

/* ---- counting ---------------------------------------------------------------------------------------------------- */

typedef struct {
    guint words;
    guint strict; /* agree with the classes as written */
    guint agree;
    GHashTable *kinds; /* "AO AA" → GPtrArray of words */
} agreement;

static void note_kind(agreement *a, const char *cmu, const char *ours, const char *word)
{
    char *kind = g_strdup_printf("%s %s", cmu, ours);
    GPtrArray *words = g_hash_table_lookup(a->kinds, kind);

    if (words == NULL) {
        words = g_ptr_array_new_with_free_func(g_free);
        g_hash_table_insert(a->kinds, kind, words);
    } else {
        g_free(kind);
    }
    g_ptr_array_add(words, g_strdup(word));
}

static void compare(agreement *a, aperta_diction *diction, const char *word, const GPtrArray *spoken)
{
    g_autoptr(GArray) sounds = sing_line(diction, word);
    const char *ours = class_of(&g_array_index(sounds, aperta_syllable_sound, 0));
    gboolean strict = FALSE, agree = FALSE, r_follows;
    char class[3], first[3] = "";

    for (guint i = 0; i < spoken->len; i++) {
        if (!stressed_of(g_ptr_array_index(spoken, i), class, &r_follows))
            continue;
        if (first[0] == '\0')
            memcpy(first, class, sizeof first);
        strict = strict || strcmp(class, ours) == 0;
        agree = agree || strict || (r_follows && strcmp(before_r(class), before_r(ours)) == 0);
    }
    if (first[0] == '\0')
        return;
    a->words++;
    a->strict += strict;
    a->agree += agree;
    if (!agree)
        note_kind(a, first, ours, word);
}

static int by_count(gconstpointer a, gconstpointer b, gpointer kinds)
{
    const GPtrArray *words_a = g_hash_table_lookup(kinds, a), *words_b = g_hash_table_lookup(kinds, b);

    return words_a->len == words_b->len ? strcmp(a, b) : words_a->len < words_b->len ? 1 : -1;
}

static void print_kinds(const agreement *a)
{
    g_autoptr(GList) kinds = g_hash_table_get_keys(a->kinds);

    kinds = g_list_sort_with_data(kinds, by_count, a->kinds);
    printf("%-11s %-6s %5s  %s\n", "dictionary", "ours", "words", "such as");
    for (GList *kind = kinds; kind != NULL; kind = kind->next) {
        const GPtrArray *words = g_hash_table_lookup(a->kinds, kind->data);
        printf("%-11.2s %-6s %5u ", (const char *)kind->data, (const char *)kind->data + 3, words->len);
        for (guint i = 0; i < words->len && i < EXAMPLES; i++)
            printf(" %s", (const char *)g_ptr_array_index(words, i));
        printf("\n");
    }
}

static agreement count(aperta_diction *diction, GHashTable *dictionary, const char *list)
{
    agreement a = {0, 0, 0, g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_ptr_array_unref)};
    g_autofree char *text = NULL;

    if (!g_file_get_contents(list, &text, NULL, NULL))
        return a;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        (*line)[strcspn(*line, "\t")] = '\0';
        const GPtrArray *spoken = g_hash_table_lookup(dictionary, *line);
        if (spoken != NULL)
            compare(&a, diction, *line, spoken);
    }
    return a;
}

int main(int argc, char **argv)
{
    g_autoptr(aperta_diction) diction = argc == 3 ? aperta_diction_create("en-US", "/dev/null", NULL) : NULL;

    if (diction == NULL)
        return 2;
    g_autoptr(GHashTable) dictionary = read_dictionary(argv[1]);
    agreement a = count(diction, dictionary, argv[2]);
    double share = a.words > 0 ? (double)a.agree / a.words : 0.0;
    printf("stressed vowel: %u words, %.1f %% agree (%.1f %% with the classes before r kept apart)\n", a.words,
           100.0 * share, a.words > 0 ? 100.0 * a.strict / a.words : 0.0);
    print_kinds(&a);
    g_hash_table_unref(a.kinds);
    return a.words >= WORDS_MIN && share >= AGREEMENT_MIN ? EXIT_SUCCESS : EXIT_FAILURE;
}
