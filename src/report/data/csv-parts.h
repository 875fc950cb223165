/* csv-parts.h - fields that takes and sheets write alike. */
#ifndef REPORT_CSV_PARTS_H
#define REPORT_CSV_PARTS_H

#include "report/data/csv-writer.h"

/* level, rule and words of the first finding; then the shape: IPA, name, F1, F2, way. advice may be NULL. */
void csv_finding(csv_writer *csv, const GPtrArray *advice);
#define CSV_FINDING_COLUMNS "level,rule,advice,shape_ipa,shape_name,shape_f1_hz,shape_f2_hz,shape_moved_bark"

#endif
