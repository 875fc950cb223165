/* text-doubts.c - what could not be told, what is only known from one side, and what a teacher told or corrected. */
#include "report/take/text-private.h"
#include "words/doubt-sentences.h"

#define LINES_MAX   8 /* lines about one kind of doubt; more of them are drawn together */
#define NUMBERS_MAX 3 /* the same, of lines that are numbers only */

static int by_number(gconstpointer a, gconstpointer b)
{
    return (*(const aperta_sung_note *const *)a)->number - (*(const aperta_sung_note *const *)b)->number;
}

static void put_line(text_page *page, const GPtrArray *notes, const char *sentence)
{
    g_autofree char *line = words_doubt_line(notes, sentence);

    text_wrap(page, TEXT_PLAIN, "  - ", 4, line);
}

/* All notes of some doubts, each once, in order of time. */
static GPtrArray *notes_of(const GPtrArray *doubts)
{
    GPtrArray *notes = g_ptr_array_new();

    for (guint i = 0; i < doubts->len; i++) {
        const result_doubt *doubt = g_ptr_array_index(doubts, i);
        for (guint n = 0; n < doubt->notes->len; n++)
            if (!g_ptr_array_find(notes, g_ptr_array_index(doubt->notes, n), NULL))
                g_ptr_array_add(notes, g_ptr_array_index(doubt->notes, n));
    }
    g_ptr_array_sort(notes, by_number);
    return notes;
}

/* One line a doubt; where there are too many of them, one line for all, which says it in general. */
static void put_doubts(text_page *page, const GPtrArray *doubts, result_doubts_part part, guint lines_max)
{
    if (doubts->len > lines_max) {
        g_autoptr(GPtrArray) notes = notes_of(doubts);
        put_line(page, notes, words_doubts_in_general(part));
        return;
    }
    for (guint i = 0; i < doubts->len; i++) {
        const result_doubt *doubt = g_ptr_array_index(doubts, i);
        g_autofree char *sentence = words_doubt(doubt);
        put_line(page, doubt->notes, sentence);
    }
}

/* How what was told goes with what was heard. */
static void told_vowels(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) doubts = result_doubts(result, RESULT_DOUBTS_TOLD);
    guint n_alike, n_told = result_told_vowels(result, &n_alike);

    if (n_told == 0)
        return;
    g_autofree char *line = words_told_vowels(n_told, n_alike);
    text_title(page, words_doubts_heading(RESULT_DOUBTS_TOLD));
    text_wrap(page, TEXT_PLAIN, "  - ", 4, line);
    put_doubts(page, doubts, RESULT_DOUBTS_TOLD, LINES_MAX);
}

static void corrections(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) doubts = result_doubts(result, RESULT_DOUBTS_CORRECTED);

    if (doubts->len > 0 || result->n_removed > 0)
        text_title(page, words_doubts_heading(RESULT_DOUBTS_CORRECTED));
    put_doubts(page, doubts, RESULT_DOUBTS_CORRECTED, LINES_MAX);
    if (result->n_removed == 0)
        return;
    g_autofree char *line = words_removed(result->n_removed);
    text_wrap(page, TEXT_PLAIN, "  - ", 4, line);
}

void text_doubts(text_page *page, const aperta_result *result)
{
    static const struct {
        result_doubts_part part;
        guint lines_max;
    } parts[] = {
        {RESULT_DOUBTS_OF_SOUND, LINES_MAX},
        {RESULT_DOUBTS_OTHER_F1, NUMBERS_MAX},
        {RESULT_DOUBTS_MOVING, LINES_MAX},
        {RESULT_DOUBTS_OF_VOWELS, LINES_MAX},
    };
    gboolean titled = FALSE;

    corrections(page, result);
    told_vowels(page, result);
    for (gsize i = 0; i < G_N_ELEMENTS(parts); i++) {
        g_autoptr(GPtrArray) doubts = result_doubts(result, parts[i].part);
        if (doubts->len > 0 && !titled)
            text_title(page, words_doubts_heading(parts[i].part));
        titled = titled || doubts->len > 0;
        put_doubts(page, doubts, parts[i].part, parts[i].lines_max);
    }
}
