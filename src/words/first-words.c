/* first-words.c - what to try first, as a teacher would say it: where, what is the matter, the first step and how to
 * make it, and a short exercise. No numbers but those of notes. */
#include "words/first-words.h"
#include "result/first.h"
#include "result/query.h"
#include "words/finding.h"
#include "words/sheet-words.h"

const char *words_try_heading(guint n)
{
    return n == 0 ? "Nothing asks to be tried first" : "Try first";
}

/* ---- where ---------------------------------------------------------------------------------------------------------
 */

#define NAMES_MAX 3 /* vowels and words that are named; more of them are the others */

/* Of notes whose vowels have no names: as much as is known of all of them. */
static char *unnamed_vowels(const GPtrArray *notes)
{
    const aperta_vowel_class known = aperta_sung_note_told_class(g_ptr_array_index(notes, 0));
    gboolean one = notes->len == 1, same = known.known;

    for (guint i = 1; i < notes->len && same; i++) {
        const aperta_vowel_class other = aperta_sung_note_told_class(g_ptr_array_index(notes, i));
        same = result_same_class(&known, &other);
    }
    if (!same)
        return g_strdup(one ? "A vowel that could not be named" : "Vowels that could not be named");
    g_autofree char *class_words = aperta_vowel_class_words(&known);
    return g_strdup_printf(one ? "A vowel heard as %s" : "Vowels heard as %s", class_words);
}

/* "“ee”", "“ee” and “oo”", "“ee”, “oo” and others". */
static char *some_names(GPtrArray *names, gboolean others)
{
    others = others || names->len > NAMES_MAX;
    g_ptr_array_set_size(names, MIN((int)names->len, others ? NAMES_MAX - 1 : NAMES_MAX));
    if (others)
        g_ptr_array_add(names, g_strdup("others"));
    return words_join(names, ", ", " and ");
}

static void add_once(GPtrArray *names, char *name)
{
    if (g_ptr_array_find_with_equal_func(names, name, g_str_equal, NULL))
        g_free(name);
    else
        g_ptr_array_add(names, name);
}

static char *pitches(int low_midi, int high_midi, const aperta_key *key)
{
    char low[APERTA_PITCH_NAME_MAX], high[APERTA_PITCH_NAME_MAX];

    aperta_pitch_spell(low_midi, key, low);
    aperta_pitch_spell(high_midi, key, high);
    return low_midi == high_midi ? g_strdup(low) : g_strdup_printf("%s to %s", low, high);
}

char *words_try_in_take(const aperta_try *one, const aperta_key *key)
{
    g_autoptr(GPtrArray) vowels = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *numbers = words_number_list(one->notes);
    const aperta_sung_note *first = aperta_sung_note_at(one->notes, 0);
    g_autofree char *time = words_clock(first->note.span.start_s);
    int low_midi = first->midi, high_midi = first->midi;
    gboolean others = FALSE;

    for (guint i = 0; i < one->notes->len; i++) {
        const aperta_sung_note *note = aperta_sung_note_at(one->notes, i);
        low_midi = MIN(low_midi, note->midi);
        high_midi = MAX(high_midi, note->midi);
        const aperta_vowel *vowel = aperta_sung_note_told(note);
        others = others || vowel == NULL;
        if (vowel != NULL)
            add_once(vowels, g_strdup_printf("“%s”", vowel->respelling));
    }
    g_autofree char *names = vowels->len > 0 ? some_names(vowels, others) : unnamed_vowels(one->notes);
    g_autofree char *where = pitches(low_midi, high_midi, key);
    if (one->notes->len == 1)
        return g_strdup_printf("%s on %s: note %s, at %s.", names, where, numbers, time);
    return g_strdup_printf("%s on %s: notes %s, first at %s.", names, where, numbers, time);
}

char *words_try_on_sheet(const aperta_sheet *sheet, const aperta_try *one)
{
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
    const aperta_sheet_note *first = aperta_sheet_note_at(one->notes, 0);
    const aperta_score_note *low = first->score_note, *high = low;
    g_autofree char *share = words_sheet_share(sheet, one->share * sheet->weight_s);

    for (guint i = 0; i < one->notes->len; i++) {
        const aperta_sheet_note *note = aperta_sheet_note_at(one->notes, i);
        g_autofree char *word = aperta_shown(note->word);
        low = note->score_note->midi < low->midi ? note->score_note : low;
        high = note->score_note->midi > high->midi ? note->score_note : high;
        add_once(names, g_strdup_printf("“%s”", word));
    }
    g_autofree char *words = some_names(names, FALSE);
    if (low->midi == high->midi)
        return g_strdup_printf("%s on %s: %s of the singing.", words, low->name, share);
    return g_strdup_printf("%s on %s to %s: %s of the singing.", words, low->name, high->name, share);
}

/* ---- what is the matter ------------------------------------------------------------------------------------------ */

/* A sentence of the rule, filled in; NULL for NULL. */
static char *filled(const aperta_finding *finding, const char *sentence)
{
    aperta_finding said = *finding;

    if (sentence == NULL)
        return NULL;
    said.words = (char *)sentence;
    said.hedge = APERTA_HEDGE_NONE;
    return words_finding(&said, "");
}

static char *matter_of(const aperta_try *one)
{
    return filled(one->finding, one->finding->brief);
}

/* ---- the first step ---------------------------------------------------------------------------------------------- */

/* "“oo” with the jaw wide", "“eh” (bed)", "a shape between “ee” and “eh”" */
static char *step_name(const aperta_shape *step)
{
    const aperta_vowel *vowel = step->vowel;

    if (step->before != NULL)
        return g_strdup_printf("a shape between “%s” and “%s”", step->before->respelling, vowel->respelling);
    if (step->jaw_wide)
        return g_strdup_printf("“%s” with the jaw wide", vowel->respelling);
    if (vowel == step->from)
        return g_strdup_printf("“%s” with the jaw a little wider", vowel->respelling);
    return g_strdup_printf("“%s” as in %s", vowel->respelling, vowel->key_word);
}

/* Whether all notes are on the vowel that the step keeps, so that it can be called by its name. */
static gboolean is_one_vowel(const aperta_try *one, const aperta_vowel *vowel)
{
    for (guint i = 0; i < one->findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(one->findings, i);
        if (finding->shape == NULL || finding->shape->from != vowel)
            return FALSE;
    }
    return TRUE;
}

static gboolean keeps_vowel(const aperta_shape *shape)
{
    return shape->vowel == shape->from;
}

/* Whether the step keeps vowels that differ, so that tongue and lips stay as each wants them. */
static gboolean keeps_several(const aperta_try *one, const aperta_shape *step)
{
    return keeps_vowel(step) && !is_one_vowel(one, step->vowel);
}

static char *only_step(const aperta_try *one, const aperta_shape *step)
{
    if (keeps_several(one, step))
        return g_strdup(step->jaw_wide ? "Try this: keep each vowel, and let the jaw hang wide."
                                       : "Try this: keep each vowel, and let the jaw hang a little wider.");
    g_autofree char *name = step_name(step);
    return g_strdup_printf("Try this: %s.", name);
}

/* Of a vowel whose name is not told no other can be said to stand nearer to it. */
static gboolean is_unnamed(const aperta_shape *step)
{
    return step->from == NULL;
}

/* What is worth watching is tried only where it is felt. */
static char *step_if_felt(const aperta_try *one, const aperta_shape *step)
{
    if (is_unnamed(step))
        return g_strdup("If it feels tight or hooty, give it a little more room, the jaw easy. If it feels free, leave "
                        "it.");
    if (keeps_several(one, step))
        return g_strdup(
            "If they feel tight or hooty, keep each vowel and let the jaw hang a little wider. If they feel "
            "free, leave them.");
    g_autofree char *name = step_name(step);
    return g_strdup_printf("If it feels tight or hooty, try %s. If it feels free, leave it.", name);
}

static char *step_of(const aperta_try *one)
{
    const aperta_finding *finding = one->finding;
    const aperta_shape *step = result_first_step(finding);

    if (step == NULL)
        return filled(finding, finding->remedy);
    if (one->level != APERTA_LEVEL_CHANGE)
        return step_if_felt(one, step);
    if (finding->ladder == NULL || finding->ladder->len < 2)
        return only_step(one, step);
    g_autofree char *target = step_name(finding->shape);
    if (keeps_several(one, step))
        return g_strdup_printf("First step: keep the vowel, and let the jaw hang wide. If that is not enough, go on "
                               "toward %s.",
                               target);
    g_autofree char *name = step_name(step);
    return g_strdup_printf("First step: %s. If that is not enough, go on toward %s.", name, target);
}

static char *how_of(const aperta_try *one)
{
    const aperta_shape *step = result_first_step(one->finding);

    if (step == NULL || (one->level != APERTA_LEVEL_CHANGE && is_unnamed(step)))
        return NULL;
    return keeps_several(one, step)
               ? g_strdup("Jaw: low and easy, not pushed forward. Tongue and lips: as for each vowel.")
               : aperta_shape_how(step);
}

/* ---- an exercise ------------------------------------------------------------------------------------------------- */

enum { FIFTH = 7, THIRD = 4 }; /* semitones */

/* Below these a five-note figure leaves the comfortable range of such voices, midi; common practice, no source. */
static int lowest_of(aperta_voice voice)
{
    switch (aperta_voice_group(voice)) {
    case APERTA_VOICE_MAN:
        return 43; /* G2 */
    case APERTA_VOICE_CHILD:
        return 57; /* A3 */
    default:
        return 55; /* G3 */
    }
}

/* From a fifth below a third below the note, a fifth below it, and in the phrase; a figure that begins too low for the
 * voice is left out. */
static char *exercise_for(int lowest_midi, aperta_voice voice, const aperta_key *key)
{
    int there = lowest_midi - FIFTH, below = there - THIRD, least = lowest_of(voice);
    char there_name[APERTA_PITCH_NAME_MAX], below_name[APERTA_PITCH_NAME_MAX];

    if (there < least)
        return g_strdup("Exercise: the note alone that way, then its phrase.");
    aperta_pitch_spell(there, key, there_name);
    if (below < least)
        return g_strdup_printf("Exercise: five notes that way from %s; if free, the phrase.", there_name);
    aperta_pitch_spell(below, key, below_name);
    return g_strdup_printf("Exercise: five notes that way from %s; if free, from %s; then the phrase.", below_name,
                           there_name);
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static words_first *first_of(const aperta_try *one, const aperta_try *before, int lowest_midi, aperta_voice voice,
                             const aperta_key *key)
{
    const aperta_finding *finding = one->finding;
    words_first *first = g_new0(words_first, 1);

    if (finding->brief == NULL) { /* a rule of somebody's own that says nothing in brief */
        first->matter = aperta_finding_text(finding);
        return first;
    }
    first->repeats_matter = before != NULL && words_same_matter(finding, before->finding);
    first->matter = matter_of(one);
    first->step = step_of(one);
    first->how = how_of(one);
    first->exercise = exercise_for(lowest_midi, voice, key);
    return first;
}

void words_first_free(words_first *first)
{
    g_free(first->matter);
    g_free(first->step);
    g_free(first->how);
    g_free(first->exercise);
    g_free(first);
}

static const aperta_try *try_at(const GPtrArray *all, guint index)
{
    return g_ptr_array_index(all, index);
}

words_first *words_first_in_take(const aperta_result *result, guint index)
{
    const aperta_try *one = try_at(result->first, index);

    return first_of(one, index > 0 ? try_at(result->first, index - 1) : NULL, result_try_lowest(one),
                    result->settings.voice, &result->key);
}

words_first *words_first_on_sheet(const aperta_sheet *sheet, guint index)
{
    const aperta_try *one = try_at(sheet->first, index);

    return first_of(one, index > 0 ? try_at(sheet->first, index - 1) : NULL, result_try_lowest_on_sheet(one),
                    sheet->settings.voice, &sheet->score->key);
}

char **words_first_paragraphs(const words_first *first)
{
    const char *const all[] = {first->repeats_matter ? NULL : first->matter, first->step, first->how, first->exercise};
    char **paragraphs = g_new0(char *, G_N_ELEMENTS(all) + 1);
    guint n = 0;

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        if (all[i] != NULL)
            paragraphs[n++] = g_strdup(all[i]);
    return paragraphs;
}

char *words_first_text(const words_first *first)
{
    if (first->step == NULL)
        return g_strdup(first->matter);
    if (first->how == NULL)
        return g_strdup_printf("%s %s", first->matter, first->step);
    return g_strdup_printf("%s %s %s", first->matter, first->step, first->how);
}
