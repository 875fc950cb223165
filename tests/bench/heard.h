/* heard.h - sung or spoken vowels whose names are known, and how often they are heard right: by person, as five
 * classes.
 *
 * A vowel counts as right in five classes: front mid vowels are e, back mid ones o, near-close ones i or u, open and
 * central ones a; the figure of a person is the mean over the classes. Each note is named four times, from linear
 * prediction's values and from the pooled fit's posterior (lpc, fit):
 *
 *     table   by one table, that of the voice
 *     take    in a take of all that the person said
 *     vowel   in a take of one vowel: scales and exercises
 *     astray  the same, the voice told being the other one (a man's notes read and named as a woman's)
 *
 * Some people are there to choose by, the others to judge what was chosen; their means are printed apart. */
#ifndef TESTS_HEARD_H
#define TESTS_HEARD_H

#include <aperta/base.h>

enum { HEARD_LETTERS = 5, HEARD_NOTES_MAX = 128 };
extern const char HEARD_LETTER[HEARD_LETTERS + 1]; /* "aeiou" */

typedef enum { HEARD_CHOOSE, HEARD_JUDGE, HEARD_N_SIDES } heard_side;

typedef struct {
    guint letter;
    guint take; /* notes of one letter and one take were sung together */
    double f0_hz;
    aperta_posterior fit[2], lpc[2]; /* read as a man's, as a woman's */
} heard_note;

typedef struct {
    const char *label;
    heard_side side;
    gboolean woman;
    guint n;
    heard_note notes[HEARD_NOTES_MAX];
} heard_person;

/* What is kept of all people. */
typedef struct heard_board heard_board;
heard_board *heard_board_new(void);
void heard_board_free(heard_board *board);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(heard_board, heard_board_free)

/* Reads the loudest part of the sound, whatever the notes would be (a letter is no song), as a man's and as a woman's.
 * band_hz: where a narrow recording ends, 0 for the whole. FALSE: no voice was found. */
gboolean heard_listen(heard_person *person, const float *samples, gsize n, double band_hz, guint letter, guint take);
/* The same of a file. */
gboolean heard_listen_to_file(heard_person *person, const char *path, guint letter, guint take);

/* Names all notes of a person and, if wanted, prints a line. */
void heard_add(heard_board *board, const heard_person *person, gboolean print);
/* Means of each side, and of the judging one how sure and how right names were. FALSE: nobody was heard. */
gboolean heard_print(const heard_board *board, const char *title);

#endif
