/* sing.c - sings demo/song.txt with a synthetic woman's voice.
 *
 *     sing SONG OUT.wav [TRUTH.tsv]
 *
 * The sound is made by the synthesiser of the tests; no recording of anybody is in it, and the file says so. The same
 * song gives the same file, byte for byte. TRUTH.tsv tells what was sung: notes, vibrato, resonances. */
#include "song-file.h"
#include "synth-phrase.h"
#include "wav.h"

#include <aperta/base.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#define SAMPLE_RATE_HZ 44100
#define TRACT_CM       15.0 /* a woman's: places the resonances above F4 */
#define TAIL_S         0.6  /* for the room */

static const struct {
    const char *letters;
    synth_onset onset;
} consonants[] = {{"-", SYNTH_ONSET_VOWEL},      {"b", SYNTH_ONSET_STOP},      {"d", SYNTH_ONSET_STOP},
                  {"g", SYNTH_ONSET_STOP},       {"p", SYNTH_ONSET_STOP},      {"t", SYNTH_ONSET_STOP},
                  {"k", SYNTH_ONSET_STOP},       {"s", SYNTH_ONSET_FRICATIVE}, {"f", SYNTH_ONSET_FRICATIVE},
                  {"sh", SYNTH_ONSET_FRICATIVE}, {"h", SYNTH_ONSET_ASPIRATE},  {"m", SYNTH_ONSET_NASAL},
                  {"n", SYNTH_ONSET_NASAL},      {"l", SYNTH_ONSET_LATERAL},   {"w", SYNTH_ONSET_LATERAL},
                  {"r", SYNTH_ONSET_LATERAL},    {"y", SYNTH_ONSET_LATERAL},   {"v", SYNTH_ONSET_LATERAL},
                  {"th", SYNTH_ONSET_LATERAL}};

/* How each manner is sung; all figures invented for the demo, within what singers do. */
static const struct {
    double level_db, breathy_db, rd, extent_cents, rate_hz, delay_s;
} manners[] = {
    [SONG_PLAIN] = {-4.0, 0.0, 1.0, 30.0, 5.6, 0.20},
    [SONG_BELT] = {0.0, -3.0, 0.7, 65.0, 5.8, 0.40},
    [SONG_STRAIGHT] = {-1.0, -3.0, 0.7, 0.0, 5.8, 0.0},
    [SONG_BREATHY] = {-9.0, 12.0, 2.0, 20.0, 5.5, 0.30},
};

static gboolean find_onset(const char *letters, synth_onset *onset)
{
    for (guint i = 0; i < G_N_ELEMENTS(consonants); i++)
        if (strcmp(letters, consonants[i].letters) == 0) {
            *onset = consonants[i].onset;
            return TRUE;
        }
    return FALSE;
}

static synth_vowel sung_vowel(const double *hz)
{
    synth_table table = synth_table_vowel(hz, SONG_FORMANTS, TRACT_CM, SYNTH_BANDWIDTHS_HAWKS_MILLER);

    return synth_vowel_of_table(&table);
}

static gboolean make_syllable(const demo_song *song, const song_note *note, synth_random *random,
                              synth_syllable *syllable, GError **error)
{
    double beat_s = 60.0 / song->tempo;

    *syllable = synth_syllable_default();
    if (!find_onset(note->onset, &syllable->onset)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "“%s” begins with “%s”, which this voice cannot sing",
                    note->word, note->onset);
        return FALSE;
    }
    syllable->start_s = note->start_beat * beat_s;
    syllable->end_s = (note->start_beat + note->beats) * beat_s;
    syllable->midi = note->midi;
    syllable->vibrato =
        (synth_vibrato){.rate_hz = manners[note->manner].rate_hz + synth_random_uniform(random, -0.2, 0.2),
                        .extent_cents = manners[note->manner].extent_cents * synth_random_uniform(random, 0.85, 1.15),
                        .delay_s = manners[note->manner].delay_s,
                        .irregularity = 0.02};
    syllable->breath_s = note->breath_s;
    syllable->level_db = manners[note->manner].level_db;
    syllable->breathy_db = manners[note->manner].breathy_db;
    syllable->rd = manners[note->manner].rd;
    syllable->rd_vibrato = 0.05;
    syllable->vowel = sung_vowel(note->formants_hz);
    syllable->glides = note->formants_end_hz != NULL;
    syllable->vowel_end = sung_vowel(syllable->glides ? note->formants_end_hz : note->formants_hz);
    return TRUE;
}

static synth_take *sing(const demo_song *song, GError **error)
{
    guint n = song->notes->len;
    g_autofree synth_syllable *syllables = g_new0(synth_syllable, n);
    synth_random random = synth_random_seed(song->seed);
    synth_voice voice = synth_voice_default();

    for (guint i = 0; i < n; i++)
        if (!make_syllable(song, &g_array_index(song->notes, song_note, i), &random, &syllables[i], error))
            return NULL;
    voice.sample_rate_hz = SAMPLE_RATE_HZ;
    voice.level_db = -20.0;
    voice.snr_db = 34.0;
    voice.ripple_db = 1.5;
    voice.floor_db = -78.0;
    voice.room_rt60_s = 0.35;
    voice.seed = song->seed;
    return synth_phrase_sing(&voice, syllables, n, 4.0, syllables[n - 1].end_s + TAIL_S);
}

static gboolean write_truth(const char *path, const demo_song *song, const synth_take *take, GError **error)
{
    g_autoptr(GString) text = g_string_new("start_s\tend_s\tmidi\tvibrato_rate_hz\tvibrato_extent_cents\t"
                                           "f1_hz\tf2_hz\tf3_hz\tvowel\tword\n");

    for (guint i = 0; i < take->n_notes; i++) {
        const synth_truth *t = &take->notes[i];
        const song_note *note = &g_array_index(song->notes, song_note, i);
        const double values[] = {t->start_s,
                                 t->end_s,
                                 t->midi,
                                 t->vibrato_rate_hz,
                                 t->vibrato_extent_cents,
                                 t->resonances[0].hz,
                                 t->resonances[1].hz,
                                 t->resonances[2].hz};
        for (guint j = 0; j < G_N_ELEMENTS(values); j++) {
            char number[G_ASCII_DTOSTR_BUF_SIZE];
            g_string_append_printf(text, "%s\t", g_ascii_formatd(number, sizeof number, "%.3f", values[j]));
        }
        g_string_append_printf(text, "%s\t%s\n", note->vowel, note->word);
    }
    return write_whole(path, text->str, text->len, error);
}

static gboolean run(char **argv, GError **error)
{
    g_autoptr(demo_song) song = song_read(argv[1], error);
    g_autoptr(synth_take) take = song ? sing(song, error) : NULL;

    if (!take) {
        g_prefix_error(error, "%s: ", argv[1]);
        return FALSE;
    }
    if (!wav_write(argv[2], take->samples, take->n_samples, take->sample_rate_hz,
                   "Synthetic voice made by the demo of Aperta; not a recording of any person.", error))
        return FALSE;
    return !argv[3] || write_truth(argv[3], song, take, error);
}

int main(int argc, char **argv)
{
    g_autoptr(GError) error = NULL;

    setlocale(LC_ALL, "");
    if (argc < 3 || argc > 4) {
        g_printerr("usage: sing SONG OUT.wav [TRUTH.tsv]\n");
        return 2;
    }
    if (!run(argv, &error)) {
        g_printerr("sing: %s\n", error->message);
        return 1;
    }
    return 0;
}
