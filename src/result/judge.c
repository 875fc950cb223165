/* judge.c - what the rules say of a note, sung or written. */
#include "result/result-private.h"

#include <string.h>

aperta_situation result_situation(const aperta_settings *settings, const aperta_key *key, int midi, double f0_hz,
                                  double duration_s, const aperta_vowel *vowel,
                                  const aperta_resonance resonances[APERTA_N_RESONANCES])
{
    aperta_situation situation = {
        .voice = settings->voice,
        .f0_hz = f0_hz,
        .midi = midi,
        .duration_s = duration_s,
        .vowel = vowel,
        .key = key,
    };

    memcpy(situation.resonances, resonances, sizeof situation.resonances);
    return situation;
}
