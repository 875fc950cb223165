/* synth-random-phrase.c - draws phrases: steps and leaps, legato and consonants, repeated notes, rests with breaths. */
#include "synth-phrase.h"
#include "synth-random.h"

#include <math.h>

synth_phrase_spec synth_phrase_default(void)
{
    synth_phrase_spec spec = {.low_midi = 45,
                              .high_midi = 64,
                              .n_notes = 10,
                              .vibrato_max_cents = 100.0,
                              .shortest_s = 0.25,
                              .longest_s = 1.2,
                              .voice = synth_voice_default()};

    spec.voice.snr_db = 20.0;
    return spec;
}

/* A tube of this voice: the published man's, shortened for higher voices, and a little different each time. */
static synth_vowel draw_vowel(const synth_phrase_spec *spec, synth_random *random)
{
    synth_tube tube;

    synth_tube_story(synth_story_vowel(synth_random_int(random, 0, SYNTH_STORY_VOWELS - 1)), &tube);
    synth_tube_perturb(&tube, 0.08, random);
    synth_tube_scale(&tube, spec->high_midi <= 69 ? 1.0 : 0.86);
    return synth_vowel_of_tube(&tube);
}

/* Mostly steps, some leaps up to an octave, one in six repeated. */
static int draw_pitch(const synth_phrase_spec *spec, int before, synth_random *random)
{
    int step = synth_random_int(random, 0, 5);

    if (step == 0)
        return before;
    int size = step < 4 ? synth_random_int(random, 1, 2) : synth_random_int(random, 3, 12);
    int up = synth_random_int(random, 0, 1) ? size : -size;
    if (before + up < spec->low_midi || before + up > spec->high_midi)
        up = -up;
    return CLAMP(before + up, spec->low_midi, spec->high_midi);
}

static synth_vibrato draw_vibrato(const synth_phrase_spec *spec, synth_random *random)
{
    synth_vibrato vibrato = {.irregularity = 0.02};

    vibrato.rate_hz = synth_random_uniform(random, 4.8, 6.8);
    vibrato.delay_s = synth_random_uniform(random, 0.0, 0.25);
    vibrato.extent_cents = synth_random_uniform(random, 0.2, 1.0) * spec->vibrato_max_cents;
    if (synth_random_int(random, 0, 2) == 0)
        vibrato.extent_cents = 0.0;
    return vibrato;
}

static synth_onset draw_onset(gboolean repeated, synth_random *random)
{
    static const synth_onset all[] = {SYNTH_ONSET_VOWEL,     SYNTH_ONSET_VOWEL, SYNTH_ONSET_VOWEL,  SYNTH_ONSET_STOP,
                                      SYNTH_ONSET_FRICATIVE, SYNTH_ONSET_NASAL, SYNTH_ONSET_LATERAL};
    static const synth_onset apart[] = {SYNTH_ONSET_DIP, SYNTH_ONSET_STOP, SYNTH_ONSET_FRICATIVE, SYNTH_ONSET_NASAL};

    return repeated ? apart[synth_random_int(random, 0, G_N_ELEMENTS(apart) - 1)]
                    : all[synth_random_int(random, 0, G_N_ELEMENTS(all) - 1)];
}

static synth_syllable draw_syllable(const synth_phrase_spec *spec, int midi, gboolean repeated, synth_random *random)
{
    synth_syllable syllable = synth_syllable_default();

    syllable.midi = midi + CLAMP(synth_random_gauss(random, 0.08), -0.2, 0.2);
    syllable.vibrato = draw_vibrato(spec, random);
    syllable.onset = draw_onset(repeated, random);
    syllable.glide_s = synth_random_uniform(random, 0.04, 0.10);
    syllable.level_db = synth_random_uniform(random, -4.0, 2.0);
    syllable.rd = synth_random_uniform(random, 0.6, 1.8);
    syllable.rd_vibrato = 0.1;
    syllable.vowel = draw_vowel(spec, random);
    return syllable;
}

synth_take *synth_phrase_random(const synth_phrase_spec *spec)
{
    synth_voice voice = spec->voice;
    voice.seed = synth_random_spread(spec->voice.seed);
    synth_random random = synth_random_seed(voice.seed);
    g_autofree synth_syllable *syllables = g_new0(synth_syllable, spec->n_notes);
    double at_s = 0.3;
    int before = -1, midi = synth_random_int(&random, spec->low_midi, spec->high_midi);

    for (guint i = 0; i < spec->n_notes; i++) {
        synth_syllable *syllable = &syllables[i];
        gboolean rest = i > 0 && synth_random_int(&random, 0, 4) == 0;

        *syllable = draw_syllable(spec, midi, midi == before && !rest, &random);
        if (rest) {
            at_s += synth_random_uniform(&random, 0.3, 0.7);
            syllable->breath_s = synth_random_int(&random, 0, 1) ? 0.25 : 0.0;
        }
        syllable->start_s = at_s;
        at_s += spec->shortest_s * pow(spec->longest_s / spec->shortest_s, synth_random_uniform(&random, 0.0, 1.0));
        syllable->end_s = at_s;
        before = midi;
        midi = draw_pitch(spec, midi, &random);
    }
    return synth_phrase_sing(&voice, syllables, spec->n_notes, 3.0, at_s + 0.3);
}
