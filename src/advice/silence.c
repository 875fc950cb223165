/* silence.c - why no rule speaks about a note.
 *
 * A rule whose pitches and voices alone leave it no chance is no rule for the note; where that is so of all, the note
 * lies outside the style's reach, and the reach is looked for above it, then below. Else the rules were asked, and what
 * is known of vowel and resonances decided. */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>

enum { LOWEST_MIDI = 0, HIGHEST_MIDI = 127 };

/* Whether any rule could speak about a note of that pitch, whatever is measured on it. */
static gboolean reaches(const advice_case *which, int midi)
{
    aperta_situation there = *which->situation;
    advice_case moved = *which;

    there.midi = midi;
    there.f0_hz *= exp2((midi - which->situation->midi) / 12.0);
    moved.situation = &there;
    for (guint i = 0; i < which->rules->rules->len; i++) {
        const advice_rule *rule = advice_rule_at(which->rules->rules, i);
        if (advice_is_possible(rule->when, &moved))
            return TRUE;
    }
    return FALSE;
}

/* Whether some rule could not be decided for want of what it asks. */
static gboolean is_untold(const advice_case *which)
{
    for (guint i = 0; i < which->rules->rules->len; i++) {
        const advice_rule *rule = advice_rule_at(which->rules->rules, i);
        advice_case asked = *which;
        aperta_shape *shape = NULL;
        asked.aim = rule->aim;
        asked.outcome = rule->aim != NULL ? advice_search(&asked, &shape) : ADVICE_SEARCH_IMPOSSIBLE;
        advice_chance chance = advice_evaluate(rule->when, &asked);
        aperta_shape_free(shape);
        if (chance.holds + chance.unknown >= advice_speaks_at(which))
            return TRUE;
    }
    return FALSE;
}

aperta_silence aperta_advise_silence(const aperta_rules *rules, const aperta_vowel_table *table,
                                     const aperta_situation *situation, int *reach_midi)
{
    advice_case which = {.rules = rules, .table = table, .situation = situation, .voice = situation->voice};

    if (which.voice == APERTA_VOICE_UNKNOWN)
        which.voice = table->voice;
    if (reaches(&which, situation->midi))
        return is_untold(&which) ? APERTA_SILENCE_UNTOLD : APERTA_SILENCE_NOTHING;
    for (int midi = situation->midi + 1; midi <= HIGHEST_MIDI; midi++)
        if (reaches(&which, midi)) {
            *reach_midi = midi;
            return APERTA_SILENCE_LOW;
        }
    for (int midi = situation->midi - 1; midi >= LOWEST_MIDI; midi--)
        if (reaches(&which, midi)) {
            *reach_midi = midi;
            return APERTA_SILENCE_HIGH;
        }
    return APERTA_SILENCE_NOTHING;
}
