/* token.c - see token.h */
#include "token.h"

#include <math.h>

#define N_TABLE 12

/* Means and standard deviations of F1 to F3, mean of F4, Hz, rounded: Hillenbrand et al. 1995 (JASA 97:3099-3111),
 * steady states of i ɪ e ɛ æ ɑ ɔ o ʊ u ʌ ɝ. */
static const struct {
    double mean_hz[4];
    double sd_hz[4];
} men[N_TABLE] =
    {
        {{343, 2323, 3001, 3658}, {28, 136, 201, 0}}, /* i */
        {{429, 2034, 2687, 3628}, {31, 122, 129, 0}}, /* ɪ */
        {{476, 2090, 2692, 3649}, {41, 140, 155, 0}}, /* e */
        {{588, 1803, 2604, 3699}, {41, 117, 138, 0}}, /* ɛ */
        {{591, 1930, 2595, 3642}, {42, 133, 137, 0}}, /* æ */
        {{756, 1309, 2535, 3684}, {62, 111, 149, 0}}, /* ɑ */
        {{656, 1023, 2521, 3520}, {34, 66, 180, 0}},  /* ɔ */
        {{498, 910, 2459, 3384}, {43, 98, 144, 0}},   /* o */
        {{469, 1123, 2435, 3400}, {28, 97, 127, 0}},  /* ʊ */
        {{380, 992, 2355, 3378}, {33, 113, 134, 0}},  /* u */
        {{621, 1181, 2548, 3564}, {30, 87, 142, 0}},  /* ʌ */
        {{475, 1379, 1711, 3335}, {29, 78, 108, 0}},  /* ɝ */
},
  women[N_TABLE] = {
      {{437, 2761, 3373, 4353}, {41, 147, 237, 0}}, /* i */
      {{484, 2369, 3057, 4333}, {34, 149, 190, 0}}, /* ɪ */
      {{536, 2526, 3050, 4308}, {63, 154, 181, 0}}, /* e */
      {{727, 2063, 2953, 4312}, {74, 143, 189, 0}}, /* ɛ */
      {{676, 2335, 2973, 4315}, {69, 159, 200, 0}}, /* æ */
      {{921, 1526, 2832, 4291}, {97, 125, 177, 0}}, /* ɑ */
      {{804, 1188, 2824, 3946}, {75, 129, 212, 0}}, /* ɔ */
      {{556, 1036, 2828, 3928}, {81, 123, 187, 0}}, /* o */
      {{519, 1229, 2829, 4061}, {41, 145, 183, 0}}, /* ʊ */
      {{460, 1106, 2735, 4116}, {39, 205, 140, 0}}, /* u */
      {{760, 1416, 2901, 4133}, {58, 115, 173, 0}}, /* ʌ */
      {{524, 1588, 1930, 3914}, {45, 126, 131, 0}}, /* ɝ */
};

/* Lengths of tract that place the formants above the fourth; a woman's is the man's of the area functions by 0.86
 * (common practice, no source). */
#define MAN_CM      17.5
#define WOMAN_RATIO 0.86

token_spec token_spec_default(void)
{
    return (token_spec){
        .voice = APERTA_VOICE_MAN,
        .low_hz = 100,
        .high_hz = 200,
        .vibrato_max_cents = 80,
        .ripple_max_db = 2,
        .seed = 1,
    };
}

static synth_vowel draw_vowel(const token_spec *spec, synth_random *random)
{
    gboolean woman = spec->voice == APERTA_VOICE_WOMAN;

    if (synth_random_int(random, 0, 1)) {
        synth_tube tube;
        synth_tube_story(synth_story_vowel(synth_random_int(random, 0, SYNTH_STORY_VOWELS - 1)), &tube);
        synth_tube_perturb(&tube, 0.1, random);
        synth_tube_scale(&tube, woman ? WOMAN_RATIO : 1);
        return synth_vowel_of_tube(&tube);
    }
    int row = synth_random_int(random, 0, N_TABLE - 1);
    const double *mean_hz = woman ? women[row].mean_hz : men[row].mean_hz;
    const double *sd_hz = woman ? women[row].sd_hz : men[row].sd_hz;
    synth_table table = synth_table_token(mean_hz, sd_hz, 4, woman ? MAN_CM * WOMAN_RATIO : MAN_CM, random);
    synth_table_spread_bandwidths(&table, 0.3, random);
    return synth_vowel_of_table(&table);
}

token *token_new(const token_spec *spec)
{
    token *t = g_new0(token, 1);
    synth_random random = synth_random_seed(spec->seed);
    synth_note_spec note = synth_note_default();

    note.f0_hz = exp(synth_random_uniform(&random, log(spec->low_hz), log(spec->high_hz)));
    note.seconds = 0.8;
    note.vibrato.rate_hz = synth_random_uniform(&random, 5, 6.5);
    note.vibrato.extent_cents = synth_random_uniform(&random, 0, spec->vibrato_max_cents);
    note.vowel = draw_vowel(spec, &random);
    note.rd = synth_random_uniform(&random, 0.6, 1.8);
    note.drift_cents = 5;
    note.voice.snr_db = synth_random_uniform(&random, 20, 40);
    note.voice.ripple_db = synth_random_uniform(&random, 0, spec->ripple_max_db);
    note.voice.room_rt60_s = synth_random_int(&random, 0, 1) ? 0.3 : 0;
    note.voice.seed = spec->seed;
    t->voice = spec->voice;
    t->take = synth_note_sing(&note);
    t->track = token_track(t->take);
    t->note = token_note(t->take, 0);
    return t;
}

void token_free(token *t)
{
    if (t == NULL)
        return;
    synth_take_free(t->take);
    aperta_f0_track_free(t->track);
    g_free(t);
}

#define LEVEL_HALF_S 0.010

static double level_around(const synth_take *take, double time_s)
{
    double sum = 1e-20;
    long first = lround((time_s - LEVEL_HALF_S) * take->sample_rate_hz);
    long last = lround((time_s + LEVEL_HALF_S) * take->sample_rate_hz);

    for (long i = MAX(first, 0); i < last && i < (long)take->n_samples; i++)
        sum += take->samples[i] * take->samples[i];
    return aperta_power_to_db(sum / (double)(last - first));
}

aperta_f0_track *token_track(const synth_take *take)
{
    aperta_f0_track *track = aperta_f0_track_new(0, SYNTH_TRUTH_HOP_S, take->n_frames);

    for (guint i = 0; i < take->n_frames; i++) {
        gboolean voiced = take->f0_hz[i] > 0;
        double level_db = level_around(take, i * SYNTH_TRUTH_HOP_S);
        track->frames[i] = (aperta_f0){(float)take->f0_hz[i], voiced ? 0.9f : 0, (float)level_db, voiced};
    }
    return track;
}

aperta_note token_note(const synth_take *take, guint i)
{
    const synth_truth *truth = &take->notes[i];
    return (aperta_note){
        .span = {truth->start_s, truth->end_s},
        .steady = {truth->start_s + 0.05, truth->end_s - 0.05},
        .f0_hz = truth->f0_hz,
    };
}

void token_read(const token *t, aperta_tract_reading *reading)
{
    aperta_tract_config config = {t->take->sample_rate_hz, t->voice, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);

    aperta_tract_read(tract, t->take->samples, t->take->n_samples, 0, t->track, &t->note, reading, NULL);
}
