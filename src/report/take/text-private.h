/* text-private.h - the parts of the text report. */
#ifndef REPORT_TEXT_PRIVATE_H
#define REPORT_TEXT_PRIVATE_H

#include "report/draw/page-parts.h"

/* ---- parts of the report ---------------------------------------------------------------------------------------- */

void text_brief(text_page *page, const aperta_result *result);       /* text-brief.c: a short report, whole */
void text_try_first(text_page *page, const aperta_result *result);   /* the same file: how a long one begins, too */
void text_notes_table(text_page *page, const aperta_result *result); /* text-table.c */
void text_advice(text_page *page, const aperta_result *result);      /* text-advice.c */
void text_explanations(text_page *page, const aperta_result *result);
void text_doubts(text_page *page, const aperta_result *result); /* text-doubts.c: what could not be told, corrections */

#endif
