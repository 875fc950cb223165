/* facts.h - all that the words about a note under a rule may tell, apart from the shape: numbers and kinds, no words.
 */
#ifndef ADVICE_FACTS_H
#define ADVICE_FACTS_H

#include "advice/quantity.h"

#include <aperta/advice.h>

/* How the note stands to F1. */
typedef enum {
    ADVICE_MEETS_NEAR,            /* it comes close to it */
    ADVICE_MEETS_AT,              /* they are less than a semitone apart */
    ADVICE_MEETS_PERHAPS_PASSED,  /* the note may stand above F1 */
    ADVICE_MEETS_PROBABLY_PASSED, /* it probably does */
    ADVICE_MEETS_PASSED,          /* it does */
} advice_meeting;

struct advice_facts {
    char pitch[APERTA_PITCH_NAME_MAX];       /* as the score spells it, else for the key */
    char other_pitch[APERTA_PITCH_NAME_MAX]; /* of notes together, the higher one; "": they have one pitch */
    aperta_voice voice;                      /* never UNKNOWN */
    const aperta_vowel *vowel;               /* NULL: not known */
    aperta_vowel_class vowel_class;          /* known: only that much of the vowel is told */
    double f0_hz;
    double duration_s;
    aperta_vibrato vibrato;
    aperta_resonance resonances[APERTA_N_RESONANCES];
    gboolean expected;                     /* the resonances are a table's mean and spread */
    int n_notes;                           /* that they are of together; 0, 1: one */
    double spoken_hz[APERTA_N_RESONANCES]; /* the table's means for the vowel; 0: none */
    double needed_hz;                      /* F1 that the rule's aim asks for; 0: it has none */
    double ceiling_hz;                     /* that the style brings F1 up to; 0: not set */
    char turn[APERTA_PITCH_NAME_MAX];      /* the pitch up to which the style opens vowels; "": not set */
    double probability;                    /* that the rule's condition holds, 0..1 */
    advice_meeting meets;
};
typedef struct advice_facts advice_facts;

advice_facts *advice_facts_copy(const advice_facts *facts); /* NULL for NULL */
void advice_facts_free(advice_facts *facts);                /* NULL is allowed */
/* What a distance in semitones is measured from, Hz; 0: there is none. */
double advice_facts_reference_hz(const advice_facts *facts, const advice_quantity *quantity);

#endif
