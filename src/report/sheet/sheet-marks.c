/* sheet-marks.c - what is printed under the flagged notes of a marked score. */
#include "words/sheet-words.h"

#include <aperta/report.h>

#include <string.h>

static void mark_clear(gpointer data)
{
    g_free(((aperta_score_mark *)data)->text);
}

/* The mark of one note of the part in all verses: "eh↓", or "1: eh↓ 3: aw" where they differ. NULL: none. */
static char *mark_of(const aperta_sheet *sheet, guint note)
{
    g_autoptr(GString) each = g_string_new(NULL);
    g_autofree char *first = NULL;
    gboolean same = TRUE;

    for (guint v = 0; v < sheet->verses->len; v++) {
        const aperta_sheet_verse *verse = sheet_verse(sheet, v);
        g_autofree char *mark = sheet_mark(sheet_note_at(sheet, verse->first_note + note));
        if (v == 0)
            first = g_strdup(mark);
        same = same && g_strcmp0(first, mark) == 0;
        if (mark != NULL)
            g_string_append_printf(each, "%s%d: %s", each->len > 0 ? " " : "", verse->number, mark);
    }
    if (same)
        return g_steal_pointer(&first);
    return each->len > 0 ? g_strdup(each->str) : NULL;
}

GArray *aperta_report_sheet_marks(const aperta_sheet *sheet)
{
    GArray *marks = g_array_new(FALSE, FALSE, sizeof(aperta_score_mark));

    g_array_set_clear_func(marks, mark_clear);
    for (guint i = 0; i < sheet->score->n_notes; i++) {
        char *text = mark_of(sheet, i);
        aperta_score_mark mark = {sheet->score->notes[i].element, text};
        if (text != NULL)
            g_array_append_val(marks, mark);
    }
    return marks;
}
