/* sustain.c - how the words of a verse sound, laid on their syllables; and which vowel an elision is sung on. */
#include "align/align-private.h"

#include <aperta/diction.h>
#include <string.h>

/* 2: open, 1: mid, 0: close or not a vowel. */
static int openness(const char *ipa)
{
    static const char *const heights[] = {"eøɛœəɜɝʌoɔɤ", "æaɑɒɶ"};

    for (int height = 1; ipa != NULL && height >= 0; height--)
        if (strstr(heights[height], ipa) != NULL)
            return height + 1;
    return 0;
}

/* How much a syllable asks to be the one that is sustained. */
static int claim(const aperta_syllable_sound *sound)
{
    if (sound->origin == APERTA_SOUND_NONE)
        return 0;
    return 1 + openness(sound->judged_as) + (sound->stressed ? 10 : 0);
}

static void choose_on(aperta_underlay *underlay, guint i)
{
    aperta_laid_note *note = &underlay->notes[i];
    int before = note->sung_on;
    int best = -1;

    for (guint k = 0; k < note->n_begun; k++) {
        int claimed = claim(&underlay->sounds[note->first_begun + k]);
        if (claimed >= best) {
            best = claimed;
            note->sung_on = (int)(note->first_begun + k);
        }
    }
    for (guint k = i + 1; k < underlay->n_notes; k++) {
        aperta_laid_note *next = &underlay->notes[k];
        if (next->n_begun > 0 || next->sung_on != before)
            break;
        next->sung_on = note->sung_on;
    }
}

void align_choose_sustained(aperta_underlay *underlay)
{
    for (guint i = 0; i < underlay->n_notes; i++)
        if (underlay->notes[i].n_begun > 1)
            choose_on(underlay, i);
}

void aperta_align_sing(aperta_underlay *underlay, aperta_diction *diction)
{
    for (guint s = 0; s < underlay->n_syllables; s++)
        aperta_syllable_sound_clear(&underlay->sounds[s]);
    aperta_diction_sing(diction, underlay->spoken, underlay->n_words, underlay->sounds);
    align_choose_sustained(underlay);
}
