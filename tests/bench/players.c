/* players.c - see players.h. Levels and decays are common practice of simple synthesis, no source: what matters is that
 * the partials are where an instrument's are, that they start and fade as its do, and that they stand still. */
#include "players.h"
#include "synth-random.h"

#include <aperta/audio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define SOUND_FONT "/usr/share/sounds/sf2/default-GM.sf2"

const char *const PLAYER_NAMES[N_PLAYERS] = {"drone", "piano",    "guitar",    "drums",    "hum 50",     "hum 60",
                                             "fan",   "GM piano", "GM guitar", "GM organ", "GM strings", "GM choir"};

enum { CHORD_NOTES = 4 };
#define CHORD_S 1.0

/* Triads with their root below, one a second, around the middle of the keyboard. */
static void draw_chord(synth_random *random, int midi[CHORD_NOTES])
{
    static const int ROOTS[] = {48, 53, 55, 57, 50, 52};
    int root = ROOTS[synth_random_int(random, 0, G_N_ELEMENTS(ROOTS) - 1)];
    gboolean minor = root == 57 || root == 50 || root == 52;

    midi[0] = root - 12;
    midi[1] = root + (minor ? 3 : 4);
    midi[2] = root + 7;
    midi[3] = root + 12;
}

/* ---- our own ---------------------------------------------------------------------------------------------------- */

typedef struct {
    float *samples;
    gsize n;
    int rate_hz;
} canvas;

static double midi_hz(double midi)
{
    return 440.0 * exp2((midi - 69.0) / 12.0);
}

/* A sinusoid that starts within 5 ms and falls by 60 dB in decay_s. */
static void add_partial(canvas *c, double start_s, double hz, double amplitude, double decay_s, double phase)
{
    gsize from = (gsize)(start_s * c->rate_hz);
    double turn = 2.0 * G_PI * hz / c->rate_hz, fall = exp(-6.9 / (decay_s * c->rate_hz));
    double attack_n = 0.005 * c->rate_hz;

    if (hz > 0.45 * c->rate_hz)
        return;
    for (gsize i = from; i < c->n && amplitude > 1e-5; i++) {
        c->samples[i] +=
            (float)(amplitude * MIN(1.0, (double)(i - from) / attack_n) * sin(phase + turn * (double)(i - from)));
        amplitude *= fall;
    }
}

static void add_string(canvas *c, double start_s, double midi, double decay_s, synth_random *random)
{
    double f0_hz = midi_hz(midi);

    for (int k = 1; k <= 12; k++)
        add_partial(c, start_s, k * f0_hz * sqrt(1.0 + 0.0004 * k * k), pow(k, -1.2), decay_s / sqrt(k),
                    synth_random_uniform(random, 0.0, 2.0 * G_PI));
}

static void play_chords(canvas *c, gboolean broken, synth_random *random)
{
    double seconds = (double)c->n / c->rate_hz;

    for (double at = 0.0; at < seconds; at += CHORD_S) {
        int midi[CHORD_NOTES];
        draw_chord(random, midi);
        for (int i = 0; i < CHORD_NOTES; i++) {
            add_string(c, at + (broken ? i * CHORD_S / CHORD_NOTES : 0.0), midi[i], broken ? 2.5 : 4.0, random);
            if (!broken)
                add_string(c, at + CHORD_S / 2.0, midi[i], 4.0, random);
        }
    }
}

static void play_drone(canvas *c, synth_random *random)
{
    int root = synth_random_int(random, 43, 54);

    for (int voice = 0; voice < 2; voice++)
        for (int k = 1; k <= 8; k++)
            add_partial(c, 0.0, k * midi_hz(root + 7 * voice), 1.0 / k, 1e6, synth_random_uniform(random, 0.0, 6.28));
}

static void play_drums(canvas *c, synth_random *random)
{
    for (gsize i = 0; i < c->n; i++) {
        double at_s = (double)i / c->rate_hz, beat_s = fmod(at_s, 0.5);
        gboolean low = fmod(at_s, 1.0) < 0.5;
        c->samples[i] = (float)(synth_random_gauss(random, exp(-beat_s / 0.02)));
        if (low)
            c->samples[i] +=
                (float)(2.0 * exp(-beat_s / 0.06) * sin(2.0 * G_PI * (50.0 + 60.0 * exp(-beat_s / 0.02)) * beat_s));
    }
}

static void play_hum(canvas *c, double mains_hz)
{
    static const double LEVELS[] = {1.0,  0.15, 0.6, 0.05, 0.4,
                                    0.03, 0.2,  0.0, 0.1}; /* odd harmonics, as of a transformer */

    for (gsize k = 0; k < G_N_ELEMENTS(LEVELS); k++)
        add_partial(c, 0.0, mains_hz * (double)(k + 1), LEVELS[k], 1e6, (double)k);
}

static void play_fan(canvas *c, synth_random *random)
{
    double low = 0.0;

    for (gsize i = 0; i < c->n; i++) {
        low = 0.97 * low + synth_random_gauss(random, 1.0);
        c->samples[i] = (float)low;
    }
    add_partial(c, 0.0, 87.0, 1.0, 1e6, 0.0);
}

/* ---- General MIDI --------------------------------------------------------------------------------------------------
 */

static void put(GByteArray *out, const guint8 *bytes, guint n)
{
    g_byte_array_append(out, bytes, n);
}
#define PUT(out, ...) put(out, (const guint8[]){__VA_ARGS__}, sizeof((const guint8[]){__VA_ARGS__}))

/* A standard MIDI file (format 0, 96 ticks a quarter of half a second) with chords on one instrument. */
static GByteArray *midi_of_chords(int program, double seconds, synth_random *random)
{
    GByteArray *track = g_byte_array_new(), *file = g_byte_array_new();

    PUT(track, 0, 0xc0, (guint8)program, 0, 0xb0, 91, 0); /* no echo of its own */
    for (double at = 0.0; at < seconds; at += CHORD_S) {
        int midi[CHORD_NOTES];
        draw_chord(random, midi);
        for (int i = 0; i < CHORD_NOTES; i++)
            PUT(track, 0, 0x90, (guint8)midi[i], 80);
        PUT(track, 0x81, 0x40); /* 192 ticks: one second */
        for (int i = 0; i < CHORD_NOTES; i++) {
            if (i > 0)
                PUT(track, 0);
            PUT(track, 0x80, (guint8)midi[i], 0);
        }
    }
    PUT(track, 0, 0xff, 0x2f, 0);
    PUT(file, 'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, 0, 0, 1, 0, 96, 'M', 'T', 'r', 'k');
    PUT(file, 0, 0, (guint8)(track->len >> 8), (guint8)track->len);
    put(file, track->data, track->len);
    g_byte_array_unref(track);
    return file;
}

static gboolean read_into(canvas *c, const char *path)
{
    aperta_audio_options options = {.channel = APERTA_AUDIO_MIX};
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &options, NULL);
    gsize done = 0;
    gssize got;

    while (audio != NULL && done < c->n && (got = aperta_audio_read(audio, c->samples + done, c->n - done, NULL)) > 0)
        done += (gsize)got;
    return done > 0;
}

static gboolean play_midi(canvas *c, int program, synth_random *random)
{
    g_autofree char *fluidsynth = g_find_program_in_path("fluidsynth");
    g_autofree char *folder = g_dir_make_tmp("aperta-players-XXXXXX", NULL);
    g_autofree char *score = g_build_filename(folder, "chords.mid", NULL);
    g_autofree char *wav = g_build_filename(folder, "chords.wav", NULL);
    const char *argv[] = {fluidsynth, "-ni", "-q", "-r", "16000", "-F", wav, SOUND_FONT, score, NULL};
    g_autoptr(GByteArray) midi = midi_of_chords(program, (double)c->n / c->rate_hz, random);
    gboolean played = fluidsynth != NULL && g_file_test(SOUND_FONT, G_FILE_TEST_EXISTS) &&
                      g_file_set_contents(score, (const char *)midi->data, midi->len, NULL) &&
                      g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                                   NULL, NULL, NULL, NULL, NULL, NULL) &&
                      read_into(c, wav);

    g_remove(score);
    g_remove(wav);
    g_rmdir(folder);
    return played;
}

/* ---- all ------------------------------------------------------------------------------------------------------------
 */

float *player_sound(player_kind kind, gsize n, int rate_hz, guint64 seed)
{
    static const int PROGRAMS[N_PLAYERS] = {[PLAYER_GM_PIANO] = 0,
                                            [PLAYER_GM_GUITAR] = 24,
                                            [PLAYER_GM_ORGAN] = 19,
                                            [PLAYER_GM_STRINGS] = 48,
                                            [PLAYER_GM_CHOIR] = 52};
    g_autofree float *samples = g_new0(float, n);
    canvas c = {samples, n, rate_hz};
    synth_random random = synth_random_seed(synth_random_spread(seed + 77 * kind));

    if (kind == PLAYER_DRONE)
        play_drone(&c, &random);
    else if (kind == PLAYER_PIANO || kind == PLAYER_GUITAR)
        play_chords(&c, kind == PLAYER_GUITAR, &random);
    else if (kind == PLAYER_DRUMS)
        play_drums(&c, &random);
    else if (kind == PLAYER_HUM_50 || kind == PLAYER_HUM_60)
        play_hum(&c, kind == PLAYER_HUM_50 ? 50.0 : 60.0);
    else if (kind == PLAYER_FAN)
        play_fan(&c, &random);
    else if (!play_midi(&c, PROGRAMS[kind], &random))
        return NULL;
    double power = 0.0;
    for (gsize i = 0; i < n; i++)
        power += (double)samples[i] * samples[i] / (double)n;
    for (gsize i = 0; i < n; i++)
        samples[i] *= (float)(1.0 / sqrt(MAX(power, 1e-20)));
    return g_steal_pointer(&samples);
}
