/* result-private.h - what the files of src/result share. */
#ifndef RESULT_PRIVATE_H
#define RESULT_PRIVATE_H

#include "result/query.h"

#include <aperta/audio.h>
#include <aperta/pitch.h>
#include <aperta/result.h>

/* ---- result.c ---- */

void result_syllable_free(aperta_syllable *syllable); /* NULL is allowed */
aperta_sung_note *result_note_new(int number, const aperta_note *note, const aperta_result *result);
void result_note_free(aperta_sung_note *note);

/* ---- read-tract.c ---- */

/* Told the share of the notes, 0..1; FALSE with an error set: stop. */
typedef gboolean (*result_go_on)(double share, void *data, GError **error);
/* Reads the tract of all notes, and the frames if there are any, with up to so many threads (0: one). audio stands at
 * the start. go_on is called by the caller's thread only. Errors: those of aperta_audio_read and go_on. */
gboolean result_read_tract(aperta_result *result, aperta_audio *audio, guint jobs, result_go_on go_on, void *data,
                           GError **error);

/* ---- ear.c ---- */

/* Of the settings' table, once the tract is read; doubt: see result_guess_voice. Errors: those of
 * aperta_vowel_ear_add_accents. */
aperta_vowel_ear *result_ear_new(const aperta_result *result, gboolean accents, double doubt, GError **error);

/* ---- note-vowel.c ---- */

/* Names the vowel of a note whose tract is read, and tells how far its F1 stands above the harmonics. */
void result_hear_vowel(aperta_sung_note *note, const aperta_vowel_ear *ear);
/* F1, F2 and F3 together of the part that is judged; owned by the note. */
const aperta_posterior *result_posterior(const aperta_sung_note *note);
/* What the intended vowel, if one is named, adds to what was measured. Nothing is heard or judged by it. */
void result_sharpen(aperta_sung_note *note, const aperta_vowel_ear *ear);

/* ---- pool.c ---- */

/* Posteriors of notes on one sound, together one posterior; FALSE: their product is no distribution. n >= 1, each has
 * modes. */
gboolean result_pool(const aperta_posterior *const *notes, guint n, aperta_posterior *pooled);

/* Sums of what F1 and F2 of several notes are, for the question whether they differ; {0}: none yet. */
typedef struct {
    guint n;
    double precision[2][2], shift[2], square;
} result_spread;

/* The posterior has modes. */
void result_spread_add(result_spread *spread, const aperta_posterior *posterior);
/* Whether they differ by no more than chance. */
gboolean result_spread_is_chance(const result_spread *spread);

/* ---- verdicts.c ---- */

/* Applies the rules to the notes whose vowels were heard, those of one sound together, which then share a hearing too;
 * a note whose vowel is withheld gets no advice. explain: also which rules spoke, and why not. */
void result_judge_notes(aperta_result *result, const aperta_rules *rules, const aperta_vowel_ear *ear,
                        gboolean explain);

/* ---- corrections.c ---- */

/* A teacher's word on one note. */
typedef struct {
    int number;
    const aperta_vowel *vowel; /* NULL: "not a note" */
} result_correction;

/* Reads "number,vowel" lines; an array of result_correction. Error: NOT_FOUND, UNREADABLE, FORMAT (file, line, column;
 * larger than 1 MB), INTERRUPTED. */
GArray *result_corrections_load(const char *path, GError **error);
/* Errors if a number is no note of the result (RANGE). */
gboolean result_correct(aperta_result *result, const GArray *corrections, const char *path, GError **error);

/* Where the note of that number stands among those of the result; FALSE: there is none. */
gboolean result_find_note(const aperta_result *result, int number, guint *index);
/* All respellings, "ee, ü, ih"; the caller frees. */
char *result_known_vowels(void);

/* ---- sung.c ---- */

/* The vowels that a teacher tells, see aperta_sung_check. */
typedef struct result_sung result_sung;
/* Error: FORMAT. */
result_sung *result_sung_read(const char *text, GError **error);
void result_sung_free(result_sung *sung); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(result_sung, result_sung_free)
/* Errors if they do not fit the notes of the result (RANGE). Corrected notes keep their corrections. */
gboolean result_sung_lay(aperta_result *result, const result_sung *sung, GError **error);

/* ---- voice-guess.c ---- */

/* Woman or man from the pitches alone. doubt, or NULL: gets the probability that this is wrong. */
aperta_voice result_guess_voice(const aperta_note *notes, guint n_notes, double *doubt);
/* The same from what is written. lowest_midi: the lowest of its notes; 0: it has none. */
aperta_voice result_guess_voice_of_score(const aperta_score *score, int lowest_midi);

/* ---- settings.c ---- */

/* Fills settings, which are zero before; style NULL: "belt"; table NULL: chosen later, by the voice; voice UNKNOWN: the
 * table's, else to be guessed. Errors: those of aperta_rules_load and aperta_vowel_table_load; settings are then to be
 * cleared all the same. */
aperta_rules *result_load_settings(aperta_settings *settings, const char *style, const char *table, aperta_voice voice,
                                   GError **error);
/* The voice's table where none was named. */
gboolean result_choose_table(aperta_settings *settings, GError **error);
void result_settings_clear(aperta_settings *settings);

/* ---- judge.c ---- */

/* The rules of a style, put to the notes of one take or one sheet. */
typedef struct result_judge result_judge;

/* What a judge is asked about a note. */
typedef struct {
    aperta_situation situation;       /* voice and key are the judge's to fill in */
    const aperta_vowel_table *ground; /* where shapes are looked for; of one vowel that is expected always the same */
} result_question;

/* Everything is kept by the caller. */
result_judge *result_judge_new(const aperta_rules *rules, const aperta_settings *settings, const aperta_key *key);
void result_judge_free(result_judge *judge); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(result_judge, result_judge_free)

/* Findings, highest level first; the caller gives the reference back. explanations as in aperta_advise. */
GPtrArray *result_judge_advise(result_judge *judge, const result_question *question, GPtrArray **explanations);
/* Why there are none, see aperta_advise_silence. */
aperta_silence result_judge_silence(const result_judge *judge, const result_question *question, int *reach_midi);

/* ---- groups.c ---- */

void result_find_groups(aperta_result *result); /* once all notes are judged */

/* ---- trust.c ---- */

/* Fills result->trust, once all else is known. */
void result_trust(aperta_result *result);

/* ---- loudness.c ---- */

/* All in dB re full scale. */
double result_level_at(const aperta_f0_track *track, double time_s);
/* Median of the notes; FALSE: there are none. */
gboolean result_singing_level(const aperta_result *result, double *level_db);
/* Between the notes; FALSE: too few rests. */
gboolean result_rest_level(const aperta_f0_track *track, double *level_db);

/* ---- warnings.c ---- */

GPtrArray *result_warnings_new(void); /* of aperta_warning */
/* Its arrays are taken over. */
void result_warn(GPtrArray *warnings, aperta_warning warning);
/* How sure the table's figures are, and whether they are of voices like this one. */
void result_warn_about_table(GPtrArray *warnings, const aperta_vowel_table *table, aperta_voice voice);

/* ---- take-warnings.c ---- */

/* What the pitch tracker noticed besides the notes. */
typedef struct {
    gboolean spoken;
    gboolean perhaps_spoken; /* and then not spoken */
    int mains_hz;            /* 50 or 60: hum under the voice; 0: none */
    aperta_voice_heard voice;
} result_noticed;

result_noticed result_notice(const aperta_f0_track *track, const aperta_pitch_feature *features,
                             const aperta_note *notes, guint n_notes);
void result_warn_about_sound(aperta_result *result, const aperta_audio_info *info, const aperta_audio_health *health);
void result_warn_about_singing(aperta_result *result, const aperta_audio_health *health, const result_noticed *noticed);

/* ---- other-sounds.c ---- */

/* Notes with which something else sounds, and those that are withheld, by why. */
typedef struct {
    guint n_notes, n_accompanied, n_withheld[APERTA_WITHHELD_ADVICE + 1];
} result_others;

result_others result_count_others(const aperta_result *result);
/* What is not the singer's: accompaniment, chords taken for a note, instruments. */
void result_warn_about_others(aperta_result *result, const result_noticed *noticed);
/* Where it cannot be told whether a voice sang: makes no vowel surer than a guess, and withholds advice where none was
 * told. */
void result_doubt_vowels(aperta_result *result);

#endif
