/* sheet-advice.c - the flagged words of a sheet, and the keys that were tried, in words. */
#include "words/sheet-words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PLACES_MAX      12 /* words of one group; more of them are counted */
#define VOWELS_TOGETHER 2  /* of more vowels in a group each is told its own words */
#define BEST_KEYS_MAX   3
#define ALIKE_SHARE     0.005 /* of the singing: less is not seen in whole percents */
#define BRIEF_SHARE                                                                                                    \
    0.05 /* of the singing; below it a group is told in one line: chosen, what a teacher would pass over */

char *sheet_share(const aperta_sheet *sheet, double weight_s)
{
    double share = sheet->weight_s > 0.0 ? 100.0 * weight_s / sheet->weight_s : 0.0;

    if (weight_s > 0.0 && share < 1.0)
        return g_strdup("under 1 %");
    return g_strdup_printf("%.0f %%", share);
}

/* Where no other vowel is the change: " (in 12 % not another vowel, but “lighter”)"; "" for none. */
static char *lighter_words(const aperta_sheet *sheet)
{
    const char *word = NULL;
    double weight_s = 0.0;

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note_at(sheet, i);
        if (sheet_level(note) != APERTA_LEVEL_CHANGE || sheet_shape(note) != NULL)
            continue;
        weight_s += note->weight_s;
        word = sheet_plain_mark(g_ptr_array_index(note->advice, 0));
    }
    if (word == NULL || strcmp(word, aperta_level_word(APERTA_LEVEL_CHANGE)) == 0)
        return g_strdup("");
    if (weight_s >= sheet->change_s - 1e-9)
        return g_strdup_printf(" (not another vowel, but “%s”)", word);
    g_autofree char *share = sheet_share(sheet, weight_s);
    return g_strdup_printf(" (in %s not another vowel, but “%s”)", share, word);
}

char *sheet_summary(const aperta_sheet *sheet)
{
    g_autofree char *change = sheet_share(sheet, sheet->change_s);
    g_autofree char *watch = sheet_share(sheet, sheet->watch_s);

    if (sheet->weight_s <= 0.0)
        return g_strdup("No note could be judged.");
    if (sheet->groups->len == 0)
        return g_strdup("Nothing to change: no note is flagged.");
    g_autofree char *lighter = lighter_words(sheet);
    if (sheet->watch_s <= 0.0)
        return g_strdup_printf("By length and stress, %s of the singing wants a change%s.", change, lighter);
    if (sheet->change_s <= 0.0)
        return g_strdup_printf("No note wants a change; by length and stress, %s of the singing is worth watching.",
                               watch);
    return g_strdup_printf("By length and stress, %s of the singing wants a change%s, and %s is worth watching.",
                           change, lighter, watch);
}

static const aperta_sheet_note *group_note(const aperta_sheet_group *group, guint i)
{
    return g_ptr_array_index(group->notes, i);
}

/* const aperta_vowel *, each once. */
static GPtrArray *vowels_of(const aperta_sheet_group *group)
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
static char *group_vowels(const aperta_sheet_group *group)
{
    g_autoptr(GPtrArray) all = vowels_of(group);
    GString *line = g_string_new(NULL);

    for (guint i = 0; i < all->len; i++) {
        g_autofree char *label = words_vowel_label(g_ptr_array_index(all, i), FALSE);
        g_string_append_printf(line, "%s%s", line->len > 0 ? ", " : "", label);
    }
    return g_string_free(line, FALSE);
}

static char *group_pitches(const aperta_sheet_group *group)
{
    const aperta_score_note *low = group_note(group, 0)->score_note, *high = low;

    for (guint i = 1; i < group->notes->len; i++) {
        const aperta_score_note *note = group_note(group, i)->score_note;
        low = note->midi < low->midi ? note : low;
        high = note->midi > high->midi ? note : high;
    }
    return low->midi == high->midi ? g_strdup(low->name) : g_strdup_printf("%s to %s", low->name, high->name);
}

/* What the jaw does on all notes of a group, on some, on none. */
static const char *jaw_of(const aperta_sheet_group *group)
{
    guint n_wide = 0;

    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_finding *finding = sheet_shape(group_note(group, i));
        n_wide += finding != NULL && finding->shape->jaw_wide;
    }
    return n_wide == 0 ? "" : n_wide == group->notes->len ? ", jaw wide" : ", jaw wide on the higher ones";
}

static gboolean keeps_vowel(const aperta_sheet_group *group)
{
    return group->finding->shape != NULL && group->finding->shape->vowel == group->note->expected->vowel;
}

const char *sheet_group_word(const aperta_sheet_group *group)
{
    if (group->level != APERTA_LEVEL_CHANGE)
        return aperta_level_word(group->level);
    if (group->finding->shape == NULL)
        return sheet_plain_mark(group->finding);
    return keeps_vowel(group) ? "open" : "change";
}

char *sheet_group_change(const aperta_sheet_group *group)
{
    const aperta_shape *shape = group->finding->shape;
    g_autofree char *from = group_vowels(group);
    g_autofree char *pitches = group_pitches(group);
    const char *jaw = jaw_of(group);

    if (shape == NULL)
        return g_strdup_printf("%s, on %s", from, pitches);
    if (keeps_vowel(group))
        return g_strdup_printf("keep %s%s, on %s", from, *jaw != '\0' ? jaw : ", jaw a little wider", pitches);
    g_autofree char *to = words_vowel_label(shape->vowel, FALSE);
    return g_strdup_printf("%s → %s%s, on %s", from, to, jaw, pitches);
}

gboolean sheet_group_is_brief(const aperta_sheet *sheet, guint index)
{
    const aperta_sheet_group *group = g_ptr_array_index(sheet->groups, index);

    if (group->weight_s >= BRIEF_SHARE * sheet->weight_s)
        return FALSE;
    for (guint i = 0; i < index; i++) {
        const aperta_sheet_group *before = g_ptr_array_index(sheet->groups, i);
        if (before->level == group->level && strcmp(before->finding->rule, group->finding->rule) == 0)
            return TRUE;
    }
    return FALSE;
}

/* One word on one pitch, and how often. */
typedef struct {
    const char *word;
    const char *pitch;
    guint count;
} place;

/* Of the notes on a vowel, or of all. */
static GArray *places_of(const aperta_sheet_group *group, const aperta_vowel *vowel)
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

static void append_places(GString *line, const aperta_sheet_group *group, const aperta_vowel *vowel)
{
    g_autoptr(GArray) places = places_of(group, vowel);

    for (guint i = 0; i < MIN(places->len, PLACES_MAX); i++) {
        const place *one = &g_array_index(places, place, i);
        g_autofree char *word = words_clean(one->word);
        g_string_append_printf(line, "%s%s (%s", i > 0 ? ", " : "", word, one->pitch);
        if (one->count > 1)
            g_string_append_printf(line, ", %u times", one->count);
        g_string_append_c(line, ')');
    }
    if (places->len > PLACES_MAX)
        g_string_append_printf(line, " and %u more", places->len - PLACES_MAX);
}

char *sheet_group_places(const aperta_sheet_group *group)
{
    g_autoptr(GPtrArray) vowels = vowels_of(group);
    GString *line = g_string_new(NULL);

    if (vowels->len <= VOWELS_TOGETHER) {
        append_places(line, group, NULL);
        return g_string_free(line, FALSE);
    }
    for (guint i = 0; i < vowels->len; i++) {
        const aperta_vowel *vowel = g_ptr_array_index(vowels, i);
        g_string_append_printf(line, "%s“%s”: ", i > 0 ? "; " : "", vowel->respelling);
        append_places(line, group, vowel);
    }
    return g_string_free(line, FALSE);
}

char *sheet_group_line(const aperta_sheet *sheet, const aperta_sheet_group *group)
{
    g_autofree char *change = sheet_group_change(group);
    g_autofree char *share = sheet_share(sheet, group->weight_s);
    g_autofree char *places = sheet_group_places(group);

    return g_strdup_printf("%s (%s of the singing): %s", change, share, places);
}

char *sheet_group_who(const aperta_sheet_group *group)
{
    g_autofree char *word = words_clean(group->note->word);

    return g_strdup_printf("“%s” on %s", word, group->note->score_note->name);
}

char *sheet_group_aim(const aperta_sheet_group *group)
{
    double low_hz[2] = {HUGE_VAL, HUGE_VAL}, high_hz[2] = {0.0, 0.0};

    if (group->finding->shape == NULL)
        return NULL;
    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_finding *finding = sheet_shape(group_note(group, i));
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

/* What to do instead; the risks of a group that have the same answer share it. */
static char *risk_answer(const aperta_word_risk *risk)
{
    if (risk->instead == NULL)
        return g_strdup("keep the vowel and only let the jaw open as far as it goes easily.");
    g_autofree char *shape = words_shape_label(risk->instead, TRUE);
    return g_strdup_printf("keep the vowel and only let the jaw open. Else try %s, which makes no word we know.",
                           shape);
}

typedef struct {
    char *answer;
    GPtrArray *pairs; /* char *: "“see” as “say”", each once */
} risk_list;

static void risk_list_free(gpointer data)
{
    risk_list *list = data;

    g_free(list->answer);
    g_ptr_array_unref(list->pairs);
    g_free(list);
}

static void add_risk(GPtrArray *lists, const aperta_sheet_note *note)
{
    g_autofree char *answer = risk_answer(note->risk), *word = words_clean(note->word);
    g_autofree char *lower = g_utf8_strdown(word, -1);
    char *pair = g_strdup_printf("“%s” as “%s”", lower, note->risk->word);
    risk_list *list = NULL;

    for (guint i = 0; i < lists->len && list == NULL; i++)
        if (strcmp(((risk_list *)g_ptr_array_index(lists, i))->answer, answer) == 0)
            list = g_ptr_array_index(lists, i);
    if (list == NULL) {
        list = g_new0(risk_list, 1);
        list->answer = g_steal_pointer(&answer);
        list->pairs = g_ptr_array_new_with_free_func(g_free);
        g_ptr_array_add(lists, list);
    }
    if (g_ptr_array_find_with_equal_func(list->pairs, pair, g_str_equal, NULL))
        g_free(pair);
    else
        g_ptr_array_add(list->pairs, pair);
}

char **sheet_group_risks(const aperta_sheet_group *group)
{
    g_autoptr(GPtrArray) lists = g_ptr_array_new_with_free_func(risk_list_free);
    GPtrArray *list = g_ptr_array_new();

    for (guint i = 0; i < group->notes->len; i++)
        if (group_note(group, i)->risk != NULL && group->finding->shape != NULL)
            add_risk(lists, group_note(group, i));
    for (guint i = 0; i < lists->len; i++) {
        const risk_list *one = g_ptr_array_index(lists, i);
        g_ptr_array_add(one->pairs, NULL);
        g_autofree char *pairs = g_strjoinv(", ", (char **)one->pairs->pdata);
        g_ptr_array_add(list, g_strdup_printf("May be heard as another word: %s; %s", pairs, one->answer));
    }
    g_ptr_array_add(list, NULL);
    return (char **)g_ptr_array_free(list, FALSE);
}

GPtrArray *sheet_reasons(const aperta_sheet *sheet)
{
    GPtrArray *reasons = g_ptr_array_new_with_free_func(g_free);
    g_autoptr(GHashTable) told = g_hash_table_new(g_str_hash, g_str_equal);

    for (guint i = 0; i < sheet->groups->len; i++) {
        const aperta_finding *finding = ((const aperta_sheet_group *)g_ptr_array_index(sheet->groups, i))->finding;
        if (g_hash_table_add(told, finding->rule))
            g_ptr_array_add(reasons, words_reason(finding));
    }
    return reasons;
}

/* ---- keys -------------------------------------------------------------------------------------------------------- */

char *sheet_key_name(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    g_autofree char *moved = key->semitones == 0
                                 ? g_strdup("as written")
                                 : g_strdup_printf("%d %s", abs(key->semitones), key->semitones > 0 ? "up" : "down");

    if (!sheet->score->key.known)
        return g_steal_pointer(&moved);
    return g_strdup_printf("%s %s, %s", aperta_key_tonic_name(&key->key), key->key.minor ? "minor" : "major", moved);
}

char *sheet_pitch_in(const aperta_sheet_key *key, int midi)
{
    char name[APERTA_PITCH_NAME_MAX];

    aperta_pitch_spell(CLAMP(midi, 0, 127), &key->key, name);
    return g_strdup(name);
}

static const aperta_sheet_key *key_of_rank(const aperta_sheet *sheet, int rank)
{
    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *key = g_ptr_array_index(sheet->keys, i);
        if (key->rank == rank)
            return key;
    }
    return NULL;
}

gboolean sheet_key_is_own(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    return sheet->transposed != 0 && key->semitones == sheet->transposed;
}

/* Without vowels to judge only the range is told: "Within the range: C major, 2 down; ...". */
static char *fitting_words(const aperta_sheet *sheet, gboolean has_range)
{
    g_autoptr(GString) line = g_string_new(NULL);

    if (!has_range)
        return g_strdup("No vowel could be judged, so no key is easier than another.");
    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *key = g_ptr_array_index(sheet->keys, i);
        g_autofree char *name = key->fits ? sheet_key_name(sheet, key) : NULL;
        if (name != NULL)
            g_string_append_printf(line, "%s%s", line->len > 0 ? "; " : "", name);
    }
    return g_strdup_printf("Within the range: %s. No vowel could be judged, so none of them is easier.", line->str);
}

/* Whether all keys that fit ask for as much, as far as the page shows it. */
static gboolean keys_are_alike(const aperta_sheet *sheet)
{
    const aperta_sheet_key *best = key_of_rank(sheet, 1);

    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *key = g_ptr_array_index(sheet->keys, i);
        double difference_s = fabs(key->change_s - best->change_s) + fabs(key->watch_s - best->watch_s);
        if (key->fits && difference_s > ALIKE_SHARE * sheet->weight_s)
            return FALSE;
    }
    return sheet->keys->len > 1;
}

static char *all_alike_words(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    g_autofree char *change = sheet_share(sheet, key->change_s), *watch = sheet_share(sheet, key->watch_s);

    return g_strdup_printf("The keys that fit do not differ in this (%s to change, %s to watch in each): choose by the "
                           "voice.",
                           change, watch);
}

char *sheet_keys_hint(const aperta_sheet *sheet)
{
    const aperta_sheet_key *best = sheet->keys != NULL && sheet->keys->len > 0 ? key_of_rank(sheet, 1) : NULL;

    if (best == NULL || !best->fits || sheet->weight_s <= 0.0 || keys_are_alike(sheet) ||
        best->semitones == sheet->transposed)
        return NULL;
    if (best->semitones == 0)
        return g_strdup("The easiest is the key as written: a sheet without --transpose.");
    g_autofree char *name = sheet_key_name(sheet, best);
    return g_strdup_printf("For a sheet in the easiest (%s): --transpose %d.", name, best->semitones);
}

char *sheet_keys_summary(const aperta_sheet *sheet)
{
    g_autoptr(GString) line = g_string_new(NULL);
    gboolean has_range = sheet->range_low > 0 || sheet->range_high > 0;

    if (sheet->keys == NULL || sheet->keys->len == 0)
        return NULL;
    const aperta_sheet_key *best = key_of_rank(sheet, 1);
    if (has_range && !best->fits)
        return g_strdup("In none of these keys does the song fit the range.");
    if (sheet->weight_s <= 0.0)
        return fitting_words(sheet, has_range);
    if (keys_are_alike(sheet))
        return all_alike_words(sheet, best);
    for (int rank = 1; rank <= BEST_KEYS_MAX; rank++) {
        const aperta_sheet_key *key = key_of_rank(sheet, rank);
        if (key == NULL || !key->fits)
            break;
        g_autofree char *name = sheet_key_name(sheet, key);
        g_autofree char *change = sheet_share(sheet, key->change_s);
        g_string_append_printf(line, "%s%s (%s to change)", rank > 1 ? "; " : "", name, change);
    }
    return g_strdup_printf("Easiest%s: %s.%s", has_range ? " within the range" : "", line->str,
                           has_range ? "" : " Low notes ask for little in every style: give the singer's --range.");
}
