/* csv-parts.c - fields that takes and sheets write alike. */
#include "report/data/csv-parts.h"
#include "result/query.h"

#include <aperta/words.h>

/* A note with more findings has them in the JSON. */
void csv_finding(csv_writer *csv, const GPtrArray *advice)
{
    const aperta_finding *finding = result_length(advice) > 0 ? g_ptr_array_index(advice, 0) : NULL;
    const aperta_shape *shape = finding != NULL ? finding->shape : NULL;
    g_autofree char *text = finding != NULL ? aperta_finding_text(finding) : NULL;
    g_autofree char *name = shape != NULL ? aperta_shape_name(shape) : NULL;

    csv_text(csv, finding != NULL ? aperta_level_word(finding->level) : NULL);
    csv_text(csv, finding != NULL ? finding->rule : NULL);
    csv_text(csv, text);
    csv_text(csv, shape != NULL ? shape->vowel->ipa : NULL);
    csv_text(csv, name);
    csv_number(csv, shape != NULL, shape != NULL ? shape->f1_hz : 0.0, 1);
    csv_number(csv, shape != NULL, shape != NULL ? shape->f2_hz : 0.0, 1);
    csv_number(csv, shape != NULL, shape != NULL ? shape->moved_bark : 0.0, 2);
}
