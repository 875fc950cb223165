/* advice-private.h - what the files of this folder share.
 *
 *   sections.c   a rules file as sections of named values that know their lines and columns; the list of problems
 *   quantity.c   what a condition may ask about; condition.c a condition's text -> a tree
 *   belief.c     what is known of a resonance, as shares of probability between limits
 *   evaluate.c   a tree and a note -> the probability that the condition holds
 *   account.c    the same, as a list of reasons (account.h)
 *   shape.c      the search for a shape that reaches an aim; ladder.c the steps on the way to it
 *   facts.c      all that the words about a note may tell (facts.h); placeholder.c what a rule's words may ask of it
 *   rules.c      sections -> settings and rules, checked; describe.c shows them
 *   advise.c     all rules over one note; silence.c: why none spoke
 */
#ifndef ADVICE_PRIVATE_H
#define ADVICE_PRIVATE_H

#include "advice/account.h"
#include "advice/facts.h"
#include "advice/quantity.h"

#include <aperta/advice.h>

/* ---- sections.c ------------------------------------------------------------------------------------------------ */

typedef struct {
    guint line;   /* 1.. */
    guint column; /* 1.., in characters */
} advice_place;

/* Everything wrong with one file. */
typedef struct {
    const char *file;
    GArray *entries; /* advice_problem */
} advice_problems;

void advice_problems_init(advice_problems *problems, const char *file);
void advice_problems_clear(advice_problems *problems);
/* The message says what was expected and what was found. */
void advice_problems_add(advice_problems *problems, advice_place at, const char *format, ...) G_GNUC_PRINTF(3, 4);
gboolean advice_problems_any(const advice_problems *problems);
/* "FILE:LINE:COLUMN: ..." a line, in the order of the file; the caller frees. */
char *advice_problems_text(const advice_problems *problems);

/* A value may run over several lines; pieces say where each stands. */
typedef struct {
    char *text;     /* lines joined by one space */
    GArray *pieces; /* advice_piece */
} advice_value;

advice_place advice_value_place(const advice_value *value, gsize offset);

typedef struct {
    char *name;
    advice_place at;
    advice_value value;
} advice_entry;
APERTA_ARRAY_OF(advice_entry)

typedef struct {
    char *kind; /* "rule" */
    char *name; /* "belt-open"; "" when there is none */
    advice_place at;
    advice_place name_at;
    GPtrArray *entries; /* advice_entry */
} advice_section;
APERTA_ARRAY_OF(advice_section)

/* advice_section array; what cannot be read is added to problems. */
GPtrArray *advice_sections_read(const char *text, advice_problems *problems);

/* ---- conditions ------------------------------------------------------------------------------------------------ */

typedef enum {
    ADVICE_AND,
    ADVICE_OR,
    ADVICE_NOT,
    ADVICE_COMPARE,     /* quantity operator limit */
    ADVICE_STATUS,      /* f1 is bounded */
    ADVICE_VOWEL_CLASS, /* vowel is close */
    ADVICE_VOWEL_LIST,  /* vowel in i, ɪ */
    ADVICE_VOICE,       /* voice is woman */
    ADVICE_SHAPE,       /* shape is found */
    ADVICE_VIBRATO,     /* vibrato is straight */
} advice_node_kind;

typedef enum {
    ADVICE_CLASS_CLOSE,
    ADVICE_CLASS_MID,
    ADVICE_CLASS_OPEN,
    ADVICE_CLASS_FRONT,
    ADVICE_CLASS_CENTRAL,
    ADVICE_CLASS_BACK,
    ADVICE_CLASS_ROUNDED,
    ADVICE_CLASS_R_COLOURED,
    ADVICE_CLASS_KNOWN,
    ADVICE_CLASS_UNKNOWN,
} advice_vowel_class;

typedef struct advice_node advice_node;
struct advice_node {
    advice_node_kind kind;
    char *text;                /* as written: leaves only */
    GPtrArray *children;       /* advice_node: AND, OR, NOT */
    advice_quantity quantity;  /* COMPARE; the resonance of STATUS */
    char *quantity_name;       /* COMPARE, STATUS */
    advice_operator operation; /* COMPARE */
    char *setting;             /* COMPARE: the limit is this setting; NULL: it is number */
    double number;             /* COMPARE */
    advice_place limit_at;     /* COMPARE */
    int word;                  /* STATUS, VOWEL_CLASS, VOICE, SHAPE, VIBRATO: the value of its own enum */
    GPtrArray *vowels;         /* VOWEL_LIST: const aperta_vowel * */
};

void advice_node_free(advice_node *node);
/* NULL when it is not a condition; the first fault is then added to problems. */
advice_node *advice_condition_parse(const advice_value *value, advice_problems *problems);
/* A number with its unit, or a note's name, at the start of value; *rest is the offset behind it. */
gboolean advice_amount_parse(const advice_value *value, double *number, advice_unit *unit, gsize *rest,
                             advice_problems *problems);
/* Calls visit for every node of the tree. */
void advice_node_walk(const advice_node *node, void (*visit)(const advice_node *node, void *data), void *data);

/* ---- rules ----------------------------------------------------------------------------------------------------- */

typedef struct {
    char *name;
    aperta_voice voice; /* UNKNOWN: all voices */
    double number;
    advice_unit unit;
    char *text;    /* as written: "F4" */
    char *because; /* reason and source; NULL: not given */
    advice_place at;
} advice_setting;
APERTA_ARRAY_OF(advice_setting)

typedef struct {
    char *name;
    advice_place at;
    aperta_level level;
    advice_node *when;
    char *when_text;
    advice_node *aim; /* a comparison of F1 with >=; NULL: none */
    char *aim_text;
    GPtrArray *unless; /* char *, names of earlier rules */
    char *words;
    char *unsure; /* words for a change that is only likely; NULL: none of its own */
    char *brief;  /* what is the matter, in one sentence without numbers; NULL: not said */
    char *remedy; /* what to try, in one sentence, where there is no shape; NULL: not said */
    char *mark;   /* for a sheet, where there is no shape; NULL: none of its own */
    char *reason;
    char *source;
} advice_rule;
APERTA_ARRAY_OF(advice_rule)

struct aperta_rules {
    char *file;
    char *style;
    char *title;
    GPtrArray *settings; /* advice_setting */
    GPtrArray *rules;    /* advice_rule */
};

/* The setting for a voice type, else for its group, else for all; NULL when there is none. */
const advice_setting *advice_setting_for(const aperta_rules *rules, const char *name, aperta_voice voice);

/* ---- evaluation ------------------------------------------------------------------------------------------------ */

/* One note under one rule. */
typedef struct {
    const aperta_rules *rules;
    const aperta_vowel_table *table;
    const aperta_situation *situation;
    aperta_voice voice; /* never UNKNOWN */
    advice_search_outcome outcome;
    const aperta_shape *shape; /* NULL: none needed or none found */
    const advice_node *aim;    /* of the rule; may be NULL */
    double probability;        /* that the rule's condition holds */
    double change_share;       /* of the vowels it may be: those that want a change */
} advice_case;

/* belief.c */
typedef struct {
    double hz;   /* a value that stands for the cell */
    double mass; /* probability of lying in the cell */
} advice_cell;

/* Cuts what is known of a resonance at the limits (Hz, n of them, changed to ascending order) into n + 1 cells at most;
 * resonance: 0 = F1. Returns their number; 0: nothing is known. cells has room for n + 1. */
guint advice_belief_cells(const aperta_resonance *what, int resonance, const aperta_posterior *posterior,
                          double *limits_hz, guint n, advice_cell *cells);

/* evaluate.c */
typedef struct {
    double holds;   /* probability that the condition is true */
    double unknown; /* probability that it cannot be told */
} advice_chance;

/* The vowel, if its name is told; NULL: not known, or only its class. */
const aperta_vowel *advice_named_vowel(const advice_case *which);
enum { ADVICE_CANDIDATES_MAX = 32 };
/* Where the name is not told: the vowels it may be, the most probable first, as many as hold ADVICE_VOWELS_SURE of the
 * probability; those of the table's that belong to the class where nothing else is known. Returns their number. */
guint advice_candidates(const advice_case *which, const aperta_vowel *candidates[ADVICE_CANDIDATES_MAX]);

advice_chance advice_evaluate(const advice_node *node, const advice_case *which);
/* FALSE: whatever vowel and resonances are, the pitch or the voice rules it out. */
gboolean advice_is_possible(const advice_node *node, const advice_case *which);
/* How probable a condition must be for its rule to speak. */
double advice_speaks_at(const advice_case *which);
/* The limit of a comparison in its own unit, the setting for this voice looked up. */
double advice_limit(const advice_node *node, const advice_case *which);
/* The limit of a comparison of a resonance, as a frequency; FALSE when the vowel has no spoken mean. */
gboolean advice_limit_hz(const advice_node *node, const advice_case *which, double *hz);

/* account.c: adds why a condition holds, or the first part of it that does not, to reasons (advice_reason). */
void advice_add_reasons(GPtrArray *reasons, const advice_node *node, const advice_case *which, gboolean holds);

/* shape.c: *shape is NULL when none is found, else the caller frees it. Where none is needed it is the vowel itself. */
advice_search_outcome advice_search(const advice_case *which, aperta_shape **shape);

/* ladder.c: the steps on the way to a shape that was found, the shape last (aperta_shape, freed with the array). */
GPtrArray *advice_ladder(const advice_case *which, const aperta_shape *shape);

/* facts.c: what is known of the case; the caller frees with advice_facts_free. */
advice_facts *advice_facts_of(const advice_case *which);

/* placeholder.c: adds a problem for every placeholder that does not exist. */
void advice_placeholders_check(const advice_value *value, advice_problems *problems);

#endif
