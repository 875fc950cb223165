/* sheet-signs.c - what stands at the notes of a sheet, and what its signs mean. */
#include "result/sheet-query.h"
#include "words/sheet-words.h"

/* "eh", "eh↓" with the jaw let down, "ee›eh" between the two. */
static char *shape_sign(const result_sheet_mark *mark)
{
    const aperta_shape *shape = mark->shape;
    const char *jaw = mark->jaw_down ? "↓" : "";

    if (shape->before != NULL)
        return g_strdup_printf("%s›%s%s", shape->before->respelling, shape->vowel->respelling, jaw);
    return g_strdup_printf("%s%s", shape->vowel->respelling, jaw);
}

const char *words_sheet_mark_word(const result_sheet_mark *mark)
{
    return mark->own_word != NULL ? mark->own_word : aperta_level_word(mark->level);
}

char *words_sheet_mark(const result_sheet_mark *mark)
{
    if (mark->kind == RESULT_MARK_NONE)
        return NULL;
    if (mark->kind == RESULT_MARK_WORD)
        return g_strdup(words_sheet_mark_word(mark));
    g_autofree char *shape = shape_sign(mark);
    if (mark->kind == RESULT_MARK_SING)
        return g_strdup_printf(mark->other_word ? "%s?" : "%s", shape);
    return g_strdup_printf(mark->other_word ? "(%s)?" : "(%s)", shape);
}

char *words_sheet_score_mark(const aperta_sheet *sheet, guint note)
{
    g_autoptr(GPtrArray) each = g_ptr_array_new_with_free_func(g_free);
    result_sheet_mark first = {.kind = RESULT_MARK_NONE};
    gboolean same = TRUE;

    for (guint v = 0; v < sheet->verses->len; v++) {
        const aperta_sheet_verse *verse = result_sheet_verse(sheet, v);
        result_sheet_mark mark = result_sheet_mark_of(result_sheet_note_at(sheet, verse->first_note + note));
        g_autofree char *sign = words_sheet_mark(&mark);
        if (v == 0)
            first = mark;
        same = same && result_sheet_mark_equal(&first, &mark);
        if (sign != NULL)
            g_ptr_array_add(each, g_strdup_printf("%d: %s", verse->number, sign));
    }
    if (same)
        return words_sheet_mark(&first);
    return words_join(each, " ", " ");
}

char *words_sheet_syllable(const aperta_sheet_verse *verse, const aperta_sheet_note *note)
{
    if (note->syllable == NULL)
        return g_strdup(note->goes_on ? "_" : "");
    char *text = aperta_shown(note->syllable->text);
    if (!result_sheet_word_goes_on(verse, note) || g_str_has_suffix(text, "-"))
        return text;
    g_autofree char *part = text;
    return g_strdup_printf("%s-", part);
}

char *words_sheet_sounds(const aperta_sheet_note *note)
{
    return aperta_shown(note->syllable != NULL ? note->syllable->ipa : NULL);
}

/* ---- legend ------------------------------------------------------------------------------------------------------ */

typedef struct {
    gboolean shape, lower, between, optional, watch, doubt, melisma;
    const char *change; /* the word of a change without a shape; NULL: there is none */
} signs;

static signs signs_of(const aperta_sheet *sheet)
{
    signs found = {FALSE};

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = result_sheet_note_at(sheet, i);
        result_sheet_mark mark = result_sheet_mark_of(note);
        found.melisma |= note->goes_on;
        found.watch |= mark.kind == RESULT_MARK_WORD && mark.level == APERTA_LEVEL_WATCH;
        if (mark.kind == RESULT_MARK_WORD && mark.level == APERTA_LEVEL_CHANGE)
            found.change = words_sheet_mark_word(&mark);
        found.shape |= mark.shape != NULL;
        found.lower |= mark.jaw_down;
        found.between |= mark.shape != NULL && mark.shape->before != NULL;
        found.optional |= mark.kind == RESULT_MARK_TRY;
        found.doubt |= mark.other_word;
    }
    return found;
}

char *words_sheet_legend(const aperta_sheet *sheet)
{
    const signs found = signs_of(sheet);
    g_autofree char *change = g_strdup_printf("%s: no other shape to sing, see below", found.change);
    const struct {
        gboolean needed;
        const char *text;
    } rows[] = {
        {sheet->score->n_verses > 0, "Above each syllable its pitch, below it how it is sung (IPA)"},
        {found.shape, "below that the vowel shape to sing, respelled"},
        {found.lower, "↓ with the jaw let down further than in speech"},
        {found.between, "› on the way from one vowel to the other"},
        {found.optional, "in brackets: only if you like"},
        {found.change != NULL, change},
        {found.watch, "watch: listen to it, see below"},
        {found.doubt, "? may be heard as another word, see below"},
        {found.melisma, "_ the vowel before goes on"},
    };
    g_autoptr(GPtrArray) parts = g_ptr_array_new();

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        if (rows[i].needed)
            g_ptr_array_add(parts, (gpointer)rows[i].text);
    if (parts->len == 0)
        return g_strdup("");
    g_autofree char *all = words_join(parts, "; ", "; ");
    return g_strdup_printf("%s.", all);
}
