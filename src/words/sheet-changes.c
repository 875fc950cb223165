/* sheet-changes.c - what a sheet asks for: how much of the singing, and group by group which vowels, where and how. */
#include "result/query.h"
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <math.h>
#include <string.h>

#define PLACES_MAX      12 /* words of one group; more of them are counted */
#define VOWELS_TOGETHER 2  /* of more vowels in a group each is told its own words */

char *words_sheet_share(const aperta_sheet *sheet, double weight_s)
{
    double share = sheet->weight_s > 0.0 ? 100.0 * weight_s / sheet->weight_s : 0.0;

    if (weight_s > 0.0 && share < 1.0)
        return g_strdup("under 1 %");
    return g_strdup_printf("%.0f %%", share);
}

/* ---- summary ----------------------------------------------------------------------------------------------------- */

/* Changes that ask for no other vowel. */
typedef struct {
    double weight_s;
    const char *word; /* "lighter"; NULL: there are none, or no rule has a word of its own for them */
} lighter;

static lighter lighter_of(const aperta_sheet *sheet)
{
    lighter found = {0.0, NULL};

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = result_sheet_note_at(sheet, i);
        const result_sheet_mark mark = result_sheet_mark_of(note);
        if (mark.kind != RESULT_MARK_WORD || mark.level != APERTA_LEVEL_CHANGE)
            continue;
        found.weight_s += note->weight_s;
        found.word = mark.own_word;
    }
    return found;
}

/* Of how far another vowel is what the changes ask for. */
typedef enum { VOWELS_ALL, VOWELS_SOME, VOWELS_NONE } changed_vowels;

static char *change_sentence(changed_vowels which, const char *change, const char *word, const char *lighter_share)
{
    switch (which) {
    case VOWELS_NONE:
        return g_strdup_printf("By length and stress, %s of the singing wants a change (not another vowel, but “%s”).",
                               change, word);
    case VOWELS_SOME:
        return g_strdup_printf(
            "By length and stress, %s of the singing wants a change (in %s not another vowel, but “%s”).", change,
            lighter_share, word);
    case VOWELS_ALL:
        break;
    }
    return g_strdup_printf("By length and stress, %s of the singing wants a change.", change);
}

static char *change_and_watch_sentence(changed_vowels which, const char *change, const char *word,
                                       const char *lighter_share, const char *watch)
{
    switch (which) {
    case VOWELS_NONE:
        return g_strdup_printf("By length and stress, %s of the singing wants a change (not another vowel, but “%s”), "
                               "and %s is worth watching.",
                               change, word, watch);
    case VOWELS_SOME:
        return g_strdup_printf("By length and stress, %s of the singing wants a change (in %s not another vowel, but "
                               "“%s”), and %s is worth watching.",
                               change, lighter_share, word, watch);
    case VOWELS_ALL:
        break;
    }
    return g_strdup_printf("By length and stress, %s of the singing wants a change, and %s is worth watching.", change,
                           watch);
}

char *words_sheet_summary(const aperta_sheet *sheet)
{
    g_autofree char *change = words_sheet_share(sheet, sheet->change_s);
    g_autofree char *watch = words_sheet_share(sheet, sheet->watch_s);
    const lighter found = lighter_of(sheet);
    g_autofree char *lighter_share = words_sheet_share(sheet, found.weight_s);
    changed_vowels which = found.word == NULL                         ? VOWELS_ALL
                           : found.weight_s >= sheet->change_s - 1e-9 ? VOWELS_NONE
                                                                      : VOWELS_SOME;

    if (sheet->weight_s <= 0.0)
        return g_strdup("No note could be judged.");
    if (sheet->groups->len == 0)
        return g_strdup("Nothing to change: no note is flagged.");
    if (sheet->watch_s <= 0.0)
        return change_sentence(which, change, found.word, lighter_share);
    if (sheet->change_s <= 0.0)
        return g_strdup_printf("No note wants a change; by length and stress, %s of the singing is worth watching.",
                               watch);
    return change_and_watch_sentence(which, change, found.word, lighter_share, watch);
}

/* ---- what a group asks for --------------------------------------------------------------------------------------- */

static const aperta_sheet_note *group_note(const aperta_group *group, guint i)
{
    return g_ptr_array_index(group->notes, i);
}

/* const aperta_vowel *, each once. */
static GPtrArray *vowels_of(const aperta_group *group)
{
    GPtrArray *vowels = g_ptr_array_new();

    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_vowel *vowel = group_note(group, i)->expected->vowel;
        if (!g_ptr_array_find(vowels, vowel, NULL))
            g_ptr_array_add(vowels, (gpointer)vowel);
    }
    return vowels;
}

/* The vowels of a group, each once: "e “ay” (day), i “ee” (see)". */
static char *group_vowels(const aperta_group *group)
{
    g_autoptr(GPtrArray) all = vowels_of(group);
    g_autoptr(GPtrArray) labels = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; i < all->len; i++)
        g_ptr_array_add(labels, words_vowel_label(g_ptr_array_index(all, i), FALSE));
    return words_join(labels, ", ", ", ");
}

static char *group_pitches(const aperta_group *group)
{
    const aperta_score_note *low = group_note(group, 0)->score_note, *high = low;

    for (guint i = 1; i < group->notes->len; i++) {
        const aperta_score_note *note = group_note(group, i)->score_note;
        low = note->midi < low->midi ? note : low;
        high = note->midi > high->midi ? note : high;
    }
    return low->midi == high->midi ? g_strdup(low->name) : g_strdup_printf("%s to %s", low->name, high->name);
}

static gboolean keeps_vowel(const aperta_group *group)
{
    return group->finding->shape != NULL && group->finding->shape->vowel == group->note->expected->vowel;
}

const char *words_sheet_group_word(const aperta_group *group)
{
    const char *own = result_own_word(group->finding);

    if (group->level != APERTA_LEVEL_CHANGE)
        return aperta_level_word(group->level);
    if (group->finding->shape == NULL)
        return own != NULL ? own : aperta_level_word(group->level);
    return keeps_vowel(group) ? "open" : "change";
}

char *words_sheet_group_change(const aperta_group *group)
{
    static const char *const keeping[] = {
        [WORDS_JAWS_AS_SPOKEN] = "keep %s, jaw a little wider, on %s",
        [WORDS_JAWS_WIDE_ABOVE] = "keep %s, jaw wide on the higher ones, on %s",
        [WORDS_JAWS_WIDE] = "keep %s, jaw wide, on %s",
    };
    static const char *const changing[] = {
        [WORDS_JAWS_AS_SPOKEN] = "%s → %s, on %s",
        [WORDS_JAWS_WIDE_ABOVE] = "%s → %s, jaw wide on the higher ones, on %s",
        [WORDS_JAWS_WIDE] = "%s → %s, jaw wide, on %s",
    };
    const aperta_shape *shape = group->finding->shape;
    g_autofree char *from = group_vowels(group), *pitches = group_pitches(group);

    if (shape == NULL)
        return g_strdup_printf("%s, on %s", from, pitches);
    if (keeps_vowel(group))
        return g_strdup_printf(keeping[words_jaws_of(group->findings)], from, pitches);
    g_autofree char *to = words_vowel_label(shape->vowel, FALSE);
    return g_strdup_printf(changing[words_jaws_of(group->findings)], from, to, pitches);
}

char *words_sheet_group_headline(const aperta_sheet *sheet, const aperta_group *group)
{
    g_autofree char *change = words_sheet_group_change(group);
    g_autofree char *share = words_sheet_share(sheet, group->weight_s);

    return g_strdup_printf("%s: %s of the singing", change, share);
}

/* ---- where ------------------------------------------------------------------------------------------------------- */

/* One word on one pitch, and how often. */
typedef struct {
    const char *word;
    const char *pitch;
    guint count;
} place;

/* Of the notes on a vowel, or of all. */
static GArray *places_of(const aperta_group *group, const aperta_vowel *vowel)
{
    GArray *places = g_array_new(FALSE, FALSE, sizeof(place));

    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_sheet_note *note = group_note(group, i);
        place *known = NULL;
        if (vowel != NULL && note->expected->vowel != vowel)
            continue;
        for (guint k = 0; k < places->len && known == NULL; k++) {
            place *one = &g_array_index(places, place, k);
            if (g_strcmp0(one->word, note->word) == 0 && strcmp(one->pitch, note->score_note->name) == 0)
                known = one;
        }
        if (known != NULL) {
            known->count++;
            continue;
        }
        place one = {note->word, note->score_note->name, 1};
        g_array_append_val(places, one);
    }
    return places;
}

static char *place_words(const place *one)
{
    g_autofree char *word = aperta_shown(one->word);

    if (one->count > 1)
        return g_strdup_printf("%s (%s, %u times)", word, one->pitch, one->count);
    return g_strdup_printf("%s (%s)", word, one->pitch);
}

/* "see (C5), green (A4, 2 times) and 3 more" */
static char *list_of_places(const aperta_group *group, const aperta_vowel *vowel)
{
    g_autoptr(GArray) places = places_of(group, vowel);
    g_autoptr(GPtrArray) told = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; i < MIN(places->len, PLACES_MAX); i++)
        g_ptr_array_add(told, place_words(&g_array_index(places, place, i)));
    if (places->len <= PLACES_MAX)
        return words_join(told, ", ", ", ");
    g_ptr_array_add(told, g_strdup_printf("%u more", places->len - PLACES_MAX));
    return words_join(told, ", ", " and ");
}

static char *group_places(const aperta_group *group)
{
    g_autoptr(GPtrArray) vowels = vowels_of(group);
    g_autoptr(GPtrArray) lists = g_ptr_array_new_with_free_func(g_free);

    if (vowels->len <= VOWELS_TOGETHER)
        return list_of_places(group, NULL);
    for (guint i = 0; i < vowels->len; i++) {
        const aperta_vowel *vowel = g_ptr_array_index(vowels, i);
        g_autofree char *places = list_of_places(group, vowel);
        g_ptr_array_add(lists, g_strdup_printf("“%s”: %s", vowel->respelling, places));
    }
    return words_join(lists, "; ", "; ");
}

char *words_sheet_group_where(const aperta_group *group)
{
    g_autofree char *places = group_places(group);

    return g_strdup_printf("In: %s.", places);
}

char *words_sheet_group_where_and_share(const aperta_sheet *sheet, const aperta_group *group)
{
    g_autofree char *places = group_places(group);
    g_autofree char *share = words_sheet_share(sheet, group->weight_s);

    return g_strdup_printf("In: %s; %s of the singing.", places, share);
}

char *words_sheet_group_line(const aperta_sheet *sheet, const aperta_group *group)
{
    g_autofree char *change = words_sheet_group_change(group);
    g_autofree char *share = words_sheet_share(sheet, group->weight_s);
    g_autofree char *places = group_places(group);

    return g_strdup_printf("%s (%s of the singing): %s", change, share, places);
}

words_whom words_sheet_group_whom(const aperta_group *group)
{
    return (words_whom){.word = group->note->word != NULL ? group->note->word : "",
                        .pitch = group->note->score_note->name,
                        .same_words = group->notes->len == 1};
}

/* ---- aim and reasons --------------------------------------------------------------------------------------------- */

char *words_sheet_group_aim(const aperta_group *group)
{
    double low_hz[2] = {HUGE_VAL, HUGE_VAL}, high_hz[2] = {0.0, 0.0};

    if (group->finding->shape == NULL)
        return NULL;
    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_finding *finding = result_shape_in(group_note(group, i)->advice);
        for (int r = 0; finding != NULL && r < 2; r++) {
            double hz = r == 0 ? finding->shape->f1_hz : finding->shape->f2_hz;
            low_hz[r] = fmin(low_hz[r], hz);
            high_hz[r] = fmax(high_hz[r], hz);
        }
    }
    g_autofree char *f1 = words_hz_range(low_hz[0], high_hz[0]);
    g_autofree char *f2 = words_hz_range(low_hz[1], high_hz[1]);
    return g_strdup_printf("Aim: F1 %s, F2 %s.", f1, f2);
}

GPtrArray *words_sheet_reasons(const aperta_sheet *sheet)
{
    g_autoptr(GPtrArray) findings = g_ptr_array_new();

    for (guint i = 0; i < sheet->groups->len; i++)
        g_ptr_array_add(findings, (gpointer)aperta_group_at(sheet->groups, i)->finding);
    return words_reasons(findings);
}
