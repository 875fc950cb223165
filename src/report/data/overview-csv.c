/* overview-csv.c - many takes in one table: a line each, and what to try first. */
#include "report/data/csv-parts.h"
#include "result/query.h"
#include "words/brief-words.h"

#include <aperta/report.h>

char *aperta_report_overview_header(void)
{
    return g_string_free(csv_header(TRUE, "seconds,voice,style,notes,change,watch,trust,try_1,try_2,try_3"), FALSE);
}

static guint count(const aperta_result *result, aperta_level level)
{
    guint n = 0;

    for (guint i = 0; i < result->notes->len; i++)
        n += aperta_sung_note_level(result_note_at(result, i)) == level;
    return n;
}

static void append_first(csv_writer *csv, const aperta_result *result, guint index)
{
    if (index >= result->first->len) {
        csv_text(csv, NULL);
        return;
    }
    g_autoptr(words_first) first = words_first_in_take(result, index);
    g_autofree char *line = words_brief_first(result, index, first);
    csv_text(csv, line);
}

char *aperta_report_overview_row(const aperta_result *result, const char *file)
{
    csv_writer csv = {g_string_new(NULL), FALSE};
    g_autofree char *trust = aperta_trust_text(&result->trust);

    csv_begin_row(&csv, file);
    csv_number(&csv, TRUE, result->to_s - result->from_s, 1);
    csv_text(&csv, result->notes->len > 0 ? aperta_voice_word(result->settings.voice) : NULL);
    csv_text(&csv, result->settings.style);
    csv_integer(&csv, (int)result->notes->len);
    csv_integer(&csv, (int)count(result, APERTA_LEVEL_CHANGE));
    csv_integer(&csv, (int)count(result, APERTA_LEVEL_WATCH));
    csv_text(&csv, trust);
    for (guint i = 0; i < APERTA_TRIES_MAX; i++)
        append_first(&csv, result, i);
    csv_end_row(&csv);
    return g_string_free(csv.out, FALSE);
}
