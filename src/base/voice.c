/* voice.c - words for voices. */
#include <aperta/base.h>

#include <string.h>

static const struct {
    aperta_voice voice;
    aperta_voice group;
    const char *word;
} voices[] = {
    {APERTA_VOICE_UNKNOWN, APERTA_VOICE_UNKNOWN, "unknown"},
    {APERTA_VOICE_WOMAN, APERTA_VOICE_WOMAN, "woman"},
    {APERTA_VOICE_MAN, APERTA_VOICE_MAN, "man"},
    {APERTA_VOICE_CHILD, APERTA_VOICE_CHILD, "child"},
    {APERTA_VOICE_SOPRANO, APERTA_VOICE_WOMAN, "soprano"},
    {APERTA_VOICE_MEZZO, APERTA_VOICE_WOMAN, "mezzo"},
    {APERTA_VOICE_ALTO, APERTA_VOICE_WOMAN, "alto"},
    {APERTA_VOICE_TENOR, APERTA_VOICE_MAN, "tenor"},
    {APERTA_VOICE_BARITONE, APERTA_VOICE_MAN, "baritone"},
    {APERTA_VOICE_BASS, APERTA_VOICE_MAN, "bass"},
};

/* Other words for them. A countertenor sings high in the throat of a man, and it is the throat that tables and rules go
 * by. */
static const struct {
    aperta_voice voice;
    const char *word;
} other_words[] = {
    {APERTA_VOICE_WOMAN, "female"},   {APERTA_VOICE_MAN, "male"},         {APERTA_VOICE_MEZZO, "mezzo-soprano"},
    {APERTA_VOICE_ALTO, "contralto"}, {APERTA_VOICE_MAN, "countertenor"},
};

gboolean aperta_voice_parse(const char *word, aperta_voice *voice)
{
    for (gsize i = 1; i < G_N_ELEMENTS(voices); i++) {
        if (g_ascii_strcasecmp(word, voices[i].word) == 0) {
            *voice = voices[i].voice;
            return TRUE;
        }
    }
    for (gsize i = 0; i < G_N_ELEMENTS(other_words); i++) {
        if (g_ascii_strcasecmp(word, other_words[i].word) == 0) {
            *voice = other_words[i].voice;
            return TRUE;
        }
    }
    return FALSE;
}

const char *aperta_voice_word(aperta_voice voice)
{
    for (gsize i = 0; i < G_N_ELEMENTS(voices); i++)
        if (voices[i].voice == voice)
            return voices[i].word;
    return voices[0].word;
}

aperta_voice aperta_voice_group(aperta_voice voice)
{
    for (gsize i = 0; i < G_N_ELEMENTS(voices); i++)
        if (voices[i].voice == voice)
            return voices[i].group;
    return APERTA_VOICE_UNKNOWN;
}
