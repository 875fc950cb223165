/* page-parts.h - what the text reports of takes and of sheets have in common. */
#ifndef REPORT_PAGE_PARTS_H
#define REPORT_PAGE_PARTS_H

#include "report/draw/page.h"
#include "words/first-words.h"

#define TEXT_LABEL_COLUMNS 10 /* "  Voice   " */
#define TEXT_INDENT        4

void text_header_line(text_page *page, const char *label, const char *text);
void text_warnings(text_page *page, const char *title, const GPtrArray *warnings);
void text_cautions(text_page *page, const char *const *cautions);
/* The words of a rule, see words_tell. */
void text_put_words(text_page *page, const aperta_finding *finding, const words_whom *whom, GHashTable *told);
/* One of the things to try first, with its number and where it is wanted. */
void text_put_first(text_page *page, guint number, aperta_level level, const char *where, const words_first *first);
/* Why the rules ask for it, see words_reasons. */
void text_put_reasons(text_page *page, const GPtrArray *reasons);

#endif
