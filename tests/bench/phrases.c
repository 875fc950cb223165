/* phrases.c - how well pitch, notes and vibrato are read from synthetic phrases whose truth is known.
 *
 *     tests/bench/phrases [PHRASES [HOP_S [SET]]]      phrases a row, 10 ms, set 0 if not given
 *
 * Each set has phrases of its own. pitch-tuning.h was chosen by looking at sets 0 to 2, so those are no independent
 * proof of it; sets from 100 on are for judging, and no setting is to be chosen by them.
 *
 * Scores: voiced frames off by more than 50 cents and median |error| (frames voiced in both); voicing recall and false
 * alarm; notes as in Molina et al. 2014 (ISMIR, "Evaluation framework for automatic singing transcription"): onset
 * within 50 ms and pitch within 50 cents, one to one; vibrato rate and extent of the notes found. */
#include "bench.h"
#include "synth-phrase.h"
#include "synth-random.h"

#include <aperta/pitch.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct {
    const char *name;
    int low_midi, high_midi;
} voice_range;

static const voice_range ranges[] = {{"bass", 40, 60}, {"tenor", 48, 69}, {"alto", 53, 74}, {"soprano", 60, 84}};

typedef struct {
    const char *name;
    double snr_db, room_rt60_s, vibrato_cents, shortest_s, longest_s;
    gboolean wide; /* arpeggios on one vowel, slurred, with a vibrato as wide as trained voices have it, and uneven */
} condition;

static const condition conditions[] = {
    {"clean, straight", 40, 0, 0, 0.25, 1.2, FALSE},        {"breath 20 dB", 20, 0, 100, 0.25, 1.2, FALSE},
    {"breath 20 dB, room", 20, 0.4, 100, 0.25, 1.2, FALSE}, {"fast notes", 30, 0, 60, 0.12, 0.4, FALSE},
    {"wide vibrato", 30, 0, 200, 0.4, 1.3, TRUE},           {"wide vibrato, room", 30, 0.4, 200, 0.4, 1.3, TRUE}};

/* The vibrato swings between 0.7 and 2 semitones to either side; sizes are common practice, no source. */
static synth_take *sing_wide(const synth_phrase_spec *spec)
{
    enum { N = 10 };
    static const int chord[] = {0, 4, 7, 12};
    synth_voice voice = spec->voice;
    voice.seed = synth_random_spread(voice.seed);
    synth_random random = synth_random_seed(voice.seed);
    synth_syllable syllables[N];
    double at_s = 0.3;
    int root = synth_random_int(&random, spec->low_midi, spec->high_midi - 12), step = 0, way = 1;
    synth_tube tube;
    synth_tube_story("ɑ", &tube);
    synth_tube_scale(&tube, spec->high_midi <= 69 ? 1.0 : 0.86);

    for (guint i = 0; i < N; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].vowel = synth_vowel_of_tube(&tube);
        syllables[i].midi = root + chord[step] + CLAMP(synth_random_gauss(&random, 0.1), -0.25, 0.25);
        syllables[i].glide_s = synth_random_uniform(&random, 0.05, 0.2);
        syllables[i].level_db = synth_random_uniform(&random, -2.0, 1.0);
        syllables[i].rd_vibrato = 0.1;
        syllables[i].vibrato =
            (synth_vibrato){.rate_hz = synth_random_uniform(&random, 4.6, 6.6),
                            .extent_cents = synth_random_uniform(&random, 0.35, 1.0) * spec->vibrato_max_cents,
                            .delay_s = synth_random_uniform(&random, 0.0, 0.25),
                            .irregularity = synth_random_uniform(&random, 0.02, 0.1)};
        syllables[i].start_s = at_s;
        at_s += spec->shortest_s * pow(spec->longest_s / spec->shortest_s, synth_random_uniform(&random, 0.0, 1.0));
        syllables[i].end_s = at_s;
        if (step + way < 0 || step + way >= (int)G_N_ELEMENTS(chord))
            way = -way;
        step += way;
    }
    return synth_phrase_sing(&voice, syllables, N, 3.0, at_s + 0.3);
}

static void read_phrase(bench_score *s, const voice_range *range, const condition *c, guint64 seed, double hop_s)
{
    synth_phrase_spec spec = synth_phrase_default();
    spec.low_midi = range->low_midi;
    spec.high_midi = range->high_midi;
    spec.vibrato_max_cents = c->vibrato_cents;
    spec.shortest_s = c->shortest_s;
    spec.longest_s = c->longest_s;
    spec.voice.snr_db = c->snr_db;
    spec.voice.room_rt60_s = c->room_rt60_s;
    spec.voice.ripple_db = 2.0;
    spec.voice.seed = seed;
    g_autoptr(synth_take) take = c->wide ? sing_wide(&spec) : synth_phrase_random(&spec);
    g_autoptr(aperta_f0_track) track = NULL;
    g_autoptr(GArray) notes = bench_read_notes(take->samples, take->n_samples, hop_s, &track);
    if (hop_s == SYNTH_TRUTH_HOP_S)
        bench_score_frames(s, take, track);
    bench_score_notes(s, take, notes, NULL);
    if (getenv("BENCH_SHOW") != NULL) {
        printf("%s, %s, seed %" G_GUINT64_FORMAT "\n", range->name, c->name, seed);
        bench_show(take, notes);
    }
}

static void print_row(const char *range, const char *condition_name, const bench_score *s)
{
    guint all = s->found_notes + s->true_notes;

    printf("%-8s %-19s %6.2f %6.2f %6.1f %6.1f  %5.3f %5.3f  %5.2f %6.1f  %3u/%-3u %3u\n", range, condition_name,
           bench_percent(s->gross, s->found), bench_median(s->cents), bench_percent(s->found, s->voiced),
           bench_percent(s->false_alarm, s->unvoiced), all ? 2.0 * s->onset_only / all : NAN,
           all ? 2.0 * s->matched / all : NAN, bench_median(s->rate), bench_median(s->extent), s->vibrato_found,
           s->vibrato_true, s->straight_called);
}

int main(int argc, char **argv)
{
    guint n_phrases = argc > 1 ? (guint)atoi(argv[1]) : 12;
    double hop_s = argc > 2 ? g_ascii_strtod(argv[2], NULL) : SYNTH_TRUTH_HOP_S;
    guint set = argc > 3 ? (guint)atoi(argv[3]) : 0;

    printf("set %u, %u phrases of 10 notes a row\n", set, n_phrases);
    printf("                              >50 c  med c  voiced  false  onset +pitch   vibrato Hz, cents, found, in "
           "straight\n");
    for (gsize c = 0; c < G_N_ELEMENTS(conditions); c++)
        for (gsize r = 0; r < G_N_ELEMENTS(ranges); r++) {
            bench_score s;
            bench_score_init(&s);
            for (guint i = 0; i < n_phrases; i++)
                read_phrase(&s, &ranges[r], &conditions[c], 10000 * set + 1000 * c + 100 * r + i + 1, hop_s);
            print_row(ranges[r].name, conditions[c].name, &s);
            bench_score_clear(&s);
        }
    return 0;
}
