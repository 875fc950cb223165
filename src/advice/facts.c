/* facts.c - what is known of a note under a rule, put down for the words about it. */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>

/* Probability that F1 lies below the note itself. */
static double share_below_note(const aperta_situation *situation)
{
    const aperta_resonance *f1 = &situation->resonances[0];
    double limit_hz = situation->f0_hz, share = 0.0;
    advice_cell cells[2];

    if (f1->has_high && f1->high_hz <= limit_hz)
        return 1.0;
    guint n = advice_belief_cells(f1, 0, situation->posterior, &limit_hz, 1, cells);
    for (guint i = 0; i < n; i++)
        share += cells[i].hz < limit_hz ? cells[i].mass : 0.0;
    return share;
}

static advice_meeting meeting_of(const aperta_situation *situation)
{
    const aperta_resonance *f1 = &situation->resonances[0];
    double share = share_below_note(situation);

    if (share >= ADVICE_SURE_AT)
        return ADVICE_MEETS_PASSED;
    if (share >= (situation->expected ? ADVICE_SPEAKS_AT : ADVICE_PROBABLY_AT))
        return ADVICE_MEETS_PROBABLY_PASSED;
    if (share >= ADVICE_SPEAKS_AT)
        return ADVICE_MEETS_PERHAPS_PASSED;
    gboolean at = f1->status == APERTA_MEASURED && fabs(aperta_semitones_between(situation->f0_hz, f1->hz)) < 1.0;
    return at ? ADVICE_MEETS_AT : ADVICE_MEETS_NEAR;
}

static void set_spoken(advice_facts *facts, const advice_case *which)
{
    const aperta_vowel_row *row = aperta_vowel_table_row(which->table, advice_named_vowel(which));

    for (int i = 0; row != NULL && i < APERTA_N_RESONANCES; i++)
        facts->spoken_hz[i] = row->has[i] ? row->hz[i] : 0.0;
}

static void set_style(advice_facts *facts, const advice_case *which)
{
    const advice_setting *ceiling = advice_setting_for(which->rules, "f1_ceiling", which->voice);
    const advice_setting *turn = advice_setting_for(which->rules, "tuning_top", which->voice);

    facts->ceiling_hz = ceiling != NULL ? ceiling->number : 0.0;
    if (turn != NULL && turn->unit == ADVICE_UNIT_PITCH)
        aperta_pitch_spell((int)turn->number, which->situation->key, facts->turn);
    if (which->aim == NULL || !advice_limit_hz(which->aim, which, &facts->needed_hz))
        facts->needed_hz = 0.0;
}

advice_facts *advice_facts_of(const advice_case *which)
{
    const aperta_situation *situation = which->situation;
    advice_facts *facts = g_new0(advice_facts, 1);

    if (situation->pitch_name != NULL)
        g_strlcpy(facts->pitch, situation->pitch_name, sizeof facts->pitch);
    else
        aperta_pitch_spell(situation->midi, situation->key, facts->pitch);
    if (situation->other_pitch_name != NULL)
        g_strlcpy(facts->other_pitch, situation->other_pitch_name, sizeof facts->other_pitch);
    facts->voice = which->voice;
    facts->vowel = situation->vowel;
    facts->vowel_class = situation->vowel_class;
    facts->f0_hz = situation->f0_hz;
    facts->duration_s = situation->duration_s;
    facts->vibrato = situation->vibrato;
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        facts->resonances[i] = situation->resonances[i];
    facts->expected = situation->expected;
    facts->n_notes = situation->n_notes;
    facts->probability = which->probability;
    facts->meets = meeting_of(situation);
    set_spoken(facts, which);
    set_style(facts, which);
    return facts;
}

advice_facts *advice_facts_copy(const advice_facts *facts)
{
    return g_memdup2(facts, sizeof *facts);
}

void advice_facts_free(advice_facts *facts)
{
    g_free(facts);
}

double advice_facts_reference_hz(const advice_facts *facts, const advice_quantity *quantity)
{
    if (quantity->kind == ADVICE_RESONANCE_TO_HARMONIC)
        return quantity->harmonic * facts->f0_hz;
    return facts->spoken_hz[quantity->resonance];
}
