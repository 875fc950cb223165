/* verses.c - lines of lyrics → numbers of verses, and what a score says of each. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <string.h>

/* "3", "verse 3", "part1verse3" → 3; 0: no number of a verse. */
static int plain_verse_number(const char *key)
{
    gsize digits = strlen(key);
    guint64 number;

    while (digits > 0 && g_ascii_isdigit(key[digits - 1]))
        digits--;
    if (!g_ascii_string_to_unsigned(key + digits, 10, 1, SCORE_VERSES_MAX, &number, NULL))
        return 0;
    g_autofree char *before = g_ascii_strdown(key, (gssize)digits);
    g_strchomp(before);
    return before[0] == '\0' || g_str_has_suffix(before, "verse") ? (int)number : 0;
}

static gboolean is_taken(const int *numbers, guint n, int number)
{
    for (guint i = 0; i < n; i++)
        if (numbers[i] == number)
            return TRUE;
    return FALSE;
}

/* Keys under which anything is sung: an extender alone, or a lyric under a rest, is no verse. */
static gboolean *keys_in_use(const score_part *part)
{
    gboolean *used = g_new0(gboolean, part->verse_keys->len + 1);

    for (guint i = 0; i < part->events->len; i++) {
        const GPtrArray *syllables = g_array_index(part->events, score_event, i).syllables;
        for (guint k = 0; syllables != NULL && k < syllables->len; k++)
            used[score_syllable_at(syllables, k)->key] = TRUE;
    }
    return used;
}

int *score_verse_numbers(const score_part *part, GArray *remarks, int *highest)
{
    guint n = part->verse_keys->len;
    int *numbers = g_new0(int, n + 1);
    g_autofree gboolean *used = keys_in_use(part);

    *highest = 0;
    for (guint i = 0; i < n; i++) {
        int number = used[i] ? plain_verse_number(g_ptr_array_index(part->verse_keys, i)) : 0;
        if (number > 0 && !is_taken(numbers, i, number))
            numbers[i] = number;
        *highest = MAX(*highest, numbers[i]);
    }
    for (guint i = 0; i < n; i++) {
        if (numbers[i] != 0 || !used[i])
            continue;
        numbers[i] = ++*highest;
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_VERSE_NUMBERED,
                                                    .verse = numbers[i],
                                                    .text = g_strdup(g_ptr_array_index(part->verse_keys, i))});
    }
    return numbers;
}

gboolean aperta_score_has_words(const aperta_score *score, int verse)
{
    for (guint i = 0; i < score->n_notes; i++)
        for (guint k = 0; k < score->notes[i].n_lyrics; k++)
            if (score->notes[i].lyrics[k].verse == verse)
                return TRUE;
    return FALSE;
}

const char *aperta_score_language(const aperta_score *score, int verse)
{
    g_autoptr(GHashTable) counts = g_hash_table_new(g_str_hash, g_str_equal);
    const char *best = NULL;
    int most = 0;

    for (guint i = 0; i < score->n_notes; i++) {
        for (guint k = 0; k < score->notes[i].n_lyrics; k++) {
            const aperta_lyric *lyric = &score->notes[i].lyrics[k];
            if (lyric->verse != verse || lyric->language == NULL)
                continue;
            int count = 1 + GPOINTER_TO_INT(g_hash_table_lookup(counts, lyric->language));
            g_hash_table_insert(counts, lyric->language, GINT_TO_POINTER(count));
            if (count > most) {
                most = count;
                best = lyric->language;
            }
        }
    }
    return best;
}
