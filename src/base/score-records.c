/* score-records.c - life of the records of a score. */
#include <aperta/base.h>

#include <string.h>

void aperta_lyric_free(aperta_lyric *lyric)
{
    if (lyric == NULL)
        return;
    g_free(lyric->text);
    g_free(lyric->language);
    g_free(lyric);
}

aperta_score_note *aperta_score_note_new(void)
{
    aperta_score_note *note = g_new0(aperta_score_note, 1);

    note->bar = g_strdup("");
    note->lyrics = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_lyric_free);
    return note;
}

void aperta_score_note_free(aperta_score_note *note)
{
    if (note == NULL)
        return;
    g_free(note->bar);
    g_ptr_array_unref(note->lyrics);
    g_free(note);
}

void aperta_syllable_sound_clear(aperta_syllable_sound *sound)
{
    g_free(sound->ipa);
    g_free(sound->nucleus);
    g_free(sound->off_glide);
    g_free(sound->judged_as);
    g_free(sound->remark);
    memset(sound, 0, sizeof *sound);
}
