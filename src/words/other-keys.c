/* other-keys.c - the keys that were tried for a song, and which of them are easiest. */
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <stdlib.h>

#define BEST_KEYS_MAX 3

static const char *key_format(const aperta_sheet_key *key)
{
    if (key->semitones == 0)
        return key->key.minor ? "%s minor, as written" : "%s major, as written";
    if (key->semitones > 0)
        return key->key.minor ? "%s minor, %d up" : "%s major, %d up";
    return key->key.minor ? "%s minor, %d down" : "%s major, %d down";
}

char *words_sheet_key_name(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    if (sheet->score->key.known) /* the semitones are left alone by the format that does not tell them */
        return g_strdup_printf(key_format(key), aperta_key_tonic_name(&key->key), abs(key->semitones));
    if (key->semitones == 0)
        return g_strdup("as written");
    return g_strdup_printf(key->semitones > 0 ? "%d up" : "%d down", abs(key->semitones));
}

char *words_sheet_pitch_in(const aperta_sheet_key *key, int midi)
{
    char name[APERTA_PITCH_NAME_MAX];

    aperta_pitch_spell(CLAMP(midi, 0, 127), &key->key, name);
    return g_strdup(name);
}

char *words_sheet_key_range(const aperta_sheet_key *key)
{
    g_autofree char *low = words_sheet_pitch_in(key, key->lowest), *high = words_sheet_pitch_in(key, key->highest);

    return g_strdup_printf("%s–%s", low, high);
}

const char *words_sheet_key_remark(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    if (result_sheet_key_is_own(sheet, key))
        return key->fits ? "this sheet" : "this sheet, beyond";
    return key->fits ? NULL : "beyond";
}

const char *words_sheet_keys_legend(void)
{
    return "# wants change, + is worth watching: shares of the singing by length and stress; beyond: does not fit the "
           "singer's range.";
}

/* ---- in sentences ------------------------------------------------------------------------------------------------ */

/* Without vowels to judge only the range is told: "Within the range: C major, 2 down; ...". */
static char *fitting_keys(const aperta_sheet *sheet, gboolean has_range)
{
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);

    if (!has_range)
        return g_strdup("No vowel could be judged, so no key is easier than another.");
    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *key = aperta_sheet_key_at(sheet->keys, i);
        if (key->fits)
            g_ptr_array_add(names, words_sheet_key_name(sheet, key));
    }
    g_autofree char *all = words_join(names, "; ", "; ");
    return g_strdup_printf("Within the range: %s. No vowel could be judged, so none of them is easier.", all);
}

static char *all_alike(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    g_autofree char *change = words_sheet_share(sheet, key->change_s), *watch = words_sheet_share(sheet, key->watch_s);

    return g_strdup_printf("The keys that fit do not differ in this (%s to change, %s to watch in each): choose by the "
                           "voice.",
                           change, watch);
}

static char *easiest_keys(const aperta_sheet *sheet, gboolean has_range, words_where where)
{
    g_autoptr(GPtrArray) keys = g_ptr_array_new_with_free_func(g_free);

    for (int rank = 1; rank <= BEST_KEYS_MAX; rank++) {
        const aperta_sheet_key *key = result_sheet_key_of_rank(sheet, rank);
        if (key == NULL || !key->fits)
            break;
        g_autofree char *name = words_sheet_key_name(sheet, key);
        g_autofree char *change = words_sheet_share(sheet, key->change_s);
        g_ptr_array_add(keys, g_strdup_printf("%s (%s to change)", name, change));
    }
    g_autofree char *all = words_join(keys, "; ", "; ");
    if (has_range)
        return g_strdup_printf("Easiest within the range: %s.", all);
    return g_strdup_printf(where == WORDS_ON_PAPER
                               ? "Easiest: %s. Low notes ask for little in every style: mind the singer's range."
                               : "Easiest: %s. Low notes ask for little in every style: give the singer's --range.",
                           all);
}

char *words_sheet_keys_summary(const aperta_sheet *sheet, words_where where)
{
    gboolean has_range = sheet->range_low > 0 || sheet->range_high > 0;
    const aperta_sheet_key *best = result_sheet_key_of_rank(sheet, 1);

    if (best == NULL)
        return NULL;
    if (has_range && !best->fits)
        return g_strdup("In none of these keys does the song fit the range.");
    if (sheet->weight_s <= 0.0)
        return fitting_keys(sheet, has_range);
    if (result_sheet_keys_alike(sheet))
        return all_alike(sheet, best);
    return easiest_keys(sheet, has_range, where);
}

char *words_sheet_keys_hint(const aperta_sheet *sheet)
{
    const aperta_sheet_key *best = result_sheet_key_of_rank(sheet, 1);

    if (best == NULL || !best->fits || sheet->weight_s <= 0.0 || result_sheet_keys_alike(sheet) ||
        best->semitones == sheet->transposed)
        return NULL;
    if (best->semitones == 0)
        return g_strdup("The easiest is the key as written: a sheet without --transpose.");
    g_autofree char *name = words_sheet_key_name(sheet, best);
    return g_strdup_printf("For a sheet in the easiest (%s): --transpose %d.", name, best->semitones);
}
