/* take-advice.c - what notes that are told the same are told. */
#include "words/take-words.h"

#include <math.h>

/* "C5", or "C5 to E5" from the lowest to the highest. */
static char *pitches(const GPtrArray *notes)
{
    const aperta_sung_note *low = aperta_sung_note_at(notes, 0);
    const aperta_sung_note *high = low;

    for (guint i = 1; i < notes->len; i++) {
        const aperta_sung_note *note = aperta_sung_note_at(notes, i);
        low = note->midi < low->midi ? note : low;
        high = note->midi > high->midi ? note : high;
    }
    return low->midi == high->midi ? g_strdup(low->name) : g_strdup_printf("%s to %s", low->name, high->name);
}

/* The vowels of a group, each once. */
static char *vowels(const GPtrArray *notes)
{
    g_autoptr(GPtrArray) labels = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; i < notes->len; i++) {
        char *label = words_note_vowel_label(g_ptr_array_index(notes, i), FALSE);
        if (g_ptr_array_find_with_equal_func(labels, label, g_str_equal, NULL))
            g_free(label);
        else
            g_ptr_array_add(labels, label);
    }
    return words_join(labels, ", ", ", ");
}

static const aperta_shape *shape_of(const GPtrArray *findings, guint i)
{
    return aperta_finding_at(findings, i)->shape;
}

/* Whether all shapes of a group have one name. */
static gboolean is_one_shape(const GPtrArray *findings)
{
    for (guint i = 1; i < findings->len; i++)
        if (!words_shapes_named_alike(shape_of(findings, i), shape_of(findings, 0)))
            return FALSE;
    return TRUE;
}

/* "ɛ “eh” (bed) → ɔ “aw” (law)", or "keep ɛ “eh” (bed), jaw a little wider". */
static char *change_words(const GPtrArray *notes, const GPtrArray *findings)
{
    static const char *const keep[] = {
        [WORDS_JAWS_AS_SPOKEN] = "keep %s, jaw a little wider",
        [WORDS_JAWS_WIDE_ABOVE] = "keep %s, jaw wide on the higher ones",
        [WORDS_JAWS_WIDE] = "keep %s, jaw wide",
    };
    static const char *const go[] = {
        [WORDS_JAWS_AS_SPOKEN] = "%s → %s",
        [WORDS_JAWS_WIDE_ABOVE] = "%s → %s, jaw wide on the higher ones",
        [WORDS_JAWS_WIDE] = "%s → %s, jaw wide",
    };
    const aperta_finding *finding = aperta_finding_at(findings, 0);
    const aperta_shape *shape = finding->shape;
    g_autofree char *from = vowels(notes);

    if (shape == NULL) {
        gboolean marked = finding->level == APERTA_LEVEL_CHANGE && finding->mark != NULL;
        return marked ? g_strdup_printf("%s: %s", from, finding->mark) : g_steal_pointer(&from);
    }
    if (shape->vowel == aperta_sung_note_told(g_ptr_array_index(notes, 0)))
        return g_strdup_printf(keep[words_jaws_of(findings)], from);
    if (is_one_shape(findings)) {
        g_autofree char *one = words_shape_label(shape, FALSE);
        return g_strdup_printf("%s → %s", from, one);
    }
    g_autofree char *vowel = words_vowel_label(shape->vowel, FALSE);
    return g_strdup_printf(go[words_jaws_of(findings)], from, vowel);
}

/* "about 720 to 760 Hz" over all shapes of a group; NULL: there are none. */
static char *aim_words(const GPtrArray *findings)
{
    double low_hz = HUGE_VAL, high_hz = 0.0;

    for (guint i = 0; i < findings->len; i++) {
        if (shape_of(findings, i) == NULL)
            return NULL;
        low_hz = fmin(low_hz, shape_of(findings, i)->f1_hz);
        high_hz = fmax(high_hz, shape_of(findings, i)->f1_hz);
    }
    return words_hz_range(low_hz, high_hz);
}

/* "Note 5", "Notes 1–3 and 9" */
static char *names_of(const GPtrArray *notes)
{
    g_autofree char *list = words_number_list(notes);

    return g_strdup_printf(notes->len == 1 ? "Note %s" : "Notes %s", list);
}

char *words_group_headline(const GPtrArray *notes, const GPtrArray *findings)
{
    g_autofree char *names = names_of(notes), *where = pitches(notes);
    g_autofree char *what = change_words(notes, findings), *aim = aim_words(findings);

    return aim != NULL ? g_strdup_printf("%s (%s): %s, F1 %s", names, where, what, aim)
                       : g_strdup_printf("%s (%s): %s", names, where, what);
}

char *words_vowel_places(const GPtrArray *notes)
{
    g_autofree char *vowel = words_note_vowel_label(g_ptr_array_index(notes, 0), FALSE);
    g_autofree char *names = names_of(notes), *where = pitches(notes);

    return g_strdup_printf("%s: %s (%s)", vowel, names, where);
}
