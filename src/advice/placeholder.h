/* placeholder.h - what stands in braces in a rule's words: "{pitch}", "{2f0}", "{f1_to_2f0}". */
#ifndef ADVICE_PLACEHOLDER_H
#define ADVICE_PLACEHOLDER_H

#include "advice/quantity.h"

typedef enum {
    ADVICE_TELL_PITCH,
    ADVICE_TELL_VOWEL,
    ADVICE_TELL_VOICE,
    ADVICE_TELL_SHAPE,
    ADVICE_TELL_HOW,
    ADVICE_TELL_STEPS,
    ADVICE_TELL_NEEDED,
    ADVICE_TELL_CEILING,
    ADVICE_TELL_TURN,
    ADVICE_TELL_PROBABILITY,
    ADVICE_TELL_MEETS,
    ADVICE_TELL_TOO,      /* by how much: "a little too", "too", "much too", "perhaps too" */
    ADVICE_TELL_HARMONIC, /* of the note: "2f0" .. "9f0" */
    ADVICE_TELL_QUANTITY, /* everything a condition may ask about */
} advice_telling;

typedef struct {
    advice_telling what;
    int harmonic;             /* HARMONIC: 2..9 */
    advice_quantity quantity; /* QUANTITY */
} advice_placeholder;

/* name: what stands between the braces. FALSE: there is none of that name. */
gboolean advice_placeholder_parse(const char *name, advice_placeholder *placeholder);
/* The first placeholder at or behind words; *end is the place behind its brace. NULL: there is none. Else where its
 * brace opens; one that does not exist is no placeholder. */
const char *advice_placeholder_find(const char *words, advice_placeholder *placeholder, const char **end);

#endif
