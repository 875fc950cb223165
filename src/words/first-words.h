/* first-words.h - what to try first, in words for a singer. Strings are the caller's to free. */
#ifndef WORDS_FIRST_WORDS_H
#define WORDS_FIRST_WORDS_H

#include "words/words.h"

/* Above n of them, which may be 0; static. */
const char *words_try_heading(guint n);
/* "“ee” and “oo” on C5 to E5: notes 4, 9 and 12, first at 0:03.2." */
char *words_try_in_take(const aperta_try *one, const aperta_key *key);
/* "“see”, “green” and others on A4 to C5: 10 % of the singing." */
char *words_try_on_sheet(const aperta_sheet *sheet, const aperta_try *one);
/* One of the things to try first. */
typedef struct {
    char *matter;            /* in one sentence without numbers */
    gboolean repeats_matter; /* of the thing before it, so that it need not be said again */
    char *step;     /* the ladder's first, or what the rule says where it has no shape; NULL: it says nothing */
    char *how;      /* the step is made; NULL: it is none of jaw, tongue and lips */
    char *exercise; /* toward the lowest of its notes: five notes whose top is a third below it, then it itself, then
                     * the phrase (that order is common practice, no source); NULL: a rule of somebody's own */
} words_first;
words_first *words_first_in_take(const aperta_result *result, guint index);
words_first *words_first_on_sheet(const aperta_sheet *sheet, guint index);
void words_first_free(words_first *first);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(words_first, words_first_free)
/* What is to be printed of it below one another; free with g_strfreev. */
char **words_first_paragraphs(const words_first *first);
/* Matter, step and how in a row. */
char *words_first_text(const words_first *first);

#endif
