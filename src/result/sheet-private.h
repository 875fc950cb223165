/* sheet-private.h - what the files of a score's sheet share.
 *
 *   sheet.c           the flow: score -> words -> vowels -> advice
 *   sheet-language.c  the language of a verse
 *   sheet-expect.c    where the resonances of a vowel are expected
 *   sheet-notes.c     what is sung on each note, and what is said of it
 *   sheet-risk.c      which other words a shape would make
 *   sheet-melisma.c   one shape for one syllable
 *   sheet-keys.c      the same song higher and lower
 *   sheet-warnings.c  what to know before believing it */
#ifndef SHEET_PRIVATE_H
#define SHEET_PRIVATE_H

#include "result/result-private.h"

/* ---- result.c ---- */

/* Takes over the score; freed with aperta_sheet_free. */
aperta_sheet *sheet_new(aperta_score *score, const aperta_sheet_options *options);

/* ---- sheet-warnings.c ---- */

void sheet_warn_about_score(aperta_sheet *sheet); /* what its reader remarked, and what it lacks */
void sheet_warn_about_empty_verse(aperta_sheet *sheet, int verse);
/* Of which syllables diction was not sure. */
void sheet_warn_about_sounds(aperta_sheet *sheet, const aperta_sheet_verse *verse);
/* What nobody said, or what does not fit together: who sings what, and how. */
void sheet_warn_about_settings(aperta_sheet *sheet, const aperta_sheet_options *options);
void sheet_warn_about_tables(aperta_sheet *sheet);
void sheet_warn_about_other_words(aperta_sheet *sheet);

/* ---- sheet-language.c ---- */

/* Fills verse->language, from and confidence. named: by the user; NULL: by nobody. A language that cannot be pronounced
 * is a remark, and in a song typed by hand an error (APERTA_ERROR_FORMAT). */
gboolean sheet_find_language(aperta_sheet *sheet, aperta_sheet_verse *verse, const char *named, GError **error);

/* ---- sheet-expect.c ---- */

typedef struct sheet_expect sheet_expect;

/* The sheet is kept by the caller; what is expected is added to sheet->expectations. named: the user asked for the
 * sheet's table. */
sheet_expect *sheet_expect_new(aperta_sheet *sheet, gboolean named);
void sheet_expect_free(sheet_expect *from);
/* ipa: a reference vowel, or NULL. NULL: it is none that Aperta can name. The sheet keeps it. */
const aperta_expectation *sheet_expect_vowel(sheet_expect *from, const char *ipa);
/* What a judge is asked about a note whose vowel is expected and known. */
result_question sheet_question(const sheet_expect *from, const aperta_sheet_note *note);

/* ---- sheet-notes.c ---- */

/* A sheet, where its vowels are expected, and who judges them. */
typedef struct {
    aperta_sheet *sheet;
    sheet_expect *expect;
    result_judge *judge;
} sheet_judging;

/* How much of the singing asks for something. */
typedef struct {
    guint n_change, n_watch;
    double all_s, change_s, watch_s;
} sheet_weight;

/* Adds the notes of a verse, whose words have their sounds, with what the rules say of each. */
void sheet_add_notes(const sheet_judging *on, aperta_sheet_verse *verse);
/* Whether the rules are asked about it: its vowel is known, and it is no grace note. */
gboolean sheet_is_judged(const aperta_sheet_note *note);
/* Adds a note of which that is asked. */
void sheet_weigh(sheet_weight *sum, aperta_level level, double weight_s);
void sheet_weigh_notes(aperta_sheet *sheet);

/* ---- sheet-risk.c ---- */

/* Which shapes that are asked for in a verse make another word of what is sung. diction: NULL is allowed. */
void sheet_find_risks(const sheet_judging *on, const aperta_sheet_verse *verse, aperta_diction *diction);
void sheet_risk_free(aperta_word_risk *risk); /* NULL is allowed */

/* ---- sheet-melisma.c, groups.c, sheet-keys.c ---- */

/* Makes the notes of each syllable that want a change agree on one; n notes of a verse from first. */
void sheet_agree_in_melismas(aperta_sheet *sheet, guint first, guint n);

void sheet_find_groups(aperta_sheet *sheet);
void sheet_try_keys(const sheet_judging *on, int from, int to);

static inline aperta_sheet_note *sheet_note(const aperta_sheet *sheet, guint i)
{
    return g_ptr_array_index(sheet->notes, i);
}

/* The same from a score in memory, which it takes over (also when it fails). */
aperta_sheet *sheet_of_score(aperta_score *score, const aperta_sheet_options *options, GError **error);

#endif
