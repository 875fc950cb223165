/* transpose.c - a score that was read, so many semitones higher or lower, spelled for its new key.
 *
 * On the line of fifths (F C G D A E B, a sharp 7 places up, a flat 7 down) transposing by an interval adds one number
 * to every name and every key signature, so accidentals keep their meaning: a raised leading note stays one. The new
 * key is the usual one of its sound, D♭ to F♯ major and E♭ to G♯ minor. */
#include "score/score-private.h"

#include <stdlib.h>
#include <string.h>

enum { FIFTHS_MOST = 7, ACCIDENTALS_MOST = 2, PITCH_MOST = 127, SEMITONES_MOST = 24 };

static const char letters[] = "FCGDAEB"; /* -1 .. 5 on the line of fifths */
static const int letter_class[] = {5, 0, 7, 2, 9, 4, 11};

/* Where a name stands on the line of fifths; an octave behind it is passed over. FALSE: it is no name. */
static gboolean place_of(const char *name, int *place)
{
    const char *letter = *name != '\0' ? strchr(letters, *name) : NULL;

    if (letter == NULL)
        return FALSE;
    *place = (int)(letter - letters) - 1;
    for (name++;; name += strlen("♯")) {
        if (g_str_has_prefix(name, "♯"))
            *place += 7;
        else if (g_str_has_prefix(name, "♭"))
            *place -= 7;
        else
            return TRUE;
    }
}

/* FALSE: it would need more accidentals than anybody reads. */
static gboolean spell(int midi, int place, char name[APERTA_PITCH_NAME_MAX])
{
    int index = ((place + 1) % 7 + 7) % 7;
    int accidentals = (place + 1 - index) / 7;

    if (abs(accidentals) > ACCIDENTALS_MOST)
        return FALSE;
    int octave = (midi - letter_class[index] - accidentals) / 12 - 1;
    const char *sign = accidentals < 0 ? "♭" : "♯";
    g_snprintf(name, APERTA_PITCH_NAME_MAX, "%c%s%s%d", letters[index], accidentals != 0 ? sign : "",
               abs(accidentals) > 1 ? sign : "", octave);
    return TRUE;
}

/* How far the first key signature moves on the line of fifths. */
static int shift_of_key(const aperta_score *score, int semitones)
{
    aperta_key key = score->key;
    int place = 0;

    if (semitones % 12 == 0)
        return 0;
    key.tonic = ((key.tonic + semitones) % 12 + 12) % 12;
    if (score->key.known && place_of(aperta_key_tonic_name(&key), &place))
        return place - (key.minor ? 3 : 0) - score->key_fifths;
    int shift = ((7 * semitones) % 12 + 12) % 12;
    return shift > 6 ? shift - 12 : shift;
}

static void move_note(aperta_score_note *note, int semitones, int shift, const aperta_key *key)
{
    int fifths = note->fifths + shift, place;

    while (fifths > FIFTHS_MOST)
        fifths -= 12;
    while (fifths < -FIFTHS_MOST)
        fifths += 12;
    note->midi += semitones;
    if (!place_of(note->name, &place) || !spell(note->midi, place + fifths - note->fifths, note->name))
        aperta_pitch_spell(note->midi, key, note->name);
    note->fifths = fifths;
}

gboolean aperta_score_transpose(aperta_score *score, int semitones, GError **error)
{
    if (abs(semitones) > SEMITONES_MOST) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                    "%s: %d semitones are out of range (-%d to %d can be sung)", score->file, semitones, SEMITONES_MOST,
                    SEMITONES_MOST);
        return FALSE;
    }
    int shift = shift_of_key(score, semitones);
    for (guint i = 0; i < score->n_notes; i++) {
        int midi = score->notes[i].midi + semitones;
        if (midi < 0 || midi > PITCH_MOST) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: %d semitones %s there are no notes for all of it",
                        score->file, abs(semitones), semitones < 0 ? "lower" : "higher");
            return FALSE;
        }
    }
    score->key.tonic = ((score->key.tonic + semitones) % 12 + 12) % 12;
    score->key_fifths += score->key.known ? shift : 0;
    for (guint i = 0; i < score->n_notes; i++)
        move_note(&score->notes[i], semitones, shift, &score->key);
    return TRUE;
}
