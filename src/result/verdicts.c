/* verdicts.c - the rules of a style over the notes of a take. */
#include "result/result-private.h"

#include <string.h>

static void judge(const aperta_result *r, const aperta_rules *rules, aperta_sung_note *note, gboolean explain)
{
    aperta_situation situation = {
        .voice = r->voice,
        .f0_hz = note->note.f0_hz,
        .midi = note->midi,
        .duration_s = note->note.span.end_s - note->note.span.start_s,
        .vowel = aperta_sung_note_told(note),
        .vowel_class = aperta_sung_note_told_class(note),
        .shares = note->vowel.shares,
        .n_shares = note->intended != NULL ? 0 : note->vowel.n_shares,
        .vibrato = note->note.vibrato,
        .posterior = result_posterior(note),
        .key = &r->key,
    };

    memcpy(situation.resonances, aperta_sung_note_resonances(note), sizeof situation.resonances);
    g_ptr_array_unref(note->advice);
    note->advice = aperta_advise(rules, r->table, &situation, explain ? &note->explanations : NULL);
    if (note->advice->len == 0)
        note->silence = aperta_advise_silence(rules, r->table, &situation, &note->reach_midi);
}

void result_judge(aperta_result *result, const aperta_rules *rules, gboolean explain)
{
    for (guint i = 0; i < result->notes->len; i++) {
        aperta_sung_note *note = g_ptr_array_index(result->notes, i);
        if (!note->note.accompanied)
            judge(result, rules, note, explain);
    }
}
