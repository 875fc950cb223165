/* glides.c - resonances that move: how far is the track from the truth, linear prediction's and the fit's?
 *
 * Diphthongs between published vowels (Hillenbrand et al. 1995, speakers' spreads and all), sung at known pitches:
 * held, moved within a part of a second, held again; F1 to F4 move together, evenly in ln Hz. The frames in between and
 * those that stand still count alike. Errors are RMS percent over all voiced steady frames where both readers have a
 * value; "left out" is the share of frames without one. The same voices sing still vowels too: "moves" tells of how
 * many notes a reader says that they move.
 *
 * Usage: glides [notes a pitch, 40] [seed, 1] */
#include "dsp/dsp.h"
#include "synth-random.h"
#include "synth-table.h"
#include "synth-voice.h"
#include "tract/tract-private.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define RATE_HZ 16000
#define TOP_HZ  8000.0

static const double PITCHES_HZ[] = {165, 220, 262, 294, 349, 440};
enum { STEPS = 40, FRAMES_MAX = 256 };

/* Women's and men's means of Hillenbrand et al. 1995: i, ɪ, e, ɛ, ɑ, ɔ, o, ʊ, u. */
enum { EE, IH, E, EH, AH, AW, O, UU, U, N_VOWELS };
static const double WOMEN_HZ[N_VOWELS][4] = {{437, 2761, 3373, 4353}, {484, 2369, 3057, 4333}, {536, 2526, 3050, 4308},
                                             {727, 2063, 2953, 4312}, {921, 1526, 2832, 4291}, {804, 1188, 2824, 3946},
                                             {556, 1036, 2828, 3928}, {519, 1229, 2829, 4061}, {460, 1106, 2735, 4116}};
static const double MEN_HZ[N_VOWELS][4] = {{343, 2323, 3001, 3658}, {429, 2034, 2687, 3628}, {476, 2090, 2692, 3649},
                                           {588, 1803, 2604, 3699}, {757, 1309, 2535, 3684}, {656, 1023, 2521, 3520},
                                           {498, 910, 2459, 3384},  {469, 1123, 2435, 3401}, {380, 992, 2355, 3377}};
static const int DIPHTHONGS[][2] = {{AH, IH}, {AH, UU}, {AW, EE}, {EH, EE}, {O, U}, {E, EE}, {EE, AH}, {U, EH}};

typedef struct {
    double f0_hz, extent_cents, rate_hz, seconds;
    double from_s, to_s; /* when it moves */
    aperta_voice voice;
    double first_hz[4], last_hz[4];
} plan;

static double place_at(const plan *p, double time_s)
{
    double x = CLAMP((time_s - p->from_s) / (p->to_s - p->from_s), 0.0, 1.0);
    return 0.5 - 0.5 * cos(G_PI * x);
}

static double hz_at(const plan *p, int i, double place)
{
    return p->first_hz[i] * pow(p->last_hz[i] / p->first_hz[i], place);
}

static plan draw(double f0_hz, gboolean still, synth_random *random)
{
    static const double EXTENTS[] = {0.0, 50.0, 80.0};
    plan p = {.f0_hz = f0_hz * exp2(synth_random_uniform(random, -1.5, 1.5) / 12.0),
              .extent_cents = EXTENTS[synth_random_int(random, 0, 2)],
              .rate_hz = synth_random_uniform(random, 5.0, 6.5),
              .seconds = synth_random_uniform(random, 0.6, 1.3)};
    const int *pair = DIPHTHONGS[synth_random_int(random, 0, G_N_ELEMENTS(DIPHTHONGS) - 1)];
    p.voice = f0_hz < 230 && synth_random_uniform(random, 0, 1) < 0.6 ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN;
    double length = synth_random_uniform(random, 0.15, 0.4);
    p.from_s = synth_random_uniform(random, 0.2, p.seconds - 0.2 - length);
    p.to_s = p.from_s + length;
    double size = exp(synth_random_gauss(random, 0.04));
    for (int i = 0; i < 4; i++) {
        const double(*table)[4] = p.voice == APERTA_VOICE_MAN ? MEN_HZ : WOMEN_HZ;
        p.first_hz[i] = table[pair[0]][i] * size * exp(synth_random_gauss(random, 0.05));
        p.last_hz[i] = still ? p.first_hz[i] : table[pair[1]][i] * size * exp(synth_random_gauss(random, 0.05));
    }
    return p;
}

static float *render(const plan *p, synth_random *random, gsize *n)
{
    synth_tract *tracts[STEPS + 1];
    gsize n_controls = (gsize)(p->seconds * SYNTH_CONTROLS_PER_S);
    g_autofree synth_control *controls = g_new0(synth_control, n_controls);
    synth_voice voice = synth_voice_default();
    double rd = exp(synth_random_gauss(random, 0.3));

    for (int s = 0; s <= STEPS; s++) {
        double hz[4];
        for (int i = 0; i < 4; i++)
            hz[i] = hz_at(p, i, (double)s / STEPS);
        synth_table table =
            synth_table_vowel(hz, 4, p->voice == APERTA_VOICE_MAN ? 17.0 : 14.5, SYNTH_BANDWIDTHS_HAWKS_MILLER);
        tracts[s] = synth_table_tract(&table, TOP_HZ);
    }
    for (gsize i = 0; i < n_controls; i++) {
        double time_s = (double)i / SYNTH_CONTROLS_PER_S,
               edge = CLAMP(MIN(time_s, p->seconds - time_s) / 0.04, 0.0, 1.0);
        double cents = p->extent_cents * sin(2.0 * G_PI * p->rate_hz * time_s);
        controls[i] = (synth_control){.f0_hz = p->f0_hz * exp2(cents / 1200.0),
                                      .voice = edge,
                                      .aspiration = edge,
                                      .rd = CLAMP(rd, 0.35, 2.6),
                                      .tract = STEPS * place_at(p, time_s)};
    }
    voice.snr_db = synth_random_uniform(random, 20, 40);
    voice.ripple_db = synth_random_uniform(random, 0, 2);
    voice.room_rt60_s = synth_random_uniform(random, 0, 1) < 0.4 ? 0.4 : 0.0;
    voice.seed = synth_random_bits(random);
    float *samples = synth_voice_render(&voice, tracts, STEPS + 1, controls, n_controls, n);
    for (int s = 0; s <= STEPS; s++)
        synth_tract_free(tracts[s]);
    return samples;
}

static aperta_f0_track *track_of(const plan *p)
{
    aperta_f0_track *track = aperta_f0_track_new(0.0, 0.01, (guint)(p->seconds / 0.01));
    for (guint i = 0; i < track->n_frames; i++) {
        double time_s = aperta_f0_track_time_s(track, i);
        double cents = p->extent_cents * sin(2.0 * G_PI * p->rate_hz * time_s);
        gboolean voiced = MIN(time_s, p->seconds - time_s) > 0.015;
        track->frames[i] =
            (aperta_f0){(float)(p->f0_hz * exp2(cents / 1200.0)), voiced ? 0.95f : 0.1f, -20.0f, (guint8)voiced};
    }
    return track;
}

typedef struct {
    double squares[2];
    guint n[2], left_out[2], all, notes, moves;
    double ends; /* sum over ends of |error| in percent of F1, F2 */
    guint n_ends;
} score;

static void add_frames(score *s, const plan *p, const aperta_f0_track *track, const aperta_tract_frame *frames,
                       const aperta_tract_frame *other)
{
    for (guint i = 0; i < track->n_frames; i++) {
        double time_s = aperta_f0_track_time_s(track, i);
        if (time_s < 0.08 || time_s > p->seconds - 0.08)
            continue;
        s->all++;
        for (int f = 0; f < 2; f++) {
            gboolean known = (frames[i].known >> f) & 1;
            s->left_out[f] += !known;
            if (!known || !((other[i].known >> f) & 1))
                continue;
            double error = 100.0 * (frames[i].hz[f] / hz_at(p, f, place_at(p, time_s)) - 1.0);
            s->squares[f] += error * error;
            s->n[f]++;
        }
    }
}

static void add_ends(score *s, const plan *p, const aperta_tract_reading *reading)
{
    for (int f = 0; f < 2; f++) {
        if (reading->first[f].status == APERTA_MEASURED) {
            s->ends += fabs(100.0 * (reading->first[f].hz / p->first_hz[f] - 1.0));
            s->n_ends++;
        }
        if (reading->last[f].status == APERTA_MEASURED) {
            s->ends += fabs(100.0 * (reading->last[f].hz / p->last_hz[f] - 1.0));
            s->n_ends++;
        }
    }
}

static void read_lpc(const tract_sound *sound, const plan *p, const aperta_f0_track *track, const aperta_note *note,
                     aperta_tract_reading *reading, aperta_tract_frame *frames)
{
    static guint8 steady[TRACT_STRETCH_MAX];
    aperta_tract_config config = {RATE_HZ, p->voice, 0};
    tract_stretch stretch = tract_stretch_of(track, note);
    tract_lpc *lpc = tract_lpc_create(&config);
    tract_steady_frames(track, note, &stretch, steady);
    tract_lpc_read(lpc, sound, track, note, &stretch, steady, reading, frames);
    tract_lpc_destroy(lpc);
}

static double sing_and_read(double f0_hz, gboolean still, guint64 seed, score *lpc, score *fit)
{
    synth_random random = synth_random_seed(seed);
    plan p = draw(f0_hz, still, &random);
    gsize n;
    g_autofree float *samples = render(&p, &random, &n);
    g_autoptr(aperta_f0_track) track = track_of(&p);
    aperta_note note = {.span = {0.0, p.seconds}, .steady = {0.05, p.seconds - 0.05}, .f0_hz = p.f0_hz};
    aperta_tract_frame lpc_frames[FRAMES_MAX] = {{.known = 0}}, fit_frames[FRAMES_MAX] = {{.known = 0}};
    aperta_tract_reading by_lpc = {0}, by_fit;
    tract_sound sound = {samples, n, 0.0, RATE_HZ};
    aperta_tract_config config = {RATE_HZ, p.voice, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);

    read_lpc(&sound, &p, track, &note, &by_lpc, lpc_frames);
    clock_t begin = clock();
    aperta_tract_read(tract, samples, n, 0.0, track, &note, &by_fit, fit_frames);
    double cost = (double)(clock() - begin) / CLOCKS_PER_SEC / p.seconds;
    add_frames(lpc, &p, track, lpc_frames, fit_frames);
    add_frames(fit, &p, track, fit_frames, lpc_frames);
    lpc->notes++;
    fit->notes++;
    lpc->moves += by_lpc.glides != 0;
    fit->moves += by_fit.glides != 0;
    if (!still && by_lpc.glides)
        add_ends(lpc, &p, &by_lpc);
    if (!still && by_fit.glides)
        add_ends(fit, &p, &by_fit);
    if (g_getenv("GLIDES_LIST") != NULL) {
        printf("%.0f Hz %.0f->%.0f %.0f->%.0f: %s\n", p.f0_hz, p.first_hz[0], p.last_hz[0], p.first_hz[1], p.last_hz[1],
               by_fit.glides ? "moves" : "still");
        for (guint i = 0; i < track->n_frames; i += 5)
            printf("   %.2f  %5.0f %5.0f  lpc %5.0f %5.0f  fit %5.0f %5.0f\n", i * 0.01,
                   hz_at(&p, 0, place_at(&p, i * 0.01)), hz_at(&p, 1, place_at(&p, i * 0.01)), lpc_frames[i].hz[0],
                   lpc_frames[i].hz[1], fit_frames[i].hz[0], fit_frames[i].hz[1]);
    }
    return cost;
}

static double rms(const score *s, int f)
{
    return sqrt(s->squares[f] / MAX(s->n[f], 1));
}

static void print_row(double f0_hz, const char *what, const score *lpc, const score *fit, double cost_ms)
{
    printf("%4.0f %-9s %5.1f %5.1f %5.1f %5.1f  %4.0f %4.0f  %4.0f %4.0f  %5.1f %5.1f  %5.1f\n", f0_hz, what,
           rms(lpc, 0), rms(fit, 0), rms(lpc, 1), rms(fit, 1), 100.0 * fit->left_out[0] / fit->all,
           100.0 * fit->left_out[1] / fit->all, 100.0 * lpc->moves / lpc->notes, 100.0 * fit->moves / fit->notes,
           lpc->ends / MAX(lpc->n_ends, 1), fit->ends / MAX(fit->n_ends, 1), cost_ms);
}

int main(int argc, char **argv)
{
    guint notes = argc > 1 ? (guint)atoi(argv[1]) : 40;
    guint64 seed = argc > 2 ? (guint64)atoi(argv[2]) : 1;

    printf("  Hz notes    F1 RMS %%    F2 RMS %%    left out %%  moves %%    ends, mean %%   ms for 1 s\n");
    printf("               lpc   fit   lpc   fit    F1   F2   lpc  fit    lpc   fit\n");
    for (gsize p = 0; p < G_N_ELEMENTS(PITCHES_HZ); p++)
        for (int still = 0; still < 2; still++) {
            score lpc = {0}, fit = {0};
            double cost = 0.0;
            for (guint i = 0; i < notes; i++)
                cost += sing_and_read(PITCHES_HZ[p], still != 0, seed * 1000003 + p * 10007 + i * 7919u, &lpc, &fit);
            print_row(PITCHES_HZ[p], still ? "still" : "diphthong", &lpc, &fit, 1000.0 * cost / notes);
        }
    return 0;
}
