/* quantity.h - what a condition may ask about, and in which unit. */
#ifndef ADVICE_QUANTITY_H
#define ADVICE_QUANTITY_H

#include <aperta/base.h>

typedef enum {
    ADVICE_UNIT_NUMBER,
    ADVICE_UNIT_HZ,
    ADVICE_UNIT_ST,
    ADVICE_UNIT_S,
    ADVICE_UNIT_CENTS,
    ADVICE_UNIT_BARK,
    ADVICE_UNIT_PERCENT,
    ADVICE_UNIT_PITCH, /* a note's name; the number is its midi number */
} advice_unit;

const char *advice_unit_word(advice_unit unit); /* "Hz"; "a note name" */

typedef enum {
    ADVICE_PITCH,
    ADVICE_F0,
    ADVICE_DURATION,
    ADVICE_VIBRATO_RATE,
    ADVICE_VIBRATO_EXTENT,
    ADVICE_RESONANCE,             /* f1 */
    ADVICE_RESONANCE_TO_HARMONIC, /* f1_to_2f0: semitones above the harmonic */
    ADVICE_RESONANCE_TO_SPOKEN,   /* f1_to_spoken: semitones above the table's mean for the vowel */
} advice_quantity_kind;

typedef struct {
    advice_quantity_kind kind;
    int resonance; /* 0 = F1 */
    int harmonic;  /* 1 = f0 */
} advice_quantity;

/* "f1_to_2f0" and the like. */
gboolean advice_quantity_parse(const char *word, advice_quantity *quantity);
advice_unit advice_quantity_unit(const advice_quantity *quantity);

typedef enum { ADVICE_LESS, ADVICE_LESS_EQUAL, ADVICE_MORE, ADVICE_MORE_EQUAL } advice_operator;

#endif
