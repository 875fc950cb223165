/* lpc.c (bench) - how far the classical tracker is off, by f0, and how fast it is.
 *
 * Tokens are those of tests/support/token.h; the truth is the synthesiser's. Printed for each f0: how many of the
 * tokens got a value, median and 90th percentile of |error| of F1 and F2 in percent, the share of errors toward the
 * nearest harmonic (50 % would be no attraction), and how often the interval held the truth (it says 90 %). */
#include "dsp/dsp.h"
#include "token.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define TOKENS_MAX 1000

typedef struct {
    guint n_tokens;
    guint n_known;
    guint n_toward;
    guint n_covered;
    double error[TOKENS_MAX]; /* share of the truth */
} tally;

static void count(tally *t, const aperta_resonance *found, double true_hz, double f0_hz)
{
    t->n_tokens++;
    if (found->status != APERTA_MEASURED)
        return;
    double harmonic_hz = fmax(1, round(true_hz / f0_hz)) * f0_hz;
    t->error[t->n_known++] = fabs(found->hz / true_hz - 1);
    t->n_toward += (found->hz > true_hz) == (harmonic_hz > true_hz);
    t->n_covered += found->low_hz <= true_hz && true_hz <= found->high_hz;
}

static void print_tally(tally *t)
{
    if (t->n_known == 0) {
        printf("  %3.0f%%     -     -    -    -", 0.0);
        return;
    }
    printf("  %3.0f%% %5.1f %5.1f %3.0f%% %3.0f%%", 100.0 * t->n_known / t->n_tokens,
           100 * dsp_quantile(t->error, t->n_known, 0.5), 100 * dsp_quantile(t->error, t->n_known, 0.9),
           100.0 * t->n_toward / t->n_known, 100.0 * t->n_covered / t->n_known);
}

static void print_row(aperta_voice voice, double f0_hz, guint n)
{
    static tally f1, f1_above, f2;
    token_spec spec = token_spec_default();

    f1.n_tokens = f1_above.n_tokens = f2.n_tokens = f1.n_known = f1_above.n_known = f2.n_known = 0;
    f1.n_toward = f1_above.n_toward = f2.n_toward = f1.n_covered = f1_above.n_covered = f2.n_covered = 0;
    spec.voice = voice;
    spec.low_hz = f0_hz / pow(2, 1.0 / 12);
    spec.high_hz = f0_hz * pow(2, 1.0 / 12);
    for (guint i = 0; i < n; i++) {
        spec.seed = 1000 * (guint64)f0_hz + i;
        g_autoptr(token) t = token_new(&spec);
        aperta_tract_reading reading;
        token_read(t, &reading);
        const synth_truth *truth = &t->take->notes[0];
        count(&f1, &reading.lpc[0], truth->resonances[0].hz, truth->f0_hz);
        if (truth->resonances[0].hz >= 1.15 * truth->f0_hz)
            count(&f1_above, &reading.lpc[0], truth->resonances[0].hz, truth->f0_hz);
        count(&f2, &reading.lpc[1], truth->resonances[1].hz, truth->f0_hz);
    }
    printf("%-5s %4.0f ", aperta_voice_word(voice), f0_hz);
    print_tally(&f1);
    print_tally(&f1_above);
    print_tally(&f2);
    printf("\n");
}

/* Processor time for each second of sound, over the whole of aperta_tract_read. */
static void print_speed(aperta_voice voice, double f0_hz)
{
    token_spec spec = token_spec_default();
    spec.voice = voice;
    spec.low_hz = spec.high_hz = f0_hz;
    g_autoptr(token) t = token_new(&spec);
    aperta_tract_config config = {t->take->sample_rate_hz, voice, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
    aperta_tract_reading reading;
    const int rounds = 50;

    clock_t start = clock();
    for (int i = 0; i < rounds; i++)
        aperta_tract_read(tract, t->take->samples, t->take->n_samples, 0, t->track, &t->note, &reading, NULL);
    double seconds = (double)(clock() - start) / CLOCKS_PER_SEC / rounds;
    double sung_s = t->note.span.end_s - t->note.span.start_s;
    printf("%-5s %4.0f Hz: %.2f ms for a second of singing, %.0f times real time\n", aperta_voice_word(voice), f0_hz,
           1000 * seconds / sung_s, sung_s / seconds);
}

int main(int argc, char **argv)
{
    guint n = argc > 1 ? (guint)CLAMP(atoi(argv[1]), 10, TOKENS_MAX) : 100;
    static const double men_hz[] = {100, 131, 165, 196, 247, 330, 440};
    static const double women_hz[] = {165, 196, 247, 330, 440, 523, 659, 784, 880};

    printf("Linear prediction against synthetic vowels, %u tokens a line. got = got a value; |error| in %%;\n"
           "pull = errors toward the nearest harmonic; in = interval held the truth\n\n",
           n);
    printf("              F1, all                     F1 >= 1.15 f0               F2, all\n");
    printf("voice   f0   got   median p90  pull in    got   median p90  pull in    got   median p90  pull in\n");
    for (guint i = 0; i < G_N_ELEMENTS(men_hz); i++)
        print_row(APERTA_VOICE_MAN, men_hz[i], n);
    for (guint i = 0; i < G_N_ELEMENTS(women_hz); i++)
        print_row(APERTA_VOICE_WOMAN, women_hz[i], n);
    printf("\n");
    print_speed(APERTA_VOICE_MAN, 110);
    print_speed(APERTA_VOICE_WOMAN, 440);
    return 0;
}
