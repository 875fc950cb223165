/* company.c - what is said of a voice that sings alone, and of one that does not.
 *
 *     tests/bench/company [PHRASES [SET]]      phrases a row, set 0 if not given
 *
 * Sets below 100 and the players of our own are for choosing settings; sets from 100 on, and the General MIDI players
 * (fluidsynth with a sound font, if they are installed), only for judging. Rows:
 *
 *   notes    notes found to be the singer's own (onset within 50 ms, pitch within 50 cents of one that was sung): their
 *            share of what was sung, and of what was read
 *   marked   of the notes read: called accompanied. Alone, each is a false alarm
 *   withheld of the notes read: vowel and resonances are not even looked for
 *   invented notes read that nobody sang and that are not withheld, a hundred sung ones
 *   takes    takes with any note marked
 *
 * With COMPANY_SAVE=DIR every sound is also written there as 16-bit WAV. */
#include "bench.h"
#include "mixture.h"

#include <aperta/audio.h>
#include <math.h>
#include <sndfile.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const mixture_manner ALONE[] = {
    {"alone, straight", 40, 0, 0, 2}, {"alone, breathy", 12, 0, 60, 2}, {"alone, wide vibrato", 25, 0, 120, 4},
    {"room 0.4 s", 25, 0.4, 80, 2},   {"room 1 s", 25, 1.0, 80, 2},     {"room 2 s", 25, 2.0, 80, 2},
    {"room 4 s", 25, 4.0, 80, 2},
};

typedef struct {
    guint takes, takes_marked, sung, read, right, marked, withheld, invented;
} score;

static void save(const synth_take *take, const char *name, guint64 seed)
{
    const char *folder = g_getenv("COMPANY_SAVE");
    if (folder == NULL)
        return;
    g_autofree char *path = g_strdup_printf("%s/%s-%" G_GUINT64_FORMAT ".wav", folder, name, seed);
    SF_INFO info = {.samplerate = take->sample_rate_hz, .channels = 1, .format = SF_FORMAT_WAV | SF_FORMAT_PCM_16};
    SNDFILE *file = sf_open(path, SFM_WRITE, &info);
    if (file == NULL)
        return;
    sf_writef_float(file, take->samples, (sf_count_t)take->n_samples);
    sf_close(file);
}

static gboolean was_sung(const synth_take *take, const aperta_note *n, gboolean *used)
{
    for (guint k = 0; k < take->n_notes; k++)
        if (!used[k] && fabs(take->notes[k].start_s - n->span.start_s) <= 0.05 &&
            fabs(aperta_cents_between(take->notes[k].f0_hz, n->f0_hz)) <= 50.0)
            return used[k] = TRUE;
    return FALSE;
}

static void judge(score *s, const synth_take *take)
{
    g_autoptr(aperta_f0_track) track = NULL;
    g_autoptr(GArray) notes = bench_read_notes(take->samples, take->n_samples, 0.010, &track);
    g_autofree gboolean *used = g_new0(gboolean, take->n_notes + 1);
    guint marked = 0;

    for (guint i = 0; i < notes->len; i++) {
        const aperta_note *n = &g_array_index(notes, aperta_note, i);
        gboolean right = was_sung(take, n, used);
        s->right += right;
        marked += n->accompanied;
        s->invented += !right && n->withheld == APERTA_WITHHELD_NOT;
        s->withheld += n->withheld != APERTA_WITHHELD_NOT;
        if (g_getenv("BENCH_SHOW") != NULL)
            printf("  %.3f-%.3f %.2f%s%s\n", n->span.start_s, n->span.end_s, aperta_hz_to_midi(n->f0_hz, 440.0),
                   right ? "" : " not sung",
                   n->withheld != APERTA_WITHHELD_NOT ? " withheld"
                   : n->accompanied                   ? " accompanied"
                                                      : "");
    }
    s->takes++;
    s->takes_marked += marked > 0;
    s->marked += marked;
    s->read += notes->len;
    s->sung += take->n_notes;
}

static double share(guint part, guint whole)
{
    return whole > 0 ? 100.0 * part / whole : NAN;
}

static void print_row(const char *name, const score *s)
{
    printf("%-24s %5.1f %5.1f   %5.1f    %5.1f    %5.1f   %3u/%-3u\n", name, share(s->right, s->sung),
           share(s->right, s->read), share(s->marked, s->read), share(s->withheld, s->read),
           share(s->invented, s->sung), s->takes_marked, s->takes);
}

static void bench_alone(guint n_phrases, guint set)
{
    for (gsize c = 0; c < G_N_ELEMENTS(ALONE); c++) {
        score s = {0};
        for (gsize r = 0; r < MIXTURE_N_RANGES; r++)
            for (guint i = 0; i < n_phrases; i++) {
                guint64 seed = 10000 * set + 1000 * c + 100 * r + i + 500001;
                g_autoptr(synth_take) take = mixture_sing(&MIXTURE_RANGES[r], &ALONE[c], seed);
                save(take, ALONE[c].name, seed);
                if (g_getenv("BENCH_SHOW") != NULL)
                    printf("%s %s %u\n", ALONE[c].name, MIXTURE_RANGES[r].name, i);
                judge(&s, take);
            }
        print_row(ALONE[c].name, &s);
    }
}

static void bench_mixed(guint kind, double level_db, guint n_phrases, guint set)
{
    static const mixture_manner how = {"mixed", 30, 0.2, 80, 2};
    g_autofree char *name = g_strdup_printf("%s %+.0f dB", mixture_name(kind), level_db);
    score s = {0};

    for (gsize r = 0; r < MIXTURE_N_RANGES; r++)
        for (guint i = 0; i < n_phrases; i++) {
            guint64 seed = 10000 * set + 100 * r + i + 700001;
            g_autoptr(synth_take) take = mixture_sing(&MIXTURE_RANGES[r], &how, seed);
            if (!mixture_add(take, kind, level_db, seed))
                return;
            save(take, name, seed);
            if (g_getenv("BENCH_SHOW") != NULL)
                printf("%s %s %u\n", name, MIXTURE_RANGES[r].name, i);
            judge(&s, take);
        }
    print_row(name, &s);
}

int main(int argc, char **argv)
{
    static const double LEVELS_DB[] = {0.0, -6.0, -12.0, -20.0, -30.0};
    guint n_phrases = argc > 1 ? (guint)atoi(argv[1]) : 3;
    guint set = argc > 2 ? (guint)atoi(argv[2]) : 0;
    const char *only = g_getenv("COMPANY_ONLY"); /* a part of the player's name, or "alone" */

    printf("set %u, %u phrases of 10 notes for each of four voices a row; per cent\n", set, n_phrases);
    printf("%-24s %5s %5s   %5s  %5s %5s   %s\n", "", "found", "right", "marked", "withheld", "invented", "takes");
    if (only == NULL || g_str_equal(only, "alone"))
        bench_alone(n_phrases, set);
    for (guint kind = 0; kind < MIXTURE_KINDS; kind++) {
        if (only != NULL && strstr(mixture_name(kind), only) == NULL)
            continue;
        if (set < 100 && only == NULL && kind >= PLAYER_GM_PIANO && kind < N_PLAYERS)
            continue;
        for (gsize k = 0; k < G_N_ELEMENTS(LEVELS_DB); k++)
            bench_mixed(kind, LEVELS_DB[k], n_phrases, set);
    }
    return 0;
}
