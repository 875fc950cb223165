/* sound-remark.c - what a person should know of how a syllable is sung. */
#include "words/words.h"

char *aperta_sound_remark_text(const aperta_sound_remark *remark)
{
    switch (remark->kind) {
    case APERTA_SOUND_REMARK_LISTED:
        return g_strdup(remark->text);
    case APERTA_SOUND_REMARK_NOT_LATIN:
        return g_strdup("not written in Latin letters");
    case APERTA_SOUND_REMARK_NO_LETTER:
        return g_strdup("written without a vowel");
    case APERTA_SOUND_REMARK_TOO_LONG:
        return g_strdup("too long for a word");
    case APERTA_SOUND_REMARK_NO_VOWEL:
        return g_strdup("no vowel of the word falls here");
    case APERTA_SOUND_REMARK_MORE_VOWELS:
        return g_strdup_printf("the note also carries %s", remark->text);
    case APERTA_SOUND_REMARK_LIAISON:
        return g_strdup_printf("liaison with “%s”", remark->text);
    case APERTA_SOUND_REMARK_SYLLABIC:
        return g_strdup("spoken without a vowel");
    case APERTA_SOUND_REMARK_GLIDE:
        return g_strdup("a glide in speech, sung on a note of its own");
    case APERTA_SOUND_REMARK_NONE:
    case APERTA_SOUND_N_REMARKS:
        break;
    }
    return NULL;
}
