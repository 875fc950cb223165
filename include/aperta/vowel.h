/* aperta/vowel.h - the vowels, reference tables of their resonances, and the name of a vowel that was heard. */
#ifndef APERTA_VOWEL_H
#define APERTA_VOWEL_H

#include <aperta/base.h>

G_BEGIN_DECLS

typedef enum { APERTA_HEIGHT_CLOSE, APERTA_HEIGHT_MID, APERTA_HEIGHT_OPEN } aperta_height;
typedef enum { APERTA_PLACE_FRONT, APERTA_PLACE_CENTRAL, APERTA_PLACE_BACK } aperta_place;

/* A vowel as a person names it; static, never freed. */
typedef struct {
    const char *ipa;        /* "ɛ", no length marks */
    const char *respelling; /* "eh", unique */
    const char *key_word;   /* "bed" */
    aperta_height height;   /* close i ɪ y u ʊ; mid e ø ɛ œ ə ɝ ʌ o ɔ; open æ a ɑ ɒ */
    aperta_place place;
    gboolean rounded;
    gboolean r_coloured;
} aperta_vowel;

/* By exact IPA; NULL when unknown. */
const aperta_vowel *aperta_vowel_by_ipa(const char *ipa);
/* By IPA (length marks ignored) or respelling, as a teacher would type it; NULL when it is neither. */
const aperta_vowel *aperta_vowel_parse(const char *text);
/* All of them; *n is their number. */
const aperta_vowel *aperta_vowel_all(gsize *n);

/* One row of a published table. */
typedef struct {
    const aperta_vowel *vowel;
    double hz[APERTA_N_RESONANCES];    /* means; 0 where the source gives none (has[i] FALSE) */
    double sd_hz[APERTA_N_RESONANCES]; /* spread between speakers */
    gboolean has[APERTA_N_RESONANCES];
    gboolean sd_published; /* FALSE: the source gives no spread; sd_hz is ours (see vowel-tuning.h) */
    gboolean expected;     /* not of this table: scaled from cardinal vowels, see aperta_vowel_table_complete */
    gboolean open_target;  /* FALSE: not to be used as a shape to open towards (a regional value) */
} aperta_vowel_row;

typedef struct {
    char *name;         /* "hillenbrand1995-women": file name without .tsv */
    char *title;        /* "American English women, Hillenbrand et al. 1995" */
    char *source;       /* citation, table and page */
    char *status;       /* "from the source", "secondary", "from memory, unchecked" */
    aperta_voice voice; /* WOMAN, MAN or CHILD */
    guint n_rows;
    aperta_vowel_row *rows;
} aperta_vowel_table;

/* name: a table of the reference data, or the path of a .tsv file of one's own (it contains '/' or ends in .tsv).
 * Errors: NOT_FOUND (the message lists the names there are), FORMAT (file, line, column). */
aperta_vowel_table *aperta_vowel_table_load(const char *name, GError **error);
void aperta_vowel_table_free(aperta_vowel_table *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_vowel_table, aperta_vowel_table_free)
/* Names of all shipped tables, sorted; free with g_strfreev. */
char **aperta_vowel_table_names(GError **error);
/* The table used for a voice when none is asked for; static. */
const char *aperta_vowel_table_for_voice(aperta_voice voice);
const aperta_vowel_row *aperta_vowel_table_row(const aperta_vowel_table *table,
                                               const aperta_vowel *vowel); /* or NULL */

/* A copy of a table with a row for every vowel of the cardinal table, the central vowels and schwa: where the table has
 * none, values to expect, scaled to its voice from the cardinal vowels of one man (complete.c), with a wide spread, no
 * F3, and `expected` set; a report should say "expected". They are no targets to open towards. Free it as the other.
 * For a lyric in a language the table was not made for; hearing should keep to measured rows. */
aperta_vowel_table *aperta_vowel_table_complete(const aperta_vowel_table *table, GError **error);

/* A vowel named from its resonances. */
typedef struct {
    const aperta_vowel *heard; /* NULL: cannot be told */
    double confidence;         /* 0..1, probability among the table's vowels */
    const aperta_vowel *next;  /* runner-up, or NULL */
} aperta_vowel_hearing;

/* Names by probability under each row's mean and spread, with the interval of each resonance as further uncertainty and
 * an allowance for singers' shapes. f0_hz lowers the confidence where listeners lose the vowel too. */
aperta_vowel_hearing aperta_vowel_hear(const aperta_vowel_table *table,
                                       const aperta_resonance resonances[APERTA_N_RESONANCES], double f0_hz);

/* Distance in the F1-F2 plane, Bark. All > 0. */
double aperta_vowel_distance_bark(double f1_a_hz, double f2_a_hz, double f1_b_hz, double f2_b_hz);

G_END_DECLS

#endif
