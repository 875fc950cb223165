/* doubt-sentences.c - what could not be told of a take, and what somebody told of it instead. */
#include "words/doubt-sentences.h"

#include "words/words.h"

#define LISTED_MAX 30 /* notes; more of them are counted only, the table shows which */

static const char *withheld_sentence(aperta_withheld withheld)
{
    static const char *const sentences[] = {
        [APERTA_WITHHELD_NOT] = "",
        [APERTA_WITHHELD_COMPANY] =
            "another pitch sounds at the same time, as loud, so vowel and resonances are withheld.",
        [APERTA_WITHHELD_SEVERAL] = "these are several tones at once, so vowel and resonances are withheld.",
        [APERTA_WITHHELD_ADVICE] = "this may be no voice, so the vowel is a guess and no advice is given.",
        [APERTA_WITHHELD_NO_VOICE] = "this is no voice, so vowel and resonances are withheld.",
    };

    return sentences[withheld];
}

static const char *sound_sentence(aperta_sound sound)
{
    switch (sound) {
    case APERTA_SOUND_BARE:
        return "hardly an overtone is heard, as in a whistle, a flute or a test tone (or a voice that is very soft in "
               "the recording): no vowel can be told.";
    case APERTA_SOUND_EVEN:
        return "no resonance stands out, as in clicks, a buzzer or a test tone; a voice has some. No vowel is told.";
    case APERTA_SOUND_ODD:
        return "every second overtone is missing, as in a square wave, but in no voice. No vowel is told.";
    default:
        return "";
    }
}

static char *resonance_sentence(const result_doubt *doubt)
{
    int number = doubt->resonance + 1;

    if (doubt->status != APERTA_BOUNDED)
        return g_strdup_printf("F%d cannot be told.", number);
    if (number == 1 && doubt->from_above)
        return g_strdup("F1 is known only to lie below a limit: the note (f0) probably stands above it, and no "
                        "harmonic lies below.");
    return g_strdup_printf(doubt->from_above ? "F%d is known only to lie below a limit."
                                             : "F%d is known only to lie above a limit.",
                           number);
}

static char *class_sentence(const result_doubt *doubt)
{
    g_autofree char *heard = words_vowel_label(doubt->heard, FALSE);
    g_autofree char *next = words_vowel_label(doubt->next, FALSE);
    g_autofree char *vowel = words_class_label(doubt->vowel_class);

    return g_strdup_printf("%s, which one cannot be told; nearest are %s and %s.", vowel, heard, next);
}

static char *name_sentence(const result_doubt *doubt)
{
    g_autofree char *heard = words_vowel_label(doubt->heard, FALSE);
    g_autofree char *next = words_vowel_label(doubt->next, FALSE);

    return g_strdup_printf("the vowel may be %s or %s.", heard, next);
}

static char *told_sentence(const result_doubt *doubt)
{
    g_autofree char *told = words_vowel_label(doubt->intended, FALSE);

    if (doubt->judged != APERTA_PART_WHOLE) {
        g_autofree char *first = words_vowel_label(doubt->first, TRUE);
        g_autofree char *last = words_vowel_label(doubt->last, TRUE);
        return g_strdup_printf("told %s; heard %s, then %s.", told, first, last);
    }
    if (doubt->vowel_class != NULL) {
        g_autofree char *vowel = words_class_label(doubt->vowel_class);
        return g_strdup_printf("told %s; heard %s.", told, vowel);
    }
    if (doubt->heard == NULL)
        return g_strdup_printf("told %s; none could be heard.", told);
    g_autofree char *heard = words_vowel_label(doubt->heard, FALSE);
    return g_strdup_printf("told %s; heard %s.", told, heard);
}

static char *corrected_sentence(const result_doubt *doubt)
{
    g_autofree char *meant = words_vowel_label(doubt->intended, FALSE);
    g_autofree char *heard = words_vowel_label(doubt->heard, FALSE);

    if (doubt->heard == NULL)
        return g_strdup_printf("the vowel is %s; none could be heard.", meant);
    return g_strdup_printf("the vowel is %s; Aperta heard %s.", meant, heard);
}

char *words_doubt(const result_doubt *doubt)
{
    switch (doubt->kind) {
    case RESULT_DOUBT_WITHHELD:
        return g_strdup(withheld_sentence(doubt->withheld));
    case RESULT_DOUBT_COVERED:
        return g_strdup("another pitch covers too many of its harmonics to tell vowel and resonances.");
    case RESULT_DOUBT_SOUND:
        return g_strdup(sound_sentence(doubt->sound));
    case RESULT_DOUBT_RESONANCE:
        return resonance_sentence(doubt);
    case RESULT_DOUBT_OTHER_F1:
        return g_strdup_printf("F1 could also be %d Hz (%d %% likely).", doubt->hz, doubt->percent);
    case RESULT_DOUBT_MOVING:
        return g_strdup(doubt->judged == APERTA_PART_START
                            ? "two vowels on one note, a diphthong or two syllables without a break; what is said is "
                              "about its start, which is held longer."
                            : "two vowels on one note, a diphthong or two syllables without a break; what is said is "
                              "about its end, which is held longer.");
    case RESULT_DOUBT_NO_VOWEL:
        return g_strdup("the vowel cannot be told.");
    case RESULT_DOUBT_CLASS:
        return class_sentence(doubt);
    case RESULT_DOUBT_NAME:
        return name_sentence(doubt);
    case RESULT_TOLD:
        return told_sentence(doubt);
    default:
        return corrected_sentence(doubt);
    }
}

const char *words_doubts_in_general(result_doubts_part part)
{
    static const char *const sentences[] = {
        [RESULT_DOUBTS_OF_SOUND] = "F1 or F2 is not known, or only from one side.",
        [RESULT_DOUBTS_OTHER_F1] = "another F1 fits nearly as well; --json tells which.",
        [RESULT_DOUBTS_MOVING] = "two vowels on one note.",
        [RESULT_DOUBTS_OF_VOWELS] = "the vowel is unsure, and so is the advice that rests on it.",
        [RESULT_DOUBTS_TOLD] = "another vowel was heard than told.",
        [RESULT_DOUBTS_CORRECTED] = "the vowel is the corrected one.",
    };

    return sentences[part];
}

const char *words_doubts_heading(result_doubts_part part)
{
    if (part == RESULT_DOUBTS_TOLD)
        return "Vowels told by you";
    return part == RESULT_DOUBTS_CORRECTED ? "Corrected by you" : "What could not be told for sure";
}

char *words_doubt_line(const GPtrArray *notes, const char *sentence)
{
    if (notes->len > LISTED_MAX)
        return g_strdup_printf("%u notes: %s", notes->len, sentence);
    g_autofree char *list = words_number_list(notes);
    return g_strdup_printf(notes->len == 1 ? "Note %s: %s" : "Notes %s: %s", list, sentence);
}

char *words_told_vowels(guint n_told, guint n_alike)
{
    if (n_alike == n_told)
        return g_strdup("Aperta heard them so.");
    if (n_alike == 0)
        return g_strdup("Aperta heard none of them so. Where it did not, either the vowel has moved away from what was "
                        "meant, or Aperta is wrong: your ear decides.");
    return g_strdup_printf("Aperta heard %u of %u so. Where it did not, either the vowel has moved away from what was "
                           "meant, or Aperta is wrong: your ear decides.",
                           n_alike, n_told);
}

char *words_removed(guint n_removed)
{
    return n_removed == 1 ? g_strdup("One sound is left out: not a note.")
                          : g_strdup_printf("%u sounds are left out: not notes.", n_removed);
}
