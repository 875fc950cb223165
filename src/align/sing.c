/* sing.c - how the words of a verse sound, laid on their syllables; and which vowel an elision is sung on. */
#include "align/align-private.h"

#include <aperta/diction.h>
#include <string.h>

/* The words as diction reads them; their lists of syllables are kept in lists. */
static GArray *diction_words(const aperta_underlay *underlay, GPtrArray *lists)
{
    GArray *words = g_array_sized_new(FALSE, FALSE, sizeof(aperta_diction_word), underlay->words->len);

    for (guint w = 0; w < underlay->words->len; w++) {
        const aperta_laid_word *laid = align_word(underlay, w);
        const char **texts = g_new(const char *, laid->n_syllables);
        for (guint s = 0; s < laid->n_syllables; s++)
            texts[s] = align_syllable(underlay, laid->first + s)->text;
        g_ptr_array_add(lists, texts);
        aperta_diction_word word = {laid->n_syllables, texts, laid->line_ends};
        g_array_append_val(words, word);
    }
    return words;
}

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
static int claim(const aperta_laid_syllable *syllable)
{
    const aperta_syllable_sound *sound = &syllable->sound;

    if (sound->origin == APERTA_SOUND_NONE)
        return 0;
    return 1 + openness(sound->judged_as) + (sound->stressed ? 10 : 0);
}

static void choose_on(aperta_underlay *underlay, guint i)
{
    aperta_laid_note *note = align_note(underlay, i);
    int before = note->sung_on;
    int best = -1;

    for (guint k = 0; k < note->n_begun; k++) {
        int claimed = claim(align_syllable(underlay, note->first_begun + k));
        if (claimed >= best) {
            best = claimed;
            note->sung_on = (int)(note->first_begun + k);
        }
    }
    for (guint k = i + 1; k < underlay->notes->len; k++) {
        aperta_laid_note *next = align_note(underlay, k);
        if (next->n_begun > 0 || next->sung_on != before)
            break;
        next->sung_on = note->sung_on;
    }
}

void align_choose_sustained(aperta_underlay *underlay)
{
    for (guint i = 0; i < underlay->notes->len; i++)
        if (align_note(underlay, i)->n_begun > 1)
            choose_on(underlay, i);
}

void aperta_align_sing(aperta_underlay *underlay, aperta_diction *diction)
{
    g_autoptr(GPtrArray) lists = g_ptr_array_new_with_free_func(g_free);
    g_autoptr(GArray) words = diction_words(underlay, lists);
    g_autoptr(GArray) sounds =
        aperta_diction_sing(diction, (const aperta_diction_word *)(void *)words->data, words->len);

    for (guint s = 0; s < MIN(sounds->len, underlay->syllables->len); s++) {
        aperta_syllable_sound *sound = &g_array_index(sounds, aperta_syllable_sound, s);
        aperta_laid_syllable *syllable = align_syllable(underlay, s);
        aperta_syllable_sound_clear(&syllable->sound);
        syllable->sound = *sound;
        memset(sound, 0, sizeof *sound); /* it has moved */
        sound->origin = APERTA_SOUND_NONE;
    }
    align_choose_sustained(underlay);
}
