/* umlauts.c - German written without umlauts: "Fruehling" → "Frühling".
 *
 * espeak-ng reads ae and oe as ä and ö by itself, but ue as two vowels. Behind a, e, o and q the u belongs to those
 * ("neue", "Frauen", "Quelle"), some words have u and e (listed), and where the score parts them ("zu-erst") they are
 * parted. Lists from memory, unchecked. */
#include "diction/diction-private.h"

/* The whole word, or a part of it that shows that its u and e are two. */
static const char *const two_vowels[] = {"duell",   "duett",    "tuell",  "nuell",    "suell", "xuell",  "dividue",
                                         "residue", "influenz", "fluent", "kongruen", "amuel", "anuel",  "zueinand",
                                         "zueign",  "zuerk",    "zuert",  "zuerst",   "getue", "statue", "revue",
                                         "avenue",  "menuett",  "silhou", "suez",     "sueton"};
static const char *const two_vowels_whole[] = {"tue", "tuen", "tuend", "tuest", "tuet", "zuende"};

static gboolean has_two_vowels(const char *lower)
{
    for (gsize i = 0; i < G_N_ELEMENTS(two_vowels_whole); i++)
        if (strcmp(lower, two_vowels_whole[i]) == 0)
            return TRUE;
    for (gsize i = 0; i < G_N_ELEMENTS(two_vowels); i++)
        if (strstr(lower, two_vowels[i]) != NULL)
            return TRUE;
    return strstr(lower, "ä") != NULL || strstr(lower, "ö") != NULL || strstr(lower, "ü") != NULL;
}

static gboolean is_u(char letter)
{
    return letter == 'u' || letter == 'U';
}

static gboolean parted_by_score(const aperta_diction_word *word)
{
    for (guint i = 0; i + 1 < word->n_syllables; i++) {
        gsize n = strlen(word->syllables[i]);
        if (n > 0 && is_u(word->syllables[i][n - 1]) && g_ascii_tolower(word->syllables[i + 1][0]) == 'e')
            return TRUE;
    }
    return FALSE;
}

char *diction_umlauts(const char *letters, const aperta_diction_word *word)
{
    g_autofree char *lower = g_utf8_strdown(letters, -1);

    if (strstr(lower, "ue") == NULL || parted_by_score(word) || has_two_vowels(lower))
        return g_strdup(letters);
    GString *plain = g_string_new(NULL);
    for (const char *at = letters; *at != '\0'; at++) {
        gboolean joined = at > letters && strchr("aeoqAEOQ", at[-1]) != NULL;
        if (is_u(*at) && g_ascii_tolower(at[1]) == 'e' && !joined) {
            g_string_append(plain, *at == 'U' ? "Ü" : "ü");
            at++;
        } else {
            g_string_append_c(plain, *at);
        }
    }
    return g_string_free(plain, FALSE);
}
