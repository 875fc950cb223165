/* text-advice.c - the flagged notes in words, and with --explain which rules spoke and why the others did not.
 *
 * Notes that are asked for the same shape are told it once; the words of a rule, which may hold the numbers of one
 * note, are then printed for the first of them. */
#include "report/take/text-private.h"
#include "result/query.h"
#include "result/silences.h"
#include "words/doubt-sentences.h"
#include "words/take-words.h"

#define VOWELS_TOGETHER 2 /* of more vowels in a group each is told its own notes */

static void put_headline(text_page *page, const aperta_group *group)
{
    g_autofree char *line = words_group_headline(group->notes, group->findings);
    g_autofree char *lead = g_strdup_printf("  %s ", aperta_level_word(group->level));

    text_wrap(page, text_level_ink(group->level), lead, TEXT_INDENT, line);
}

/* Which notes each vowel of a group was sung on, where there are several vowels. */
static void put_vowels(text_page *page, const aperta_group *group)
{
    g_autoptr(GPtrArray) by_vowel = result_by_vowel(group->notes);

    for (guint i = 0; by_vowel->len > VOWELS_TOGETHER && i < by_vowel->len; i++) {
        g_autofree char *line = words_vowel_places(g_ptr_array_index(by_vowel, i));
        text_wrap(page, TEXT_PLAIN, "    - ", TEXT_INDENT + 2, line);
    }
}

static void put_group(text_page *page, const aperta_group *group, GHashTable *told)
{
    words_whom whom = {.number = group->sung->number, .same_words = TRUE};

    for (guint i = 0; i < group->findings->len; i++)
        whom.same_words =
            whom.same_words && words_findings_alike(g_ptr_array_index(group->findings, i), group->finding);
    put_headline(page, group);
    text_put_words(page, group->finding, &whom, told);
    put_vowels(page, group);
}

static void put_list(text_page *page, const GPtrArray *notes, text_ink ink, const char *lead, const char *meaning)
{
    g_autofree char *line = words_doubt_line(notes, meaning);

    text_wrap(page, ink, lead, TEXT_INDENT, line);
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
    const GPtrArray *groups = result->groups;
    g_autoptr(GHashTable) told = words_told_new();
    g_autoptr(GPtrArray) findings = g_ptr_array_new();

    text_title(page, words_take_heading(groups->len > 0 ? WORDS_TAKE_ADVICE : WORDS_TAKE_NO_ADVICE));
    for (guint i = 0; i < groups->len; i++) {
        const aperta_group *group = aperta_group_at(groups, i);
        if (i > 0)
            g_string_append_c(page->out, '\n');
        put_group(page, group, told);
        g_ptr_array_add(findings, (gpointer)group->finding);
    }
    put_unflagged(page, result, groups->len > 0);
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
