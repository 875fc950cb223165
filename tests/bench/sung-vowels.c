/* sung-vowels.c - a e i o u of synthesised singers, heard against known; ways and sides: heard.h.
 *
 * Each singer has a vowel system of his or her own: a mixture of two of eight (targets of sung synthesis for four types
 * of voice; round figures of Italian, Spanish and German; Michigan 1995; cardinal vowels; Russian), a tract of its own
 * length, habits for each vowel, a source, a room; each vowel is sung plainly, loud, breathy or straight, as five notes
 * that rise from a low pitch to an octave or a sixth above, none higher than 435 Hz. F1 never lies below f0: singers
 * lift it. Half the men and a quarter of the women bring F3 to F5 together, as classical singers do.
 *
 * The figures are where somebody puts these vowels, none exactly a shipped table's but two of the sung ones and
 * Michigan's: these flatter the tables, so compare settings here, and do not take the level for that of real singers.
 *
 * Usage: sung-vowels [singers a side, 40] [seed, 1] */
#include "heard.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "synth-phrase.h"
#include "synth-random.h"

enum { N_SYSTEMS = 8, N_STEPS = 5, N_HZ = 5 };
typedef double vowel_system[HEARD_LETTERS][3];

static const vowel_system SYSTEMS[2][N_SYSTEMS] = {
    {
        {{600, 1040, 2250}, {400, 1620, 2400}, {250, 1750, 2600}, {400, 750, 2400}, {350, 600, 2400}}, /* sung: bass */
        {{650, 1080, 2650}, {400, 1700, 2600}, {290, 1870, 2800}, {400, 800, 2600}, {350, 600, 2700}}, /* tenor */
        {{700, 1150, 2500}, {400, 1950, 2600}, {280, 2250, 3000}, {450, 850, 2450}, {310, 800, 2350}}, /* Italian */
        {{690, 1100, 2500}, {370, 2100, 2700}, {280, 2200, 3000}, {430, 770, 2400}, {300, 870, 2300}}, /* German */
        {{700, 1100, 2500}, {400, 1900, 2600}, {280, 2300, 3000}, {450, 830, 2450}, {320, 780, 2350}}, /* Spanish */
        {{757, 1309, 2535}, {476, 2090, 2692}, {343, 2323, 3001}, {498, 910, 2459}, {380, 992, 2355}}, /* Michigan */
        {{750, 1150, 2500}, {500, 1900, 2600}, {240, 2400, 3000}, {430, 670, 2450}, {250, 595, 2400}}, /* cardinal */
        {{630, 1072, 2400}, {420, 1960, 2750}, {230, 2220, 2970}, {500, 860, 2320}, {240, 610, 2370}}, /* Russian */
    },
    {
        {{800, 1150, 2800}, {400, 1600, 2700}, {350, 1700, 2700}, {450, 800, 2830}, {325, 700, 2530}}, /* sung: alto */
        {{800, 1150, 2900}, {350, 2000, 2800}, {270, 2140, 2950}, {450, 800, 2830}, {325, 700, 2700}}, /* soprano */
        {{840, 1350, 2850}, {450, 2300, 2950}, {310, 2650, 3350}, {510, 970, 2800}, {345, 880, 2700}}, /* Italian */
        {{830, 1290, 2850}, {415, 2450, 3050}, {310, 2600, 3350}, {480, 880, 2750}, {330, 960, 2650}}, /* German */
        {{840, 1290, 2850}, {450, 2230, 2950}, {310, 2700, 3350}, {510, 950, 2800}, {350, 860, 2700}}, /* Spanish */
        {{921, 1526, 2832}, {536, 2526, 3050}, {437, 2761, 3373}, {556, 1036, 2828}, {460, 1106, 2735}}, /* Michigan */
        {{900, 1350, 2850}, {560, 2230, 2950}, {280, 2800, 3350}, {490, 780, 2800}, {290, 690, 2700}},   /* cardinal */
        {{740, 1260, 2750}, {470, 2300, 3100}, {265, 2600, 3350}, {570, 1000, 2650}, {270, 710, 2700}},  /* Russian */
    },
};

typedef enum { PLAIN, LOUD, BREATHY, STRAIGHT, N_MANNERS } manner;

typedef struct {
    gboolean woman, gathered; /* F3 to F5 lie together */
    const vowel_system *systems[2];
    double mixture, ln_scale, rd, lowest_hz, ripple_db, room_s;
    synth_source source;
} singer;

static singer draw_singer(gboolean woman, synth_random *random)
{
    singer s = {.woman = woman};
    for (int i = 0; i < 2; i++)
        s.systems[i] = &SYSTEMS[woman][synth_random_int(random, 0, N_SYSTEMS - 1)];
    s.mixture = synth_random_uniform(random, 0.0, 1.0);
    s.ln_scale = synth_random_gauss(random, 0.05);
    s.gathered = synth_random_uniform(random, 0.0, 1.0) < (woman ? 0.25 : 0.5);
    s.rd = exp(synth_random_gauss(random, 0.35));
    s.lowest_hz = woman ? synth_random_uniform(random, 185.0, 262.0) : synth_random_uniform(random, 105.0, 220.0);
    s.room_s = synth_random_uniform(random, 0.0, 1.0) < 0.4 ? 0.6 : 0.0;
    s.ripple_db = synth_random_uniform(random, 0.5, 3.5);
    s.source = (synth_source)synth_random_int(random, SYNTH_SOURCE_LF, SYNTH_SOURCE_CUBIC);
    return s;
}

/* One note's resonances; the singer's habits for the vowel are ln ratios. */
static synth_table draw_table(const singer *s, guint letter, const double *habit, manner how, double f0_hz,
                              synth_random *random)
{
    double hz[N_HZ], quarter_hz = (s->woman ? 600.0 : 515.0) * exp(s->ln_scale);
    for (int i = 0; i < 3; i++)
        hz[i] = exp((1.0 - s->mixture) * log((*s->systems[0])[letter][i]) +
                    s->mixture * log((*s->systems[1])[letter][i]) + habit[i] + synth_random_gauss(random, 0.025));
    if (how == LOUD)
        hz[0] *= 1.08;
    if (hz[0] < f0_hz)
        hz[0] = f0_hz * synth_random_uniform(random, 1.0, 1.1);
    hz[1] = fmax(hz[1], 1.25 * hz[0]);
    hz[2] = fmax(hz[2], 1.1 * hz[1]);
    hz[3] = s->gathered ? hz[2] * synth_random_uniform(random, 1.1, 1.2) : fmax(6.8 * quarter_hz, 1.12 * hz[2]);
    hz[4] = s->gathered ? fmax(hz[3] * synth_random_uniform(random, 1.1, 1.25), 6.2 * quarter_hz)
                        : fmax(8.7 * quarter_hz, 1.12 * hz[3]);
    synth_table table =
        synth_table_vowel(hz, N_HZ, 35000.0 / 4.0 / quarter_hz, (synth_bandwidths)synth_random_int(random, 0, 1));
    synth_table_spread_bandwidths(&table, 0.25, random);
    return table;
}

static synth_take *sing_note(const singer *s, const synth_table *table, manner how, double f0_hz, double extent_cents,
                             synth_random *random)
{
    synth_note_spec spec = synth_note_default();
    double rd = s->rd * (how == LOUD ? 0.6 : how == BREATHY ? 1.8 : 1.0);
    spec.f0_hz = f0_hz;
    spec.seconds = synth_random_uniform(random, 0.4, 1.0);
    spec.vibrato = (synth_vibrato){
        .rate_hz = synth_random_uniform(random, 5.0, 6.3), .extent_cents = extent_cents, .irregularity = 0.02};
    spec.vowel = synth_vowel_of_table(table);
    spec.drift_cents = 8.0;
    spec.rd = CLAMP(rd, 0.35, 2.6);
    spec.rd_vibrato = 0.08;
    spec.voice.snr_db = how == BREATHY ? 12.0 : 30.0;
    spec.voice.ripple_db = s->ripple_db;
    spec.voice.room_rt60_s = s->room_s;
    spec.voice.floor_db = -70.0;
    spec.voice.source = s->source;
    spec.voice.seed = synth_random_bits(random);
    return synth_note_sing(&spec);
}

static void sing_vowel(const singer *s, guint letter, heard_person *person, synth_random *random)
{
    static const double STEPS_ST[2][N_STEPS] = {{0.0, 3.0, 5.0, 8.0, 12.0}, {0.0, 2.0, 4.0, 6.0, 9.0}};
    static const double HABIT_SD[3] = {0.06, 0.05, 0.04};
    double habit[3];
    manner how = (manner)synth_random_int(random, 0, N_MANNERS - 1);
    double extent_cents = how == STRAIGHT ? 0.0 : synth_random_uniform(random, 20.0, 90.0);

    for (int i = 0; i < 3; i++)
        habit[i] = s->ln_scale + synth_random_gauss(random, HABIT_SD[i]);
    for (int i = 0; i < N_STEPS; i++) {
        double f0_hz = fmin(s->lowest_hz * exp2(STEPS_ST[s->woman][i] / 12.0), 435.0);
        synth_table table = draw_table(s, letter, habit, how, f0_hz, random);
        g_autoptr(synth_take) take = sing_note(s, &table, how, f0_hz, extent_cents, random);
        heard_listen(person, take->samples, take->n_samples, 0.0, letter, 0);
    }
}

int main(int argc, char **argv)
{
    int n = argc > 1 ? CLAMP(atoi(argv[1]), 1, 1000) : 40, seed = argc > 2 ? atoi(argv[2]) : 1;
    g_autoptr(heard_board) board = heard_board_new();

    for (heard_side side = 0; side < HEARD_N_SIDES; side++)
        for (int i = 0; i < n; i++) {
            heard_person person = {.label = "", .side = side, .woman = i % 2 == 1};
            synth_random random =
                synth_random_seed((guint64)seed * 1000003 + (guint64)side * 15485863 + (guint64)i * 7919);
            singer s = draw_singer(person.woman, &random);
            for (guint letter = 0; letter < HEARD_LETTERS; letter++)
                sing_vowel(&s, letter, &person, &random);
            heard_add(board, &person, FALSE);
        }
    heard_print(board, "synthesised singers");
    return 0;
}
