/* json-parts.h - members that takes and sheets write alike, and how finely numbers are told: finer digits would claim
 * more than was measured. */
#ifndef REPORT_JSON_PARTS_H
#define REPORT_JSON_PARTS_H

#include "report/data/json-writer.h"
#include "words/first-words.h"
#include "words/words.h"

enum {
    JSON_HZ = 1,
    JSON_DB = 1,
    JSON_CENTS = 1,
    JSON_SECONDS = 3,
    JSON_SEMITONES = 2,
    JSON_BARK = 2,
    JSON_SHARE = 2
}; /* decimals */

const char *json_ipa(const aperta_vowel *vowel); /* NULL for NULL */
void json_pitch(json_writer *json, const char *name, int midi, double hz, double cents);
void json_intervals(json_writer *json, const aperta_interval *to_f0, const aperta_interval *to_2f0);
void json_syllable(json_writer *json, const aperta_syllable *syllable); /* may be NULL */
/* Members of one of the things to try first, but for its notes and words. */
void json_first(json_writer *json, const aperta_try *one, const words_first *first);
void json_shape(json_writer *json, const char *key, const aperta_shape *shape);
void json_advice(json_writer *json, const GPtrArray *advice); /* may be NULL */
void json_voice(json_writer *json, aperta_voice voice, gboolean guessed);
void json_key(json_writer *json, const char *key, const aperta_key *of);
/* "moments", "cautions" and "warnings". */
void json_ending(json_writer *json, const char *const *cautions, const GPtrArray *warnings);

#endif
