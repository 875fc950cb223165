/* naming.c - how often is the vowel of a sung note named right, and is it named as surely as that?
 *
 * The notes are those of sung-token.h that were drawn from a table's vowel with F1 raised by less than a tenth: with
 * more the vowel itself changes. They are named by that table alone (the accent is known), from the posterior of the
 * pooled fit and from three intervals taken as independent. Above 500 Hz the confidence is lowered on purpose: it
 * speaks of what listeners would hear.
 *
 * Usage: naming [notes a pitch, 200] [seed, 1] */
#include "dsp/dsp.h"
#include "sung-token.h"

#include <aperta/vowel.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

static const double PITCHES_HZ[] = {165, 208, 262, 294, 349, 440, 523, 622, 740, 880};
static const double BINS[] = {0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 1.01};
enum { N_PITCHES = G_N_ELEMENTS(PITCHES_HZ), N_BINS = G_N_ELEMENTS(BINS) - 1, NOTES_MAX = 5000, JOBS = 2 };

typedef struct {
    guint n, heard, named, place, height; /* tokens; with a name; right; right front/central/back; close/mid/open */
    guint classed, class_right;
    guint bin_n[N_BINS], bin_right[N_BINS];
    double bin_sum[N_BINS];
} score;

static gboolean class_is_right(const aperta_vowel_class *c, const aperta_vowel *truth)
{
    return (!c->has_height || c->height == truth->height) && (!c->has_place || c->place == truth->place);
}

static void add(score *s, const aperta_vowel_hearing *h, const aperta_vowel *truth)
{
    s->n++;
    if (h->heard == NULL)
        return;
    s->heard++;
    s->named += h->heard == truth;
    s->place += h->heard->place == truth->place;
    s->height += h->heard->height == truth->height;
    if (h->vowel_class.known) {
        s->classed++;
        s->class_right += class_is_right(&h->vowel_class, truth);
    }
    for (guint b = 0; b < N_BINS; b++)
        if (h->confidence >= BINS[b] && h->confidence < BINS[b + 1]) {
            s->bin_n[b]++;
            s->bin_right[b] += h->heard == truth;
            s->bin_sum[b] += h->confidence;
        }
}

static double percent(guint part, guint whole)
{
    return whole > 0 ? 100.0 * part / whole : 0.0;
}

static void print_score(const char *name, const score *s)
{
    printf("%-20s %5u %5.0f %5.0f %5.0f %5.0f  %3u %3.0f ", name, s->n, percent(s->heard, s->n),
           percent(s->named, s->n), percent(s->place, s->n), percent(s->height, s->n), s->classed,
           percent(s->class_right, s->classed));
    for (guint b = 0; b < N_BINS; b++) {
        if (s->bin_n[b] == 0)
            printf("          -");
        else
            printf("  %3.0f:%2.0f(%u)", 100.0 * s->bin_sum[b] / s->bin_n[b], percent(s->bin_right[b], s->bin_n[b]),
                   s->bin_n[b]);
    }
    printf("\n");
}

static void score_range(const sung_token *tokens, guint notes, int first, int last)
{
    static const char *const TABLES[] = {"hillenbrand1995-men", "hillenbrand1995-women", "hillenbrand1995-children"};
    score fit = {0}, intervals = {0}, lpc = {0};
    for (int v = 0; v < 3; v++) {
        g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(TABLES[v], NULL);
        if (table == NULL)
            g_error("no table %s", TABLES[v]);
        g_autoptr(aperta_vowel_ear) ear = aperta_vowel_ear_new(table);
        for (guint i = (guint)first * notes; i < (guint)(last + 1) * notes; i++) {
            const sung_token *t = &tokens[i];
            aperta_posterior from;
            if (t->vowel[0] == '\0' || t->raised >= 1.1 || t->voice != table->voice)
                continue;
            const aperta_vowel *truth = aperta_vowel_by_ipa(t->vowel);
            aperta_vowel_hearing h = aperta_vowel_hear(ear, &t->posterior, t->f0_hz);
            add(&fit, &h, truth);
            dsp_posterior_of_resonances(t->fit, &from);
            h = aperta_vowel_hear(ear, &from, t->f0_hz);
            add(&intervals, &h, truth);
            dsp_posterior_of_resonances(t->lpc, &from);
            h = aperta_vowel_hear(ear, &from, t->f0_hz);
            add(&lpc, &h, truth);
        }
    }
    g_autofree char *name = g_strdup_printf("%.0f-%.0f Hz", PITCHES_HZ[first], PITCHES_HZ[last]);
    printf("%s\n", name);
    print_score("  posterior", &fit);
    print_score("  intervals", &intervals);
    print_score("  lpc", &lpc);
}

int main(int argc, char **argv)
{
    guint notes = argc > 1 ? CLAMP((guint)atoi(argv[1]), 1, NOTES_MAX) : 200;
    guint64 seed = argc > 2 ? (guint64)atoi(argv[2]) : 1;
    gsize size = sizeof(sung_token) * N_PITCHES * notes;
    sung_token *tokens = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);

    if (tokens == MAP_FAILED) {
        perror("naming");
        return 1;
    }
    sung_token_read_all(tokens, PITCHES_HZ, N_PITCHES, notes, FALSE, seed, JOBS);
    printf("percent of notes: with a name, named right, right place, right height; notes with a class only, right;\n"
           "then by confidence: mean confidence : right (notes)\n");
    score_range(tokens, notes, 0, 4);
    score_range(tokens, notes, 5, 5);
    score_range(tokens, notes, 6, 7);
    score_range(tokens, notes, 8, 9);
    return 0;
}
