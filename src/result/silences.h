/* silences.h - the notes of a take that no rule speaks about, by the reason. */
#ifndef RESULT_SILENCES_H
#define RESULT_SILENCES_H

#include <aperta/result.h>

typedef struct {
    aperta_silence silence;
    int reach_midi;   /* LOW, HIGH: the nearest pitch that rules speak about */
    GPtrArray *notes; /* const aperta_sung_note *, in order of time */
} result_silence;

/* In the order their first notes came: an array of result_silence, freed with it. Notes of which F1 is not known are
 * left out: that is told as a doubt. */
GPtrArray *result_silences(const aperta_result *result);

#endif
