/* synth-phrase.c - from syllables to control values, and the truth about them. See synth-phrase.h
 *
 * Sizes of consonants, attacks and slides are common practice in synthesis, no source. */
#include "synth-phrase.h"

#include <aperta/base.h>
#include <math.h>

#define ATTACK_S        0.035
#define RELEASE_S       0.050
#define VIBRATO_GROW_S  0.15
#define VIBRATO_FADE_S  0.06
#define REST_S          0.03 /* a gap shorter than this between a note and the next consonant is closed */
#define VOICED_FROM     0.03 /* voice amplitude from which a frame counts as voiced: -30 dB */
#define LEGATO_STEPS    6    /* tracts between one vowel and the next */
#define DIPHTHONG_STEPS 12
#define VOWEL_CHANGE_S  0.06
#define MURMUR_CHANGE_S 0.015
#define DIP_S           0.08
#define DIP_DEPTH       0.9

static const struct {
    double seconds;
    gboolean voiced;
    double voice;  /* amplitude while it lasts */
    double breath; /* aspiration, as a factor on full aspiration */
    double hiss;
    double hiss_hz;
    double hiss_s; /* at the end of the consonant */
} consonants[] = {
    [SYNTH_ONSET_VOWEL] = {0},
    [SYNTH_ONSET_DIP] = {.voiced = TRUE},
    [SYNTH_ONSET_STOP] = {.seconds = 0.075, .hiss = 0.25, .hiss_hz = 3000, .hiss_s = 0.012},
    [SYNTH_ONSET_FRICATIVE] = {.seconds = 0.100, .hiss = 0.15, .hiss_hz = 5500, .hiss_s = 0.085},
    [SYNTH_ONSET_ASPIRATE] = {.seconds = 0.080, .breath = 1.5},
    [SYNTH_ONSET_NASAL] = {.seconds = 0.070, .voiced = TRUE, .voice = 0.4},
    [SYNTH_ONSET_LATERAL] = {.seconds = 0.060, .voiced = TRUE, .voice = 0.5},
};

/* What one syllable becomes on the time axis. */
typedef struct {
    const synth_syllable *syllable;
    double consonant_s; /* where its consonant begins; = start when there is none */
    double end_s;       /* shortened by the next consonant */
    gboolean joined;    /* the voice goes on from the syllable before */
    gboolean joins;     /* and into the next */
    int murmur;         /* number of the murmur's tract; -1 none */
    int into;           /* first tract of the way from the syllable before; -1 none */
    int first;          /* first and last tract of the vowel */
    int last;
    double rate_hz;
    synth_wander rate_wander;
    synth_wander extent_wander;
    double *vibrato_phase; /* per control from start_s; owned */
} plan;

typedef struct {
    const synth_voice *voice;
    guint n;
    plan *plans;
    GPtrArray *tracts;
    gsize n_controls;
    synth_control *controls;
    synth_wander drift;
    double drift_cents;
} score;

/* ---- vowels ---------------------------------------------------------------------------------------------------- */

synth_vowel synth_vowel_of_tube(const synth_tube *tube)
{
    return (synth_vowel){.is_tube = TRUE, .tube = *tube};
}

synth_vowel synth_vowel_of_table(const synth_table *table)
{
    return (synth_vowel){.table = *table};
}

synth_tract *synth_vowel_tract(const synth_vowel *vowel, double top_hz)
{
    return vowel->is_tube ? synth_tube_tract(&vowel->tube, top_hz) : synth_table_tract(&vowel->table, top_hz);
}

static synth_vowel vowel_between(const synth_vowel *a, const synth_vowel *b, double x)
{
    synth_vowel vowel = *a;

    g_assert(a->is_tube == b->is_tube);
    if (a->is_tube)
        vowel.tube = synth_tube_between(&a->tube, &b->tube, x);
    else
        vowel.table = synth_table_between(&a->table, &b->table, x);
    return vowel;
}

/* Mouth shut, sound through the nose; or tongue up. Low first resonance, all of them wide (invented for the tests). */
static synth_vowel murmur_vowel(synth_onset onset, double length_cm)
{
    static const double nasal_hz[] = {270, 1000, 2200, 3000}, lateral_hz[] = {360, 1300, 2700, 3500};
    double hz[4];

    for (int i = 0; i < 4; i++)
        hz[i] = (onset == SYNTH_ONSET_NASAL ? nasal_hz[i] : lateral_hz[i]) * 17.5 / length_cm;
    synth_table table = synth_table_vowel(hz, 4, length_cm, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    for (int i = 0; i < 4; i++)
        table.bandwidth_hz[i] *= onset == SYNTH_ONSET_NASAL ? 2.5 : 1.5;
    return synth_vowel_of_table(&table);
}

static double vowel_length_cm(const synth_vowel *vowel)
{
    return vowel->is_tube ? synth_tube_length_cm(&vowel->tube) : vowel->table.length_cm;
}

/* ---- the list of tracts ---------------------------------------------------------------------------------------- */

static int add_tract(score *s, const synth_vowel *vowel)
{
    g_ptr_array_add(s->tracts, synth_vowel_tract(vowel, 0.5 * s->voice->sample_rate_hz));
    return (int)s->tracts->len - 1;
}

/* steps - 1 tracts strictly between a and b; the number of the first */
static int add_way(score *s, const synth_vowel *a, const synth_vowel *b, int steps)
{
    int first = (int)s->tracts->len;

    for (int i = 1; i < steps; i++) {
        synth_vowel vowel = vowel_between(a, b, (double)i / steps);
        add_tract(s, &vowel);
    }
    return first;
}

/* Order in the list: [way from the vowel before | murmur] vowel [way vowel_end], so that neighbours in time are
 * neighbours in the list wherever the voice goes on. */
static void add_tracts(score *s, guint i)
{
    plan *p = &s->plans[i];
    const synth_syllable *syllable = p->syllable;

    p->murmur = p->into = -1;
    if (syllable->onset == SYNTH_ONSET_NASAL || syllable->onset == SYNTH_ONSET_LATERAL) {
        synth_vowel murmur = murmur_vowel(syllable->onset, vowel_length_cm(&syllable->vowel));
        p->murmur = add_tract(s, &murmur);
    } else if (p->joined) {
        const synth_syllable *before = s->plans[i - 1].syllable;
        const synth_vowel *from = before->glides ? &before->vowel_end : &before->vowel;
        if (from->is_tube == syllable->vowel.is_tube)
            p->into = add_way(s, from, &syllable->vowel, LEGATO_STEPS);
    }
    p->first = p->last = add_tract(s, &syllable->vowel);
    if (syllable->glides) {
        add_way(s, &syllable->vowel, &syllable->vowel_end, DIPHTHONG_STEPS);
        p->last = add_tract(s, &syllable->vowel_end);
    }
}

/* ---- times ----------------------------------------------------------------------------------------------------- */

static void plan_times(score *s, const synth_syllable *syllables)
{
    for (guint i = 0; i < s->n; i++) {
        plan *p = &s->plans[i];

        p->syllable = &syllables[i];
        p->consonant_s = syllables[i].start_s - consonants[syllables[i].onset].seconds;
        p->end_s = syllables[i].end_s;
        if (i == 0)
            continue;
        plan *before = &s->plans[i - 1];
        if (p->consonant_s > before->syllable->end_s + REST_S)
            continue;
        before->end_s = p->consonant_s;
        before->joins = p->joined = consonants[syllables[i].onset].voiced || syllables[i].onset == SYNTH_ONSET_VOWEL;
    }
}

static double ramp(double x)
{
    return x <= 0.0 ? 0.0 : x >= 1.0 ? 1.0 : 0.5 - 0.5 * cos(G_PI * x);
}

/* ---- vibrato --------------------------------------------------------------------------------------------------- */

static double vibrato_share(const plan *p, double time_s)
{
    const synth_vibrato *v = &p->syllable->vibrato;

    return ramp((time_s - p->syllable->start_s - v->delay_s) / VIBRATO_GROW_S) *
           ramp((p->end_s - time_s) / VIBRATO_FADE_S);
}

static double vibrato_extent_cents(const plan *p, double time_s)
{
    const synth_vibrato *v = &p->syllable->vibrato;

    return v->extent_cents * (1.0 + 2.5 * v->irregularity * synth_wander_at(&p->extent_wander, time_s));
}

static double vibrato_rate_hz(const plan *p, double time_s)
{
    const synth_vibrato *v = &p->syllable->vibrato;

    return v->rate_hz * (1.0 + v->irregularity * synth_wander_at(&p->rate_wander, time_s));
}

static gsize control_number(double time_s)
{
    return (gsize)MAX(0.0, floor(time_s * SYNTH_CONTROLS_PER_S));
}

static void plan_vibrato(score *s, synth_random *random)
{
    for (guint i = 0; i < s->n; i++) {
        plan *p = &s->plans[i];
        double end_s = MAX(p->end_s, p->syllable->end_s); /* the voice may go on until the next consonant */
        gsize n = control_number(end_s) - control_number(p->syllable->start_s) + 2;
        double phase = synth_random_uniform(random, 0.0, 2.0 * G_PI);

        p->rate_wander = synth_wander_draw(random, 0.3, 1.5);
        p->extent_wander = synth_wander_draw(random, 0.3, 1.5);
        p->vibrato_phase = g_new(double, n);
        for (gsize j = 0; j < n; j++) {
            p->vibrato_phase[j] = phase;
            phase += 2.0 * G_PI * vibrato_rate_hz(p, p->syllable->start_s + (double)j / SYNTH_CONTROLS_PER_S) /
                     SYNTH_CONTROLS_PER_S;
        }
    }
}

/* Sine of the vibrato, grown or not; 0 outside the note. */
static double vibrato_sine(const plan *p, double time_s)
{
    if (time_s < p->syllable->start_s || time_s >= p->end_s)
        return 0.0;
    return vibrato_share(p, time_s) *
           sin(p->vibrato_phase[control_number(time_s) - control_number(p->syllable->start_s)]);
}

/* ---- control values -------------------------------------------------------------------------------------------- */

/* The slide into plan i: centred on the boundary, or filling the murmur. */
static double slide(const plan *p, double time_s)
{
    double length_s = MAX(p->syllable->glide_s, p->syllable->start_s - p->consonant_s);
    double centre_s = 0.5 * (p->consonant_s + p->syllable->start_s);

    if (!p->joined)
        return time_s >= p->consonant_s ? 1.0 : 0.0;
    return length_s > 0.0 ? ramp((time_s - centre_s) / length_s + 0.5) : time_s >= centre_s;
}

/* What slides from one syllable to the next wherever the voice goes on. */
typedef struct {
    double midi, level_db, breathy_db, rd;
} sliding;

static sliding sliding_at(const score *s, double time_s)
{
    const synth_syllable *first = s->plans[0].syllable;
    sliding now = {first->midi, first->level_db, first->breathy_db, first->rd};

    for (guint i = 1; i < s->n; i++) {
        const synth_syllable *from = s->plans[i - 1].syllable, *to = s->plans[i].syllable;
        double x = slide(&s->plans[i], time_s);

        now.midi += x * (to->midi - from->midi);
        now.level_db += x * (to->level_db - from->level_db);
        now.breathy_db += x * (to->breathy_db - from->breathy_db);
        now.rd += x * (to->rd - from->rd);
    }
    return now;
}

static double cents_around(const score *s, const plan *p, double time_s)
{
    double drift = s->drift_cents > 0.0 ? s->drift_cents * synth_wander_at(&s->drift, time_s) : 0.0;
    double sine = vibrato_sine(p, time_s);

    return sine == 0.0 ? drift : drift + sine * vibrato_extent_cents(p, time_s);
}

/* Which syllable's consonant or vowel a moment belongs to; -1 before the first. */
static int plan_at(const score *s, double time_s)
{
    int i = -1;

    while (i + 1 < (int)s->n && s->plans[i + 1].consonant_s <= time_s)
        i++;
    return i;
}

static double dip(const plan *p, double time_s)
{
    double x = fabs(time_s - p->syllable->start_s) / (0.5 * DIP_S);

    if (p->syllable->onset != SYNTH_ONSET_DIP || !p->joined || x >= 1.0)
        return 1.0;
    return 1.0 - DIP_DEPTH * ramp(1.0 - x);
}

/* Amplitude of the voiced sound within syllable i, re its level. */
static double voice_amplitude(const score *s, int i, double time_s)
{
    const plan *p = &s->plans[i];
    double begin_s = p->murmur >= 0 ? p->consonant_s : p->syllable->start_s, amplitude = 1.0;

    if (time_s < begin_s || time_s >= p->end_s)
        return 0.0;
    if (p->murmur >= 0) {
        double low = consonants[p->syllable->onset].voice;
        amplitude = low + (1.0 - low) * ramp((time_s - p->syllable->start_s) / MURMUR_CHANGE_S + 1.0);
        if (p->joined)
            amplitude = MAX(amplitude, 1.0 - (1.0 - low) * ramp((time_s - p->consonant_s) / MURMUR_CHANGE_S));
    }
    if (!p->joined)
        amplitude *= ramp((time_s - begin_s) / ATTACK_S);
    if (!p->joins)
        amplitude *= ramp((p->end_s - time_s) / RELEASE_S);
    else
        amplitude *= dip(&s->plans[i + 1], time_s);
    return amplitude * dip(p, time_s);
}

/* Place in the list of tracts. */
static double tract_place(const plan *p, double time_s)
{
    double start_s = p->syllable->start_s, middle_s = 0.5 * (start_s + p->end_s);

    if (p->murmur >= 0 && time_s < start_s) {
        double in = p->joined ? ramp((time_s - p->consonant_s) / MURMUR_CHANGE_S) : 1.0;
        double out = ramp((time_s - start_s) / MURMUR_CHANGE_S + 1.0);
        return p->murmur - 1.0 + in + out;
    }
    if (p->into >= 0 && time_s < start_s + VOWEL_CHANGE_S)
        return p->into - 1.0 + LEGATO_STEPS * ramp((time_s - start_s) / VOWEL_CHANGE_S);
    if (p->syllable->glides && time_s > middle_s)
        return p->first + (p->last - p->first) * ramp((time_s - middle_s) / (0.8 * (p->end_s - middle_s)));
    return p->first;
}

/* Of the consonant before syllable p; full is the syllable's level as an amplitude. */
static void consonant_noise(const plan *p, double time_s, double full, synth_control *control)
{
    double left_s = p->syllable->start_s - time_s, since_s = consonants[p->syllable->onset].hiss_s - left_s;
    double edge_s = 0.004, slow_edge_s = 0.03;

    if (left_s <= 0.0 || time_s < p->consonant_s)
        return;
    control->aspiration = full * consonants[p->syllable->onset].breath * ramp((time_s - p->consonant_s) / slow_edge_s) *
                          ramp(left_s / slow_edge_s);
    if (since_s > 0.0) {
        control->hiss = full * consonants[p->syllable->onset].hiss * ramp(since_s / edge_s) * ramp(left_s / edge_s);
        control->hiss_hz = consonants[p->syllable->onset].hiss_hz;
    }
}

#define BREATH_HISS 0.03 /* RMS re full voice, -30 dB */
#define BREATH_HZ   1500.0

/* An intake of breath that ends 50 ms before the consonant. */
static void breath_noise(const plan *p, double time_s, synth_control *control)
{
    double end_s = p->consonant_s - 0.05, x = (time_s - (end_s - p->syllable->breath_s)) / p->syllable->breath_s;

    if (p->joined || p->syllable->breath_s <= 0.0 || x <= 0.0 || x >= 1.0)
        return;
    control->hiss = BREATH_HISS * sin(G_PI * x);
    control->hiss_hz = BREATH_HZ;
}

static void fill_control(const score *s, double time_s, synth_control *control)
{
    int i = plan_at(s, time_s);
    const plan *p = &s->plans[MAX(i, 0)];
    sliding now = sliding_at(s, time_s);
    double full = pow(10.0, now.level_db / 20.0);

    *control = (synth_control){.rd = now.rd, .tract = p->first};
    control->f0_hz = aperta_midi_to_hz(now.midi + cents_around(s, p, time_s) / 100.0, 440.0);
    if (i + 1 < (int)s->n)
        breath_noise(&s->plans[i + 1], time_s, control);
    if (i < 0)
        return;
    control->voice = full * voice_amplitude(s, i, time_s);
    control->tract = tract_place(p, time_s);
    control->rd = CLAMP(now.rd + p->syllable->rd_vibrato * vibrato_sine(p, time_s), 0.3, 2.7);
    consonant_noise(p, time_s, full, control);
    if (control->voice > 0.0)
        control->aspiration = control->voice * pow(10.0, now.breathy_db / 20.0);
}

/* ---- truth ----------------------------------------------------------------------------------------------------- */

/* Rate and extent where the vibrato is fully grown: at least one cycle of it. */
static void true_vibrato(const plan *p, synth_truth *truth)
{
    double from_s = p->syllable->start_s + p->syllable->vibrato.delay_s + VIBRATO_GROW_S,
           to_s = p->end_s - VIBRATO_FADE_S;
    gsize first = control_number(from_s), last = control_number(to_s), start = control_number(p->syllable->start_s);
    double extent = 0.0;

    if (p->syllable->vibrato.extent_cents <= 0.0)
        return;
    truth->vibrato_partial = (to_s - from_s) * p->syllable->vibrato.rate_hz < 1.0;
    if (truth->vibrato_partial)
        return;
    for (gsize i = first; i < last; i++)
        extent += vibrato_extent_cents(p, (double)i / SYNTH_CONTROLS_PER_S);
    truth->vibrato_extent_cents = extent / (double)(last - first);
    truth->vibrato_rate_hz = (p->vibrato_phase[last - start] - p->vibrato_phase[first - start]) / (2.0 * G_PI) *
                             SYNTH_CONTROLS_PER_S / (double)(last - first);
}

static void true_note(const score *s, guint i, synth_truth *truth)
{
    const plan *p = &s->plans[i];
    const synth_tract *first = g_ptr_array_index(s->tracts, p->first), *last = g_ptr_array_index(s->tracts, p->last);

    truth->start_s = p->syllable->start_s;
    truth->end_s = p->end_s;
    truth->onset = p->syllable->onset;
    truth->midi = p->syllable->midi;
    truth->f0_hz = aperta_midi_to_hz(p->syllable->midi, 440.0);
    truth->n_resonances = MIN(first->n_resonances, last->n_resonances);
    truth->glides = p->syllable->glides;
    for (int j = 0; j < truth->n_resonances; j++) {
        truth->resonances[j] = first->resonances[j];
        truth->last[j] = last->resonances[j];
    }
    true_vibrato(p, truth);
}

static synth_take *make_take(const score *s)
{
    synth_take *take = g_new0(synth_take, 1);
    gsize per_frame = (gsize)(SYNTH_TRUTH_HOP_S * SYNTH_CONTROLS_PER_S + 0.5);

    take->sample_rate_hz = s->voice->sample_rate_hz;
    take->n_notes = s->n;
    take->notes = g_new0(synth_truth, s->n);
    for (guint i = 0; i < s->n; i++)
        true_note(s, i, &take->notes[i]);
    take->n_frames = (guint)((s->n_controls - 1) / per_frame + 1);
    take->f0_hz = g_new0(double, take->n_frames);
    for (guint i = 0; i < take->n_frames; i++)
        if (s->controls[i * per_frame].voice >= VOICED_FROM)
            take->f0_hz[i] = s->controls[i * per_frame].f0_hz;
    take->samples = synth_voice_render(s->voice, (synth_tract *const *)s->tracts->pdata, (int)s->tracts->len,
                                       s->controls, s->n_controls, &take->n_samples);
    return take;
}

void synth_take_free(synth_take *take)
{
    if (!take)
        return;
    g_free(take->samples);
    g_free(take->f0_hz);
    g_free(take->notes);
    g_free(take);
}

/* ---- singing --------------------------------------------------------------------------------------------------- */

synth_take *synth_phrase_sing(const synth_voice *voice, const synth_syllable *syllables, guint n, double drift_cents,
                              double seconds)
{
    synth_random random = synth_random_seed(voice->seed ^ G_GUINT64_CONSTANT(0x706872617365));
    score s = {.voice = voice, .n = n, .drift_cents = drift_cents, .drift = synth_wander_draw(&random, 0.2, 2.0)};

    g_assert(n > 0);
    s.plans = g_new0(plan, n);
    s.tracts = g_ptr_array_new_with_free_func((GDestroyNotify)synth_tract_free);
    plan_times(&s, syllables);
    plan_vibrato(&s, &random);
    for (guint i = 0; i < n; i++)
        add_tracts(&s, i);
    s.n_controls = control_number(seconds) + 1;
    s.controls = g_new(synth_control, s.n_controls);
    for (gsize i = 0; i < s.n_controls; i++)
        fill_control(&s, (double)i / SYNTH_CONTROLS_PER_S, &s.controls[i]);
    synth_take *take = make_take(&s);
    for (guint i = 0; i < n; i++)
        g_free(s.plans[i].vibrato_phase);
    g_free(s.plans);
    g_free(s.controls);
    g_ptr_array_unref(s.tracts);
    return take;
}

synth_syllable synth_syllable_default(void)
{
    synth_tube tube = synth_tube_uniform(17.5, 3.0, 40);

    return (synth_syllable){.end_s = 1.0,
                            .midi = 57.0,
                            .vibrato = {.rate_hz = 5.8, .delay_s = 0.15},
                            .glide_s = 0.08,
                            .rd = 1.0,
                            .vowel = synth_vowel_of_tube(&tube)};
}

synth_note_spec synth_note_default(void)
{
    synth_syllable syllable = synth_syllable_default();

    return (synth_note_spec){.f0_hz = 220.0,
                             .seconds = 1.0,
                             .vibrato = syllable.vibrato,
                             .vowel = syllable.vowel,
                             .rd = 1.0,
                             .voice = synth_voice_default()};
}

synth_take *synth_note_sing(const synth_note_spec *spec)
{
    synth_syllable syllable = synth_syllable_default();

    syllable.start_s = SYNTH_LEAD_S;
    syllable.end_s = SYNTH_LEAD_S + spec->seconds;
    syllable.midi = aperta_hz_to_midi(spec->f0_hz, 440.0);
    syllable.vibrato = spec->vibrato;
    syllable.vowel = spec->vowel;
    syllable.glides = spec->glides;
    syllable.vowel_end = spec->vowel_end;
    syllable.rd = spec->rd;
    syllable.rd_vibrato = spec->rd_vibrato;
    return synth_phrase_sing(&spec->voice, &syllable, 1, spec->drift_cents, syllable.end_s + SYNTH_TRAIL_S);
}
