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
#include "dsp/dsp.h"
#include "synth-phrase.h"

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
} condition;

static const condition conditions[] = {{"clean, straight", 40, 0, 0, 0.25, 1.2},
                                       {"breath 20 dB", 20, 0, 100, 0.25, 1.2},
                                       {"breath 20 dB, room", 20, 0.4, 100, 0.25, 1.2},
                                       {"fast notes", 30, 0, 60, 0.12, 0.4}};

typedef struct {
    guint voiced, found, gross, unvoiced, false_alarm;
    guint true_notes, found_notes, matched, onset_only;
    guint vibrato_true, vibrato_found, straight_called;
    GArray *cents, *rate, *extent;
} score;

static void score_init(score *s)
{
    *s = (score){.cents = g_array_new(FALSE, FALSE, sizeof(double)),
                 .rate = g_array_new(FALSE, FALSE, sizeof(double)),
                 .extent = g_array_new(FALSE, FALSE, sizeof(double))};
}

static void score_clear(score *s)
{
    g_array_unref(s->cents);
    g_array_unref(s->rate);
    g_array_unref(s->extent);
}

static void score_frames(score *s, const synth_take *take, const aperta_f0_track *track)
{
    for (guint i = 0; i < MIN(take->n_frames, track->n_frames); i++) {
        double truth = take->f0_hz[i];
        const aperta_f0 *f = &track->frames[i];
        s->voiced += truth > 0.0;
        s->unvoiced += truth <= 0.0;
        s->false_alarm += truth <= 0.0 && f->voiced;
        if (truth <= 0.0 || !f->voiced)
            continue;
        double off = fabs(aperta_cents_between(truth, f->f0_hz));
        s->found++;
        s->gross += off > 50.0;
        g_array_append_val(s->cents, off);
    }
}

static gboolean matches(const synth_truth *t, const aperta_note *n, gboolean pitch_too)
{
    return fabs(t->start_s - n->span.start_s) <= 0.05 &&
           (!pitch_too || fabs(aperta_cents_between(t->f0_hz, n->f0_hz)) <= 50.0);
}

static void score_vibrato(score *s, const synth_truth *t, const aperta_note *n)
{
    gboolean measured = n->vibrato.status == APERTA_VIBRATO_MEASURED;

    if (t->vibrato_partial) /* too short a part of it is fully grown to know its truth */
        return;
    if (t->vibrato_extent_cents < 20.0) {
        s->straight_called += t->vibrato_extent_cents == 0.0 && measured;
        return;
    }
    if (t->end_s - t->start_s < 0.6)
        return;
    s->vibrato_true++;
    if (!measured)
        return;
    double rate = fabs(n->vibrato.rate_hz - t->vibrato_rate_hz);
    double extent = fabs(n->vibrato.extent_cents - t->vibrato_extent_cents);
    s->vibrato_found++;
    g_array_append_val(s->rate, rate);
    g_array_append_val(s->extent, extent);
}

static void score_notes(score *s, const synth_take *take, const GArray *notes)
{
    g_autofree gboolean *used = g_new0(gboolean, notes->len + 1);
    g_autofree gboolean *used_onset = g_new0(gboolean, notes->len + 1);

    s->true_notes += take->n_notes;
    s->found_notes += notes->len;
    for (guint k = 0; k < take->n_notes; k++) {
        gboolean hit = FALSE, hit_onset = FALSE;
        for (guint i = 0; i < notes->len; i++) {
            const aperta_note *n = &g_array_index(notes, aperta_note, i);
            if (!hit && !used[i] && matches(&take->notes[k], n, TRUE)) {
                used[i] = hit = TRUE;
                s->matched++;
                score_vibrato(s, &take->notes[k], n);
            }
            if (!hit_onset && !used_onset[i] && matches(&take->notes[k], n, FALSE)) {
                used_onset[i] = hit_onset = TRUE;
                s->onset_only++;
            }
        }
    }
}

/* With BENCH_SHOW set, the notes of truth and reading side by side. */
static void show(const synth_take *take, const GArray *notes)
{
    static const char *const onsets[] = {"vowel", "dip", "stop", "fricative", "h", "nasal", "lateral"};

    for (guint k = 0; k < take->n_notes; k++) {
        const synth_truth *t = &take->notes[k];
        printf("  true  %.3f-%.3f %.2f vib %.1f Hz %.0f c %s\n", t->start_s, t->end_s, t->midi, t->vibrato_rate_hz,
               t->vibrato_extent_cents, onsets[t->onset]);
    }
    for (guint i = 0; i < notes->len; i++) {
        const aperta_note *n = &g_array_index(notes, aperta_note, i);
        gboolean ok = FALSE;
        for (guint k = 0; k < take->n_notes; k++)
            ok |= matches(&take->notes[k], n, TRUE);
        printf("  read  %.3f-%.3f %.2f vib %.1f Hz %.0f c%s%s\n", n->span.start_s, n->span.end_s,
               aperta_hz_to_midi(n->f0_hz, 440.0), n->vibrato.rate_hz, n->vibrato.extent_cents, ok ? "" : "   <--",
               n->accompanied ? " accompanied" : "");
    }
}

static void read_phrase(score *s, const voice_range *range, const condition *c, guint64 seed, double hop_s)
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
    g_autoptr(synth_take) take = synth_phrase_random(&spec);
    g_autoptr(aperta_f0_track) track = NULL;
    g_autoptr(GArray) notes = bench_read_notes(take->samples, take->n_samples, hop_s, &track);
    if (hop_s == SYNTH_TRUTH_HOP_S)
        score_frames(s, take, track);
    score_notes(s, take, notes);
    if (getenv("BENCH_SHOW") != NULL) {
        printf("%s, %s, seed %" G_GUINT64_FORMAT "\n", range->name, c->name, seed);
        show(take, notes);
    }
}

static double median(GArray *values)
{
    return values->len > 0 ? dsp_quantile((double *)(void *)values->data, values->len, 0.5) : NAN;
}

static void print_row(const char *range, const char *condition_name, const score *s)
{
    double precision = s->found_notes > 0 ? (double)s->matched / s->found_notes : 0.0;
    double recall = s->true_notes > 0 ? (double)s->matched / s->true_notes : 0.0;
    double f = precision + recall > 0.0 ? 2.0 * precision * recall / (precision + recall) : 0.0;
    double fo = 2.0 * s->onset_only / (s->found_notes + s->true_notes);

    printf("%-8s %-19s %6.2f %6.2f %6.1f %6.1f  %5.3f %5.3f  %5.2f %6.1f  %3u/%-3u %3u\n", range, condition_name,
           s->found ? 100.0 * s->gross / s->found : NAN, median(s->cents),
           s->voiced ? 100.0 * s->found / s->voiced : NAN, s->unvoiced ? 100.0 * s->false_alarm / s->unvoiced : NAN, fo,
           f, median(s->rate), median(s->extent), s->vibrato_found, s->vibrato_true, s->straight_called);
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
            score s;
            score_init(&s);
            for (guint i = 0; i < n_phrases; i++)
                read_phrase(&s, &ranges[r], &conditions[c], 10000 * set + 1000 * c + 100 * r + i + 1, hop_s);
            print_row(ranges[r].name, conditions[c].name, &s);
            score_clear(&s);
        }
    return 0;
}
