/* csv-parts.h - fields of a CSV line, RFC 4180; a comma stands before each but the first. */
#ifndef REPORT_CSV_PARTS_H
#define REPORT_CSV_PARTS_H

#include "words/words.h"

void csv_text(GString *out, const char *text); /* NULL: empty */
void csv_number(GString *out, gboolean known, double value, int decimals);
/* level, rule and words of the first finding; then the shape: IPA, name, F1, F2, way. */
void csv_finding(GString *out, const GPtrArray *advice);
#define CSV_FINDING_COLUMNS "level,rule,advice,shape_ipa,shape_name,shape_f1_hz,shape_f2_hz,shape_moved_bark"

#endif
