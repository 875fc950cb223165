/* aperta/align.h - the words of a verse laid under the notes of a score, and the vowel that each note is sung on. */
#ifndef APERTA_ALIGN_H
#define APERTA_ALIGN_H

#include <aperta/base.h>
#include <aperta/diction.h>
#include <aperta/score.h>

G_BEGIN_DECLS

typedef struct {
    char *text;  /* as a person reads it, punctuation left out: "water" */
    guint first; /* its syllables in the lists of the underlay; how many they are is in its aperta_diction_word */
} aperta_laid_word;

typedef struct {
    guint note; /* it begins on; an index of aperta_score.notes */
    guint word; /* index of aperta_underlay.words */
} aperta_laid_syllable;

/* What is sung on a note. */
typedef struct {
    int sung_on;       /* the syllable whose vowel it is sung on; -1: no words, or it cannot be told */
    guint n_begun;     /* syllables that begin on it; more than one is an elision */
    guint first_begun; /* index of aperta_underlay.syllables, if n_begun > 0 */
} aperta_laid_note;

/* Notes that a singer reads as one line of the lyric. */
typedef struct {
    guint first_note;
    guint n_notes;
    gboolean sung; /* FALSE: a stretch without words */
} aperta_laid_line;

/* One list a kind, in order of time; what has the same index in lists of one length belongs together. */
typedef struct {
    int verse; /* 1..; 0: the score has no words */
    guint n_words;
    aperta_laid_word *words;
    aperta_diction_word *spoken; /* the words as diction reads them; line_ends: a comma, a rest or the verse's end */
    guint n_syllables;
    aperta_laid_syllable *syllables;
    char **texts; /* as printed under the note, without the number of the verse: "wa"; NULL-terminated */
    aperta_syllable_sound *sounds; /* origin NONE until aperta_align_sing */
    guint n_notes;                 /* those of the score */
    aperta_laid_note *notes;
    guint n_lines;
    aperta_laid_line *lines; /* together they hold every note once */
} aperta_underlay;

/* The words of one verse. Notes without a syllable of their own go on with the vowel before them (a melisma) as long as
 * no rest lies between; a grace note before a syllable belongs to that syllable. verse: 1..n_verses, or 0. */
aperta_underlay *aperta_align_verse(const aperta_score *score, int verse);
void aperta_underlay_free(aperta_underlay *underlay);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_underlay, aperta_underlay_free)

/* All words with blanks between them, a line end after each line; for guessing the language. The caller frees. */
char *aperta_underlay_text(const aperta_underlay *underlay);

/* Fills in how the syllables sound. Where two share a note (an elision), the note is sung on the stressed one, else on
 * the more open vowel, else on the later one: common practice in Italian song, no source. */
void aperta_align_sing(aperta_underlay *underlay, aperta_diction *diction);

G_END_DECLS

#endif
