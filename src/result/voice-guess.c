/* voice-guess.c - whose voice it may be by its pitch, when nobody said. A guess, and reported as one.
 *
 * Of a recording the resonances have the last word: doubt is what their evidence is weighed against (take.c). */
#include "dsp/dsp.h"
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <math.h>

aperta_voice result_guess_voice(const aperta_note *notes, guint n_notes, double *doubt)
{
    g_autoptr(GArray) pitches = g_array_new(FALSE, FALSE, sizeof(double));
    double median_hz = RESULT_PARTING_HZ;

    for (guint i = 0; i < n_notes; i++)
        g_array_append_val(pitches, notes[i].f0_hz);
    if (pitches->len > 0)
        median_hz = dsp_quantile((double *)(void *)pitches->data, pitches->len, 0.5);
    if (doubt != NULL)
        *doubt = 1.0 / (1.0 + exp(RESULT_PARTING_SHARPNESS * fabs(log(median_hz / RESULT_PARTING_HZ))));
    return median_hz < RESULT_PARTING_HZ ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN;
}
