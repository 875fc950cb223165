/* company.c - what is said of a voice that sings alone, and of one that does not.
 *
 *     tests/bench/company [PHRASES [SET]]      phrases a row, set 0 if not given
 *
 * Sets below 100 and the players of our own are for choosing settings; sets from 100 on, and the General MIDI players
 * (fluidsynth with a sound font, if they are installed), only for judging. Rows:
 *
 *   notes    notes found to be the singer's own (onset within 50 ms, pitch within 50 cents of one that was sung): their
 *            share of what was sung, and of what was read
 *   marked   of the notes read: called accompanied, so that their vowels are withheld. Alone, each is a false alarm
 *   invented notes read that nobody sang and that are not marked, a hundred sung ones
 *   takes    takes with any note marked
 *
 * With COMPANY_SAVE=DIR every sound is also written there as 16-bit WAV. */
#include "bench.h"
#include "players.h"
#include "synth-phrase.h"

#include <aperta/audio.h>
#include <math.h>
#include <sndfile.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    const char *name;
    int low_midi, high_midi;
} voice_range;

static const voice_range RANGES[] = {{"bass", 40, 60}, {"tenor", 48, 69}, {"alto", 53, 74}, {"soprano", 60, 84}};

typedef struct {
    const char *name;
    double snr_db, room_rt60_s, vibrato_cents, ripple_db;
} alone;

static const alone ALONE[] = {
    {"alone, straight", 40, 0, 0, 2}, {"alone, breathy", 12, 0, 60, 2}, {"alone, wide vibrato", 25, 0, 120, 4},
    {"room 0.4 s", 25, 0.4, 80, 2},   {"room 1 s", 25, 1.0, 80, 2},     {"room 2 s", 25, 2.0, 80, 2},
    {"room 4 s", 25, 4.0, 80, 2},
};

typedef struct {
    guint takes, takes_marked, sung, read, right, marked, invented, right_unmarked;
} score;

static synth_take *sing(const voice_range *range, const alone *how, guint64 seed)
{
    synth_phrase_spec spec = synth_phrase_default();

    spec.low_midi = range->low_midi;
    spec.high_midi = range->high_midi;
    spec.vibrato_max_cents = how->vibrato_cents;
    spec.voice.snr_db = how->snr_db;
    spec.voice.room_rt60_s = how->room_rt60_s;
    spec.voice.ripple_db = how->ripple_db;
    spec.voice.seed = seed;
    return synth_phrase_random(&spec);
}

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
        s->invented += !right && !n->accompanied;
        s->right_unmarked += right && !n->accompanied;
        if (g_getenv("BENCH_SHOW") != NULL)
            printf("  %.3f-%.3f %.2f%s%s\n", n->span.start_s, n->span.end_s, aperta_hz_to_midi(n->f0_hz, 440.0),
                   right ? "" : " not sung", n->accompanied ? " accompanied" : "");
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
    printf("%-24s %5.1f %5.1f   %5.1f   %5.1f   %3u/%-3u\n", name, share(s->right, s->sung), share(s->right, s->read),
           share(s->marked, s->read), share(s->invented, s->sung), s->takes_marked, s->takes);
}

static void bench_alone(guint n_phrases, guint set)
{
    for (gsize c = 0; c < G_N_ELEMENTS(ALONE); c++) {
        score s = {0};
        for (gsize r = 0; r < G_N_ELEMENTS(RANGES); r++)
            for (guint i = 0; i < n_phrases; i++) {
                guint64 seed = 10000 * set + 1000 * c + 100 * r + i + 500001;
                g_autoptr(synth_take) take = sing(&RANGES[r], &ALONE[c], seed);
                save(take, ALONE[c].name, seed);
                if (g_getenv("BENCH_SHOW") != NULL)
                    printf("%s %s %u\n", ALONE[c].name, RANGES[r].name, i);
                judge(&s, take);
            }
        print_row(ALONE[c].name, &s);
    }
}

/* Level of the voice where it sounds. */
static double voice_rms(const synth_take *take)
{
    double power = 0.0;
    gsize n = 0, hop = (gsize)(SYNTH_TRUTH_HOP_S * take->sample_rate_hz);

    for (gsize i = 0; i < take->n_samples; i++)
        if (i / hop < take->n_frames && take->f0_hz[i / hop] > 0.0) {
            power += (double)take->samples[i] * take->samples[i];
            n++;
        }
    return n > 0 ? sqrt(power / (double)n) : 0.0;
}

/* FALSE: this player is not installed. */
static gboolean mix(synth_take *take, player_kind kind, double level_db, guint64 seed)
{
    g_autofree float *other = player_sound(kind, take->n_samples, take->sample_rate_hz, seed);
    double gain = voice_rms(take) * pow(10.0, level_db / 20.0), peak = 1.0;

    if (other == NULL)
        return FALSE;
    for (gsize i = 0; i < take->n_samples; i++) {
        take->samples[i] += (float)gain * other[i];
        peak = MAX(peak, fabs((double)take->samples[i]));
    }
    for (gsize i = 0; i < take->n_samples; i++)
        take->samples[i] /= (float)peak;
    return TRUE;
}

/* A second singer of another phrase. */
static void mix_duet(synth_take *take, double level_db, guint64 seed)
{
    static const alone how = {"duet", 25, 0, 80, 2};
    g_autoptr(synth_take) other = sing(&RANGES[seed % 4], &how, seed + 7777);
    double gain = voice_rms(take) / voice_rms(other) * pow(10.0, level_db / 20.0);

    for (gsize i = 0; i < MIN(take->n_samples, other->n_samples); i++)
        take->samples[i] = (float)(0.5 * (take->samples[i] + gain * other->samples[i]));
}

static void bench_mixed(guint kind, double level_db, guint n_phrases, guint set)
{
    static const alone how = {"mixed", 30, 0.2, 80, 2};
    g_autofree char *name = g_strdup_printf("%s %+.0f dB", kind < N_PLAYERS ? PLAYER_NAMES[kind] : "duet", level_db);
    score s = {0};

    for (gsize r = 0; r < G_N_ELEMENTS(RANGES); r++)
        for (guint i = 0; i < n_phrases; i++) {
            guint64 seed = 10000 * set + 100 * r + i + 700001;
            g_autoptr(synth_take) take = sing(&RANGES[r], &how, seed);
            if (kind == N_PLAYERS)
                mix_duet(take, level_db, seed);
            else if (!mix(take, kind, level_db, seed))
                return;
            save(take, name, seed);
            if (g_getenv("BENCH_SHOW") != NULL)
                printf("%s %s %u\n", name, RANGES[r].name, i);
            judge(&s, take);
        }
    print_row(name, &s);
}

int main(int argc, char **argv)
{
    static const double LEVELS_DB[] = {0.0, -6.0, -12.0, -20.0};
    guint n_phrases = argc > 1 ? (guint)atoi(argv[1]) : 3;
    guint set = argc > 2 ? (guint)atoi(argv[2]) : 0;
    const char *only = g_getenv("COMPANY_ONLY"); /* a part of the player's name, or "alone" */

    printf("set %u, %u phrases of 10 notes for each of four voices a row; per cent\n", set, n_phrases);
    printf("%-24s %5s %5s   %5s   %5s   %s\n", "", "found", "right", "marked", "invented", "takes");
    if (only == NULL || g_str_equal(only, "alone"))
        bench_alone(n_phrases, set);
    for (guint kind = 0; kind <= N_PLAYERS; kind++) {
        if (only != NULL && strstr(kind < N_PLAYERS ? PLAYER_NAMES[kind] : "duet", only) == NULL)
            continue;
        if (set < 100 && only == NULL && kind >= PLAYER_GM_PIANO && kind < N_PLAYERS)
            continue;
        for (gsize k = 0; k < G_N_ELEMENTS(LEVELS_DB); k++)
            bench_mixed(kind, LEVELS_DB[k], n_phrases, set);
    }
    return 0;
}
