/* plane-captions.c - what stands on the ground of every vowel chart. */
#include "words/captions.h"
#include "words/words.h"

const char *words_plane_caption(words_plane_label label)
{
    static const char *const captions[] = {
        [WORDS_PLANE_F1] = "F1, Hz (closed above, open below)",
        [WORDS_PLANE_F2] = "F2, Hz",
        [WORDS_PLANE_FORWARD] = "← tongue forward",
        [WORDS_PLANE_BACK] = "tongue back →",
    };

    return captions[label];
}

char *words_plane_vowel_hover(const aperta_vowel_row *row)
{
    g_autofree char *name = words_vowel_label(row->vowel, FALSE);

    return g_strdup_printf("spoken %s: F1 %.0f ± %.0f Hz, F2 %.0f ± %.0f Hz", name, row->hz[0], row->sd_hz[0],
                           row->hz[1], row->sd_hz[1]);
}

char *words_plane_vowel_name(const aperta_vowel *vowel)
{
    return g_strdup_printf("%s %s", vowel->ipa, vowel->respelling);
}
