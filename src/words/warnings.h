/* warnings.h - the sentences of warnings, by what they are about. */
#ifndef WORDS_WARNINGS_H
#define WORDS_WARNINGS_H

#include "words/words.h"

/* About a table of vowels (table-warnings.c), and about a score and its words (score-warnings.c); NULL: the warning is
 * of another kind. The caller frees. */
char *words_table_warning(const aperta_warning *warning);
char *words_score_warning(const aperta_warning *warning);

#endif
