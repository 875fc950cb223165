/* company.c - what the report says of sounds that are not the singer's. */
#include "result/result-private.h"
#include "result/result-tuning.h"

typedef struct {
    guint notes, accompanied, of_kind[APERTA_WITHHELD_ADVICE + 1];
} tally;

static tally count_company(const aperta_result *result)
{
    tally t = {.notes = result->notes->len};

    for (guint i = 0; i < t.notes; i++) {
        const aperta_note *note = &((const aperta_sung_note *)g_ptr_array_index(result->notes, i))->note;
        t.accompanied += note->accompanied;
        t.of_kind[note->withheld]++;
    }
    return t;
}

static void warn_about_accompaniment(aperta_result *result, const tally *t)
{
    guint withheld = t->of_kind[APERTA_WITHHELD_COMPANY];

    if (withheld == 0)
        result_warn(result, "accompanied",
                    "On %u of %u notes something softer sounds too (a piano, a track, a second voice). Vowels and "
                    "resonances there come from the harmonics that it leaves clear, so their ranges are wider. An "
                    "instrument that plays the very notes you sing would not be noticed. Record the voice alone, the "
                    "accompaniment on headphones.",
                    t->accompanied, t->notes);
    else
        result_warn(result, "accompanied",
                    "On %u of %u notes something else sounds too (a piano, a track, a second voice), on %u of them so "
                    "loud that the note may be its own: there vowel and resonances are left out. Notes that were not "
                    "clearly the singer's are not listed. Record the voice alone, the accompaniment on headphones.",
                    t->accompanied, t->notes, withheld);
}

void result_warn_about_company(aperta_result *result, const result_noticed *noticed)
{
    tally t = count_company(result);
    guint several = t.of_kind[APERTA_WITHHELD_SEVERAL];

    if (t.of_kind[APERTA_WITHHELD_NO_VOICE] > 0) {
        result_warn(
            result, "no-voice",
            "No voice is heard: these notes stand stiller than anybody sings them and leap without a slide, "
            "as a keyboard, a plucked string or a pipe plays them. So no vowels are told and no advice is given.");
        return;
    }
    if (t.of_kind[APERTA_WITHHELD_NOT] + t.of_kind[APERTA_WITHHELD_ADVICE] == 0) {
        result_warn(result, "no-voice",
                    "No voice can be told from what sounds here: several tones sound at once, as loud as one another. "
                    "What is listed are pitches in it, without vowels and advice. Record the voice alone, the "
                    "accompaniment on headphones.");
        return;
    }
    if (noticed->voice == APERTA_VOICE_DOUBTED)
        result_warn(
            result, "voice-doubted",
            "It cannot be told whether this is a voice: the notes are as still, and as sharply parted, as those "
            "of a violin or a trumpet. Vowels are guesses, and no advice rests on them. If it was sung, tell "
            "the vowels with --sung.");
    if (t.accompanied > 0)
        warn_about_accompaniment(result, &t);
    if (several > 0)
        result_warn(result, "several-tones",
                    "%u of %u notes are no single tone: a chord whose common undertone was taken for the pitch, or the "
                    "echo of the notes before. They have no vowels.",
                    several, t.notes);
}

static void doubt(aperta_vowel_hearing *vowel)
{
    vowel->confidence = MIN(vowel->confidence, RESULT_DOUBTED_CONFIDENCE);
    vowel->vowel_class.confidence = MIN(vowel->vowel_class.confidence, RESULT_DOUBTED_CONFIDENCE);
}

void result_doubt_vowels(aperta_result *result)
{
    for (guint i = 0; i < result->notes->len; i++) {
        aperta_sung_note *note = g_ptr_array_index(result->notes, i);
        doubt(&note->vowel);
        doubt(&note->first_vowel);
        doubt(&note->last_vowel);
        if (note->note.withheld == APERTA_WITHHELD_NOT && note->intended == NULL) /* a vowel that is told was sung */
            note->note.withheld = APERTA_WITHHELD_ADVICE;
    }
}
