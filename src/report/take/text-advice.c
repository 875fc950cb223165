/* text-advice.c - the flagged notes in words, and with --explain which rules spoke and why the others did not.
 *
 * Notes that are asked for the same shape are told it once; the words of a rule, which may hold the numbers of one
 * note, are then printed for the first of them. */
#include "report/take/text-private.h"
#include "result/query.h"
#include "result/silences.h"
#include "words/doubt-sentences.h"
#include "words/take-words.h"

#define INDENT          4
#define VOWELS_TOGETHER 2 /* of more vowels in a group each is told its own notes */

static char *advice_key(const aperta_sung_note *note, const aperta_finding *finding)
{
    const aperta_vowel *vowel = aperta_sung_note_told(note);
    const aperta_shape *shape = finding->shape;

    /* without a shape the words are about the pitch rather than about one vowel */
    if (shape == NULL)
        return g_strdup(finding->rule);
    if (shape->vowel == vowel)
        return g_strdup_printf("%s keep %s", finding->rule, vowel->ipa);
    /* "ee" and "ih" go to "eh" in one way, "oo" and "er" to "uh" in two: lips, or the tip of the tongue */
    return g_strdup_printf("%s %s %d %d", finding->rule, shape->vowel->ipa, vowel != NULL && vowel->rounded,
                           vowel != NULL && vowel->r_coloured);
}

static GPtrArray *groups_of_level(const aperta_result *result, aperta_level level)
{
    GPtrArray *groups = note_groups_new();

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        for (guint f = 0; f < result_length(note->advice); f++) {
            const aperta_finding *finding = g_ptr_array_index(note->advice, f);
            if (finding->level == level)
                note_groups_add(groups, advice_key(note, finding), note, finding);
        }
    }
    return groups;
}

static void put_headline(text_page *page, const note_group *group)
{
    const aperta_finding *finding = g_ptr_array_index(group->findings, 0);
    g_autofree char *line = words_group_headline(group->notes, group->findings);
    g_autofree char *lead = g_strdup_printf("  %s ", aperta_level_word(finding->level));

    text_wrap(page, text_level_ink(finding->level), lead, INDENT, line);
}

void text_put_words(text_page *page, const aperta_finding *finding, const words_whom *whom, GHashTable *told)
{
    g_auto(GStrv) paragraphs = words_tell(told, finding, whom);

    for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
        text_wrap(page, TEXT_PLAIN, "", INDENT, *paragraph);
}

/* Which notes each vowel of a group was sung on, where there are several vowels. */
static void put_vowels(text_page *page, const note_group *group)
{
    g_autoptr(GPtrArray) by_vowel = note_groups_new();

    for (guint i = 0; i < group->notes->len; i++) {
        const aperta_sung_note *note = g_ptr_array_index(group->notes, i);
        note_groups_add(by_vowel, words_note_vowel_label(note, FALSE), note, NULL);
    }
    for (guint i = 0; by_vowel->len > VOWELS_TOGETHER && i < by_vowel->len; i++) {
        const note_group *one = g_ptr_array_index(by_vowel, i);
        g_autofree char *line = words_vowel_places(one->notes);
        text_wrap(page, TEXT_PLAIN, "    - ", INDENT + 2, line);
    }
}

static void put_group(text_page *page, const note_group *group, GHashTable *told)
{
    const aperta_finding *first = g_ptr_array_index(group->findings, 0);
    const aperta_sung_note *note = g_ptr_array_index(group->notes, 0);
    gboolean same_words = TRUE;

    for (guint i = 1; i < group->findings->len; i++) {
        const aperta_finding *finding = g_ptr_array_index(group->findings, i);
        same_words = same_words && words_findings_alike(finding, first);
    }
    const words_whom whom = {.number = note->number, .same_words = same_words};
    put_headline(page, group);
    text_put_words(page, first, &whom, told);
    put_vowels(page, group);
}

void text_put_reasons(text_page *page, const GPtrArray *reasons)
{
    if (reasons->len > 0)
        text_title(page, words_take_heading(WORDS_TAKE_REASONS));
    for (guint i = 0; i < reasons->len; i++)
        text_wrap(page, TEXT_PLAIN, "  - ", INDENT, g_ptr_array_index(reasons, i));
}

static void put_list(text_page *page, const GPtrArray *notes, text_ink ink, const char *lead, const char *meaning)
{
    g_autofree char *line = words_doubt_line(notes, meaning);

    text_wrap(page, ink, lead, INDENT, line);
}

/* Notes that nothing is asked of: that a rule called fine is another thing than that no rule had a word for it. */
static void put_unflagged(text_page *page, const aperta_result *result, gboolean after_advice)
{
    g_autoptr(GPtrArray) fine = g_ptr_array_new();
    g_autoptr(GPtrArray) silences = result_silences(result);

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        gboolean dark = aperta_sung_note_resonances(note)[0].status == APERTA_UNKNOWN;
        if (!dark && result_note_spoken_of(note) && !result_note_flagged(note))
            g_ptr_array_add(fine, (gpointer)note);
    }
    if (fine->len + silences->len > 0 && after_advice)
        g_string_append_c(page->out, '\n');
    if (fine->len > 0)
        put_list(page, fine, TEXT_FINE, "  fine ", words_fine());
    for (guint i = 0; i < silences->len; i++) {
        const result_silence *silence = g_ptr_array_index(silences, i);
        g_autofree char *why = words_silence(silence->silence, silence->reach_midi, &result->key);
        put_list(page, silence->notes, TEXT_PLAIN, "  ", why);
    }
}

void text_advice(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) change = groups_of_level(result, APERTA_LEVEL_CHANGE);
    g_autoptr(GPtrArray) watch = groups_of_level(result, APERTA_LEVEL_WATCH);
    GPtrArray *const levels[2] = {change, watch};
    g_autoptr(GHashTable) told = words_told_new();
    g_autoptr(GPtrArray) findings = g_ptr_array_new();

    text_title(page, words_take_heading(change->len + watch->len > 0 ? WORDS_TAKE_ADVICE : WORDS_TAKE_NO_ADVICE));
    for (int l = 0; l < 2; l++) {
        for (guint i = 0; i < levels[l]->len; i++) {
            if (findings->len > 0)
                g_string_append_c(page->out, '\n');
            const note_group *group = g_ptr_array_index(levels[l], i);
            put_group(page, group, told);
            g_ptr_array_add(findings, g_ptr_array_index(group->findings, 0));
        }
    }
    put_unflagged(page, result, change->len + watch->len > 0);
    g_autoptr(GPtrArray) reasons = words_reasons(findings);
    text_put_reasons(page, reasons);
}

static void put_explanations(text_page *page, const GPtrArray *explanations)
{
    g_autoptr(GPtrArray) lines = words_explanations(explanations);

    for (guint i = 0; i < lines->len; i++) {
        const words_explanation *line = g_ptr_array_index(lines, i);
        text_wrap(page, TEXT_PLAIN, line->spoke ? "    + " : "    - ", 6, line->text);
    }
}

void text_explanations(text_page *page, const aperta_result *result)
{
    gboolean titled = FALSE;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (note->explanations == NULL)
            continue;
        if (!titled)
            text_title(page, words_take_heading(WORDS_TAKE_EXPLANATIONS));
        titled = TRUE;
        g_autofree char *line = words_explained_note(note);
        text_wrap(page, TEXT_TITLE, "  ", 2, line);
        put_explanations(page, note->explanations);
    }
}
