/* song-file.c - reads song.txt, line by line. */
#include "song-file.h"

#include <aperta/base.h>
#include <string.h>

static void clear_note(gpointer data)
{
    song_note *note = data;

    g_free(note->vowel);
    g_free(note->onset);
    g_free(note->word);
}

void song_free(demo_song *song)
{
    if (!song)
        return;
    g_hash_table_unref(song->vowels);
    g_array_unref(song->notes);
    g_free(song);
}

static gboolean number(const char *text, double *value)
{
    char *end;

    *value = g_ascii_strtod(text, &end);
    return end != text && *end == '\0' && *value > 0.0;
}

static gboolean read_vowel(demo_song *song, char **words)
{
    g_autofree double *hz = g_new(double, SONG_FORMANTS);

    for (int i = 0; i < SONG_FORMANTS; i++)
        if (!number(words[2 + i], &hz[i]))
            return FALSE;
    g_hash_table_replace(song->vowels, g_strdup(words[1]), g_steal_pointer(&hz));
    return TRUE;
}

static gboolean read_manner(const char *word, song_manner *manner)
{
    static const char *const words[] = {
        [SONG_PLAIN] = "plain", [SONG_BELT] = "belt", [SONG_STRAIGHT] = "straight", [SONG_BREATHY] = "breathy"};

    for (guint i = 0; i < G_N_ELEMENTS(words); i++)
        if (strcmp(word, words[i]) == 0) {
            *manner = i;
            return TRUE;
        }
    return FALSE;
}

static gboolean read_note(demo_song *song, char **words, double breath_s)
{
    song_note note = {.breath_s = breath_s};
    g_auto(GStrv) vowels = g_strsplit(words[4], ">", 2);

    if (!number(words[1], &note.start_beat) || !number(words[2], &note.beats) ||
        !aperta_pitch_parse(words[3], &note.midi) || !read_manner(words[6], &note.manner))
        return FALSE;
    note.formants_hz = g_hash_table_lookup(song->vowels, vowels[0]);
    note.formants_end_hz = vowels[1] ? g_hash_table_lookup(song->vowels, vowels[1]) : NULL;
    if (!note.formants_hz || (vowels[1] && !note.formants_end_hz))
        return FALSE;
    if (song->notes->len > 0) {
        const song_note *before = &g_array_index(song->notes, song_note, song->notes->len - 1);
        if (note.start_beat < before->start_beat + before->beats)
            return FALSE;
    }
    note.vowel = g_strdup(words[4]);
    note.onset = g_strdup(words[5]);
    note.word = g_strdup(words[7]);
    g_array_append_val(song->notes, note);
    return TRUE;
}

/* One line, already cut into words. breath_s waits for the next note. */
static gboolean read_line(demo_song *song, char **words, double *breath_s)
{
    guint n = g_strv_length(words);
    double value;

    if (n == 2 && number(words[1], &value)) {
        if (strcmp(words[0], "tempo") == 0)
            song->tempo = value;
        else if (strcmp(words[0], "seed") == 0)
            song->seed = (guint64)value;
        else if (strcmp(words[0], "breath") == 0)
            *breath_s = value;
        else
            return FALSE;
        return TRUE;
    }
    if (n == 2 + SONG_FORMANTS && strcmp(words[0], "vowel") == 0)
        return read_vowel(song, words);
    if (n == 8 && strcmp(words[0], "note") == 0 && read_note(song, words, *breath_s)) {
        *breath_s = 0.0;
        return TRUE;
    }
    return FALSE;
}

/* Words between any number of blanks; empty for a comment. */
static GStrv cut(const char *line)
{
    g_auto(GStrv) parts = g_strsplit_set(line, " \t\r", -1);
    GStrvBuilder *words = g_strv_builder_new();

    for (guint i = 0; parts[i] && parts[i][0] != '#'; i++)
        if (parts[i][0] != '\0')
            g_strv_builder_add(words, parts[i]);
    GStrv cut = g_strv_builder_end(words);
    g_strv_builder_unref(words);
    return cut;
}

demo_song *song_read(const char *path, GError **error)
{
    g_autofree char *text = NULL;
    g_autoptr(demo_song) read = g_new0(demo_song, 1);
    double breath_s = 0.0;

    read->tempo = 120.0;
    read->seed = 1;
    read->vowels = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    read->notes = g_array_new(FALSE, TRUE, sizeof(song_note));
    g_array_set_clear_func(read->notes, clear_note);
    if (!g_file_get_contents(path, &text, NULL, error))
        return NULL;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (guint i = 0; lines[i]; i++) {
        g_auto(GStrv) words = cut(lines[i]);
        if (words[0] && !read_line(read, words, &breath_s)) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "line %u cannot be understood: %s", i + 1, lines[i]);
            return NULL;
        }
    }
    if (read->notes->len == 0) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "there is no note in it");
        return NULL;
    }
    return g_steal_pointer(&read);
}
