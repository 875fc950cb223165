/* sheet-mark.c - what stands at a flagged note of a sheet. */
#include "result/sheet-mark.h"
#include "result/query.h"

const char *result_own_word(const aperta_finding *finding)
{
    return finding->level == APERTA_LEVEL_CHANGE ? finding->mark : NULL;
}

result_sheet_mark result_sheet_mark_of(const aperta_sheet_note *note)
{
    const aperta_finding *finding = result_shape_in(note->advice);
    result_sheet_mark mark = {.kind = RESULT_MARK_NONE, .level = aperta_findings_level(note->advice)};

    if (mark.level == APERTA_LEVEL_FINE)
        return mark;
    if (finding == NULL || finding->level < mark.level) {
        mark.kind = RESULT_MARK_WORD;
        mark.own_word = result_own_word(g_ptr_array_index(note->advice, 0));
        return mark;
    }
    mark.kind = finding->level == APERTA_LEVEL_CHANGE ? RESULT_MARK_SING : RESULT_MARK_TRY;
    mark.shape = finding->shape;
    mark.jaw_down = finding->shape->jaw_wide || finding->shape->vowel == note->expected->vowel;
    mark.other_word = note->risk != NULL;
    return mark;
}

gboolean result_sheet_mark_equal(const result_sheet_mark *a, const result_sheet_mark *b)
{
    if (a->kind != b->kind || a->level != b->level || g_strcmp0(a->own_word, b->own_word) != 0 ||
        a->jaw_down != b->jaw_down || a->other_word != b->other_word)
        return FALSE;
    return a->shape == b->shape || (a->shape != NULL && b->shape != NULL && a->shape->vowel == b->shape->vowel &&
                                    a->shape->before == b->shape->before);
}
