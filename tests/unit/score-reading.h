/* score-reading.h - short MusicXML for tests, and a reading written as one line of text.
 *
 * show() writes the notes of a score so: "C4@0+1 {1:moon} D4@1+0.5 {1:wa- 2:-ter}": name, start and length in quarters,
 * then for each verse its syllable; a hyphen behind it: the word goes on; before it: the word has begun. */
#ifndef SCORE_READING_H
#define SCORE_READING_H

#include <aperta/score.h>

/* One part "Voice" whose bars are given; bars such as "<measure number='1'>...</measure>". */
char *one_part(const char *bars);
/* The same with one bar in 4/4, divisions 2 (a quarter lasts 2). */
char *one_bar(const char *notes);

/* "C#4 2 moon": a quarter with the syllable "moon" of verse 1, syllabic single ("wa-" begin, "-ter" end, "-ter-"
 * middle; no third word: no lyric). extra goes behind <type> and before the lyric. */
char *note_xml(const char *pitch, int duration, const char *lyric, const char *extra);

/* Joins texts up to a NULL, and frees them. */
char *joined(char *first, ...) G_GNUC_NULL_TERMINATED;
/* Part "P1", Piano, and part "P2", Mezzo, of one bar each, divisions 2. */
char *two_parts(const char *first, const char *second);

/* The reading of text, which must succeed. */
aperta_score *read_text(const char *text);
aperta_score *read_text_with(const char *text, const char *part, int octave);
/* The message of the reading, which must fail with code. */
char *failure_of(const void *bytes, gsize n, int code);

const aperta_score_note *note_of(const aperta_score *score, guint index);
char *show(const aperta_score *score);
/* Reads, shows and compares. */
void expect_shown(const char *text, const char *expected);
/* Is there a remark whose sentence contains words? */
gboolean has_remark(const aperta_score *score, const char *words);

#endif
