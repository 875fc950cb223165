/* query.c - small questions about a result that whoever tells it asks again and again. */
#include "result/query.h"

#include "result/result-tuning.h"

aperta_level aperta_findings_level(const GPtrArray *findings)
{
    aperta_level level = APERTA_LEVEL_FINE;

    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(findings, i);
        level = MAX(level, finding->level);
    }
    return level;
}

aperta_level aperta_sung_note_level(const aperta_sung_note *note)
{
    return aperta_findings_level(note->advice);
}

gboolean result_note_spoken_of(const aperta_sung_note *note)
{
    return result_length(note->advice) > 0;
}

gboolean result_note_flagged(const aperta_sung_note *note)
{
    return aperta_sung_note_level(note) > APERTA_LEVEL_FINE;
}

const aperta_finding *result_shape_in(const GPtrArray *advice)
{
    /* findings stand with the highest level first */
    for (guint i = 0; i < result_length(advice); i++) {
        const aperta_finding *finding = aperta_finding_at(advice, i);
        if (finding->shape != NULL)
            return finding;
    }
    return NULL;
}

guint result_length(const GPtrArray *array)
{
    return array != NULL ? array->len : 0;
}

const aperta_sung_note *result_note_at(const aperta_result *result, guint index)
{
    return g_ptr_array_index(result->notes, index);
}

gboolean result_warned(const GPtrArray *warnings, aperta_warning_kind kind)
{
    for (guint i = 0; i < result_length(warnings); i++)
        if (aperta_warning_at(warnings, i)->kind == kind)
            return TRUE;
    return FALSE;
}

gboolean result_all_removed(const aperta_result *result)
{
    return result->notes->len == 0 && result->n_removed > 0;
}

gboolean result_tuning_told(const aperta_result *result)
{
    return result->a4_given || (result->notes->len > 0 && !result_warned(result->warnings, APERTA_WARNING_SPOKEN));
}

gboolean result_has_other_places(const aperta_resonance *r)
{
    for (int a = 0; r->status == APERTA_MEASURED && a < r->n_alternatives; a++)
        if (r->alternatives[a].weight >= RESULT_ALTERNATIVE_WEIGHT)
            return TRUE;
    return FALSE;
}

result_confidence result_confidence_of(double confidence)
{
    if (confidence >= RESULT_SURE_CONFIDENCE)
        return RESULT_SURE;
    return confidence >= RESULT_LIKELY_CONFIDENCE ? RESULT_LIKELY : RESULT_UNSURE;
}

gboolean result_same_class(const aperta_vowel_class *a, const aperta_vowel_class *b)
{
    if (!a->known || !b->known)
        return a->known == b->known;
    return a->has_height == b->has_height && a->has_place == b->has_place &&
           (!a->has_height || a->height == b->height) && (!a->has_place || a->place == b->place);
}

gboolean result_read_in_part(const aperta_result *result)
{
    return result->from_s > 0.05 || result->to_s < result->seconds - 0.05;
}

gboolean result_warning_is_grave(const aperta_warning *warning)
{
    return warning->kind == APERTA_WARNING_TRUNCATED || warning->kind == APERTA_WARNING_DAMAGED ||
           warning->kind == APERTA_WARNING_TABLE_VOICE || warning->kind == APERTA_WARNING_NO_CORRECTIONS;
}
