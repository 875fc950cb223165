/* no-advice.c - why nothing is said about a note. */
#include "words/take-words.h"

char *words_silence(aperta_silence silence, int reach_midi, const aperta_key *key)
{
    char reach[APERTA_PITCH_NAME_MAX];

    aperta_pitch_spell(reach_midi, key, reach);
    switch (silence) {
    case APERTA_SILENCE_LOW:
        return g_strdup_printf("without advice, since the rules of this style begin at %s.", reach);
    case APERTA_SILENCE_HIGH:
        return g_strdup_printf("without advice, since the rules of this style end at %s.", reach);
    case APERTA_SILENCE_UNTOLD:
        return g_strdup(
            "without advice, since too little is known of the vowel or of F1 and F2 for the rules of this style.");
    default:
        return g_strdup(
            "without advice, since the rules of this style ask for nothing where F1 and F2 most likely lie.");
    }
}

const char *words_fine(void)
{
    return "nothing to change.";
}
