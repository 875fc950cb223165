/* sung-token.c - see sung-token.h */
#include "sung-token.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "synth-random.h"
#include "synth-table.h"
#include "synth-tract.h"
#include "synth-tube.h"
#include "synth-voice.h"

#define RATE_HZ 16000
#define TOP_HZ  8000.0

/* ---- what is drawn ----------------------------------------------------------------------------------------------- */

/* Hillenbrand, Getty, Clark & Wheeler 1995 (JASA 97:3099-3111): means and SDs of F1, F2, F3 and mean F4, Hz; men,
 * women, children. Computed from the data that the first author published with the paper. */
typedef struct {
    double mean_hz[3][4];
    double sd_hz[3][3];
} table_vowel;

static const char *const TABLE_IPA[] = {"i", "ɪ", "e", "ɛ", "æ", "ɑ", "ɔ", "o", "ʊ", "u", "ʌ", "ɝ"};

static const table_vowel TABLE[] = {
    {{{343, 2323, 3001, 3658}, {437, 2761, 3373, 4353}, {452, 3082, 3703, 4572}},
     {{28, 136, 201}, {41, 147, 237}, {46, 191, 287}}},
    {{{429, 2034, 2687, 3628}, {484, 2369, 3057, 4333}, {513, 2557, 3409, 4569}},
     {{31, 122, 129}, {34, 149, 181}, {38, 161, 196}}},
    {{{476, 2090, 2692, 3649}, {536, 2526, 3050, 4308}, {565, 2649, 3323, 4420}},
     {{41, 140, 155}, {63, 155, 181}, {60, 163, 238}}},
    {{{588, 1803, 2604, 3699}, {727, 2063, 2953, 4312}, {740, 2279, 3297, 4651}},
     {{41, 117, 139}, {74, 143, 189}, {97, 156, 202}}},
    {{{591, 1930, 2595, 3642}, {676, 2335, 2973, 4315}, {718, 2497, 3289, 4429}},
     {{42, 133, 137}, {69, 159, 200}, {90, 154, 240}}},
    {{{757, 1309, 2535, 3684}, {921, 1526, 2832, 4291}, {992, 1689, 2937, 4279}},
     {{62, 111, 149}, {97, 125, 177}, {129, 163, 259}}},
    {{{656, 1023, 2521, 3520}, {804, 1188, 2824, 3946}, {836, 1303, 2951, 4017}},
     {{34, 66, 180}, {75, 129, 212}, {106, 161, 264}}},
    {{{498, 910, 2459, 3384}, {556, 1036, 2828, 3928}, {599, 1140, 3006, 4187}},
     {{43, 98, 144}, {81, 123, 187}, {65, 158, 204}}},
    {{{469, 1123, 2435, 3401}, {519, 1229, 2829, 4061}, {571, 1506, 3076, 4305}},
     {{28, 97, 127}, {41, 145, 183}, {54, 180, 214}}},
    {{{380, 992, 2355, 3377}, {460, 1106, 2735, 4116}, {493, 1404, 2992, 4268}},
     {{33, 113, 134}, {39, 205, 140}, {45, 335, 209}}},
    {{{621, 1181, 2548, 3564}, {760, 1416, 2901, 4133}, {738, 1538, 3126, 4302}},
     {{30, 87, 134}, {58, 115, 173}, {89, 134, 210}}},
    {{{475, 1379, 1711, 3335}, {524, 1588, 1930, 3914}, {586, 1721, 2154, 3794}},
     {{29, 78, 108}, {45, 126, 131}, {56, 130, 191}}},
};

static int group_index(aperta_voice voice)
{
    return voice == APERTA_VOICE_MAN ? 0 : voice == APERTA_VOICE_WOMAN ? 1 : 2;
}

static synth_tract *draw_tube(const sung_token *t, synth_random *random)
{
    static const double LENGTH[] = {1.0, 0.865, 0.80}; /* of the tract, re the man's */
    synth_tube tube;
    synth_tube_story(synth_story_vowel(synth_random_int(random, 0, SYNTH_STORY_VOWELS - 1)), &tube);
    synth_tube_perturb(&tube, synth_random_uniform(random, 0.05, 0.2), random);
    if (synth_random_uniform(random, 0, 1) < 0.6)
        synth_tube_open_jaw(&tube, synth_random_uniform(random, 0.0, 1.0));
    if (synth_random_uniform(random, 0, 1) < 0.5)
        synth_tube_add_branch(&tube, synth_random_uniform(random, 4000, 5000), synth_random_uniform(random, 0.5, 2.0));
    if (synth_random_uniform(random, 0, 1) < 0.4)
        tube.glottis_cm2 = synth_random_uniform(random, 0.02, 0.08);
    if (t->other)
        tube.glottis_cm2 = synth_random_uniform(random, 0.0, 0.15);
    synth_tube_scale(&tube, LENGTH[group_index(t->voice)] * exp(synth_random_gauss(random, 0.04)));
    return synth_tube_tract(&tube, TOP_HZ);
}

static synth_tract *draw_table(sung_token *t, synth_random *random)
{
    const table_vowel *v = &TABLE[synth_random_int(random, 0, G_N_ELEMENTS(TABLE) - 1)];
    int g = group_index(t->voice);
    double mean_hz[4], sd_hz[4];
    memcpy(mean_hz, v->mean_hz[g], sizeof mean_hz);
    memcpy(sd_hz, v->sd_hz[g], sizeof v->sd_hz[g]);
    sd_hz[3] = 0.06 * mean_hz[3];
    g_strlcpy(t->vowel, TABLE_IPA[v - TABLE], sizeof t->vowel);
    t->raised = 1.0 + synth_random_uniform(random, 0.0, 1.0) * synth_random_uniform(random, 0.0, 0.4);
    mean_hz[0] *= t->raised;
    double length_cm = 35000.0 / 4.0 * 7.0 / mean_hz[3] * exp(synth_random_gauss(random, 0.05));
    synth_table table = synth_table_token(mean_hz, sd_hz, 4, length_cm, random);
    if (synth_random_uniform(random, 0, 1) < 0.5)
        table = synth_table_vowel(table.hz, 4, length_cm, SYNTH_BANDWIDTHS_FANT);
    synth_table_spread_bandwidths(&table, 0.3, random);
    if (t->other)
        table.bandwidth_hz[0] *= synth_random_uniform(random, 1.0, 2.5);
    return synth_table_tract(&table, TOP_HZ);
}

static aperta_voice draw_voice(double f0_hz, synth_random *random)
{
    double x = synth_random_uniform(random, 0, 1);
    if (f0_hz < 230)
        return x < 0.5 ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN;
    if (f0_hz < 450)
        return x < 0.25 ? APERTA_VOICE_MAN : x < 0.75 ? APERTA_VOICE_WOMAN : APERTA_VOICE_CHILD;
    return x < 0.75 ? APERTA_VOICE_WOMAN : APERTA_VOICE_CHILD;
}

typedef struct {
    float *samples;
    gsize n;
    aperta_f0_track *track;
    aperta_note note;
} sung;

/* How one note is sung. */
typedef struct {
    double seconds, rate_hz, rd, rd_swing, swing_db, lag, swell_db;
    double track_error; /* of the fundamental that is handed over, as a ratio */
    synth_wander drift, slips;
} manner;

static manner draw_manner(const sung_token *t, synth_random *random)
{
    return (manner){
        .seconds = synth_random_uniform(random, 0.6, 1.2),
        .rate_hz = synth_random_uniform(random, 5.0, 6.5),
        .rd = exp(synth_random_gauss(random, 0.3)) * (t->f0_hz > 400.0 ? 1.15 : 1.0),
        .rd_swing = synth_random_gauss(random, 0.08),
        .swing_db = synth_random_gauss(random, 1.0) * t->extent_cents / 100.0,
        .lag = synth_random_gauss(random, 0.6),
        .swell_db = synth_random_uniform(random, -4.0, 4.0),
        .track_error = exp2(synth_random_gauss(random, 3.0) / 1200.0),
        .drift = synth_wander_draw(random, 0.5, 12.0),
        .slips = synth_wander_draw(random, 5.0, 40.0),
    };
}

static double edge_at(const manner *m, double time_s)
{
    return MIN(time_s, m->seconds - time_s) / 0.04;
}

static synth_control control_at(const sung_token *t, const manner *m, double time_s)
{
    double phase = 2.0 * G_PI * m->rate_hz * time_s, edge = CLAMP(edge_at(m, time_s), 0.0, 1.0);
    double cents = t->extent_cents * sin(phase) + 4.0 * synth_wander_at(&m->drift, time_s);
    double gain_db = m->swing_db * sin(phase + m->lag) + m->swell_db * time_s / m->seconds;
    return (synth_control){
        .f0_hz = t->f0_hz * exp2(cents / 1200.0),
        .voice = edge * pow(10.0, gain_db / 20.0),
        .aspiration = edge,
        .rd = CLAMP(m->rd + m->rd_swing * sin(phase + m->lag), 0.35, 2.6),
    };
}

static aperta_f0_track *make_track(const sung_token *t, const manner *m)
{
    aperta_f0_track *track = aperta_f0_track_new(0.0, 0.01, (guint)(m->seconds / 0.01));
    for (guint i = 0; i < track->n_frames; i++) {
        double time_s = aperta_f0_track_time_s(track, i);
        double cents =
            0.95 * t->extent_cents * sin(2.0 * G_PI * m->rate_hz * time_s) + 4.0 * synth_wander_at(&m->slips, time_s);
        gboolean voiced = edge_at(m, time_s) > 0.3;
        track->frames[i] = (aperta_f0){.f0_hz = (float)(t->f0_hz * m->track_error * exp2(cents / 1200.0)),
                                       .confidence = voiced ? 0.95f : 0.1f,
                                       .level_db = -20.0f,
                                       .voiced = (guint8)voiced};
    }
    return track;
}

static void sing(const sung_token *t, synth_tract *tract, synth_random *random, sung *out)
{
    manner m = draw_manner(t, random);
    gsize n = (gsize)(m.seconds * SYNTH_CONTROLS_PER_S);
    g_autofree synth_control *controls = g_new0(synth_control, n);
    for (gsize i = 0; i < n; i++)
        controls[i] = control_at(t, &m, (double)i / SYNTH_CONTROLS_PER_S);
    synth_voice voice = synth_voice_default();
    voice.snr_db = t->snr_db;
    voice.ripple_db = t->ripple_db;
    voice.source =
        t->other ? (synth_source)synth_random_int(random, SYNTH_SOURCE_COSINES, SYNTH_SOURCE_CUBIC) : SYNTH_SOURCE_LF;
    voice.room_rt60_s = t->room ? synth_random_uniform(random, 0.3, 0.8) : 0.0;
    voice.floor_db = -75.0;
    voice.seed = synth_random_bits(random);
    out->samples = synth_voice_render(&voice, &tract, 1, controls, n, &out->n);
    out->track = make_track(t, &m);
    out->note =
        (aperta_note){.span = {0.0, m.seconds}, .steady = {0.06, m.seconds - 0.06}, .f0_hz = t->f0_hz * m.track_error};
}

static void draw_setting(sung_token *t, double f0_hz, synth_random *random)
{
    t->f0_hz = f0_hz * exp2(synth_random_uniform(random, -1.5, 1.5) / 12.0);
    t->voice = draw_voice(t->f0_hz, random);
    t->tube = synth_random_uniform(random, 0, 1) < 0.5;
    t->room = synth_random_uniform(random, 0, 1) < 0.5;
    t->ripple_db = synth_random_uniform(random, 0.0, t->other ? 4.0 : 3.0);
    t->snr_db = synth_random_uniform(random, 0, 1) < 0.5 ? 40.0 : 20.0;
    static const double EXTENTS[] = {0.0, 50.0, 50.0, 50.0, 100.0, 100.0, 100.0};
    t->extent_cents = EXTENTS[synth_random_int(random, 0, G_N_ELEMENTS(EXTENTS) - 1)];
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

static void read_note(sung_token *t, const sung *s)
{
    aperta_tract_config config = {RATE_HZ, t->voice, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
    aperta_tract_reading reading;
    clock_t begin = clock();
    aperta_tract_read(tract, s->samples, s->n, 0.0, s->track, &s->note, &reading, NULL);
    t->cost = (double)(clock() - begin) / CLOCKS_PER_SEC / ((double)s->n / RATE_HZ);
    memcpy(t->fit, reading.resonances, sizeof t->fit);
    t->posterior = reading.posterior;
    memcpy(t->lpc, reading.lpc, sizeof t->lpc);
}

void sung_token_read(sung_token *t, double f0_hz, gboolean other, guint64 seed)
{
    synth_random random = synth_random_seed(seed);
    sung s;
    memset(t, 0, sizeof *t);
    t->other = other;
    draw_setting(t, f0_hz, &random);
    g_autoptr(synth_tract) tract = t->tube ? draw_tube(t, &random) : draw_table(t, &random);
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        t->true_hz[i] = tract->resonances[i].hz;
    sing(t, tract, &random, &s);
    read_note(t, &s);
    aperta_f0_track_free(s.track);
    g_free(s.samples);
}

void sung_token_read_all(sung_token *tokens, const double *pitches_hz, guint n_pitches, guint notes, gboolean other,
                         guint64 seed, guint jobs)
{
    for (guint job = 0; job < jobs; job++) {
        pid_t pid = fork();
        if (pid < 0)
            g_error("no process to read with: %s", g_strerror(errno));
        if (pid > 0)
            continue;
        for (guint i = job; i < n_pitches * notes; i += jobs)
            sung_token_read(&tokens[i], pitches_hz[i / notes], other, seed * 1000003 + i * 7919u);
        _exit(0);
    }
    while (wait(NULL) > 0)
        continue;
}
