/* harmonics-captions.c - what the pictures of harmonics say. */
#include "result/query.h"
#include "words/captions.h"
#include "words/words.h"

char *words_harmonics_title(const aperta_result *result)
{
    g_autofree char *name = result->file != NULL ? g_path_get_basename(result->file) : g_strdup("");

    return g_strdup_printf("Harmonics of the flagged notes: %s", name);
}

const char *words_harmonics_description(void)
{
    return "For each flagged note the levels of its harmonics below the strongest, with the places of F1, F2 and the "
           "second harmonic.";
}

const char *words_harmonics_legend(void)
{
    return "Stems: harmonics, in dB below the strongest; the thick one is the second. Lines: F1 (solid), F2 (dashed) "
           "in Hz with their 90 % intervals as bands. Thin lines: other places that fit nearly as well, with their "
           "shares; all are thin where none holds half. Bracket: somewhere in that range. Arrow: somewhere on that "
           "side of a limit. 2f0 (dotted): twice the sung pitch.";
}

char *words_harmonics_more(guint n_left_out)
{
    return g_strdup_printf("%u more flagged notes are not shown here; the report names them all.", n_left_out);
}

char *words_harmonics_hover(const aperta_sung_note *note)
{
    g_autofree char *vowel = words_note_vowel_label(note, FALSE);
    g_autofree char *f1 = words_resonance(&aperta_sung_note_resonances(note)[0]);
    g_autofree char *f2 = words_resonance(&aperta_sung_note_resonances(note)[1]);

    return g_strdup_printf("note %d, %s, %s: F1 %s, F2 %s, second harmonic at %.0f Hz", note->number, note->name, vowel,
                           f1, f2, 2.0 * note->note.f0_hz);
}

char *words_harmonics_note(const aperta_sung_note *note)
{
    g_autofree char *vowel = words_note_vowel_label(note, TRUE);

    return g_strdup_printf("%d · %s · %s · %s", note->number, note->name, vowel,
                           aperta_level_word(aperta_sung_note_level(note)));
}

char *words_harmonics_advice(const aperta_sung_note *note)
{
    const aperta_finding *finding = result_shape_in(note->advice), *spoken = g_ptr_array_index(note->advice, 0);

    if (finding == NULL)
        return spoken->mark != NULL ? g_strdup_printf("%s, see the report", spoken->mark) : g_strdup("see the report");
    g_autofree char *shape = words_shape_label(finding->shape, TRUE);
    return g_strdup_printf("try %s", shape);
}

char *words_harmonics_second(const aperta_sung_note *note)
{
    return g_strdup_printf("2f0 %.0f", 2.0 * note->note.f0_hz);
}

/* ---- at the lines of resonances ---------------------------------------------------------------------------------- */

char *words_place_limit(int index, const aperta_resonance *resonance)
{
    if (resonance->has_high)
        return g_strdup_printf("F%d below %.0f", index + 1, resonance->high_hz);
    return g_strdup_printf("F%d above %.0f", index + 1, resonance->low_hz);
}

char *words_place_range(int index, const aperta_resonance *resonance)
{
    return g_strdup_printf("F%d %.0f–%.0f", index + 1, resonance->low_hz, resonance->high_hz);
}

static char *place(const aperta_alternative *it, gboolean with_share)
{
    if (with_share)
        return g_strdup_printf("%.0f (%.0f %%)", it->hz, 100.0 * it->weight);
    return g_strdup_printf("%.0f", it->hz);
}

char *words_places(int index, const aperta_alternative *places, guint n, gboolean stands_out)
{
    g_autoptr(GPtrArray) told = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; i < n; i++)
        g_ptr_array_add(told, place(&places[i], i > 0 || !stands_out));
    g_autofree char *all = words_join(told, stands_out ? " or " : ", ", " or ");
    return g_strdup_printf("F%d %s", index + 1, all);
}
