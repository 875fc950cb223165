/* song-file.h - the demo's score: see the head of song.txt for its form. */
#ifndef DEMO_SONG_FILE_H
#define DEMO_SONG_FILE_H

#include <glib.h>

#define SONG_FORMANTS 4

typedef enum {
    SONG_PLAIN,
    SONG_BELT,
    SONG_STRAIGHT,
    SONG_BREATHY,
} song_manner;

typedef struct {
    double start_beat; /* 0 = the beginning */
    double beats;
    int midi;
    const double *formants_hz;     /* SONG_FORMANTS of them; of the song */
    const double *formants_end_hz; /* NULL: the vowel stands still */
    char *vowel;                   /* as written */
    char *onset;
    char *word;
    song_manner manner;
    double breath_s;
} song_note;

typedef struct {
    double tempo;
    guint64 seed;
    GHashTable *vowels; /* IPA -> double[SONG_FORMANTS] */
    GArray *notes;      /* song_note, in order of time */
} demo_song;

demo_song *song_read(const char *path, GError **error); /* APERTA_ERROR_FORMAT names the line */
void song_free(demo_song *song);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(demo_song, song_free)

#endif
