/* sheet-risk.c - which other words a shape would make, and the next best shape that makes none. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

/* The word that a shape would make; NULL: none, or the vowel keeps its name. */
static char *word_made(const aperta_finding *finding, const aperta_vowel *vowel, aperta_diction *diction,
                       const aperta_diction_word *word, guint index)
{
    if (finding == NULL || finding->shape->vowel == vowel)
        return NULL;
    return aperta_diction_other_word(diction, word, index, finding->shape->vowel->ipa);
}

static aperta_word_risk *risk_of(result_judge *judge, const result_question *question, aperta_diction *diction,
                                 const aperta_diction_word *word, guint index)
{
    const aperta_vowel *vowel = question->situation.vowel;
    const aperta_vowel *avoid[RESULT_OTHER_SHAPES_MAX + 1] = {NULL};
    g_autoptr(GPtrArray) advice = result_judge_advise(judge, question, NULL);
    const aperta_finding *finding = result_shape_in(advice);
    result_question otherwise = *question;
    char *made = word_made(finding, vowel, diction, word, index);

    if (made == NULL)
        return NULL;
    aperta_word_risk *risk = g_new0(aperta_word_risk, 1);
    risk->word = made;
    avoid[0] = finding->shape->vowel;
    otherwise.situation.avoid = avoid;
    for (int tried = 1; tried <= RESULT_OTHER_SHAPES_MAX; tried++) {
        g_autoptr(GPtrArray) findings = result_judge_advise(judge, &otherwise, NULL);
        const aperta_finding *other = result_shape_in(findings);
        if (other == NULL)
            break;
        g_autofree char *also = word_made(other, vowel, diction, word, index);
        if (also == NULL) {
            risk->instead = aperta_shape_copy(other->shape);
            break;
        }
        if (tried < RESULT_OTHER_SHAPES_MAX)
            avoid[tried] = other->shape->vowel;
    }
    return risk;
}

static void find_risk(const sheet_judging *on, const aperta_sheet_verse *verse, aperta_sheet_note *note,
                      aperta_diction *diction)
{
    const aperta_underlay *underlay = verse->underlay;
    guint sung_on = (guint)underlay->notes[note->number - 1].sung_on;
    guint word = underlay->syllables[sung_on].word;
    const aperta_sheet_note *asked = note->advice_of != NULL ? note->advice_of : note;
    result_question question = sheet_question(on->expect, asked);

    note->risk = risk_of(on->judge, &question, diction, &underlay->spoken[word], sung_on - underlay->words[word].first);
}

void sheet_find_risks(const sheet_judging *on, const aperta_sheet_verse *verse, aperta_diction *diction)
{
    if (diction == NULL || !aperta_diction_knows_other_words(diction))
        return;
    for (guint i = 0; i < on->sheet->score->n_notes; i++) {
        aperta_sheet_note *note = sheet_note(on->sheet, verse->first_note + i);
        if (result_shape_in(note->advice) != NULL)
            find_risk(on, verse, note, diction);
    }
}

void sheet_risk_free(aperta_word_risk *risk)
{
    if (risk == NULL)
        return;
    g_free(risk->word);
    aperta_shape_free(risk->instead);
    g_free(risk);
}
