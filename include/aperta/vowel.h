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
    gboolean expected;     /* not of this table: see aperta_vowel_table_borrow */
    gboolean open_target;  /* FALSE: not to be used as a shape to open towards (a regional value) */
} aperta_vowel_row;

/* How sure the figures of a table are. */
typedef enum {
    APERTA_FIGURES_NOT_TOLD,
    APERTA_FIGURES_FROM_SOURCE, /* read in the publication itself */
    APERTA_FIGURES_SECONDARY,   /* from other people's copies of it */
    APERTA_FIGURES_FROM_MEMORY,
    APERTA_FIGURES_OTHER, /* a status of somebody's own */
} aperta_figures;

typedef struct {
    char *name;   /* "hillenbrand1995-women": file name without .tsv */
    char *title;  /* "American English women, Hillenbrand et al. 1995" */
    char *source; /* citation, table and page */
    char *status; /* as the file has it: "from the source", "secondary", "from memory, unchecked", its own words */
    aperta_figures figures; /* what that means */
    aperta_voice voice;     /* WOMAN, MAN or CHILD */
    guint speakers;         /* whose mean it is; 0: not given */
    gboolean sung;          /* where singing aims, no mean of speakers: no accent, and nothing to borrow from */
    guint n_rows;
    aperta_vowel_row *rows;
} aperta_vowel_table;

/* name: a table of the reference data, or the path of a .tsv file of one's own (it contains '/' or ends in .tsv).
 * Errors: NOT_FOUND (the message lists the names there are), UNREADABLE, FORMAT (file, line, column; larger than 1 MB),
 * INTERRUPTED. A pipe may be read more than once. */
aperta_vowel_table *aperta_vowel_table_load(const char *name, GError **error);
void aperta_vowel_table_free(aperta_vowel_table *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_vowel_table, aperta_vowel_table_free)
/* Names of all shipped tables, sorted; free with g_strfreev. */
char **aperta_vowel_table_names(GError **error);
/* The table used for a voice when none is asked for; static. */
const char *aperta_vowel_table_for_voice(aperta_voice voice);
const aperta_vowel_row *aperta_vowel_table_row(const aperta_vowel_table *table,
                                               const aperta_vowel *vowel); /* or NULL */

/* A vowel of another table, brought to the scale of this one by the vowels that both have (borrow.c), with a wider
 * spread and `expected` set: y of one study must not stand a third below the i of another. Where the tables share no
 * vowel the row comes as it is. FALSE: the other has not both F1 and F2 of it. */
gboolean aperta_vowel_table_borrow(const aperta_vowel_table *table, const aperta_vowel_table *other,
                                   const aperta_vowel *vowel, aperta_vowel_row *row);
/* A copy of a table where these rows are added, or stand in the place of its own. Free it as the other. */
aperta_vowel_table *aperta_vowel_table_with(const aperta_vowel_table *table, const aperta_vowel_row *rows,
                                            guint n_rows);
/* A copy of a table with a row for every vowel of the cardinal table, the central vowels and schwa: where the table has
 * none, values to expect from the cardinal vowels of one man, brought to its voice and scale (complete.c), with a wide
 * spread, no F3, and `expected` set; a report should say "expected". They are no targets to open towards. Free it as
 * the other. For a lyric in a language the table was not made for; hearing should keep to measured rows. */
aperta_vowel_table *aperta_vowel_table_complete(const aperta_vowel_table *table, GError **error);

/* What a vowel is named by: each vowel of a table, as that table has it and, if wanted, as speakers of other accents
 * have it. Keeps nothing of the table. */
typedef struct aperta_vowel_ear aperta_vowel_ear;

/* Knows the table alone. */
aperta_vowel_ear *aperta_vowel_ear_new(const aperta_vowel_table *table);
void aperta_vowel_ear_free(aperta_vowel_ear *ear); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_vowel_ear, aperta_vowel_ear_free)
/* Adds the same vowels as the other shipped tables of several speakers, and of singing, have them, brought to the voice
 * of the ear's own table: for a singer whose accent nobody named. And those of the other group of grown-up voices:
 * doubt is the probability that the singer's tract is as long as theirs, which is never taken for nothing. Errors:
 * those of reading the tables. */
gboolean aperta_vowel_ear_add_accents(aperta_vowel_ear *ear, double doubt, GError **error);
/* Takes a note as evidence of the singer's accent, whatever its vowel is: accents whose vowels lie where notes were
 * heard gain weight. Nothing happens with the table alone, nor for a posterior without modes. */
void aperta_vowel_ear_listen(aperta_vowel_ear *ear, const aperta_posterior *posterior);

/* After all notes of a take were listened to: is it an exercise on one vowel? Then names that do not fit lose weight.
 * Nothing happens with the table alone. */
void aperta_vowel_ear_expect_exercise(aperta_vowel_ear *ear, const aperta_posterior *const *notes, guint n);
/* MAN or WOMAN (CHILD for a child's table): whose accents have the more weight, after what was listened to. */
aperta_voice aperta_vowel_ear_voice(const aperta_vowel_ear *ear);

/* As much of a vowel as can be told where its name cannot. */
typedef struct {
    gboolean known;
    gboolean has_height, has_place; /* at least one of them */
    aperta_height height;
    aperta_place place;
    double confidence; /* 0..1 */
} aperta_vowel_class;

const char *aperta_height_word(aperta_height height); /* "close", "mid", "open"; static */
const char *aperta_place_word(aperta_place place);    /* "front", "central", "back"; static */
/* Whether a vowel belongs to a class that is known; r-coloured vowels belong to none. */
gboolean aperta_vowel_class_has(const aperta_vowel_class *vowel_class, const aperta_vowel *vowel);

/* One of the vowels that a note may have been sung on. */
typedef struct {
    const aperta_vowel *vowel;
    double share; /* 0..1, of the probability */
} aperta_vowel_share;

enum { APERTA_VOWEL_SHARES_MAX = 12 };

/* A vowel named from its resonances. */
typedef struct {
    const aperta_vowel *heard;      /* NULL: cannot be told */
    double confidence;              /* 0..1, probability among the table's vowels */
    const aperta_vowel *next;       /* runner-up, or NULL */
    double heights[3];              /* probability of each aperta_height; all 0: nothing is heard */
    double places[3];               /* and of each aperta_place */
    aperta_vowel_class vowel_class; /* known where the name is less than even, but its class is not */
    guint n_shares;                 /* the vowels it may be, the most probable first, by what was measured alone: */
    aperta_vowel_share shares[APERTA_VOWEL_SHARES_MAX]; /* what listeners lose is not taken off */
} aperta_vowel_hearing;

/* Names by probability over the whole posterior: each vowel's mean and spread, and an allowance for singers' shapes.
 * f0_hz lowers the confidence where listeners lose the vowel too. */
aperta_vowel_hearing aperta_vowel_hear(const aperta_vowel_ear *ear, const aperta_posterior *posterior, double f0_hz);

/* The resonances if the vowel is known to be this one: what was measured, weighted by where that vowel lies. All
 * unknown when the posterior has no modes or the table lacks the vowel. Never use it to name a vowel. */
void aperta_vowel_sharpen(const aperta_vowel_ear *ear, const aperta_posterior *posterior, const aperta_vowel *vowel,
                          aperta_resonance sharpened[APERTA_N_RESONANCES]);

/* Distance in the F1-F2 plane, Bark. All > 0. */
double aperta_vowel_distance_bark(double f1_a_hz, double f2_a_hz, double f1_b_hz, double f2_b_hz);

G_END_DECLS

#endif
