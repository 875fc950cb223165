/* brief-words.c - what a short report of a take says around the things to try first: what works already, the notes in
 * order, and where the rest stands. */
#include "words/brief-words.h"

#include "result/query.h"
#include "words/take-words.h"

char *words_brief_title(const aperta_result *result)
{
    g_autofree char *title = words_take_title(result), *length = words_clock(result->seconds);
    g_autofree char *from = words_clock(result->from_s), *to = words_clock(result->to_s);

    if (result_read_in_part(result))
        return g_strdup_printf("%s (%s, read from %s to %s)", title, length, from, to);
    return g_strdup_printf("%s (%s)", title, length);
}

const char *words_brief_label(words_brief_line line)
{
    static const char *const labels[] = {
        [WORDS_BRIEF_VOICE] = "Voice", [WORDS_BRIEF_STYLE] = "Style", [WORDS_BRIEF_TRUST] = "Trust",
        [WORDS_BRIEF_WORKS] = "Works", [WORDS_BRIEF_ORDER] = "Order", [WORDS_BRIEF_CARE] = "Care",
        [WORDS_BRIEF_MORE] = "More",
    };

    return labels[line];
}

char *words_brief_first(const aperta_result *result, guint index, const words_first *first)
{
    g_autofree char *where = words_try_in_take(g_ptr_array_index(result->first, index), &result->key);

    return g_strdup_printf("%s %s", where, first->step != NULL ? first->step : first->matter);
}

/* ---- what works -------------------------------------------------------------------------------------------------- */

/* Notes that nothing is asked of, by what is known of them. */
typedef struct {
    guint n_fine;     /* a rule calls them so */
    guint n_unasked;  /* they lie where no rule of the style asks for anything */
    guint n_unjudged; /* too little is known of them */
} working;

static working count_working(const aperta_result *result)
{
    working count = {0};

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (result_note_flagged(note))
            continue;
        if (note->note.withheld != APERTA_WITHHELD_NOT || aperta_sung_note_resonances(note)[0].status == APERTA_UNKNOWN)
            count.n_unjudged++;
        else if (result_note_spoken_of(note))
            count.n_fine++;
        else if (note->silence != APERTA_SILENCE_UNTOLD && note->silence != APERTA_SILENCE_NONE)
            count.n_unasked++;
        else
            count.n_unjudged++;
    }
    return count;
}

char *words_brief_works(const aperta_result *result)
{
    working count = count_working(result);
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func(g_free);

    if (count.n_fine + count.n_unasked + count.n_unjudged == 0)
        return NULL;
    if (count.n_fine > 0)
        g_ptr_array_add(parts, g_strdup_printf(count.n_fine == 1 ? "%u of %u is fine: leave it so"
                                                                 : "%u of %u are fine: leave them so",
                                               count.n_fine, result->notes->len));
    if (count.n_unasked > 0)
        g_ptr_array_add(parts, g_strdup_printf("of %u this style asks nothing", count.n_unasked));
    if (count.n_unjudged > 0)
        g_ptr_array_add(parts, g_strdup_printf("of %u too little is known", count.n_unjudged));
    g_autofree char *all = words_join(parts, "; ", "; ");
    return g_strdup_printf("Notes: %s.", all);
}

/* ---- the notes in order ------------------------------------------------------------------------------------------ */

/* 1.. of what is to be tried first; 0: the note is in none. */
static guint number_of_try(const aperta_result *result, const aperta_sung_note *note)
{
    for (guint i = 0; i < result->first->len; i++) {
        const aperta_try *one = aperta_try_at(result->first, i);
        if (g_ptr_array_find(one->notes, note, NULL))
            return i + 1;
    }
    return 0;
}

char *words_brief_note(const aperta_result *result, const aperta_sung_note *note)
{
    const aperta_vowel *vowel = aperta_sung_note_told(note);
    const char *name = vowel != NULL ? vowel->respelling : "–";
    guint number = number_of_try(result, note);

    if (number > 0)
        return g_strdup_printf("%d: %s %s [%u]", note->number, note->name, name, number);
    if (result_note_flagged(note))
        return g_strdup_printf("%s %s (%s)", note->name, name, aperta_level_word(aperta_sung_note_level(note)));
    return g_strdup_printf("%s %s", note->name, name);
}

const char *words_brief_legend(const aperta_result *result)
{
    return result->first->len > 0 ? "Vowels as heard, – without a name; --sung tells what was meant. [1]: see above; "
                                    "(change), (watch): see "
                                    "--full."
                                  : "Vowels as heard, – without a name; --sung tells what was meant.";
}

/* ---- the end ----------------------------------------------------------------------------------------------------- */

const char *words_brief_care(void)
{
    return "Two minutes, easily; leave what works only with more pressure. Stop at once on pain, blood or a sudden "
           "loss "
           "of voice: see a doctor, also after two weeks of hoarseness. A teacher in the room knows more.";
}

const char *words_brief_more(void)
{
    return "With --full: all notes in numbers, the reasons, warnings and doubts.";
}
