/* instruments.c - is a voice told from instruments that play without one?
 *
 *     tests/bench/instruments [HALF [FOLDER]]   0: for choosing settings (not given: that), 1: for judging
 *
 * Instruments: General MIDI programs, each with a melody and with chords, and bands, by fluidsynth; the even programs
 * are for choosing, the odd ones for judging. Voices: phrases of our synthesiser, of festival's recorded diphones
 * (diphone-song.h; other people in each half), and choir programs of the sound font. Per take: notes read, notes whose
 * vowel may be told; takes of which none is, and takes of which a voice is doubted. With BENCH_SHOW=1 every take is
 * listed. */
#include "bench.h"
#include "diphone-song.h"
#include "mixture.h"

#include <aperta/audio.h>
#include <stdio.h>
#include <stdlib.h>

#define SECONDS 12.0

typedef struct {
    guint takes, none, doubted, notes, told;
} score;

static void judge(score *s, const char *name, const float *samples, gsize n)
{
    g_autoptr(aperta_f0_track) track = NULL;
    g_autoptr(GArray) notes = bench_read_notes(samples, n, 0.010, &track);
    guint told = 0;

    for (guint i = 0; i < notes->len; i++)
        told += g_array_index(notes, aperta_note, i).withheld == APERTA_WITHHELD_NOT;
    aperta_voice_heard heard = aperta_pitch_voice_heard(track, (const aperta_note *)(void *)notes->data, notes->len);
    s->takes++;
    s->none += told == 0;
    s->doubted += told > 0 && heard == APERTA_VOICE_DOUBTED;
    s->notes += notes->len;
    s->told += told;
    if (g_getenv("BENCH_SHOW") != NULL)
        printf("  %-28s %3u notes, %3u told\n", name, notes->len, told);
    fflush(stdout);
}

static void print_row(const char *name, const score *s)
{
    if (s->takes > 0)
        printf("%-22s %3u takes, %3u without any vowel, %3u in doubt; %4u notes, vowels of %4u (%.0f %%)\n", name,
               s->takes, s->none, s->doubted, s->notes, s->told, bench_percent(s->told, s->notes));
    fflush(stdout);
}

typedef struct {
    const char *name;
    int first, last; /* programs, from 0 */
} family;

/* General MIDI level 1, program families. Voices, effects and single percussion are no families of this list. */
static const family FAMILIES[] = {
    {"pianos", 0, 7},   {"bells, mallets", 8, 15}, {"organs", 16, 23},      {"guitars", 24, 31},
    {"basses", 32, 39}, {"strings", 40, 47},       {"ensembles", 48, 51},   {"brass", 56, 63},
    {"reeds", 64, 71},  {"pipes", 72, 79},         {"synth leads", 80, 87}, {"plucked, world", 104, 111},
};

static gboolean bench_family(const family *f, player_score what, guint half)
{
    static const char *const WHATS[] = {"melody", "chords", "band"};
    g_autofree char *name = g_strdup_printf("%s, %s", f->name, WHATS[what]);
    gsize n = (gsize)(SECONDS * APERTA_AUDIO_RATE_HZ);
    score s = {0};

    for (int program = f->first + (int)half; program <= f->last; program += 2) {
        g_autofree float *samples = player_score_sound(what, program, n, APERTA_AUDIO_RATE_HZ, 900 + half);
        g_autofree char *label = g_strdup_printf("program %d, %s", program, WHATS[what]);
        if (samples == NULL)
            return FALSE;
        judge(&s, label, samples, n);
    }
    print_row(name, &s);
    return TRUE;
}

static void bench_synthetic(guint half)
{
    static const mixture_manner HOW[] = {{"straight voice", 40, 0, 0, 2}, {"voice", 25, 0.3, 80, 2}};

    for (gsize h = 0; h < G_N_ELEMENTS(HOW); h++) {
        score s = {0};
        for (guint i = 0; i < 8; i++) {
            guint64 seed = 31000 + 1000 * half + i;
            g_autoptr(synth_take) take = mixture_sing(&MIXTURE_RANGES[i % MIXTURE_N_RANGES], &HOW[h], seed);
            judge(&s, HOW[h].name, take->samples, take->n_samples);
        }
        print_row(HOW[h].name, &s);
    }
}

static void bench_diphones(guint half, const char *folder)
{
    g_autoptr(GPtrArray) songs = g_ptr_array_new_with_free_func((GDestroyNotify)diphone_song_free);
    score s = {0};

    for (int v = 0; v < DIPHONE_VOICES; v++)
        for (int kind = 0; kind < DIPHONE_KINDS; kind++)
            if (diphone_voices[v].judges == (half == 1))
                g_ptr_array_add(songs, diphone_song_draw(&diphone_voices[v], kind, 77000 + 10 * v + kind));
    if (!diphone_sing_all(songs, folder))
        return;
    for (guint i = 0; i < songs->len; i++) {
        const diphone_song *song = songs->pdata[i];
        g_autoptr(synth_take) take = diphone_song_take(song, folder);
        if (take != NULL)
            judge(&s, song->voice->label, take->samples, take->n_samples);
    }
    print_row("people's diphones", &s);
}

int main(int argc, char **argv)
{
    static const family CHOIR = {"choir", 52, 54};
    guint half = argc > 1 ? (guint)atoi(argv[1]) % 2 : 0;
    gboolean played = TRUE;

    for (gsize i = 0; played && i < G_N_ELEMENTS(FAMILIES); i++)
        for (int what = PLAYER_MELODY; played && what <= PLAYER_CHORDS; what++)
            played = bench_family(&FAMILIES[i], (player_score)what, half);
    if (played) {
        static const family BAND = {"pianos", 0, 7};
        bench_family(&BAND, PLAYER_BAND, half);
        bench_family(&CHOIR, PLAYER_MELODY, half);
    } else {
        printf("fluidsynth or its sound font is not installed\n");
    }
    bench_synthetic(half);
    if (argc > 2)
        bench_diphones(half, argv[2]);
    return 0;
}
