/* text-private.h - the parts of the text report. */
#ifndef REPORT_TEXT_PRIVATE_H
#define REPORT_TEXT_PRIVATE_H

#include "report/draw/page.h"
#include "words/words.h"

/* ---- note-groups.c: notes that are told the same thing are told it once ------------------------------------------ */

typedef struct {
    char *key;           /* what they have in common */
    GPtrArray *notes;    /* const aperta_sung_note *, in order of time */
    GPtrArray *findings; /* const aperta_finding *, one a note; NULL where the group is not about advice */
} note_group;

GPtrArray *note_groups_new(void); /* of note_group, in the order their first note came */
/* Adds note to the group of that key, which it takes over. */
void note_groups_add(GPtrArray *groups, char *key, const aperta_sung_note *note, const aperta_finding *finding);

/* ---- advice in words (text-advice.c); also for sheets ------------------------------------------------------------ */

/* The words of a rule, see words_tell. */
void text_put_words(text_page *page, const aperta_finding *finding, const words_whom *whom, GHashTable *told);
/* Why the rules ask for it, see words_reasons. */
void text_put_reasons(text_page *page, const GPtrArray *reasons);

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
