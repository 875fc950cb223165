/* page.h - a page of text for a terminal: widths, wrapping, colours. */
#ifndef REPORT_PAGE_H
#define REPORT_PAGE_H

#include <aperta/report.h>

typedef struct {
    GString *out;
    int columns;
    int table_columns; /* >= columns */
    gboolean colour;
} text_page;

typedef enum { TEXT_PLAIN, TEXT_TITLE, TEXT_FINE, TEXT_WATCH, TEXT_CHANGE, TEXT_QUIET } text_ink;
text_page text_page_new(const aperta_report_text_options *options); /* NULL: as they are by default */
text_ink text_level_ink(aperta_level level);

/* Columns that text takes on a terminal: 0 for combining marks, 2 for wide characters. */
int text_width(const char *text);
/* Appends text in a colour, filled up with blanks to width (0: as it is); right: the blanks stand before it. */
void text_put(text_page *page, text_ink ink, const char *text, int width, gboolean right);
void text_title(text_page *page, const char *title); /* an empty line, then the title */
/* Breaks text at blanks; the first line starts with lead, the following ones with blanks of indent columns. */
void text_wrap(text_page *page, text_ink lead_ink, const char *lead, int indent, const char *text);

#endif
