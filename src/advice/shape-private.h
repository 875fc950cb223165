/* shape-private.h - what the search for a shape (shape.c) and the steps on the way to it (ladder.c) share. */
#ifndef ADVICE_SHAPE_PRIVATE_H
#define ADVICE_SHAPE_PRIVATE_H

#include "advice/advice-private.h"

typedef struct {
    const aperta_vowel_table *table;
    const aperta_vowel *from;         /* the vowel that is sung */
    const aperta_vowel *vowel;        /* that, or the one on the way from which the search goes on */
    const aperta_vowel_row *row;      /* its spoken mean; NULL: not in the table */
    const aperta_vowel *const *avoid; /* NULL-terminated, or NULL */
    double f1_hz, f2_hz;              /* as sung, or as expected */
    double sung_f1_hz, sung_f2_hz;    /* the same of the vowel that was meant, where this one was only met on the way */
    double edge_hz;                   /* F1 must reach this */
    double opening;                   /* share */
    double stretch;                   /* the factor that opening may grow by before the tongue leaves its place */
    double inward;                    /* share of the way to the middle, at full opening */
    double sideways_bark;
    double middle_hz; /* F2 of the table's middle */
} shape_search;

/* How strange a vowel is to the singer of another, the least first. */
enum { STRANGE_TENSENESS = 1, STRANGE_LIPS, STRANGE_PLACE };

/* Where the vowel of the case stands and what the style allows; FALSE: not known. The case has an aim. */
gboolean shape_place_search(const advice_case *which, shape_search *search);
/* Whether F2 lies too far from the vowel's for the word. */
gboolean shape_is_far(const shape_search *search, const aperta_vowel *vowel, double f2_hz);
/* Whether anybody aims at the vowel. */
gboolean shape_is_aimed_at(const aperta_vowel *vowel);
/* More open in the table and on the chart, meant for singing, and no lips or tongue tip to learn anew. */
gboolean shape_is_open_neighbour(const shape_search *search, const aperta_vowel_row *row);
/* What jaw, tongue and lips do on the way from the vowel that is sung to the shape's. */
void shape_set_way(aperta_shape *shape, const aperta_vowel *from);
int shape_strangeness(const shape_search *search, const aperta_vowel *vowel);

#endif
