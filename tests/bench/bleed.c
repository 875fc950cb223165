/* bleed.c - resonances of a voice beside which something else sounds, by how loud that is.
 *
 *     tests/bench/bleed [PHRASES [SET]]      phrases a row, set 0 if not given; sets and players as in company.c
 *
 * The phrases and players of company.c. Of the sung notes that are found (onset 50 ms, pitch 50 cents), per cent:
 *
 *   none     F1 and F2 are both unknown: no vowel can be named
 *   no F2    F2 is unknown
 *   F1, F2   median error of what is measured, and its 90th percentile; F1 of notes with F1 >= 1.15 f0
 *   cov      truth inside the 90 % interval, of what is measured
 *   held     F1 below the limit, of what is called bounded
 *
 * COMPANY_ONLY: a part of the player's name; BLEED_VOICE_ONLY: levels are not gone through. */
#include "bench.h"
#include "mixture.h"

#include "dsp/dsp.h"

#include <aperta/audio.h>
#include <aperta/tract.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    guint notes, none, no_f2, measured1, covered1, measured2, covered2, measured3, covered3, bounded, held;
    GArray *f1, *f2;
} score;

static void score_init(score *s)
{
    *s = (score){.f1 = g_array_new(FALSE, FALSE, sizeof(double)), .f2 = g_array_new(FALSE, FALSE, sizeof(double))};
}

static void score_clear(score *s)
{
    g_array_unref(s->f1);
    g_array_unref(s->f2);
}

static void merge(score *to, const score *s)
{
    guint *sums = &to->notes;
    const guint *parts = &s->notes;

    for (const guint *end = &s->held; parts <= end; parts++)
        *sums++ += *parts;
    g_array_append_vals(to->f1, s->f1->data, s->f1->len);
    g_array_append_vals(to->f2, s->f2->data, s->f2->len);
}

static gboolean holds(const aperta_resonance *r, double hz)
{
    return r->low_hz <= hz && hz <= r->high_hz;
}

static void add_error(GArray *errors, const aperta_resonance *r, double hz)
{
    double error = 100.0 * fabs(r->hz / hz - 1.0);

    g_array_append_val(errors, error);
}

static void score_note(score *s, const synth_truth *t, const aperta_resonance *r)
{
    s->notes++;
    s->none += r[0].status == APERTA_UNKNOWN && r[1].status == APERTA_UNKNOWN;
    s->no_f2 += r[1].status == APERTA_UNKNOWN;
    if (r[0].status == APERTA_BOUNDED) {
        s->bounded++;
        s->held += t->resonances[0].hz <= r[0].high_hz;
    }
    if (r[0].status == APERTA_MEASURED) {
        s->measured1++;
        s->covered1 += holds(&r[0], t->resonances[0].hz);
        if (t->resonances[0].hz >= 1.15 * t->f0_hz)
            add_error(s->f1, &r[0], t->resonances[0].hz);
    }
    if (r[1].status == APERTA_MEASURED) {
        s->measured2++;
        s->covered2 += holds(&r[1], t->resonances[1].hz);
        add_error(s->f2, &r[1], t->resonances[1].hz);
    }
    if (r[2].status == APERTA_MEASURED) {
        s->measured3++;
        s->covered3 += holds(&r[2], t->resonances[2].hz);
    }
}

static const synth_truth *truth_of(const synth_take *take, const aperta_note *n, gboolean *used)
{
    for (guint k = 0; k < take->n_notes; k++)
        if (!used[k] && fabs(take->notes[k].start_s - n->span.start_s) <= 0.05 &&
            fabs(aperta_cents_between(take->notes[k].f0_hz, n->f0_hz)) <= 50.0) {
            used[k] = TRUE;
            return &take->notes[k];
        }
    return NULL;
}

static void judge(score *s, const synth_take *take, aperta_tract *tract)
{
    g_autoptr(aperta_f0_track) track = NULL;
    g_autoptr(GArray) notes = bench_read_notes(take->samples, take->n_samples, 0.010, &track);
    g_autofree gboolean *used = g_new0(gboolean, take->n_notes + 1);

    for (guint i = 0; i < notes->len; i++) {
        aperta_note *n = &g_array_index(notes, aperta_note, i);
        const synth_truth *t = truth_of(take, n, used);
        aperta_tract_reading reading;
        if (t == NULL)
            continue;
        if (g_getenv("BLEED_FORCE") != NULL)
            n->accompanied = FALSE;
        aperta_tract_read(tract, take->samples, take->n_samples, 0.0, track, n, &reading, NULL);
        score_note(s, t, reading.resonances);
        if (g_getenv("BENCH_SHOW") != NULL)
            printf("  %6.3f %7.1f%s F1 %d %5.0f (%5.0f-%5.0f) true %5.0f  F2 %d %5.0f (%5.0f-%5.0f) true %5.0f\n",
                   n->span.start_s, n->f0_hz, n->accompanied ? "*" : " ", reading.resonances[0].status,
                   reading.resonances[0].hz, reading.resonances[0].low_hz, reading.resonances[0].high_hz,
                   t->resonances[0].hz, reading.resonances[1].status, reading.resonances[1].hz,
                   reading.resonances[1].low_hz, reading.resonances[1].high_hz, t->resonances[1].hz);
    }
}

static double quantile(GArray *values, double q)
{
    return values->len > 0 ? dsp_quantile((double *)(void *)values->data, values->len, q) : NAN;
}

static void print_row(const char *name, const score *s)
{
    printf("%-24s %4u  %5.1f %5.1f  %5.1f %5.1f  %5.1f %5.1f  %5.1f %5.1f %5.1f  %5.1f\n", name, s->notes,
           bench_percent(s->none, s->notes), bench_percent(s->no_f2, s->notes), quantile(s->f1, 0.5),
           quantile(s->f1, 0.9), quantile(s->f2, 0.5), quantile(s->f2, 0.9), bench_percent(s->covered1, s->measured1),
           bench_percent(s->covered2, s->measured2), bench_percent(s->covered3, s->measured3),
           bench_percent(s->held, s->bounded));
    fflush(stdout);
}

/* kind < 0: the voice alone. FALSE: the player is not installed. */
static gboolean bench_row(score *s, int kind, double level_db, guint n_phrases, guint set)
{
    static const mixture_manner how = {"mixed", 30, 0.2, 80, 2};

    for (gsize r = 0; r < MIXTURE_N_RANGES; r++) {
        aperta_tract_config config = {.sample_rate_hz = APERTA_AUDIO_RATE_HZ, .voice = MIXTURE_RANGES[r].voice};
        g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
        for (guint i = 0; i < n_phrases; i++) {
            guint64 seed = 10000 * set + 100 * r + i + 700001;
            g_autoptr(synth_take) take = mixture_sing(&MIXTURE_RANGES[r], &how, seed);
            if (kind >= 0 && !mixture_add(take, (guint)kind, level_db, seed))
                return FALSE;
            judge(s, take, tract);
        }
    }
    return TRUE;
}

int main(int argc, char **argv)
{
    static const double LEVELS_DB[] = {0.0, -10.0, -20.0, -30.0, -40.0};
    guint n_phrases = argc > 1 ? (guint)atoi(argv[1]) : 1;
    guint set = argc > 2 ? (guint)atoi(argv[2]) : 0;
    const char *only = g_getenv("COMPANY_ONLY");
    score all[G_N_ELEMENTS(LEVELS_DB)], alone;

    printf("set %u, %u phrases of 10 notes for each of four voices a row; per cent\n", set, n_phrases);
    printf("%-24s %4s  %5s %5s  %5s %5s  %5s %5s  %5s %5s %5s  %5s\n", "", "n", "none", "no F2", "F1", "p90", "F2",
           "p90", "cov1", "cov2", "cov3", "held");
    score_init(&alone);
    bench_row(&alone, -1, 0.0, n_phrases, set);
    print_row("alone", &alone);
    score_clear(&alone);
    for (gsize k = 0; k < G_N_ELEMENTS(LEVELS_DB); k++)
        score_init(&all[k]);
    for (int kind = 0; kind < MIXTURE_KINDS; kind++) {
        if (only != NULL && strstr(mixture_name((guint)kind), only) == NULL)
            continue;
        if (kind == PLAYER_HUM_50 || kind == PLAYER_HUM_60 || kind == PLAYER_FAN)
            continue;
        if (set < 100 && only == NULL && kind >= PLAYER_GM_PIANO && kind < N_PLAYERS)
            continue;
        for (gsize k = 0; k < G_N_ELEMENTS(LEVELS_DB); k++) {
            g_autofree char *name = g_strdup_printf("%s %+.0f dB", mixture_name((guint)kind), LEVELS_DB[k]);
            score s;
            score_init(&s);
            if (bench_row(&s, kind, LEVELS_DB[k], n_phrases, set)) {
                print_row(name, &s);
                merge(&all[k], &s);
            }
            score_clear(&s);
        }
    }
    for (gsize k = 0; k < G_N_ELEMENTS(LEVELS_DB); k++) {
        g_autofree char *name = g_strdup_printf("all %+.0f dB", LEVELS_DB[k]);
        print_row(name, &all[k]);
        score_clear(&all[k]);
    }
    return 0;
}
