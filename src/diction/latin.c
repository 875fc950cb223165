/* latin.c - church Latin from its letters (refdata/diction/letters-la.tsv): it is spelled as it is sung.
 *
 * Stress: where an accent is written, there; else on the last but one syllable when it ends in a consonant, has a
 * digraph or one of the endings that the table lists as long; else on the one before.
 */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

typedef struct {
    char *letters;
    char *after;  /* any of these letters must stand before; "": anything; "#" the start of the word */
    char *before; /* any of these letters must follow; "": anything; "#" the end of the word */
    char *ipa;
} letter_rule;

struct diction_letters {
    GPtrArray *rules;        /* letter_rule, longest first as the table has them */
    GPtrArray *long_endings; /* char *: words with these endings are stressed on the last but one syllable */
};

static void letter_rule_free(letter_rule *rule)
{
    g_free(rule->letters);
    g_free(rule->after);
    g_free(rule->before);
    g_free(rule->ipa);
    g_free(rule);
}

static gboolean read_rule(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    diction_letters *letters = data;

    if (n_fields < 4) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: expected letters, after, before, ipa", place);
        return FALSE;
    }
    if (strcmp(fields[3], "stress") == 0) {
        g_ptr_array_add(letters->long_endings, g_strdup(fields[0]));
        return TRUE;
    }
    letter_rule *rule = g_new0(letter_rule, 1);
    rule->letters = g_strdup(fields[0]);
    rule->after = g_strdup(fields[1]);
    rule->before = g_strdup(fields[2]);
    rule->ipa = g_strdup(strcmp(fields[3], "-") == 0 ? "" : fields[3]);
    g_ptr_array_add(letters->rules, rule);
    return TRUE;
}

diction_letters *diction_letters_read(GError **error)
{
    g_autofree char *path = diction_refdata_path("letters-la.tsv");
    diction_letters *letters = g_new0(diction_letters, 1);

    letters->rules = g_ptr_array_new_with_free_func((GDestroyNotify)letter_rule_free);
    letters->long_endings = g_ptr_array_new_with_free_func(g_free);
    if (diction_table_read(path, read_rule, letters, error))
        return letters;
    diction_letters_free(letters);
    return NULL;
}

void diction_letters_free(diction_letters *letters)
{
    if (letters == NULL)
        return;
    g_ptr_array_unref(letters->rules);
    g_ptr_array_unref(letters->long_endings);
    g_free(letters);
}

/* ---- letters to phonemes ----------------------------------------------------------------------------------------- */

static gboolean beside(const char *wanted, char letter)
{
    return wanted[0] == '\0' || strchr(wanted, letter == '\0' ? '#' : letter) != NULL;
}

static const letter_rule *rule_at(const diction_letters *letters, const char *word, const char *at)
{
    for (guint i = 0; i < letters->rules->len; i++) {
        const letter_rule *rule = g_ptr_array_index(letters->rules, i);
        if (g_str_has_prefix(at, rule->letters) && beside(rule->after, at == word ? '\0' : at[-1]) &&
            beside(rule->before, at[strlen(rule->letters)]))
            return rule;
    }
    return NULL;
}

/* A letter with an acute, in the plain word; -1: none is written. */
static int accent_of(const char *word)
{
    g_autofree char *lower = g_utf8_strdown(word, -1);
    g_autofree char *apart = g_utf8_normalize(lower, -1, G_NORMALIZE_ALL);
    const char *accent = strstr(apart, "\xcc\x81"); /* U+0301 */

    if (accent == NULL)
        return -1;
    g_autofree char *head = g_strndup(apart, (gsize)(accent - apart));
    g_autofree char *plain = diction_plain_letters(head);
    return (int)strlen(plain) - 1;
}

typedef struct {
    guint at; /* letter where it begins */
    guint n;  /* how many letters spell it; of a rule with several phonemes the last has the rest */
    char ipa[PHONE_MAX];
} spoken_letters;

static void speak_rule(GArray *spoken, guint at, const letter_rule *rule)
{
    g_auto(GStrv) phonemes = g_strsplit(rule->ipa, "|", -1);
    guint end = at + (guint)strlen(rule->letters);

    for (char **phoneme = phonemes; *phoneme != NULL; phoneme++) {
        spoken_letters one = {.at = at, .n = phoneme[1] == NULL ? end - at : MIN(1, end - at)};
        g_strlcpy(one.ipa, *phoneme, PHONE_MAX);
        g_array_append_val(spoken, one);
        at += one.n;
    }
}

static GArray *speak(const diction_letters *letters, const char *word)
{
    GArray *spoken = g_array_new(FALSE, FALSE, sizeof(spoken_letters));

    for (const char *at = word; *at != '\0';) {
        const letter_rule *rule = rule_at(letters, word, at);
        if (rule != NULL)
            speak_rule(spoken, (guint)(at - word), rule);
        at += rule != NULL ? strlen(rule->letters) : 1;
    }
    return spoken;
}

/* ---- stress ------------------------------------------------------------------------------------------------------ */

static gboolean is_heavy(const GArray *spoken, guint at, guint next_vowel)
{
    const spoken_letters *vowel = &g_array_index(spoken, spoken_letters, at);
    guint consonants = 0;

    for (guint i = at + 1; i < next_vowel; i++) {
        const spoken_letters *one = &g_array_index(spoken, spoken_letters, i);
        gboolean liquid = i == at + 2 && next_vowel == at + 3 && strchr("rɾl", one->ipa[0]) != NULL &&
                          strchr("sm", g_array_index(spoken, spoken_letters, at + 1).ipa[0]) == NULL;
        consonants += one->ipa[0] != '\0' && !liquid ? MAX(one->n, 1) : 0;
    }
    return vowel->n > 1 || consonants >= 2;
}

static gboolean ends_long(const diction_letters *letters, const char *word)
{
    for (guint i = 0; i < letters->long_endings->len; i++)
        if (g_str_has_suffix(word, g_ptr_array_index(letters->long_endings, i)))
            return TRUE;
    return FALSE;
}

/* Index of the stressed vowel in spoken; G_MAXUINT: no vowel. */
static guint stressed(const diction_letters *letters, const char *word, int accent, const GArray *spoken)
{
    g_autoptr(GArray) vowels = g_array_new(FALSE, FALSE, sizeof(guint));

    for (guint i = 0; i < spoken->len; i++) {
        const spoken_letters *one = &g_array_index(spoken, spoken_letters, i);
        if (!diction_is_vowel(one->ipa))
            continue;
        if (accent >= 0 && (guint)accent >= one->at && (guint)accent < one->at + one->n)
            return i;
        g_array_append_val(vowels, i);
    }
    guint n = vowels->len;
    if (n == 0)
        return G_MAXUINT;
    if (n < 3)
        return g_array_index(vowels, guint, 0);
    guint last_but_one = g_array_index(vowels, guint, n - 2);
    if (ends_long(letters, word) || is_heavy(spoken, last_but_one, g_array_index(vowels, guint, n - 1)))
        return last_but_one;
    return g_array_index(vowels, guint, n - 3);
}

char *diction_letters_say(const diction_letters *letters, const char *word)
{
    g_autofree char *plain = diction_plain_letters(word);
    g_autoptr(GArray) spoken = speak(letters, plain);
    guint stress = stressed(letters, plain, accent_of(word), spoken);
    GString *ipa = g_string_new(NULL);

    for (guint i = 0; i < spoken->len; i++)
        g_string_append_printf(ipa, "|%s%s", i == stress ? "ˈ" : "", g_array_index(spoken, spoken_letters, i).ipa);
    return g_string_free(ipa, FALSE);
}
