/* table-legend.c - what the signs in the table of notes mean, and what a narrow one leaves out. */
#include "words/take-words.h"

/* "vibrato, the intervals of F1 and F2 and how sure the vowels are" */
static GPtrArray *listed(const words_left_out *what)
{
    const struct {
        gboolean is_out;
        const char *name;
    } all[] = {
        {what->lengths, "lengths"},
        {what->vibrato, "vibrato"},
        {what->movements, "how F1 and F2 move"},
        {what->intervals, "the intervals of F1 and F2"},
        {what->confidence, "how sure the vowels are"},
    };
    GPtrArray *list = g_ptr_array_new();

    for (gsize i = 0; i < G_N_ELEMENTS(all); i++)
        if (all[i].is_out)
            g_ptr_array_add(list, (gpointer)all[i].name);
    return list;
}

char *words_table_left_out(const words_left_out *what, int columns)
{
    g_autoptr(GPtrArray) out = listed(what);
    g_autofree char *list = words_join(out, ", ", " and ");

    if (out->len == 0)
        return NULL;
    return g_strdup_printf(out->len > 1
                               ? "No room was left for %s: a terminal of %d columns shows them, and --json has them."
                               : "No room was left for %s: a terminal of %d columns shows it, and --json has it.",
                           list, columns);
}

const char *words_table_legend(words_table_note note)
{
    static const char *const sentences[] = {
        [WORDS_TABLE_INTERVALS] =
            "F1 and F2 with their 90 % interval: ± where it is about as wide on both sides, else from – to; ± "
            "after vibrato: up and down from the middle.",
        [WORDS_TABLE_DISTANCE] =
            "F1 to 2f0: by how many semitones (st) F1 lies above (+) or below (−) the second harmonic (2f0), an octave "
            "above the note; … between the ends of a wide interval, < where only a limit is known. ? cannot be told; "
            "behind a vowel: it is unsure.",
        [WORDS_TABLE_MOVES] = "→ between two values or vowels: from the start of the note to its end.",
        [WORDS_TABLE_TOLD] =
            "Vowel told: as you said it was meant; the advice is about that vowel. Vowel heard: what the sound alone "
            "says.",
    };

    return sentences[note];
}
