/* sheet-words.h - the words that all renderings of a score's sheet share. Strings are the caller's to free unless said
 * to be static. */
#ifndef REPORT_SHEET_WORDS_H
#define REPORT_SHEET_WORDS_H

#include "words/words.h"

/* ---- what stands at a note -------------------------------------------------------------------------------------- */

/* The first finding with a shape; NULL: none. */
const aperta_finding *sheet_shape(const aperta_sheet_note *note);
aperta_level sheet_level(const aperta_sheet_note *note);
/* What is printed under a note, NULL for nothing: "eh↓" (sing that), "(aw)" (try that, if you like), "watch" or
 * the rule's own word (no shape), each with "?" behind it where it makes another word. */
char *sheet_mark(const aperta_sheet_note *note);
/* That word where there is no shape: "lighter", "change", "watch". Static, or the finding's. */
const char *sheet_plain_mark(const aperta_finding *finding);
/* The syllable as it stands in a line: "wa-", "ter", "_" where a vowel goes on, "" where nothing is sung. */
char *sheet_syllable(const aperta_sheet_verse *verse, const aperta_sheet_note *note);
/* The sounds below it: "wɔ"; "" where nothing begins. Static, or the note's. */
const char *sheet_sounds(const aperta_sheet_note *note);

/* What the signs mean, one sentence each, those that the sheet has; NULL-terminated, g_strfreev. */
char **sheet_legend(const aperta_sheet *sheet);

/* ---- what stands above and around the lines -----------------------------------------------------------------------
 */

/* The title of the piece, else the name of its file. */
char *sheet_title(const aperta_sheet *sheet);
/* "words: ..., music: ..."; NULL: the score does not say. */
char *sheet_authors(const aperta_sheet *sheet);

typedef struct {
    const char *label; /* "Voice"; static */
    char *text;
} sheet_fact;

/* Part, range, key, voice, table, style, language: an array of sheet_fact. */
GArray *sheet_facts(const aperta_sheet *sheet);

/* "Verse 2", or "" where there is only one. */
char *sheet_verse_title(const aperta_sheet *sheet, const aperta_sheet_verse *verse);
/* "bar 3" or "bars 3–5", of a line of notes; "" where bars have no numbers. */
char *sheet_bars(const aperta_sheet *sheet, const aperta_sheet_verse *verse, const aperta_laid_line *line);
const aperta_sheet_verse *sheet_verse(const aperta_sheet *sheet, guint index);
const aperta_sheet_note *sheet_note_at(const aperta_sheet *sheet, guint index);
/* Lines without words are shown once, with the first verse. */
gboolean sheet_shows_line(const aperta_sheet *sheet, const aperta_sheet_verse *verse, const aperta_laid_line *line);

/* ---- advice ----------------------------------------------------------------------------------------------------- */

/* "12 % of the singing": weight as a share of what could be judged. */
char *sheet_share(const aperta_sheet *sheet, double weight_s);
/* One sentence: how much of the song wants change and watching. */
char *sheet_summary(const aperta_sheet *sheet);
/* What a group is told first: "change" to another vowel, "open" the same one, the rule's own word ("lighter") where
 * there is no shape, "watch". Static, or the finding's. */
const char *sheet_group_word(const aperta_sheet_group *group);
/* "i “ee” (see) → ɛ “eh, jaw wide” (bed), on C5 to E5". */
char *sheet_group_change(const aperta_sheet_group *group);
/* A little part of the singing, and asked for by a rule whose words stand at a heavier group: it is told in one line.
 */
gboolean sheet_group_is_brief(const aperta_sheet *sheet, guint index);
/* That line: "i “ee” (see) → ɛ “eh” (bed), on C5 (2 % of the singing): sea (C5)". */
char *sheet_group_line(const aperta_sheet *sheet, const aperta_sheet_group *group);
/* "see (C5), green (A4), sea (C5, twice)": the words of a group and where they lie. */
char *sheet_group_places(const aperta_sheet_group *group);
/* "“see” on C5": the note that stands for a group. */
char *sheet_group_who(const aperta_sheet_group *group);
/* "Aim: F1 about 850 Hz, F2 about 2030 Hz."; NULL: no shape. */
char *sheet_group_aim(const aperta_sheet_group *group);
/* Other words that the shape would make and what to do, one sentence each; NULL-terminated, g_strfreev. */
char **sheet_group_risks(const aperta_sheet_group *group);
/* Each rule that flagged something, once, with its reason and source: an array of char *, freed with it. */
GPtrArray *sheet_reasons(const aperta_sheet *sheet);

/* ---- keys ------------------------------------------------------------------------------------------------------- */

/* "E♭ major, 3 down"; "as written" for none. */
char *sheet_key_name(const aperta_sheet *sheet, const aperta_sheet_key *key);
/* Whether it is the one that a transposed sheet is in. */
gboolean sheet_key_is_own(const aperta_sheet *sheet, const aperta_sheet_key *key);
/* The best few in words. NULL: no keys were tried. */
char *sheet_keys_summary(const aperta_sheet *sheet);
/* "For a sheet in E♭ major: --transpose -2."; NULL: this is the easiest. */
char *sheet_keys_hint(const aperta_sheet *sheet);
/* "A3" */
char *sheet_pitch_in(const aperta_sheet_key *key, int midi);

#endif
