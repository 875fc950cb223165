/* doubts.c - what could not be told of the notes of a take, and what somebody told of them instead. */
#include "result/doubts.h"

#include "result/query.h"

#include <math.h>

static void free_doubt(gpointer data)
{
    result_doubt *doubt = data;

    g_ptr_array_unref(doubt->notes);
    g_free(doubt);
}

static gboolean one_class(const aperta_vowel_class *first, const aperta_vowel_class *second)
{
    if (first == NULL || second == NULL)
        return first == second;
    return result_same_class(first, second);
}

static gboolean is_same(const result_doubt *a, const result_doubt *b)
{
    return a->kind == b->kind && a->withheld == b->withheld && a->sound == b->sound && a->resonance == b->resonance &&
           a->status == b->status && a->from_above == b->from_above && a->hz == b->hz && a->percent == b->percent &&
           a->judged == b->judged && a->intended == b->intended && a->heard == b->heard && a->next == b->next &&
           a->first == b->first && a->last == b->last && one_class(a->vowel_class, b->vowel_class);
}

/* Adds the note to those that share the doubt. */
static void add(GPtrArray *doubts, result_doubt doubt, const aperta_sung_note *note)
{
    result_doubt *shared = NULL;

    for (guint i = 0; i < doubts->len && shared == NULL; i++)
        if (is_same(g_ptr_array_index(doubts, i), &doubt))
            shared = g_ptr_array_index(doubts, i);
    if (shared == NULL) {
        shared = g_memdup2(&doubt, sizeof doubt);
        shared->notes = g_ptr_array_new();
        g_ptr_array_add(doubts, shared);
    }
    g_ptr_array_add(shared->notes, (gpointer)note);
}

static gboolean is_covered(const aperta_sung_note *note)
{
    const aperta_resonance *r = aperta_sung_note_resonances(note);

    return note->note.accompanied && r[0].status == APERTA_UNKNOWN && r[1].status == APERTA_UNKNOWN;
}

/* Whether vowel and resonances were looked for at all. */
static gboolean is_read(const aperta_sung_note *note)
{
    return note->note.withheld == APERTA_WITHHELD_NOT && !is_covered(note) &&
           note->tract.sound == APERTA_SOUND_POSSIBLE;
}

static void doubt_sound(GPtrArray *doubts, const aperta_sung_note *note)
{
    const aperta_resonance *r = aperta_sung_note_resonances(note);

    if (note->note.withheld != APERTA_WITHHELD_NOT)
        add(doubts, (result_doubt){.kind = RESULT_DOUBT_WITHHELD, .withheld = note->note.withheld}, note);
    else if (is_covered(note))
        add(doubts, (result_doubt){.kind = RESULT_DOUBT_COVERED}, note);
    else if (note->tract.sound != APERTA_SOUND_POSSIBLE)
        add(doubts, (result_doubt){.kind = RESULT_DOUBT_SOUND, .sound = note->tract.sound}, note);
    for (int i = 0; is_read(note) && i < 2; i++)
        if (r[i].status != APERTA_MEASURED)
            add(doubts,
                (result_doubt){.kind = RESULT_DOUBT_RESONANCE,
                               .resonance = i,
                               .status = r[i].status,
                               .from_above = r[i].status == APERTA_BOUNDED && r[i].has_high},
                note);
}

static void doubt_f1(GPtrArray *doubts, const aperta_sung_note *note)
{
    const aperta_resonance *f1 = aperta_sung_note_resonances(note);

    for (int a = 0; is_read(note) && f1->status == APERTA_MEASURED && a < f1->n_alternatives; a++)
        if (f1->alternatives[a].weight >= RESULT_ALTERNATIVE_WEIGHT)
            add(doubts,
                (result_doubt){.kind = RESULT_DOUBT_OTHER_F1,
                               .hz = (int)lrint(f1->alternatives[a].hz),
                               .percent = (int)lrint(100.0 * f1->alternatives[a].weight)},
                note);
}

static void doubt_moving(GPtrArray *doubts, const aperta_sung_note *note)
{
    if (is_read(note) && note->judged != APERTA_PART_WHOLE)
        add(doubts, (result_doubt){.kind = RESULT_DOUBT_MOVING, .judged = note->judged}, note);
}

/* Nothing rests on the vowel heard where the intended one is known. */
static void doubt_vowel(GPtrArray *doubts, const aperta_sung_note *note)
{
    const aperta_vowel_hearing *vowel = &note->vowel;
    result_doubt doubt = {.heard = vowel->heard, .next = vowel->next};

    if (!is_read(note) || note->intended != NULL)
        return;
    if (vowel->heard == NULL)
        doubt = (result_doubt){.kind = RESULT_DOUBT_NO_VOWEL};
    else if (vowel->vowel_class.known)
        doubt.kind = RESULT_DOUBT_CLASS, doubt.vowel_class = &vowel->vowel_class;
    else if (vowel->next != NULL && result_confidence_of(vowel->confidence) == RESULT_UNSURE)
        doubt.kind = RESULT_DOUBT_NAME;
    else
        return;
    add(doubts, doubt, note);
}

/* Whether what was heard is the vowel told, as far as it was heard. */
static gboolean heard_as_told(const aperta_sung_note *note)
{
    const aperta_vowel *told = note->intended;

    if (note->judged != APERTA_PART_WHOLE)
        return note->first_vowel.heard == told || note->last_vowel.heard == told;
    return note->vowel.heard == told || aperta_vowel_class_has(&note->vowel.vowel_class, told);
}

static void doubt_told(GPtrArray *doubts, const aperta_sung_note *note)
{
    result_doubt doubt = {.kind = RESULT_TOLD, .intended = note->intended};

    if (note->intended_from != APERTA_INTENDED_TOLD || heard_as_told(note))
        return;
    if (note->judged != APERTA_PART_WHOLE)
        doubt.judged = APERTA_PART_START, doubt.first = note->first_vowel.heard, doubt.last = note->last_vowel.heard;
    else if (note->vowel.vowel_class.known)
        doubt.vowel_class = &note->vowel.vowel_class;
    else
        doubt.heard = note->vowel.heard;
    add(doubts, doubt, note);
}

static void note_corrected(GPtrArray *doubts, const aperta_sung_note *note)
{
    if (note->intended_from == APERTA_INTENDED_CORRECTION)
        add(doubts, (result_doubt){.kind = RESULT_CORRECTED, .intended = note->intended, .heard = note->vowel.heard},
            note);
}

GPtrArray *result_doubts(const aperta_result *result, result_doubts_part part)
{
    static void (*const find[])(GPtrArray * doubts, const aperta_sung_note *note) = {
        [RESULT_DOUBTS_OF_SOUND] = doubt_sound, [RESULT_DOUBTS_OTHER_F1] = doubt_f1,
        [RESULT_DOUBTS_MOVING] = doubt_moving,  [RESULT_DOUBTS_OF_VOWELS] = doubt_vowel,
        [RESULT_DOUBTS_TOLD] = doubt_told,      [RESULT_DOUBTS_CORRECTED] = note_corrected,
    };
    GPtrArray *doubts = g_ptr_array_new_with_free_func(free_doubt);

    for (guint i = 0; i < result->notes->len; i++)
        find[part](doubts, result_note_at(result, i));
    return doubts;
}

guint result_told_vowels(const aperta_result *result, guint *n_alike)
{
    guint n_told = 0;

    *n_alike = 0;
    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        gboolean told = note->intended_from == APERTA_INTENDED_TOLD;
        n_told += told;
        *n_alike += told && heard_as_told(note);
    }
    return n_told;
}
