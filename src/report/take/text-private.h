/* text-private.h - the parts of the text report. */
#ifndef REPORT_TEXT_PRIVATE_H
#define REPORT_TEXT_PRIVATE_H

#include "report/draw/page.h"
#include "words/words.h"

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
