/* sing.c - words typed as "lit-tle star," through a diction. */
#include "sing.h"

typedef struct {
    aperta_diction_word *words;
    char ***syllables;
    guint n;
} typed_line;

static typed_line split(const char *line)
{
    g_auto(GStrv) words = g_strsplit(line, " ", -1);
    guint n = g_strv_length(words);
    typed_line typed = {g_new0(aperta_diction_word, n + 1), g_new0(char **, n + 1), n};

    for (guint i = 0; i < n; i++) {
        typed.syllables[i] = g_strsplit(words[i], "-", -1);
        typed.words[i].syllables = (const char *const *)typed.syllables[i];
        typed.words[i].n_syllables = g_strv_length(typed.syllables[i]);
        typed.words[i].line_ends = g_str_has_suffix(words[i], ",");
    }
    return typed;
}

static void clear(typed_line *typed)
{
    for (guint i = 0; i < typed->n; i++)
        g_strfreev(typed->syllables[i]);
    g_free(typed->syllables);
    g_free(typed->words);
}

static GArray *sing_typed(aperta_diction *diction, const typed_line *typed)
{
    GArray *sounds = g_array_new(FALSE, TRUE, sizeof(aperta_syllable_sound));
    guint n = 0;

    g_array_set_clear_func(sounds, (GDestroyNotify)aperta_syllable_sound_clear);
    for (guint i = 0; i < typed->n; i++)
        n += typed->words[i].n_syllables;
    g_array_set_size(sounds, n);
    aperta_diction_sing(diction, typed->words, typed->n, (aperta_syllable_sound *)(void *)sounds->data);
    return sounds;
}

GArray *sing_line(aperta_diction *diction, const char *line)
{
    typed_line typed = split(line);
    GArray *sounds = sing_typed(diction, &typed);

    clear(&typed);
    return sounds;
}

static void show(GString *shown, const aperta_syllable_sound *sound, sing_shown what)
{
    if (what == SING_IPA)
        g_string_append_printf(shown, "%s%s", sound->stressed ? "ˈ" : "", sound->ipa != NULL ? sound->ipa : "?");
    else if (what == SING_JUDGED)
        g_string_append(shown, sound->judged_as != NULL ? sound->judged_as : "?");
    else
        g_string_append(shown, sound->nucleus != NULL ? sound->nucleus : "?");
    if (what == SING_NUCLEI && sound->off_glide != NULL)
        g_string_append_printf(shown, "(%s)", sound->off_glide);
}

char *sing_shown_line(aperta_diction *diction, const char *line, sing_shown what)
{
    typed_line typed = split(line);
    g_autoptr(GArray) sounds = sing_typed(diction, &typed);
    GString *shown = g_string_new(NULL);
    guint at = 0;

    for (guint i = 0; i < typed.n; i++)
        for (guint k = 0; k < typed.words[i].n_syllables; k++) {
            g_string_append(shown, k > 0 ? "." : i > 0 ? " " : "");
            show(shown, &g_array_index(sounds, aperta_syllable_sound, at++), what);
        }
    clear(&typed);
    return g_string_free(shown, FALSE);
}
