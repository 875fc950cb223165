/* sheet-query.h - small questions about a sheet that whoever tells it asks again and again. */
#ifndef RESULT_SHEET_QUERY_H
#define RESULT_SHEET_QUERY_H

#include <aperta/result.h>

const aperta_sheet_verse *result_sheet_verse(const aperta_sheet *sheet, guint index);
const aperta_sheet_note *result_sheet_note_at(const aperta_sheet *sheet, guint index);
/* Whether the word of the note's syllables goes on with the next syllable of the verse. */
gboolean result_sheet_word_goes_on(const aperta_sheet_verse *verse, const aperta_sheet_note *note);
/* FALSE for a typed song without bar lines, which is all one bar. */
gboolean result_sheet_has_bars(const aperta_sheet *sheet);
/* Lines without words are shown once, with the first verse. */
gboolean result_sheet_shows_line(const aperta_sheet *sheet, const aperta_sheet_verse *verse,
                                 const aperta_laid_line *line);
/* A little part of the singing, and asked for by a rule whose words stand at a heavier group. */
gboolean result_sheet_group_is_brief(const aperta_sheet *sheet, guint index);
/* Whether a key is the one that a transposed sheet is in. */
gboolean result_sheet_key_is_own(const aperta_sheet *sheet, const aperta_sheet_key *key);
/* NULL: no key was tried. */
const aperta_sheet_key *result_sheet_key_of_rank(const aperta_sheet *sheet, int rank);
/* Whether all keys that fit ask for as much, as far as whole percents show it. */
gboolean result_sheet_keys_alike(const aperta_sheet *sheet);

#endif
