/* sheet-keys.c - the same song higher and lower: how much of it would want change or watching, and would it fit. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <stdlib.h>

static aperta_level level_at(const sheet_judging *on, const aperta_sheet_note *note, int midi)
{
    result_question question = sheet_question(on->expect, note);

    question.situation.midi = midi;
    question.situation.f0_hz = aperta_midi_to_hz(midi, 440.0);
    question.situation.pitch_name = NULL; /* spelled for the key */
    g_autoptr(GPtrArray) findings = result_judge_advise(on->judge, &question, NULL);
    return aperta_findings_level(findings);
}

static void judge_note(const sheet_judging *on, const aperta_sheet_note *note, int up, sheet_weight *sum)
{
    int midi = note->score_note->midi + up;

    if (sheet_is_judged(note) && midi >= 0 && midi <= 127)
        sheet_weigh(sum, level_at(on, note, midi), note->weight_s);
}

static aperta_sheet_key *try_key(const sheet_judging *on, int semitones)
{
    const aperta_sheet *sheet = on->sheet;
    aperta_sheet_key *key = g_new0(aperta_sheet_key, 1);
    sheet_weight sum = {0};
    int up = semitones - sheet->transposed; /* from the pitches of this sheet */

    key->semitones = semitones;
    key->key = sheet->score->key;
    key->key.tonic = ((key->key.tonic + up) % 12 + 12) % 12;
    key->lowest = sheet->lowest + up;
    key->highest = sheet->highest + up;
    key->fits = (sheet->range_low == 0 || key->lowest >= sheet->range_low) &&
                (sheet->range_high == 0 || key->highest <= sheet->range_high);
    for (guint i = 0; i < sheet->notes->len; i++)
        judge_note(on, sheet_note(sheet, i), up, &sum);
    key->n_change = sum.n_change;
    key->n_watch = sum.n_watch;
    key->change_s = sum.change_s;
    key->watch_s = sum.watch_s;
    return key;
}

/* Those that fit come first, then the less asks for change, then the nearer to the written key. */
static gint easier(gconstpointer a, gconstpointer b)
{
    const aperta_sheet_key *first = *(aperta_sheet_key *const *)a;
    const aperta_sheet_key *second = *(aperta_sheet_key *const *)b;
    double difference_s = first->change_s - second->change_s + RESULT_WATCH_SHARE * (first->watch_s - second->watch_s);

    if (first->fits != second->fits)
        return second->fits - first->fits;
    if (difference_s > 1e-6 || difference_s < -1e-6)
        return difference_s > 0.0 ? 1 : -1;
    return abs(first->semitones) - abs(second->semitones);
}

void sheet_try_keys(const sheet_judging *on, int from, int to)
{
    aperta_sheet *sheet = on->sheet;
    g_autoptr(GPtrArray) ranked = g_ptr_array_new();

    sheet->keys = g_ptr_array_new_with_free_func(g_free);
    for (int semitones = from; semitones <= to && sheet->lowest > 0; semitones++) {
        aperta_sheet_key *key = try_key(on, semitones);
        g_ptr_array_add(sheet->keys, key);
        g_ptr_array_add(ranked, key);
    }
    g_ptr_array_sort(ranked, easier);
    for (guint i = 0; i < ranked->len; i++)
        aperta_sheet_key_at(ranked, i)->rank = (int)i + 1;
}
