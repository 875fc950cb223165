/* chart-captions.c - what a take's vowel chart says. */
#include "result/query.h"
#include "words/captions.h"
#include "words/words.h"

#define LISTED_MAX 20 /* notes that are named one by one; more are counted: chosen, what a line holds */

const char *words_chart_caption(words_chart_label label)
{
    static const char *const captions[] = {
        [WORDS_CHART_HOW] = "How to read it",
        [WORDS_CHART_SILENT] = "no advice for it in this style",
        [WORDS_CHART_FINE] = "fine: a rule finds that it suits",
        [WORDS_CHART_WATCH] = "watch: at the edge, or not sure",
        [WORDS_CHART_CHANGE] = "change: try another shape",
        [WORDS_CHART_INTERVAL] = "90 % interval of F1 and F2",
        [WORDS_CHART_LIMIT] = "hollow: only a limit is known; it lies that way",
        [WORDS_CHART_SHAPE] = "the shape to try",
        [WORDS_CHART_GLIDE] =
            "a vowel that moves, from its start to its end; its mark is on the part that is held longer",
        [WORDS_CHART_SPOKEN] = "a spoken vowel: mean and one standard deviation between speakers",
        [WORDS_CHART_SPOKEN_PARTLY_OURS] =
            "a spoken vowel: mean and one standard deviation between speakers (some spreads are ours)",
    };

    return captions[label];
}

char *words_chart_title(const aperta_result *result)
{
    g_autofree char *base = result->file != NULL ? g_path_get_basename(result->file) : NULL;
    g_autofree char *name = aperta_shown(base);

    return g_strdup_printf("Vowel chart: %s", name);
}

char *words_chart_settings(const aperta_result *result)
{
    return g_strdup_printf(result->settings.voice_guessed ? "%s; voice: %s (guessed)" : "%s; voice: %s",
                           result->settings.rules_title != NULL ? result->settings.rules_title : "",
                           aperta_voice_word(result->settings.voice));
}

char *words_chart_description(const aperta_result *result)
{
    return g_strdup_printf(
        "F2 from right to left, F1 downward. %u notes with their intervals over the spoken vowels of the "
        "reference table; arrows lead from flagged notes to the shapes to try.",
        result->notes->len);
}

char *words_chart_note_hover(const aperta_sung_note *note)
{
    g_autofree char *vowel = words_note_vowel_label(note, FALSE);
    g_autofree char *f1 = words_resonance(&aperta_sung_note_resonances(note)[0]);
    g_autofree char *f2 = words_resonance(&aperta_sung_note_resonances(note)[1]);
    const aperta_finding *finding = result_shape_in(note->advice);
    const char *level = aperta_level_word(aperta_sung_note_level(note));

    if (!result_note_spoken_of(note))
        return g_strdup_printf("note %d, %s, %s: F1 %s, F2 %s; no advice", note->number, note->name, vowel, f1, f2);
    if (finding == NULL)
        return g_strdup_printf("note %d, %s, %s: F1 %s, F2 %s; %s", note->number, note->name, vowel, f1, f2, level);
    g_autofree char *shape = words_shape_label(finding->shape, FALSE);
    return g_strdup_printf("note %d, %s, %s: F1 %s, F2 %s; %s, try %s", note->number, note->name, vowel, f1, f2, level,
                           shape);
}

char *words_chart_source(const aperta_result *result, gboolean all_numbered)
{
    return g_strdup_printf(all_numbered ? "Spoken vowels: %s. Numbers beside the marks are those of the notes."
                                        : "Spoken vowels: %s. Numbers beside the marks are those of the notes, flagged "
                                          "ones where there is room.",
                           result->settings.table->title);
}

char *words_chart_trust(const aperta_result *result)
{
    g_autofree char *trust = aperta_trust_text(&result->trust);

    return g_strdup_printf("Trust: %s", trust);
}

char *words_chart_absent(const GPtrArray *notes)
{
    if (notes->len > LISTED_MAX)
        return g_strdup_printf("Not shown, because F1 or F2 cannot be told: %u notes.", notes->len);
    g_autofree char *list = words_number_list(notes);
    return g_strdup_printf(notes->len == 1 ? "Not shown, because F1 or F2 cannot be told: note %s."
                                           : "Not shown, because F1 or F2 cannot be told: notes %s.",
                           list);
}
