/* say.c - prints how words are sung: say LANGUAGE WORD... ; "-" in a word parts its syllables. */
#include <aperta/diction.h>
#include <aperta/words.h>

#include <stdio.h>

static void print_sound(const aperta_syllable_sound *sound)
{
    static const char *const origins[] = {"", "~", "*", "?"};

    printf(" %s%s%s", origins[sound->origin], sound->stressed ? "ˈ" : "", sound->ipa != NULL ? sound->ipa : "-");
    if (sound->nucleus != NULL)
        printf(" [%s%s%s → %s]", sound->nucleus, sound->off_glide != NULL ? "+" : "",
               sound->off_glide != NULL ? sound->off_glide : "", sound->judged_as != NULL ? sound->judged_as : "none");
    g_autofree char *remark = aperta_sound_remark_text(&sound->remark);
    if (remark != NULL)
        printf(" (%s)", remark);
}

int main(int argc, char **argv)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) diction = argc > 1 ? aperta_diction_create(argv[1], NULL, &error) : NULL;

    if (diction == NULL) {
        fprintf(stderr, "say: %s\n", error != NULL ? error->message : "expected a language");
        return 1;
    }
    guint n = (guint)argc - 2;
    g_autofree aperta_diction_word *words = g_new0(aperta_diction_word, n + 1);
    g_autoptr(GPtrArray) split = g_ptr_array_new_with_free_func((GDestroyNotify)g_strfreev);
    for (guint i = 0; i < n; i++) {
        char **syllables = g_strsplit(argv[i + 2], "-", -1);
        g_ptr_array_add(split, syllables);
        words[i] = (aperta_diction_word){g_strv_length(syllables), (const char *const *)syllables, FALSE};
    }
    guint n_syllables = 0;
    for (guint i = 0; i < n; i++)
        n_syllables += words[i].n_syllables;
    g_autofree aperta_syllable_sound *sounds = g_new0(aperta_syllable_sound, n_syllables);
    aperta_diction_sing(diction, words, n, sounds);
    for (guint i = 0, at = 0; i < n; i++) {
        printf("%s:", argv[i + 2]);
        for (guint k = 0; k < words[i].n_syllables; k++, at++) {
            print_sound(&sounds[at]);
            aperta_syllable_sound_clear(&sounds[at]);
        }
        printf("\n");
    }
    return 0;
}
