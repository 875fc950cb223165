/* query.h - small questions about a result that whoever tells it asks again and again. */
#ifndef RESULT_QUERY_H
#define RESULT_QUERY_H

#include <aperta/result.h>

/* TRUE when a rule said something, be it that the note is fine. */
gboolean result_note_spoken_of(const aperta_sung_note *note);
/* TRUE for a level above FINE. */
gboolean result_note_flagged(const aperta_sung_note *note);
/* The finding of the highest level that has a shape, or NULL. */
const aperta_finding *result_shape_in(const GPtrArray *advice);
/* Length of an array that may be NULL for "none". */
guint result_length(const GPtrArray *array);
const aperta_sung_note *result_note_at(const aperta_result *result, guint index);
gboolean result_warned(const GPtrArray *warnings, aperta_warning_kind kind);
/* Whether notes were found, and corrections took every one out. */
gboolean result_all_removed(const aperta_result *result);
/* Whether a part of the recording was asked for. */
gboolean result_read_in_part(const aperta_result *result);
/* Warnings that a short report tells too: the file is not whole, or what was asked for contradicts itself or came to
 * nothing. What the sentence of trust tells is not among them. */
gboolean result_warning_is_grave(const aperta_warning *warning);
/* Whether there was singing to tell the tuning from, or it was given. */
gboolean result_tuning_told(const aperta_result *result);

#define RESULT_ALTERNATIVE_WEIGHT 0.1 /* lighter ones are left to the JSON; chosen by us, no source */
/* TRUE where another place is told beside the value. */
gboolean result_has_other_places(const aperta_resonance *resonance);

/* How sure a name is, as it is told. */
typedef enum { RESULT_UNSURE, RESULT_LIKELY, RESULT_SURE } result_confidence;
result_confidence result_confidence_of(double confidence); /* probability, 0..1 */

/* Whether as much, and the same, is told of both; two that are not known are the same. */
gboolean result_same_class(const aperta_vowel_class *a, const aperta_vowel_class *b);
/* Notes (const aperta_sung_note *) by the vowel they are told to be on: an array of arrays of them, freed with it
 * (groups.c). */
GPtrArray *result_by_vowel(const GPtrArray *notes);

#endif
