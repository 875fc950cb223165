/* sheet-melisma.c - one shape for one syllable.
 *
 * A melisma is sung on one vowel, and nobody changes its shape from note to note; so the notes of a syllable that want
 * a change, each judged on its own pitch, agree on one: the one that most of the singing asks for, as open as the
 * highest of its notes needs it (common practice, no source). Notes that nothing is asked of are left alone. */
#include "result/sheet-private.h"

#include <string.h>

static gboolean wants_change(const aperta_sheet_note *note)
{
    return aperta_findings_level(note->advice) == APERTA_LEVEL_CHANGE;
}

/* Whether two notes are asked for the same: one vowel to sing, or one rule that has no shape. */
static gboolean are_asked_alike(const aperta_sheet_note *a, const aperta_sheet_note *b)
{
    const aperta_finding *first = aperta_finding_at(a->advice, 0), *second = aperta_finding_at(b->advice, 0);

    if (first->shape == NULL || second->shape == NULL)
        return first->shape == second->shape && strcmp(first->rule, second->rule) == 0;
    return first->shape->vowel == second->shape->vowel;
}

static double weight_asking(const aperta_sheet *sheet, guint from, guint to, const aperta_sheet_note *like)
{
    double weight_s = 0.0;

    for (guint i = from; i < to; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        if (wants_change(note) && are_asked_alike(note, like))
            weight_s += note->weight_s;
    }
    return weight_s;
}

/* The highest of the notes that ask for what most of the singing asks for; NULL: none wants a change. */
static const aperta_sheet_note *spokesman(const aperta_sheet *sheet, guint from, guint to)
{
    const aperta_sheet_note *best = NULL;
    double most_s = -1.0;

    for (guint i = from; i < to; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        if (!wants_change(note))
            continue;
        double weight_s = weight_asking(sheet, from, to, note);
        gboolean higher = best != NULL && weight_s == most_s && note->score_note->midi > best->score_note->midi;
        if (weight_s > most_s || higher) {
            best = note;
            most_s = weight_s;
        }
    }
    return best;
}

static void agree(const aperta_sheet *sheet, guint from, guint to)
{
    const aperta_sheet_note *speaks = spokesman(sheet, from, to);

    for (guint i = from; speaks != NULL && i < to; i++) {
        aperta_sheet_note *note = sheet_note(sheet, i);
        if (note == speaks || !wants_change(note))
            continue;
        g_ptr_array_unref(note->advice);
        note->advice = g_ptr_array_ref(speaks->advice);
        note->advice_of = speaks;
    }
}

void sheet_agree_in_melismas(aperta_sheet *sheet, guint first, guint n)
{
    for (guint from = first, to; from < first + n; from = to) {
        for (to = from + 1; to < first + n && sheet_note(sheet, to)->goes_on; to++)
            continue;
        if (to - from > 1)
            agree(sheet, from, to);
    }
}
