/* note-vowel.c - which vowel a note was sung on, and which part of the note stands for it.
 *
 * A vowel that moves from one to another (a diphthong, or two syllables on one pitch that no consonant parts) has two
 * names; what lies between them was never sung. The end that the middle of the note is nearer to is held longer: it is
 * judged, in doubt the first (singers hold the first part of a diphthong: common practice, no source). */
#include "result/result-private.h"
#include "result/result-tuning.h"

const aperta_resonance *aperta_sung_note_resonances(const aperta_sung_note *note)
{
    switch (note->judged) {
    case APERTA_PART_START:
        return note->tract.first;
    case APERTA_PART_END:
        return note->tract.last;
    default:
        return note->tract.resonances;
    }
}

/* Squared distance in Bark over what is measured of F1 and F2 at three times. */
static double squared_bark(const aperta_tract_reading *tract, const aperta_resonance *end)
{
    double sum = 0.0;

    for (int i = 0; i < 2; i++) {
        const aperta_resonance *middle = &tract->resonances[i];
        if (middle->status != APERTA_MEASURED || tract->first[i].status != APERTA_MEASURED ||
            tract->last[i].status != APERTA_MEASURED)
            continue;
        double bark = aperta_hz_to_bark(middle->hz) - aperta_hz_to_bark(end[i].hz);
        sum += bark * bark;
    }
    return sum;
}

static void hear_ends(aperta_sung_note *note, const aperta_vowel_ear *ear)
{
    const aperta_tract_reading *tract = &note->tract;
    aperta_vowel_hearing first = aperta_vowel_hear(ear, &tract->first_posterior, note->note.f0_hz);
    aperta_vowel_hearing last = aperta_vowel_hear(ear, &tract->last_posterior, note->note.f0_hz);

    if (first.heard == NULL || last.heard == NULL || first.heard == last.heard)
        return;
    gboolean ends = squared_bark(tract, tract->last) < squared_bark(tract, tract->first);
    note->judged = ends ? APERTA_PART_END : APERTA_PART_START;
    note->first_vowel = first;
    note->last_vowel = last;
    note->vowel = ends ? last : first;
}

static aperta_interval interval_above(const aperta_resonance *f1, double hz)
{
    aperta_interval interval = {.known = f1->status == APERTA_MEASURED};

    if (interval.known)
        interval.st = aperta_semitones_between(hz, f1->hz);
    return interval;
}

void result_hear_vowel(aperta_sung_note *note, const aperta_vowel_ear *ear)
{
    if (note->note.withheld == APERTA_WITHHELD_NOT) {
        note->vowel = aperta_vowel_hear(ear, &note->tract.posterior, note->note.f0_hz);
        if (note->tract.glides)
            hear_ends(note, ear);
    }
    const aperta_resonance *f1 = aperta_sung_note_resonances(note);
    note->f1_to_f0 = interval_above(f1, note->note.f0_hz);
    note->f1_to_2f0 = interval_above(f1, 2.0 * note->note.f0_hz);
}

const aperta_posterior *result_posterior(const aperta_sung_note *note)
{
    switch (note->judged) {
    case APERTA_PART_START:
        return &note->tract.first_posterior;
    case APERTA_PART_END:
        return &note->tract.last_posterior;
    default:
        return &note->tract.posterior;
    }
}

const aperta_vowel *aperta_sung_note_told(const aperta_sung_note *note)
{
    return note->intended != NULL ? note->intended : aperta_sung_note_heard(note);
}

const aperta_vowel *aperta_sung_note_heard(const aperta_sung_note *note)
{
    const aperta_resonance *resonances = aperta_sung_note_resonances(note);
    gboolean whole = resonances[0].status == APERTA_MEASURED && resonances[1].status == APERTA_MEASURED;
    double needed = whole ? RESULT_NAME_AT : RESULT_NAME_AT_PART;

    return note->vowel.vowel_class.known || note->vowel.confidence < needed ? NULL : note->vowel.heard;
}

aperta_vowel_class aperta_sung_note_told_class(const aperta_sung_note *note)
{
    return note->intended != NULL ? (aperta_vowel_class){.known = FALSE} : note->vowel.vowel_class;
}

void result_sharpen(aperta_sung_note *note, const aperta_vowel_ear *ear)
{
    if (note->intended != NULL)
        aperta_vowel_sharpen(ear, result_posterior(note), note->intended, note->sharpened);
}
