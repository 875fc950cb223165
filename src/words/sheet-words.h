/* sheet-words.h - what all renderings of a score's sheet say. Strings are the caller's to free unless said to be static
 * (or the sheet's); NULL where it says so.
 *
 *   sheet-signs.c     what stands at the notes, and what the signs mean
 *   sheet-facts.c     what stands above and beside the lines
 *   sheet-changes.c   how much is asked for, and group by group what
 *   sheet-risks.c     other words that a shape would make
 *   other-keys.c      the keys that were tried
 *   sheet-captions.c  headings, and the words of the pictures
 */
#ifndef WORDS_SHEET_WORDS_H
#define WORDS_SHEET_WORDS_H

#include "result/sheet-mark.h"
#include "words/words.h"

/* ---- what stands at a note (sheet-signs.c) ----------------------------------------------------------------------- */

/* What is printed under a note, NULL for nothing: "eh↓" (sing that), "(aw)" (try that, if you like), "watch" or
 * the rule's own word (no shape), each with "?" behind it where it makes another word. */
char *words_sheet_mark(const result_sheet_mark *mark);
/* The word where there is no shape: "lighter", "change", "watch". Static, or the finding's. */
const char *words_sheet_mark_word(const result_sheet_mark *mark);
/* What is printed in a marked score under note number note, from 0, for all verses: "eh↓", or "1: eh↓ 3: aw" where
 * they differ. NULL: nothing. */
char *words_sheet_score_mark(const aperta_sheet *sheet, guint note);
/* The syllable as it stands in a line: "wa-", "ter", "_" where a vowel goes on, "" where nothing is sung. */
char *words_sheet_syllable(const aperta_sheet_verse *verse, const aperta_sheet_note *note);
/* The sounds below it: "wɔ"; "" where nothing begins. */
char *words_sheet_sounds(const aperta_sheet_note *note);
/* What the signs mean, those that the sheet has, with ";" between them: a sentence; "": there are none. */
char *words_sheet_legend(const aperta_sheet *sheet);

/* ---- what stands above and around the lines (sheet-facts.c) ------------------------------------------------------ */

/* The title of the piece, else the name of its file. */
char *words_sheet_title(const aperta_sheet *sheet);
/* "words: ..., music: ..."; NULL: the score does not say. */
char *words_sheet_authors(const aperta_sheet *sheet);

/* Part, range, key, voice, table, style, language: an array of words_fact. */
GArray *words_sheet_facts(const aperta_sheet *sheet, words_where where);
/* "Verse 2"; NULL where there is only one. */
char *words_sheet_verse_title(const aperta_sheet *sheet, const aperta_sheet_verse *verse);
/* "bar 3" or "bars 3–5", of a line of notes; NULL where bars have no numbers. */
char *words_sheet_bars(const aperta_sheet *sheet, const aperta_sheet_verse *verse, const aperta_laid_line *line);

/* ---- advice (sheet-changes.c, sheet-risks.c) --------------------------------------------------------------------- */

/* "12 %": weight as a share of what could be judged. */
char *words_sheet_share(const aperta_sheet *sheet, double weight_s);
/* One sentence: how much of the song wants change and watching. */
char *words_sheet_summary(const aperta_sheet *sheet);
/* What a group is told first: "change" to another vowel, "open" the same one, the rule's own word ("lighter") where
 * there is no shape, "watch". Static, or the finding's. */
const char *words_sheet_group_word(const aperta_group *group);
/* "i “ee” (see) → ɛ “eh” (bed), jaw wide, on C5 to E5". */
char *words_sheet_group_change(const aperta_group *group);
/* The same with its share: "...: 12 % of the singing". */
char *words_sheet_group_headline(const aperta_sheet *sheet, const aperta_group *group);
/* A brief group in one line: "i “ee” (see) → ɛ “eh” (bed), on C5 (2 % of the singing): sea (C5)". */
char *words_sheet_group_line(const aperta_sheet *sheet, const aperta_group *group);
/* "In: see (C5), green (A4), sea (C5, 2 times).": the words of a group and where they lie. */
char *words_sheet_group_where(const aperta_group *group);
/* The same, and "12 % of the singing." */
char *words_sheet_group_where_and_share(const aperta_sheet *sheet, const aperta_group *group);
/* The note that stands for a group. */
words_whom words_sheet_group_whom(const aperta_group *group);
/* "Aim: F1 about 850 Hz, F2 about 2030 Hz."; NULL: no shape. */
char *words_sheet_group_aim(const aperta_group *group);
/* Other words that the shape would make and what to do, a text each; NULL-terminated, g_strfreev. */
char **words_sheet_group_risks(const aperta_group *group);
/* Each rule that flagged something, once, with its reason and source: an array of char *, freed with it. */
GPtrArray *words_sheet_reasons(const aperta_sheet *sheet);

/* ---- keys (other-keys.c) ----------------------------------------------------------------------------------------- */

/* "E♭ major, 3 down"; "C major, as written". */
char *words_sheet_key_name(const aperta_sheet *sheet, const aperta_sheet_key *key);
/* "A3" */
char *words_sheet_pitch_in(const aperta_sheet_key *key, int midi);
/* "A3–D5" */
char *words_sheet_key_range(const aperta_sheet_key *key);
/* "this sheet, beyond": what a table says beside a key; NULL: nothing. Static. */
const char *words_sheet_key_remark(const aperta_sheet *sheet, const aperta_sheet_key *key);
/* What the signs of a table of keys mean; static. */
const char *words_sheet_keys_legend(void);
/* The best few in words. NULL: no keys were tried. */
char *words_sheet_keys_summary(const aperta_sheet *sheet, words_where where);
/* "For a sheet in E♭ major: --transpose -2.", on a screen; NULL: this is the easiest. */
char *words_sheet_keys_hint(const aperta_sheet *sheet);

/* ---- headings and pictures (sheet-captions.c) -------------------------------------------------------------------- */

typedef enum {
    WORDS_SHEET_LINES,
    WORDS_SHEET_ADVICE,
    WORDS_SHEET_REASONS,
    WORDS_SHEET_REMARKS,
    WORDS_SHEET_CARE,
    WORDS_SHEET_KEYS,
    WORDS_SHEET_VOWELS,
} words_sheet_part;
const char *words_sheet_heading(words_sheet_part part); /* static */
/* "Sheet: The Ferry Bell" */
char *words_sheet_name(const aperta_sheet *sheet);

/* What stands in a picture whatever the song. */
typedef enum {
    WORDS_ROWS_TITLE,
    WORDS_ROWS_CONTINUED, /* a line that goes on in a further row */
    WORDS_KEYS_TITLE,
    WORDS_KEYS_AXIS,
    WORDS_KEYS_CHANGE,
    WORDS_KEYS_WATCH,
    WORDS_KEYS_OWN,
    WORDS_SONG_TITLE,
    WORDS_SONG_DESCRIPTION,
    WORDS_SONG_WAY,    /* an arrow and the ring at its end */
    WORDS_SONG_SILENT, /* the marks of vowels, in order of the levels */
    WORDS_SONG_FINE,
    WORDS_SONG_WATCH,
    WORDS_SONG_CHANGE,
} words_sheet_label;
const char *words_sheet_caption(words_sheet_label label); /* static */

/* What is told where the pointer rests on a note: pitch, word, advice. */
char *words_sheet_hover(const aperta_sheet_note *note);
/* What a screen reader says of a note: "see C5 (change: eh, jaw wide)", "way D5 (lighter)", "held C5". */
char *words_sheet_spoken_note(const aperta_sheet_verse *verse, const aperta_sheet_note *note);
/* And of a line of them, NULL-terminated. */
char *words_sheet_spoken_line(const char *title, char **notes);
/* Beside the bar of a key: "12 %, beyond range". */
char *words_sheet_key_figure(const aperta_sheet *sheet, const aperta_sheet_key *key);
char *words_sheet_key_hover(const aperta_sheet *sheet, const aperta_sheet_key *key);
/* "C4–C5": where the song sings a vowel; "": nowhere. */
char *words_sheet_pitches(const aperta_sheet *sheet, const aperta_expectation *expected);
char *words_sheet_vowel_hover(const aperta_sheet *sheet, const aperta_expectation *expected);
/* Of the way from a note's vowel to a shape. */
char *words_sheet_way_hover(const aperta_sheet_note *note, const aperta_shape *to);
/* Where the ellipses of spoken vowels are from; borrows: some are from other tables. */
char *words_sheet_ellipses(const aperta_sheet *sheet, gboolean spreads_published, gboolean borrows);

#endif
