/* aperta/report.h - renderings of one result. A renderer computes nothing; it only sets out what the result holds. */
#ifndef APERTA_REPORT_H
#define APERTA_REPORT_H

#include <aperta/result.h>

G_BEGIN_DECLS

typedef struct {
    gboolean brief;    /* what to try first, what works and the notes in order; FALSE: all that is known */
    gboolean colour;   /* terminal colours; every mark is also a word */
    int columns;       /* line width; less than 60 is taken as 60, 0: 80 */
    int table_columns; /* of the table of notes, which may be wider than lines of words are read well; 0: columns */
} aperta_report_text_options;

/* Each returns a string the caller frees; UTF-8, numbers never follow the locale. */
char *aperta_report_text(const aperta_result *result, const aperta_report_text_options *options);
char *aperta_report_json(const aperta_result *result); /* schema aperta/take-1 */
char *aperta_report_csv(const aperta_result *result);  /* one line a note */
/* The same of several takes in one table, whose first column is the file: the header, and the rows of one take; file is
 * what its rows say. */
char *aperta_report_csv_header(void);
char *aperta_report_csv_rows(const aperta_result *result, const char *file);
/* Of many takes one line each, what to try first in the last columns: the header, and the row of one take; file is what
 * it says. */
char *aperta_report_overview_header(void);
char *aperta_report_overview_row(const aperta_result *result, const char *file);
/* time_s,f0_hz,voicing,f1_hz,f2_hz,f3_hz; a field is empty where there is no value. */
char *aperta_report_frames_csv(const aperta_result *result);

/* The vowel chart: reference table with its spreads, the take's notes with their intervals, arrows to advised shapes.
 */
char *aperta_report_chart_svg(const aperta_result *result);
/* Harmonics of each flagged note against F1, F2 and 2 f0; NULL when no note is flagged. */
char *aperta_report_harmonics_svg(const aperta_result *result);

/* ---- a score's sheet --------------------------------------------------------------------------------------------- */

char *aperta_report_sheet_text(const aperta_sheet *sheet, const aperta_report_text_options *options);
char *aperta_report_sheet_json(const aperta_sheet *sheet); /* schema aperta/sheet-1 */
char *aperta_report_sheet_csv(const aperta_sheet *sheet);  /* one line a note */
/* As for takes. */
char *aperta_report_sheet_csv_header(void);
char *aperta_report_sheet_csv_rows(const aperta_sheet *sheet, const char *file);
/* One page that needs no other file, for screens (light and dark) and for printing. */
char *aperta_report_sheet_html(const aperta_sheet *sheet);

typedef enum { APERTA_PAPER_A4, APERTA_PAPER_LETTER } aperta_paper;
/* The same as pages. Error: FORMAT when a picture cannot be drawn. */
GBytes *aperta_report_sheet_pdf(const aperta_sheet *sheet, aperta_paper paper, GError **error);
/* What is printed under the flagged notes, for aperta_score_write_marked: an array of aperta_score_mark whose texts it
 * owns. A note that several verses flag has one mark for all: "1: eh↓ 2: aw" where they differ. */
GArray *aperta_report_sheet_marks(const aperta_sheet *sheet);

/* ---- pictures and files ------------------------------------------------------------------------------------------ */

typedef enum { APERTA_PICTURE_SVG, APERTA_PICTURE_PNG, APERTA_PICTURE_PDF } aperta_picture;
/* By the ending of the name; FALSE when it is none of the three. */
gboolean aperta_report_picture_kind(const char *path, aperta_picture *kind);
/* Turns an SVG of ours into the bytes of a picture. */
GBytes *aperta_report_picture(const char *svg, aperta_picture kind, GError **error);

/* Writes bytes to a file whole or not at all: an existing file is replaced only when all is written; a device such as
 * /dev/full or a pipe is written to directly. Error: UNWRITABLE. */
gboolean aperta_report_write(const char *path, const void *bytes, gsize n, GError **error);

G_END_DECLS

#endif
