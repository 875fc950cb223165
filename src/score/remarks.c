/* remarks.c - life of what a reader remarks, as records; src/words makes sentences of them. */
#include "score/score-private.h"

void score_remark_clear(gpointer data)
{
    aperta_score_remark *remark = data;

    g_free(remark->part_id);
    g_free(remark->part_name);
    g_free(remark->voice);
    g_free(remark->main_voice);
    g_free(remark->text);
    g_strfreev(remark->syllables);
}

GArray *score_remarks_new(void)
{
    GArray *remarks = g_array_new(FALSE, TRUE, sizeof(aperta_score_remark));

    g_array_set_clear_func(remarks, score_remark_clear);
    return remarks;
}

void score_remark(GArray *remarks, aperta_score_remark remark)
{
    g_array_append_val(remarks, remark);
}

char **score_remark_texts(const GPtrArray *texts)
{
    char **copy = g_new0(char *, texts->len + 1);

    for (guint i = 0; i < texts->len; i++)
        copy[i] = g_strdup(g_ptr_array_index(texts, i));
    return copy;
}
