/* voice-guess.c - whose voice it may be by its pitch, when nobody said. A guess, and reported as one.
 *
 * Of a recording the resonances have the last word: doubt is what their evidence is weighed against (take.c). */
#include "dsp/dsp.h"
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <math.h>

static gint by_pitch(gconstpointer a, gconstpointer b)
{
    const aperta_note *first = *(const aperta_note *const *)a, *second = *(const aperta_note *const *)b;

    return (first->f0_hz > second->f0_hz) - (first->f0_hz < second->f0_hz);
}

static double length_s(const aperta_note *note)
{
    return note->span.end_s - note->span.start_s;
}

/* The pitch below which a small part of the time of the held notes lies: creak, and a note an octave off, are short or
 * rare. +inf: nothing is held. */
static double lowest_held_hz(const aperta_note *notes, guint n_notes)
{
    g_autoptr(GPtrArray) held = g_ptr_array_new();
    double all_s = 0.0, below_s = 0.0;

    for (guint i = 0; i < n_notes; i++)
        if (length_s(&notes[i]) >= RESULT_HELD_S) {
            g_ptr_array_add(held, (gpointer)&notes[i]);
            all_s += length_s(&notes[i]);
        }
    g_ptr_array_sort(held, by_pitch);
    for (guint i = 0; i < held->len; i++) {
        const aperta_note *note = g_ptr_array_index(held, i);
        below_s += length_s(note);
        if (below_s >= RESULT_LOW_SHARE * all_s)
            return note->f0_hz;
    }
    return HUGE_VAL;
}

static double median_hz(const aperta_note *notes, guint n_notes)
{
    g_autoptr(GArray) pitches = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < n_notes; i++)
        g_array_append_val(pitches, notes[i].f0_hz);
    return pitches->len > 0 ? dsp_quantile((double *)(void *)pitches->data, pitches->len, 0.5) : RESULT_PARTING_HZ;
}

aperta_voice result_guess_voice(const aperta_note *notes, guint n_notes, double *doubt)
{
    double for_woman = RESULT_PARTING_SHARPNESS * log(median_hz(notes, n_notes) / RESULT_PARTING_HZ);

    /* A man's high voice goes where women sing; a woman's low notes do not go where men do. */
    for_woman -= RESULT_LOW_SHARPNESS * fmax(log(RESULT_LOWEST_OF_WOMEN_HZ / lowest_held_hz(notes, n_notes)), 0.0);
    if (doubt != NULL)
        *doubt = 1.0 / (1.0 + exp(fabs(for_woman)));
    return for_woman < 0.0 ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN;
}

aperta_voice result_guess_voice_of_score(const aperta_score *score, int lowest_midi)
{
    g_autofree aperta_note *notes = g_new0(aperta_note, score->n_notes + 1);

    if (lowest_midi > 0 && lowest_midi < RESULT_LOWEST_OF_WOMEN_MIDI)
        return APERTA_VOICE_MAN;
    for (guint i = 0; i < score->n_notes; i++)
        notes[i].f0_hz = aperta_midi_to_hz(score->notes[i].midi, 440.0);
    return result_guess_voice(notes, score->n_notes, NULL);
}
