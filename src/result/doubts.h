/* doubts.h - what could not be told of the notes of a take, and what somebody told of them instead: records, each with
 * the notes that share it. */
#ifndef RESULT_DOUBTS_H
#define RESULT_DOUBTS_H

#include <aperta/result.h>

typedef enum {
    RESULT_DOUBT_WITHHELD,  /* nothing is told of the note: withheld tells why */
    RESULT_DOUBT_COVERED,   /* another pitch covers it */
    RESULT_DOUBT_SOUND,     /* it can hardly be a voice: sound */
    RESULT_DOUBT_RESONANCE, /* not measured: resonance, status, from_above */
    RESULT_DOUBT_OTHER_F1,  /* it fits nearly as well: hz, percent */
    RESULT_DOUBT_MOVING,    /* two vowels on one note: judged */
    RESULT_DOUBT_NO_VOWEL,
    RESULT_DOUBT_CLASS, /* which of a class: vowel_class, heard, next */
    RESULT_DOUBT_NAME,  /* heard or next */
    RESULT_TOLD,        /* not heard as it was told: intended, and what was heard, as above */
    RESULT_CORRECTED,   /* intended, heard */
} result_doubt_kind;

/* Fields that a kind does not name are zero. */
typedef struct {
    result_doubt_kind kind;
    aperta_withheld withheld;
    aperta_sound sound;
    int resonance; /* 0 = F1 */
    aperta_status status;
    gboolean from_above; /* BOUNDED: it lies below a limit */
    int hz, percent;     /* rounded: notes whose other place is told alike share it */
    aperta_part judged;
    const aperta_vowel *intended;
    const aperta_vowel *heard, *next;
    const aperta_vowel *first, *last;      /* at the two ends of a note that moves */
    const aperta_vowel_class *vowel_class; /* of the first note, known; NULL: none is */
    GPtrArray *notes;                      /* const aperta_sung_note *, in order of time */
} result_doubt;

typedef enum {
    RESULT_DOUBTS_OF_SOUND,  /* WITHHELD to RESONANCE */
    RESULT_DOUBTS_OTHER_F1,  /* OTHER_F1 */
    RESULT_DOUBTS_MOVING,    /* MOVING */
    RESULT_DOUBTS_OF_VOWELS, /* NO_VOWEL to NAME */
    RESULT_DOUBTS_TOLD,      /* TOLD */
    RESULT_DOUBTS_CORRECTED, /* CORRECTED */
} result_doubts_part;

/* Doubts of one part, in the order their first notes came: an array of result_doubt, freed with it. */
GPtrArray *result_doubts(const aperta_result *result, result_doubts_part part);
/* Of the vowels that were told, how many were heard so; the number of those told is returned. */
guint result_told_vowels(const aperta_result *result, guint *n_alike);

#endif
