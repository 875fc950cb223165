/* score-records.c - life of the records of a score. */
#include <aperta/base.h>

#include <string.h>

void aperta_score_note_clear(aperta_score_note *note)
{
    for (guint i = 0; i < note->n_lyrics; i++) {
        g_free(note->lyrics[i].text);
        g_free(note->lyrics[i].language);
    }
    g_free(note->lyrics);
    g_free(note->bar);
    memset(note, 0, sizeof *note);
}

void aperta_syllable_sound_clear(aperta_syllable_sound *sound)
{
    g_free(sound->ipa);
    g_free(sound->nucleus);
    g_free(sound->off_glide);
    g_free(sound->judged_as);
    g_free(sound->remark.text);
    memset(sound, 0, sizeof *sound);
}
