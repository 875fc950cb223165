/* diphones.h - vowels that people recorded, held on any pitch by festival (Debian): the source and the resonances are
 * the person's own, and the resonances stay where they are whatever the pitch. So the true F1 of a high note is what
 * can be measured of the same vowel on a low one. */
#ifndef TESTS_DIPHONES_H
#define TESTS_DIPHONES_H

#include <glib.h>

enum { DIPHONE_LETTERS = 5, DIPHONE_LOW = 2, DIPHONE_PITCHES = 10 };
extern const char DIPHONE_LETTER[DIPHONE_LETTERS + 1]; /* "aeiou" */

typedef struct {
    const char *voice; /* as festival calls it */
    const char *label;
    gboolean woman;
    gboolean judges; /* FALSE: settings may be chosen by this person */
    const char *silence;
    const char *phones[DIPHONE_LETTERS]; /* a e i o u, long */
} diphone_singer;

extern const diphone_singer DIPHONE_SINGERS[];
extern const gsize DIPHONE_N_SINGERS;

/* The pitches of a singer, Hz, the first DIPHONE_LOW for the truth. */
const double *diphone_pitches_hz(const diphone_singer *singer);
/* All vowels on all pitches, one letter after the other, as one file. FALSE: festival or the voice is not installed. */
gboolean diphone_sing(const diphone_singer *singer, const char *path);
/* When note i of a letter is held in that file: its middle, s. */
double diphone_middle_s(guint letter, guint pitch);

#endif
