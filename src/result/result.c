/* result.c - life of the result and its parts. */
#include "result/result-private.h"

#include <math.h>

aperta_sung_note *result_note_new(int number, const aperta_note *note, const aperta_result *result)
{
    aperta_sung_note *sung = g_new0(aperta_sung_note, 1);
    double midi = aperta_hz_to_midi(note->f0_hz, result->a4_hz);

    sung->number = number;
    sung->note = *note;
    sung->midi = (int)floor(midi + 0.5);
    sung->cents = 100.0 * (midi - sung->midi);
    aperta_pitch_spell(sung->midi, &result->key, sung->name);
    sung->advice = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_finding_free);
    return sung;
}

void result_syllable_free(aperta_syllable *syllable)
{
    if (syllable == NULL)
        return;
    g_free(syllable->text);
    g_free(syllable->word);
    g_free(syllable->ipa);
    g_free(syllable);
}

void result_note_free(aperta_sung_note *note)
{
    if (note == NULL)
        return;
    result_syllable_free(note->syllable);
    g_ptr_array_unref(note->advice);
    if (note->explanations != NULL)
        g_ptr_array_unref(note->explanations);
    g_free(note);
}

void aperta_result_free(aperta_result *result)
{
    if (result == NULL)
        return;
    g_free(result->file);
    g_free(result->singer);
    result_settings_clear(&result->settings);
    g_clear_pointer(&result->groups, g_ptr_array_unref);
    g_clear_pointer(&result->notes, g_ptr_array_unref);
    g_clear_pointer(&result->warnings, g_ptr_array_unref);
    aperta_f0_track_free(result->track);
    g_free(result->frames);
    g_free(result);
}

aperta_level aperta_findings_level(const GPtrArray *findings)
{
    aperta_level level = APERTA_LEVEL_FINE;

    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = g_ptr_array_index(findings, i);
        level = MAX(level, finding->level);
    }
    return level;
}

aperta_level aperta_sung_note_level(const aperta_sung_note *note)
{
    return aperta_findings_level(note->advice);
}
