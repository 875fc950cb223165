/* mixture.c - see mixture.h */
#include "mixture.h"

#include <math.h>

const mixture_range MIXTURE_RANGES[MIXTURE_N_RANGES] = {{"bass", 40, 60, APERTA_VOICE_MAN},
                                                        {"tenor", 48, 69, APERTA_VOICE_MAN},
                                                        {"alto", 53, 74, APERTA_VOICE_WOMAN},
                                                        {"soprano", 60, 84, APERTA_VOICE_WOMAN}};

synth_take *mixture_sing(const mixture_range *range, const mixture_manner *how, guint64 seed)
{
    synth_phrase_spec spec = synth_phrase_default();

    spec.low_midi = range->low_midi;
    spec.high_midi = range->high_midi;
    spec.vibrato_max_cents = how->vibrato_cents;
    spec.voice.snr_db = how->snr_db;
    spec.voice.room_rt60_s = how->room_rt60_s;
    spec.voice.ripple_db = how->ripple_db;
    spec.voice.seed = seed;
    return synth_phrase_random(&spec);
}

/* Level of the voice where it sounds. */
static double voice_rms(const synth_take *take)
{
    double power = 0.0;
    gsize n = 0, hop = (gsize)(SYNTH_TRUTH_HOP_S * take->sample_rate_hz);

    for (gsize i = 0; i < take->n_samples; i++)
        if (i / hop < take->n_frames && take->f0_hz[i / hop] > 0.0) {
            power += (double)take->samples[i] * take->samples[i];
            n++;
        }
    return n > 0 ? sqrt(power / (double)n) : 0.0;
}

/* Adds other at that level, and brings all within full scale. */
static void lay_under(synth_take *take, const float *other, double level_db)
{
    double power = 0.0, peak = 1.0;

    for (gsize i = 0; i < take->n_samples; i++)
        power += (double)other[i] * other[i] / (double)take->n_samples;
    double gain = voice_rms(take) / sqrt(MAX(power, 1e-20)) * pow(10.0, level_db / 20.0);
    for (gsize i = 0; i < take->n_samples; i++) {
        take->samples[i] += (float)gain * other[i];
        peak = MAX(peak, fabs((double)take->samples[i]));
    }
    for (gsize i = 0; i < take->n_samples; i++)
        take->samples[i] /= (float)peak;
}

static gboolean add_player(synth_take *take, player_kind kind, double level_db, guint64 seed)
{
    g_autofree float *other = player_sound(kind, take->n_samples, take->sample_rate_hz, seed);

    if (other == NULL)
        return FALSE;
    lay_under(take, other, level_db);
    return TRUE;
}

/* A chord on every note that is sung: the note itself, an octave below it, its third and its fifth. */
static void add_harmony(synth_take *take, double level_db, guint64 seed)
{
    static const int CHORD[] = {-12, 0, 4, 7};
    guint n = take->n_notes * G_N_ELEMENTS(CHORD);
    g_autofree int *midi = g_new(int, n);
    g_autofree double *start_s = g_new(double, n);

    for (guint i = 0; i < n; i++) {
        midi[i] = (int)round(take->notes[i / G_N_ELEMENTS(CHORD)].midi) + CHORD[i % G_N_ELEMENTS(CHORD)];
        start_s[i] = take->notes[i / G_N_ELEMENTS(CHORD)].start_s;
    }
    g_autofree float *other = player_strings(midi, start_s, n, take->n_samples, take->sample_rate_hz, seed);
    lay_under(take, other, level_db);
}

/* A second singer of another phrase. */
static void add_singer(synth_take *take, double level_db, guint64 seed)
{
    static const mixture_manner how = {"duet", 25, 0, 80, 2};
    g_autoptr(synth_take) other = mixture_sing(&MIXTURE_RANGES[seed % 4], &how, seed + 7777);
    double gain = voice_rms(take) / voice_rms(other) * pow(10.0, level_db / 20.0);

    for (gsize i = 0; i < MIN(take->n_samples, other->n_samples); i++)
        take->samples[i] = (float)(0.5 * (take->samples[i] + gain * other->samples[i]));
}

gboolean mixture_add(synth_take *take, guint kind, double level_db, guint64 seed)
{
    if (kind < N_PLAYERS)
        return add_player(take, kind, level_db, seed);
    if (kind == MIXTURE_DUET)
        add_singer(take, level_db, seed);
    else
        add_harmony(take, level_db, seed);
    return TRUE;
}

const char *mixture_name(guint kind)
{
    return kind < N_PLAYERS ? PLAYER_NAMES[kind] : kind == MIXTURE_DUET ? "second voice" : "piano in harmony";
}
