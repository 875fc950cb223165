/* text-private.h - a page of text for a terminal: widths, wrapping, colours. */
#ifndef REPORT_TEXT_PRIVATE_H
#define REPORT_TEXT_PRIVATE_H

#include "report-private.h"

typedef struct {
    GString *out;
    int columns;
    int table_columns; /* >= columns */
    gboolean colour;
} text_page;

typedef enum { TEXT_PLAIN, TEXT_TITLE, TEXT_FINE, TEXT_WATCH, TEXT_CHANGE, TEXT_QUIET } text_ink;
text_ink text_level_ink(aperta_level level);

/* ---- page.c ----------------------------------------------------------------------------------------------------- */

/* Columns that text takes on a terminal: 0 for combining marks, 2 for wide characters. */
int text_width(const char *text);
/* Appends text in a colour, filled up with blanks to width (0: as it is); right: the blanks stand before it. */
void text_put(text_page *page, text_ink ink, const char *text, int width, gboolean right);
void text_title(text_page *page, const char *title); /* an empty line, then the title */
/* Breaks text at blanks; the first line starts with lead, the following ones with blanks of indent columns. */
void text_wrap(text_page *page, text_ink lead_ink, const char *lead, int indent, const char *text);

/* ---- note-groups.c: notes that are told the same thing are told it once ------------------------------------------ */

typedef struct {
    char *key;           /* what they have in common */
    GPtrArray *notes;    /* const aperta_sung_note *, in order of time */
    GPtrArray *findings; /* const aperta_finding *, one a note; NULL where the group is not about advice */
} note_group;

GPtrArray *note_groups_new(void); /* of note_group, in the order their first note came */
/* Adds note to the group of that key, which it takes over. */
void note_groups_add(GPtrArray *groups, char *key, const aperta_sung_note *note, const aperta_finding *finding);
/* "Note 5", "Notes 1–3 and 9". The caller frees. */
char *note_group_names(const note_group *group);

/* ---- advice in words (text-advice.c); also for sheets ------------------------------------------------------------ */

/* The words of a rule, see report_tell. */
void text_put_words(text_page *page, const aperta_finding *finding, const char *who, gboolean same_words,
                    GHashTable *told);
/* Each rule that flagged something, once: its reason and its source. findings: const aperta_finding *. */
void text_put_reasons(text_page *page, const GPtrArray *findings);

/* ---- parts that every report has (text.c) ------------------------------------------------------------------------ */

text_page text_page_new(const aperta_report_text_options *options);
void text_header_line(text_page *page, const char *label, const char *text);
void text_warnings(text_page *page, const char *title, const GPtrArray *warnings);
void text_cautions(text_page *page, const char *const *cautions);

/* ---- parts of the report ---------------------------------------------------------------------------------------- */

void text_notes_table(text_page *page, const aperta_result *result); /* text-table.c */
void text_advice(text_page *page, const aperta_result *result);      /* text-advice.c */
void text_explanations(text_page *page, const aperta_result *result);
void text_doubts(text_page *page, const aperta_result *result); /* text-doubts.c: what could not be told, corrections */

#endif
