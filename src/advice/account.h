/* account.h - why a rule spoke, or why not: the record behind an aperta_explanation. */
#ifndef ADVICE_ACCOUNT_H
#define ADVICE_ACCOUNT_H

#include "advice/facts.h"
#include "advice/quantity.h"

typedef enum {
    ADVICE_REASON_COMPARED, /* a quantity with a limit */
    ADVICE_REASON_STATUS,   /* how much of a resonance is known */
    ADVICE_REASON_VOWEL,
    ADVICE_REASON_VOICE,
    ADVICE_REASON_SHAPE,
    ADVICE_REASON_VIBRATO,
} advice_reason_kind;

typedef enum { ADVICE_SEARCH_IMPOSSIBLE, ADVICE_SEARCH_NONE, ADVICE_SEARCH_FOUND } advice_search_outcome;

typedef struct {
    advice_reason_kind kind;
    char *text;               /* the condition as written (VOWEL), the quantity's name (COMPARED, STATUS) */
    advice_quantity quantity; /* COMPARED, STATUS */
    advice_operator relation; /* COMPARED */
    double limit;             /* COMPARED, in the quantity's unit */
    char limit_pitch[APERTA_PITCH_NAME_MAX]; /* the same where it is a note; "": it is none */
    gboolean holds;                          /* COMPARED, VOWEL */
    gboolean untold;                         /* COMPARED, VOWEL: whether it holds cannot be told */
    double chance;                           /* of what is said, 0..1 */
    advice_search_outcome outcome;           /* SHAPE */
} advice_reason;

/* Why a rule asks for less than it would. */
typedef enum {
    ADVICE_ONLY_WATCH_NOT,     /* it does not */
    ADVICE_ONLY_WATCH_PASSING, /* the syllable is short and unstressed */
    ADVICE_ONLY_WATCH_VOWELS,  /* the vowels it may be do not all want the change */
    ADVICE_ONLY_WATCH_CHANCE,  /* the condition is not probable enough */
} advice_only_watch;

struct advice_account {
    char *silenced_by;  /* the rule that spoke instead; NULL: reasons tell */
    GPtrArray *reasons; /* advice_reason; never NULL */
    advice_facts *facts;
    advice_only_watch only_watch;
    double share, needed_share; /* VOWELS: of the probability, 0..1; CHANCE: of the condition */
};
typedef struct advice_account advice_account;

advice_account *advice_account_new(void); /* without facts and reasons */
void advice_account_free(advice_account *account);
/* Whether both say the same of one note. */
gboolean advice_account_same(const advice_account *a, const advice_account *b);
/* The caller fills it; owned by the account. */
advice_reason *advice_account_add(GPtrArray *reasons, advice_reason_kind kind, const char *text);

#endif
