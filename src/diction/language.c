/* language.c - the languages there are, and which of them a tag or a name means. */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

/* Received Pronunciation stands for British English, as it is sung. */
static const diction_language languages[] = {
    {"en-US", "American English", "gmw/en-US", "words-en.tsv", NULL, NULL, "other-words-en.tsv", 1},
    {"en-GB", "British English", "gmw/en-GB-x-rp", "words-en.tsv", "words-en-GB.tsv", NULL, "other-words-en.tsv", 2},
    {"it", "Italian", "roa/it", "words-it.tsv", NULL, NULL, NULL, 0},
    {"de", "German", "gmw/de", "words-de.tsv", NULL, NULL, NULL, 0},
    {"fr", "French", "roa/fr", "words-fr.tsv", NULL, "liaison-fr.tsv", NULL, 0},
    {"es", "Spanish", "roa/es", NULL, NULL, NULL, NULL, 0},
    {"la", "Church Latin", NULL, NULL, NULL, NULL, NULL, 0},
};
static const char *const tags[] = {"en-US", "en-GB", "it", "de", "fr", "es", "la", NULL};

const char *const *aperta_diction_languages(void)
{
    return tags;
}

const diction_language *diction_language_find(const char *tag)
{
    for (gsize i = 0; i < G_N_ELEMENTS(languages); i++)
        if (strcmp(tag, languages[i].tag) == 0)
            return &languages[i];
    return NULL;
}

const char *aperta_diction_language_name(const char *language)
{
    const diction_language *found = diction_language_find(language);

    return found != NULL ? found->name : language;
}

/* ---- tags -------------------------------------------------------------------------------------------------------- */

/* ISO 639: two letters, and both sorts of three. */
static const struct {
    const char *code;
    const char *language;
} codes[] = {
    {"en", "en-US"}, {"eng", "en-US"}, {"it", "it"},  {"ita", "it"}, {"de", "de"},  {"deu", "de"}, {"ger", "de"},
    {"fr", "fr"},    {"fra", "fr"},    {"fre", "fr"}, {"es", "es"},  {"spa", "es"}, {"la", "la"},  {"lat", "la"},
};

/* In English and in the language itself, as g_utf8_casefold() leaves them. */
static const struct {
    const char *name;
    const char *language;
} names[] = {
    {"english", "en-US"},
    {"american english", "en-US"},
    {"british english", "en-GB"},
    {"italian", "it"},
    {"italiano", "it"},
    {"german", "de"},
    {"deutsch", "de"},
    {"french", "fr"},
    {"français", "fr"},
    {"francais", "fr"},
    {"spanish", "es"},
    {"español", "es"},
    {"espanol", "es"},
    {"castellano", "es"},
    {"latin", "la"},
    {"church latin", "la"},
    {"latina", "la"},
    {"lingua latina", "la"},
};

static const char *language_named(const char *name)
{
    g_autofree char *composed = g_utf8_normalize(name, -1, G_NORMALIZE_ALL_COMPOSE); /* NULL: no UTF-8 */
    g_autofree char *folded = composed != NULL ? g_utf8_casefold(composed, -1) : NULL;

    for (gsize i = 0; folded != NULL && i < G_N_ELEMENTS(names); i++)
        if (strcmp(folded, names[i].name) == 0)
            return names[i].language;
    return NULL;
}

/* Regions whose English is nearer to the British. Common knowledge, no source. */
static const char *const british_regions[] = {"gb", "uk", "ie", "au", "nz", "za", "in", NULL};

const char *aperta_diction_language(const char *tag)
{
    g_autofree char *lower = g_ascii_strdown(tag, -1);
    g_auto(GStrv) parts = g_strsplit_set(lower, "-_", -1);
    const char *language = NULL;

    for (gsize i = 0; parts[0] != NULL && i < G_N_ELEMENTS(codes); i++)
        if (strcmp(parts[0], codes[i].code) == 0)
            language = codes[i].language;
    if (language == NULL)
        return language_named(tag);
    if (strcmp(language, "en-US") != 0)
        return language;
    for (guint i = 1; parts[i] != NULL; i++)
        if (g_strv_contains(british_regions, parts[i]))
            return "en-GB";
    return language;
}
