/* csv-writer.h - tables for a spreadsheet. Fields as in RFC 4180, lines end in LF. */
#ifndef REPORT_CSV_WRITER_H
#define REPORT_CSV_WRITER_H

#include <glib.h>

typedef struct {
    GString *out;
    gboolean in_row; /* a field stands in the row already */
} csv_writer;

/* A table of the columns names ("a,b"), with one for a file before them where with_file: only its header. */
GString *csv_header(gboolean with_file, const char *columns);
/* Begins a row; file, if not NULL, is its first field. */
void csv_begin_row(csv_writer *csv, const char *file);
/* On one line, without commands to a screen; what a spreadsheet would take for a formula has an apostrophe before it.
 * NULL: empty. */
void csv_text(csv_writer *csv, const char *text);
void csv_integer(csv_writer *csv, int value);
void csv_number(csv_writer *csv, gboolean known, double value, int decimals); /* not known: empty */
void csv_end_row(csv_writer *csv);

#endif
