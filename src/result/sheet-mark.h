/* sheet-mark.h - what stands at a flagged note of a sheet, as a record: renderers decide from it, words spell it. */
#ifndef RESULT_SHEET_MARK_H
#define RESULT_SHEET_MARK_H

#include <aperta/result.h>

typedef enum {
    RESULT_MARK_NONE, /* the note is not flagged */
    RESULT_MARK_WORD, /* no shape: a word, the rule's own or that of the level */
    RESULT_MARK_SING, /* the shape is to be sung */
    RESULT_MARK_TRY,  /* the shape may be tried, only if the singer likes */
} result_mark_kind;

typedef struct {
    result_mark_kind kind;
    aperta_level level;        /* of the note */
    const char *own_word;      /* WORD: that of the rule for its change; NULL: the level's. The finding's */
    const aperta_shape *shape; /* SING, TRY; the finding's */
    gboolean jaw_down;         /* the jaw is let down further than in speech */
    gboolean other_word;       /* the shape would make another word */
} result_sheet_mark;

result_sheet_mark result_sheet_mark_of(const aperta_sheet_note *note);
/* Whether both say the same: kind, word, vowels, jaw and doubt; the places that shapes aim at may differ. */
gboolean result_sheet_mark_equal(const result_sheet_mark *a, const result_sheet_mark *b);
/* The rule's own word for a change without a shape; NULL: it has none, or asks for no change. The finding's. */
const char *result_own_word(const aperta_finding *finding);

#endif
