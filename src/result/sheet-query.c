/* sheet-query.c - small questions about a sheet that whoever tells it asks again and again. */
#include "result/sheet-query.h"
#include "result/query.h"
#include "result/result-tuning.h"

#include <math.h>
#include <string.h>

const aperta_sheet_verse *result_sheet_verse(const aperta_sheet *sheet, guint index)
{
    return g_ptr_array_index(sheet->verses, index);
}

const aperta_sheet_note *result_sheet_note_at(const aperta_sheet *sheet, guint index)
{
    return g_ptr_array_index(sheet->notes, index);
}

gboolean result_sheet_word_goes_on(const aperta_sheet_verse *verse, const aperta_sheet_note *note)
{
    const aperta_underlay *underlay = verse->underlay;
    const aperta_laid_note *laid = &underlay->notes[note->number - 1];
    guint last = laid->first_begun + laid->n_begun - 1;

    return laid->n_begun > 0 && last + 1 < underlay->n_syllables &&
           underlay->syllables[last].word == underlay->syllables[last + 1].word;
}

gboolean result_sheet_has_bars(const aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;

    return score->format != APERTA_SCORE_TEXT || strcmp(score->notes[0].bar, score->notes[score->n_notes - 1].bar) != 0;
}

gboolean result_sheet_shows_line(const aperta_sheet *sheet, const aperta_sheet_verse *verse,
                                 const aperta_laid_line *line)
{
    return line->sung || verse == result_sheet_verse(sheet, 0);
}

gboolean result_sheet_group_is_brief(const aperta_sheet *sheet, guint index)
{
    const aperta_group *group = aperta_group_at(sheet->groups, index);

    if (group->weight_s >= RESULT_BRIEF_SHARE * sheet->weight_s)
        return FALSE;
    for (guint i = 0; i < index; i++) {
        const aperta_group *before = aperta_group_at(sheet->groups, i);
        if (before->level == group->level && strcmp(before->finding->rule, group->finding->rule) == 0)
            return TRUE;
    }
    return FALSE;
}

gboolean result_sheet_key_is_own(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    return sheet->transposed != 0 && key->semitones == sheet->transposed;
}

const aperta_sheet_key *result_sheet_key_of_rank(const aperta_sheet *sheet, int rank)
{
    for (guint i = 0; i < result_length(sheet->keys); i++) {
        const aperta_sheet_key *key = aperta_sheet_key_at(sheet->keys, i);
        if (key->rank == rank)
            return key;
    }
    return NULL;
}

gboolean result_sheet_keys_alike(const aperta_sheet *sheet)
{
    const aperta_sheet_key *best = result_sheet_key_of_rank(sheet, 1);

    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *key = aperta_sheet_key_at(sheet->keys, i);
        double difference_s = fabs(key->change_s - best->change_s) + fabs(key->watch_s - best->watch_s);
        if (key->fits && difference_s > RESULT_ALIKE_SHARE * sheet->weight_s)
            return FALSE;
    }
    return sheet->keys->len > 1;
}
