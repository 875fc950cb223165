/* result.c - life of takes and sheets, and of their parts. */
#include "result/sheet-private.h"

#include <math.h>

/* ---- what both have ---------------------------------------------------------------------------------------------- */

void result_syllable_free(aperta_syllable *syllable)
{
    if (syllable == NULL)
        return;
    g_free(syllable->text);
    g_free(syllable->word);
    g_free(syllable->ipa);
    g_free(syllable);
}

/* ---- a take ------------------------------------------------------------------------------------------------------ */

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
    g_clear_pointer(&result->first, g_ptr_array_unref);
    g_clear_pointer(&result->groups, g_ptr_array_unref);
    g_clear_pointer(&result->notes, g_ptr_array_unref);
    g_clear_pointer(&result->warnings, g_ptr_array_unref);
    aperta_f0_track_free(result->track);
    g_free(result->frames);
    g_free(result);
}

/* ---- a sheet ----------------------------------------------------------------------------------------------------- */

static void sheet_verse_free(gpointer data)
{
    aperta_sheet_verse *verse = data;

    aperta_underlay_free(verse->underlay);
    g_free(verse);
}

static void sheet_note_free(gpointer data)
{
    aperta_sheet_note *note = data;

    result_syllable_free(note->syllable);
    g_ptr_array_unref(note->advice);
    sheet_risk_free(note->risk);
    g_free(note);
}

static void expectation_free(gpointer data)
{
    aperta_expectation *expected = data;

    g_free(expected->lender);
    g_free(expected->lender_status);
    g_free(expected);
}

aperta_sheet *sheet_new(aperta_score *score, const aperta_sheet_options *options)
{
    aperta_sheet *sheet = g_new0(aperta_sheet, 1);

    sheet->score = score;
    sheet->octave = options->octave;
    sheet->range_low = options->range_low;
    sheet->range_high = options->range_high;
    sheet->verses = g_ptr_array_new_with_free_func(sheet_verse_free);
    sheet->notes = g_ptr_array_new_with_free_func(sheet_note_free);
    sheet->expectations = g_ptr_array_new_with_free_func(expectation_free);
    sheet->warnings = result_warnings_new();
    return sheet;
}

void aperta_sheet_free(aperta_sheet *sheet)
{
    if (sheet == NULL)
        return;
    g_clear_pointer(&sheet->first, g_ptr_array_unref);
    g_clear_pointer(&sheet->groups, g_ptr_array_unref);
    g_clear_pointer(&sheet->keys, g_ptr_array_unref);
    g_ptr_array_unref(sheet->notes);
    g_ptr_array_unref(sheet->verses);
    g_ptr_array_unref(sheet->expectations);
    g_ptr_array_unref(sheet->warnings);
    result_settings_clear(&sheet->settings);
    aperta_score_free(sheet->score);
    g_free(sheet);
}
