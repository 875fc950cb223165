/* other-sounds.c - sounds of a take that are not the singer's: accompaniment, chords taken for a note, instruments. */
#include "result/result-private.h"
#include "result/result-tuning.h"

result_others result_count_others(const aperta_result *result)
{
    result_others others = {.n_notes = result->notes->len};

    for (guint i = 0; i < others.n_notes; i++) {
        const aperta_note *note = &result_note_at(result, i)->note;
        others.n_accompanied += note->accompanied;
        others.n_withheld[note->withheld]++;
    }
    return others;
}

void result_warn_about_others(aperta_result *result, const result_noticed *noticed)
{
    result_others others = result_count_others(result);
    guint several = others.n_withheld[APERTA_WITHHELD_SEVERAL];

    if (others.n_withheld[APERTA_WITHHELD_NO_VOICE] > 0) {
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_STILL_NOTES});
        return;
    }
    if (others.n_withheld[APERTA_WITHHELD_NOT] + others.n_withheld[APERTA_WITHHELD_ADVICE] == 0) {
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_ONLY_CHORDS});
        return;
    }
    if (noticed->voice == APERTA_VOICE_DOUBTED)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_VOICE_DOUBTED});
    if (others.n_accompanied > 0)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_ACCOMPANIED,
                                                       .notes = {.n = others.n_accompanied,
                                                                 .n_loud = others.n_withheld[APERTA_WITHHELD_COMPANY],
                                                                 .n_all = others.n_notes}});
    if (several > 0)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_SEVERAL_TONES,
                                                       .notes = {.n = several, .n_all = others.n_notes}});
}

static void doubt(aperta_vowel_hearing *vowel)
{
    vowel->confidence = MIN(vowel->confidence, RESULT_DOUBTED_CONFIDENCE);
    vowel->vowel_class.confidence = MIN(vowel->vowel_class.confidence, RESULT_DOUBTED_CONFIDENCE);
}

void result_doubt_vowels(aperta_result *result)
{
    for (guint i = 0; i < result->notes->len; i++) {
        aperta_sung_note *note = aperta_sung_note_at(result->notes, i);
        doubt(&note->vowel);
        doubt(&note->first_vowel);
        doubt(&note->last_vowel);
        if (note->note.withheld == APERTA_WITHHELD_NOT && note->intended == NULL) /* a vowel that is told was sung */
            note->note.withheld = APERTA_WITHHELD_ADVICE;
    }
}
