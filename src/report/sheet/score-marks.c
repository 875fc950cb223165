/* score-marks.c - what is printed under the flagged notes of a marked score. */
#include "words/sheet-words.h"

#include <aperta/report.h>

static void mark_clear(gpointer data)
{
    g_free(((aperta_score_mark *)data)->text);
}

GArray *aperta_report_sheet_marks(const aperta_sheet *sheet)
{
    GArray *marks = g_array_new(FALSE, FALSE, sizeof(aperta_score_mark));

    g_array_set_clear_func(marks, mark_clear);
    for (guint i = 0; i < sheet->score->n_notes; i++) {
        aperta_score_mark mark = {sheet->score->notes[i].element, words_sheet_score_mark(sheet, i)};
        if (mark.text != NULL)
            g_array_append_val(marks, mark);
    }
    return marks;
}
