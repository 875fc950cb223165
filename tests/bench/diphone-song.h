/* diphone-song.h - phrases sung with the consonants and vowels of recorded people, and everything about them known.
 *
 * Festival (Debian) joins recorded diphones of one speaker to segments of given lengths whose pitch follows given
 * targets: the consonants, their transitions and the pulses are that person's, the tune and its times are ours. What
 * the pitch does between notes (slides, overshoot, drift, vibrato) and how loud it is, is drawn here; sizes are common
 * practice, no source. Nothing is shared with the synthesiser of tests/support but its room. */
#ifndef TESTS_DIPHONE_SONG_H
#define TESTS_DIPHONE_SONG_H

#include "synth-phrase.h"

typedef struct {
    const char *name;  /* as festival calls it */
    const char *label; /* language and sex */
    int low_midi, high_midi;
    const char *consonants; /* letters that it can say */
    const char *vowels[5];  /* its names of a e i o u */
    const char *others;     /* "j=y h=hh": names that are not the letters themselves */
    const char *pause;
    gboolean judges; /* of the half that no setting is chosen by */
} diphone_voice;

#define DIPHONE_VOICES 10
extern const diphone_voice diphone_voices[DIPHONE_VOICES];

typedef enum {
    DIPHONE_SYLLABLES, /* steps and leaps, each note with its consonant, some rests */
    DIPHONE_REPEATED,  /* many notes of the same pitch, kept apart by consonants alone */
    DIPHONE_LEGATO,    /* two to four notes on a vowel */
    DIPHONE_SLIDES,    /* portamento, scoops, falls */
    DIPHONE_FAST,      /* notes of 0.11 to 0.2 s */
    DIPHONE_VOWELS,    /* a pitch goes on through several vowels */
    DIPHONE_WIDE,      /* a vowel on several notes, the vibrato wide and uneven */
    DIPHONE_KINDS
} diphone_kind;

extern const char *const diphone_kind_names[DIPHONE_KINDS];

typedef struct {
    const diphone_voice *voice;
    diphone_kind kind;
    guint64 seed;
    GArray *notes;    /* diphone_note */
    GArray *segments; /* diphone_segment */
    double seconds;
} diphone_song;

/* Draws a phrase; the same for the same seed. */
diphone_song *diphone_song_draw(const diphone_voice *voice, diphone_kind kind, guint64 seed);
void diphone_song_free(diphone_song *song);

/* One call of festival sings all that is not in the folder yet. FALSE: there is no festival. */
gboolean diphone_sing_all(GPtrArray *songs, const char *folder);

/* The sound, with the gain that the song asks for, and the truth; NULL when festival had no such voice. Notes begin at
 * their vowels, legato ones at the middle of the slide. f0_hz is -1 in frames of which nothing is asked: voiced
 * consonants that may hum or not, and 30 ms about a change of voicing. onset of a note that only changes its vowel is
 * SYNTH_ONSET_VOWEL and its midi that of the note before: such a note may be cut or not. */
synth_take *diphone_song_take(const diphone_song *song, const char *folder);

/* The consonant before note i; '-' none, after a rest or the beginning; '~' legato; '=' another vowel on the same
 * pitch.
 */
char diphone_song_consonant(const diphone_song *song, guint i);

#endif
