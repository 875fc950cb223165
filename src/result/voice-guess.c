/* voice-guess.c - whose voice it may be, when nobody said. A guess, and reported as one. */
#include "dsp/dsp.h"
#include "result/result-private.h"
#include "result/result-tuning.h"

aperta_voice result_guess_voice(const aperta_note *notes, guint n_notes)
{
    g_autoptr(GArray) pitches = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < n_notes; i++)
        g_array_append_val(pitches, notes[i].f0_hz);
    if (pitches->len == 0)
        return APERTA_VOICE_WOMAN;
    double median_hz = dsp_quantile((double *)(void *)pitches->data, pitches->len, 0.5);
    return median_hz < RESULT_PARTING_HZ ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN;
}

static gboolean pitch_is_sure(const aperta_result *result)
{
    g_autoptr(GArray) pitches = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = g_ptr_array_index(result->notes, i);
        g_array_append_val(pitches, note->note.f0_hz);
    }
    if (pitches->len == 0)
        return TRUE;
    double median_hz = dsp_quantile((double *)(void *)pitches->data, pitches->len, 0.5);
    return median_hz < RESULT_SURELY_MAN_HZ || median_hz > RESULT_SURELY_WOMAN_HZ;
}

gboolean result_voice_agrees(const aperta_result *result, aperta_voice guess)
{
    g_autoptr(GArray) f3 = g_array_new(FALSE, FALSE, sizeof(double));

    if (pitch_is_sure(result))
        return TRUE;
    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = g_ptr_array_index(result->notes, i);
        const aperta_resonance *third = &note->tract.resonances[2];
        if (third->status == APERTA_MEASURED && !note->note.accompanied && note->note.f0_hz < RESULT_F3_F0_MAX_HZ)
            g_array_append_val(f3, third->hz);
    }
    if (f3->len < RESULT_F3_NOTES_MIN)
        return TRUE;
    double median_hz = dsp_quantile((double *)(void *)f3->data, f3->len, 0.5);
    return guess == APERTA_VOICE_MAN ? median_hz <= RESULT_F3_MAN_MAX_HZ : median_hz >= RESULT_F3_WOMAN_MIN_HZ;
}
