/* The pooled fit: resonances of the tract during one note from the levels of its harmonics in all frames together.
 *
 * Why. Harmonics show the tract's response only at multiples of f0. Above some 300 Hz that is too coarse for any method
 * that looks at one frame: linear prediction slides to the harmonics (Vallabha & Tuller 2002, Speech Commun. 38:141:
 * about a tenth of f0). But a sung note is never still. Vibrato carries every harmonic up and down a piece of the
 * response, and the slope of that piece does not depend on how strong the source made that harmonic (Arroabarren &
 * Carlosena 2004). All frames of a note see the same tract at different frequencies; they belong in one fit
 * (multi-frame analysis: Shiga & King 2003, Eurospeech 1737), with errors counted at the harmonics only (de Cheveigne &
 * Kawahara 1999, JASA 105:3497).
 *
 * How.
 *   harmonics.c      levels of the harmonics, frame by frame, with the noise between them
 *   fit-cells.c      levels pooled by how far the vibrato had carried the fundamental
 *   fit-source.c     spectrum of the glottal pulse
 *   fit-model.c      source, six resonances, higher poles, a deviation for each harmonic; priors; derivatives
 *   fit-minima.c     ways to explain the note, sorted and different
 *   fit-search.c     many starts, robust errors of a fitted scale, the few minima that explain the note
 *   fit-slices.c     the posterior around each of them
 *   fit-modes.c      the posterior in a few normal distributions
 *   fit-posterior.c  values, 90 % intervals, other values that fit nearly as well, and what cannot be told
 *   fit-window.c     a short part of a note whose vowel moves
 *
 * Priors are wide: any vowel, spoken or opened, of the voice's group. No vowel's name enters.
 *
 * What is doubted. No voice has the model's pulses: every harmonic may deviate, a harmonic may be taken away (not
 * added) by a zero, frames unlike the others of their cell are left out, and only a share of chi squared counts as
 * evidence, chosen so that intervals hold for voices with other pulses too (their rows are in the bench's table).
 *
 * How well it can be done. With the model's own kind of voice, a source ripple of 2 dB and no room, the median error of
 * F1 of such a fit (our own simulation, not published) is 7 to 14 Hz at 200-300 Hz, 15 to 19 at 300-450, 25 to 36 at
 * 450-650 and 51 to 93 at 650-1000 for vibratos of 100 and 50 cents, and one and a half to three times that without
 * vibrato. The bench's figures lie near it; its dry notes with a vibrato of 100 cents are better (F1 within 1 % in half
 * of them at 440 Hz), its rooms and straight notes worse. Of the notes from 440 to 622 Hz whose F1 is off by more than
 * 10 %, a third have the truth among the minima that lost, one in six has it in a minimum that the search missed, and
 * in half the model fits no better there than elsewhere: only a better model, of the room above all, would right those.
 *
 * Limits. With F1 below f0 no harmonic lies below F1 and its place follows from the source's prior alone: only a bound
 * is given. A harmonic that stands still on a resonance (no vibrato) has slope zero and tells nothing about which side
 * it is on. Side branches and the nose add zeros that are not in the model; they disturb from about F4 upward. A room
 * adds a response of its own; its size is estimated, its shape is not.
 */
#include "tract/tract-fit.h"

#include "tract/fit-private.h"
#include "tract/fit-tuning.h"

enum { SCRATCH = 4 }; /* values a frame that fit_cells_fill needs */

static double neutral_hz(aperta_voice voice)
{
    switch (aperta_voice_group(voice)) {
    case APERTA_VOICE_MAN:
        return FIT_NEUTRAL_MAN_HZ;
    case APERTA_VOICE_CHILD:
        return FIT_NEUTRAL_CHILD_HZ;
    default:
        return FIT_NEUTRAL_WOMAN_HZ;
    }
}

tract_fit *tract_fit_create(const tract_fit_config *config)
{
    tract_fit *fit = g_new0(tract_fit, 1);
    fit->config = *config;
    fit->voice = (fit_voice){neutral_hz(config->voice), FIT_LENGTH_SD};
    fit_source_fill(&fit->source);
    fit->nlls = dsp_nlls_create(FIT_PARAMS);
    fit->scratch = g_new0(double, SCRATCH * config->frames_max);
    return fit;
}

void tract_fit_destroy(tract_fit *fit)
{
    if (fit == NULL)
        return;
    g_free(fit->scratch);
    dsp_nlls_destroy(fit->nlls);
    g_free(fit);
}

void tract_fit_search(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames,
                      const aperta_resonance hint[APERTA_N_RESONANCES], fit_minima *minima)
{
    minima->n = 0;
    n_frames = MIN(n_frames, fit->config.frames_max);
    if (!fit_cells_fill(&fit->cells, frames, n_frames, fit->config.band_hz, fit->voice.neutral_hz, fit->scratch))
        return;
    fit_cells_thin(&fit->cells, FIT_THIN_CELLS, &fit->thin);
    fit_search(fit, hint, minima);
}

void tract_fit_note(tract_fit *fit, const tract_harmonic_frame *frames, guint n_frames,
                    const aperta_resonance hint[APERTA_N_RESONANCES], aperta_resonance resonances[APERTA_N_RESONANCES],
                    aperta_posterior *posterior)
{
    fit_minima minima;
    posterior->n_modes = 0;
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        resonances[i] = (aperta_resonance){.status = APERTA_UNKNOWN};
    tract_fit_search(fit, frames, n_frames, hint, &minima);
    if (minima.n == 0)
        return;
    fit->posterior.n_slices = fit->posterior.n_modes = 0;
    for (int i = 0; i < minima.n; i++)
        fit_slice_minimum(fit, &minima.of[i]);
    fit_posterior_read(&fit->posterior, fit->cells.f0_hz, resonances);
    fit_posterior_modes(&fit->posterior, &fit->voice, posterior);
}
