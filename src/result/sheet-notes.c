/* sheet-notes.c - the notes of a sheet: what is sung on each, what the rules say of it, and how much of the singing it
 * is. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

/* What begins on a note; an elision is joined with the undertie that engravers use. */
static aperta_syllable *new_syllable(const aperta_underlay *underlay, const aperta_laid_note *laid)
{
    aperta_syllable *syllable = g_new0(aperta_syllable, 1);
    GString *text = g_string_new(NULL), *word = g_string_new(NULL), *ipa = g_string_new(NULL);

    for (guint i = 0, s = laid->first_begun; i < laid->n_begun; i++, s++) {
        guint own = underlay->syllables[s].word;
        g_string_append_printf(text, "%s%s", i > 0 ? "‿" : "", underlay->texts[s]);
        if (i == 0 || own != underlay->syllables[s - 1].word)
            g_string_append_printf(word, "%s%s", i > 0 ? " " : "", underlay->words[own].text);
        if (underlay->sounds[s].ipa != NULL)
            g_string_append_printf(ipa, "%s%s", ipa->len > 0 ? "‿" : "", underlay->sounds[s].ipa);
    }
    syllable->text = g_string_free(text, FALSE);
    syllable->word = g_string_free(word, FALSE);
    syllable->ipa = g_string_free(ipa, ipa->len == 0);
    syllable->verse = underlay->verse;
    return syllable;
}

static double weight_of(const aperta_score_note *note, const aperta_sheet_note *sung)
{
    gboolean word_stress = sung->sound != NULL && sung->sound->stressed;

    return (note->end_s - note->start_s) * (RESULT_WEIGHT_PLAIN + RESULT_WEIGHT_BAR * CLAMP(note->stress, 0.0, 1.0) +
                                            RESULT_WEIGHT_WORD * (word_stress ? 1.0 : 0.0));
}

static void expect_vowel(const sheet_judging *on, aperta_sheet_note *note)
{
    const aperta_resonance *f1;

    if (note->sound == NULL)
        return;
    note->expected = sheet_expect_vowel(on->expect, note->sound->judged_as);
    if (note->expected == NULL || !note->expected->known)
        return;
    f1 = &note->expected->resonances[0];
    note->f1_to_f0 = (aperta_interval){TRUE, aperta_semitones_between(note->f0_hz, f1->hz)};
    note->f1_to_2f0 = (aperta_interval){TRUE, aperta_semitones_between(2.0 * note->f0_hz, f1->hz)};
    if (!sheet_is_judged(note))
        return;
    result_question question = sheet_question(on->expect, note);
    g_ptr_array_unref(note->advice);
    note->advice = result_judge_advise(on->judge, &question, NULL);
}

static aperta_sheet_note *new_note(const sheet_judging *on, const aperta_sheet_verse *verse, guint i)
{
    const aperta_underlay *underlay = verse->underlay;
    const aperta_laid_note *laid = &underlay->notes[i];
    aperta_sheet_note *note = g_new0(aperta_sheet_note, 1);

    note->number = (int)i + 1;
    note->verse = verse->number;
    note->score_note = &on->sheet->score->notes[i];
    note->f0_hz = aperta_midi_to_hz(note->score_note->midi, 440.0);
    note->advice = g_ptr_array_new();
    if (laid->n_begun > 0)
        note->syllable = new_syllable(underlay, laid);
    if (laid->sung_on >= 0) {
        note->sound = &underlay->sounds[laid->sung_on];
        note->word = underlay->words[underlay->syllables[laid->sung_on].word].text;
        note->goes_on = laid->n_begun == 0;
    }
    note->weight_s = weight_of(note->score_note, note);
    expect_vowel(on, note);
    return note;
}

void sheet_add_notes(const sheet_judging *on, aperta_sheet_verse *verse)
{
    verse->first_note = on->sheet->notes->len;
    for (guint i = 0; i < on->sheet->score->n_notes; i++)
        g_ptr_array_add(on->sheet->notes, new_note(on, verse, i));
}

/* ---- how much ---------------------------------------------------------------------------------------------------- */

gboolean sheet_is_judged(const aperta_sheet_note *note)
{
    return note->expected != NULL && note->expected->known && note->score_note->end_s > note->score_note->start_s;
}

void sheet_weigh(sheet_weight *sum, aperta_level level, double weight_s)
{
    sum->all_s += weight_s;
    if (level == APERTA_LEVEL_CHANGE) {
        sum->n_change++;
        sum->change_s += weight_s;
    } else if (level == APERTA_LEVEL_WATCH) {
        sum->n_watch++;
        sum->watch_s += weight_s;
    }
}

void sheet_weigh_notes(aperta_sheet *sheet)
{
    sheet_weight sum = {0};

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        if (sheet_is_judged(note))
            sheet_weigh(&sum, aperta_findings_level(note->advice), note->weight_s);
    }
    sheet->weight_s = sum.all_s;
    sheet->change_s = sum.change_s;
    sheet->watch_s = sum.watch_s;
}
