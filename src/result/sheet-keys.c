/* sheet-keys.c - the same song higher and lower: how much of it would want change or watching, and would it fit. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <stdlib.h>

static void judge_note(const aperta_sheet_note *note, int transposed, sheet_judge *judge, aperta_sheet_key *key)
{
    int midi = note->score_note->midi + key->semitones - transposed;
    double duration_s = note->score_note->end_s - note->score_note->start_s;

    if (note->expected == NULL || !note->expected->known || duration_s <= 0.0 || midi < 0 || midi > 127)
        return;
    sheet_question question = {note->expected, midi, NULL, duration_s, note->sound != NULL && !note->sound->stressed};
    aperta_level level = aperta_findings_level(sheet_judge_advise(judge, &question));
    if (level == APERTA_LEVEL_CHANGE) {
        key->n_change++;
        key->change_s += note->weight_s;
    } else if (level == APERTA_LEVEL_WATCH) {
        key->n_watch++;
        key->watch_s += note->weight_s;
    }
}

static aperta_sheet_key *try_key(const aperta_sheet *sheet, sheet_judge *judge, int semitones)
{
    aperta_sheet_key *key = g_new0(aperta_sheet_key, 1);
    int up = semitones - sheet->transposed; /* from the pitches of this sheet */

    key->semitones = semitones;
    key->key = sheet->score->key;
    key->key.tonic = ((key->key.tonic + up) % 12 + 12) % 12;
    key->lowest = sheet->lowest + up;
    key->highest = sheet->highest + up;
    key->fits = (sheet->range_low == 0 || key->lowest >= sheet->range_low) &&
                (sheet->range_high == 0 || key->highest <= sheet->range_high);
    for (guint i = 0; i < sheet->notes->len; i++)
        judge_note(sheet_note(sheet, i), sheet->transposed, judge, key);
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

void sheet_try_keys(aperta_sheet *sheet, sheet_judge *judge, int from, int to)
{
    g_autoptr(GPtrArray) ranked = g_ptr_array_new();

    sheet->keys = g_ptr_array_new_with_free_func(g_free);
    for (int semitones = from; semitones <= to && sheet->lowest > 0; semitones++) {
        aperta_sheet_key *key = try_key(sheet, judge, semitones);
        g_ptr_array_add(sheet->keys, key);
        g_ptr_array_add(ranked, key);
    }
    g_ptr_array_sort(ranked, easier);
    for (guint i = 0; i < ranked->len; i++)
        ((aperta_sheet_key *)g_ptr_array_index(ranked, i))->rank = (int)i + 1;
}
