/* resonances.c - how far off are the resonances: linear prediction and the pooled fit on the same sung notes.
 *
 * Prints a table with a tab between columns. Errors are percent of the truth; "over15", "toward" and all from "far" on
 * are percent of notes. F1 errors count the notes with F1 >= 1.15 f0; a note without a value counts as 99 % off.
 *
 * - cte: central-tendency error, mean of the estimates less the truth (Chen, Whalen & Shadle 2019, JASA 145:EL360)
 * - toward: errors toward the nearest harmonic; 50 % is no attraction
 * - far, near: "F1 is more than 3.5 semitones below 2 f0" decided right, 220 to 700 Hz, of notes at least 1.5 and 0.5
 *   to 4 semitones from that line; bounded well below decides
 * - covered: truth inside the 90 % interval, of what is called measured
 * - held: F1 below the limit, of what is called bounded
 * - low, high: called bounded, of notes with F1 < 0.9 f0 and with F1 > 1.15 f0
 *
 * The notes are those of sung-token.h; the last rows are voices whose source is of another kind than the fit's, which
 * are in no other row.
 *
 * Usage: resonances [notes a pitch, 100] [seed, 1] */
#include "sung-token.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include "dsp/dsp.h"

static const double PITCHES_HZ[] = {165, 208, 262, 294, 349, 440, 523, 622, 740, 880};
enum { N_PITCHES = G_N_ELEMENTS(PITCHES_HZ), NOTES_MAX = 2000, JOBS = 2 };

/* ---- scores ------------------------------------------------------------------------------------------------------ */

typedef struct {
    guint right, all;
} share;

static void count(share *s, gboolean right)
{
    s->all++;
    s->right += right != 0;
}

static double percent(const share *s)
{
    return s->all > 0 ? 100.0 * s->right / s->all : NAN;
}

/* One reader against the truth. */
typedef struct {
    double f1[N_PITCHES * NOTES_MAX], f2[N_PITCHES * NOTES_MAX];
    guint n_f1, n_f2, n_known;
    double sum;
    share over15, toward, covered1, covered2, held, low, high, far, near;
} score;

static double error_percent(const aperta_resonance *r, double true_hz)
{
    return r->status == APERTA_MEASURED ? 100.0 * (r->hz / true_hz - 1.0) : 99.0;
}

static void score_f1(score *s, const aperta_resonance *r, double f0_hz, double true_hz)
{
    gboolean bounded = r->status == APERTA_BOUNDED;
    if (r->status == APERTA_MEASURED)
        count(&s->covered1, r->low_hz <= true_hz && true_hz <= r->high_hz);
    if (bounded)
        count(&s->held, true_hz <= r->high_hz);
    if (true_hz < 0.9 * f0_hz)
        count(&s->low, bounded);
    if (true_hz < 1.15 * f0_hz)
        return;
    double error = error_percent(r, true_hz), nearest_hz = round(true_hz / f0_hz) * f0_hz;
    count(&s->high, bounded);
    count(&s->over15, fabs(error) > 15.0);
    s->f1[s->n_f1++] = fabs(error);
    if (r->status == APERTA_MEASURED) {
        count(&s->toward, (r->hz > true_hz) == (nearest_hz > true_hz));
        s->sum += error;
        s->n_known++;
    }
}

/* Is F1 more than 3.5 semitones below the second harmonic? */
static void score_line(score *s, const aperta_resonance *r, double f0_hz, double true_hz)
{
    const double line_st = -3.5;
    double truth_st = aperta_semitones_between(2.0 * f0_hz, true_hz);
    double away_st = fabs(truth_st - line_st);
    gboolean below = r->status == APERTA_BOUNDED;
    if (f0_hz < 220.0 || f0_hz > 700.0)
        return;
    if (r->status == APERTA_MEASURED)
        below = aperta_semitones_between(2.0 * f0_hz, r->hz) < line_st;
    gboolean right = r->status != APERTA_UNKNOWN && below == (truth_st < line_st);
    if (away_st >= 1.5)
        count(&s->far, right);
    if (away_st >= 0.5 && away_st <= 4.0)
        count(&s->near, right);
}

static void score_add(score *s, const aperta_resonance *r, const sung_token *t)
{
    score_f1(s, &r[0], t->f0_hz, t->true_hz[0]);
    score_line(s, &r[0], t->f0_hz, t->true_hz[0]);
    s->f2[s->n_f2++] = fabs(error_percent(&r[1], t->true_hz[1]));
    if (r[1].status == APERTA_MEASURED)
        count(&s->covered2, r[1].low_hz <= t->true_hz[1] && t->true_hz[1] <= r[1].high_hz);
}

/* ---- table ------------------------------------------------------------------------------------------------------- */

static void print_heading(void)
{
    static const char *const READERS[] = {"lpc", "fit"};
    printf("notes\tn\tn_f1");
    for (int i = 0; i < 2; i++)
        printf("\t%1$s_f1_median\t%1$s_f1_p90\t%1$s_f1_over15\t%1$s_f1_cte\t%1$s_f1_toward\t%1$s_f2_median\t%1$s_f2_p90"
               "\t%1$s_far\t%1$s_near",
               READERS[i]);
    printf("\tfit_f1_covered\tfit_f2_covered\tfit_held\tfit_low\tfit_high\n");
}

static double quantile_of(double *values, guint n, double q)
{
    return n > 0 ? dsp_quantile(values, n, q) : NAN;
}

static void print_errors(score *s)
{
    printf("\t%.1f\t%.1f\t%.0f\t%.1f\t%.0f\t%.1f\t%.1f\t%.1f\t%.1f", quantile_of(s->f1, s->n_f1, 0.5),
           quantile_of(s->f1, s->n_f1, 0.9), percent(&s->over15), s->n_known > 0 ? s->sum / s->n_known : NAN,
           percent(&s->toward), quantile_of(s->f2, s->n_f2, 0.5), quantile_of(s->f2, s->n_f2, 0.9), percent(&s->far),
           percent(&s->near));
}

/* What a row's notes have in common; low <= value < high. */
typedef enum { BY_PITCH, BY_VIBRATO, BY_ROOM, BY_SNR, BY_RIPPLE, BY_TUBE, BY_VOICE } property;

static double property_of(const sung_token *t, property by, double pitch_hz)
{
    switch (by) {
    case BY_PITCH:
        return pitch_hz;
    case BY_VIBRATO:
        return t->extent_cents;
    case BY_ROOM:
        return t->room;
    case BY_SNR:
        return t->snr_db;
    case BY_RIPPLE:
        return t->ripple_db;
    case BY_TUBE:
        return t->tube;
    case BY_VOICE:
        return t->voice;
    }
    return NAN;
}

static void print_row(const char *name, const sung_token *tokens, guint notes, property by, double low, double high)
{
    score *lpc = g_new0(score, 1), *fit = g_new0(score, 1);
    for (guint i = 0; i < N_PITCHES * notes; i++) {
        double value = property_of(&tokens[i], by, PITCHES_HZ[i / notes]);
        if (value >= low && value < high) {
            score_add(lpc, tokens[i].lpc, &tokens[i]);
            score_add(fit, tokens[i].fit, &tokens[i]);
        }
    }
    printf("%s\t%u\t%u", name, fit->n_f2, fit->n_f1);
    print_errors(lpc);
    print_errors(fit);
    printf("\t%.0f\t%.0f\t%.0f\t%.0f\t%.0f\n", percent(&fit->covered1), percent(&fit->covered2), percent(&fit->held),
           percent(&fit->low), percent(&fit->high));
    g_free(lpc);
    g_free(fit);
}

static void print_table(const sung_token *tokens, const sung_token *others, guint notes)
{
    static const struct {
        const char *name;
        property by;
        double low, high;
    } ROWS[] = {
        {"165-294 Hz", BY_PITCH, 0, 300},
        {"165-349 Hz", BY_PITCH, 0, 400},
        {"523-622 Hz", BY_PITCH, 500, 650},
        {"440-622 Hz", BY_PITCH, 400, 650},
        {"740-880 Hz", BY_PITCH, 700, 900},
        {"straight", BY_VIBRATO, 0, 1},
        {"vibrato 50 cents", BY_VIBRATO, 50, 51},
        {"vibrato 100 cents", BY_VIBRATO, 100, 101},
        {"dry", BY_ROOM, 0, 1},
        {"room", BY_ROOM, 1, 2},
        {"breath -40 dB", BY_SNR, 40, 41},
        {"breath -20 dB", BY_SNR, 20, 21},
        {"ripple 0-1 dB", BY_RIPPLE, 0, 1},
        {"ripple 1-2 dB", BY_RIPPLE, 1, 2},
        {"ripple 2-3 dB", BY_RIPPLE, 2, 3},
        {"tables", BY_TUBE, 0, 1},
        {"tubes", BY_TUBE, 1, 2},
        {"women", BY_VOICE, APERTA_VOICE_WOMAN, APERTA_VOICE_MAN},
        {"men", BY_VOICE, APERTA_VOICE_MAN, APERTA_VOICE_CHILD},
        {"children", BY_VOICE, APERTA_VOICE_CHILD, APERTA_VOICE_SOPRANO},
        {"all", BY_PITCH, 0, 1000},
    };
    static const struct {
        const char *name;
        double low, high;
    } OTHERS[] = {
        {"other source 165-349 Hz", 0, 400},
        {"other source 440-622 Hz", 400, 650},
        {"other source 740-880 Hz", 700, 900},
    };
    print_heading();
    for (int p = 0; p < N_PITCHES; p++) {
        g_autofree char *name = g_strdup_printf("%.0f Hz", PITCHES_HZ[p]);
        print_row(name, tokens, notes, BY_PITCH, PITCHES_HZ[p] - 1, PITCHES_HZ[p] + 1);
    }
    for (gsize i = 0; i < G_N_ELEMENTS(ROWS); i++)
        print_row(ROWS[i].name, tokens, notes, ROWS[i].by, ROWS[i].low, ROWS[i].high);
    for (gsize i = 0; i < G_N_ELEMENTS(OTHERS); i++)
        print_row(OTHERS[i].name, others, notes, BY_PITCH, OTHERS[i].low, OTHERS[i].high);
}

/* ---- main -------------------------------------------------------------------------------------------------------- */

/* Reads all notes, in processes of its own as FFTW's planner is shared by a process. */
int main(int argc, char **argv)
{
    guint notes = argc > 1 ? CLAMP((guint)atoi(argv[1]), 1, NOTES_MAX) : 100;
    guint64 seed = argc > 2 ? (guint64)atoi(argv[2]) : 1;
    guint n = N_PITCHES * notes;
    sung_token *tokens = mmap(NULL, 2 * n * sizeof *tokens, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    double cost = 0.0;

    if (tokens == MAP_FAILED) {
        perror("resonances");
        return 1;
    }
    sung_token_read_all(tokens, PITCHES_HZ, N_PITCHES, notes, FALSE, seed, JOBS);
    sung_token_read_all(tokens + n, PITCHES_HZ, N_PITCHES, notes, TRUE, seed + 1000, JOBS);
    print_table(tokens, tokens + n, notes);
    for (guint i = 0; i < n; i++)
        cost += tokens[i].cost / n;
    fprintf(stderr, "%.1f ms of one core for a second of sound, %.0f times real time, both readers together\n",
            1000.0 * cost, 1.0 / cost);
    return 0;
}
