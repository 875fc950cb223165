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

float *player_strings(const int *midi, const double *start_s, guint n_strings, gsize n, int rate_hz, guint64 seed)
{
    canvas c = {g_new0(float, n), n, rate_hz};
    synth_random random = synth_random_seed(synth_random_spread(seed));

    for (guint i = 0; i < n_strings; i++)
        add_string(&c, start_s[i], midi[i], 4.0, &random);
    return c.samples;
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

/* ---- General MIDI ------------------------------------------------------------------------------------------------ */

static void put(GByteArray *out, const guint8 *bytes, guint n)
{
    g_byte_array_append(out, bytes, n);
}
#define PUT(out, ...) put(out, (const guint8[]){__VA_ARGS__}, sizeof((const guint8[]){__VA_ARGS__}))

/* One event of a score: bytes at a moment, in ticks of which 96 are a quarter of half a second. */
typedef struct {
    guint tick;
    guint8 bytes[3];
    guint n;
} midi_event;

static void add_note(GArray *events, int channel, int midi, int velocity, double from_s, double to_s)
{
    midi_event on = {(guint)(192 * from_s), {(guint8)(0x90 + channel), (guint8)midi, (guint8)velocity}, 3};
    midi_event off = {(guint)(192 * to_s), {(guint8)(0x80 + channel), (guint8)midi, 0}, 3};

    g_array_append_val(events, on);
    g_array_append_val(events, off);
}

/* A channel's program, without echo and chorus of the synthesiser's own. */
static void set_up(GArray *events, int channel, int program)
{
    midi_event all[] = {{0, {(guint8)(0xc0 + channel), (guint8)program}, 2},
                        {0, {(guint8)(0xb0 + channel), 91, 0}, 3},
                        {0, {(guint8)(0xb0 + channel), 93, 0}, 3}};
    g_array_append_vals(events, all, G_N_ELEMENTS(all));
}

static void score_chords(GArray *events, int channel, double seconds, synth_random *random)
{
    for (double at = 0.0; at < seconds; at += CHORD_S) {
        int midi[CHORD_NOTES];
        draw_chord(random, midi);
        for (int i = 0; i < CHORD_NOTES; i++)
            add_note(events, channel, midi[i], 80, at, at + CHORD_S);
    }
}

/* Steps and small leaps between low and high, a rest now and then. */
static void score_melody(GArray *events, int channel, int low, int high, double seconds, synth_random *random)
{
    static const int STEPS[] = {-5, -2, -1, 1, 2, 2, 4, 7};
    int midi = (low + high) / 2;
    double at = 0.2;

    while (at < seconds - 0.4) {
        double lasts = synth_random_uniform(random, 0.25, 1.1);
        add_note(events, channel, midi, synth_random_int(random, 70, 110), at, at + lasts);
        at += lasts + (synth_random_int(random, 0, 4) == 0 ? 0.4 : 0.0);
        int step = STEPS[synth_random_int(random, 0, G_N_ELEMENTS(STEPS) - 1)];
        midi += midi + step > high || midi + step < low ? -step : step;
    }
}

static void score_drums(GArray *events, double seconds)
{
    for (double at = 0.0; at < seconds; at += 0.25) {
        int eighth = (int)(at / 0.25 + 0.5) % 8;
        add_note(events, 9, 42, 70, at, at + 0.1); /* General MIDI: closed hi-hat, bass drum, snare */
        if (eighth % 4 == 0)
            add_note(events, 9, 36, 100, at, at + 0.1);
        if (eighth % 4 == 2)
            add_note(events, 9, 38, 90, at, at + 0.1);
    }
}

static gint compare_ticks(gconstpointer a, gconstpointer b)
{
    const midi_event *x = a, *y = b;

    if (x->tick != y->tick)
        return x->tick < y->tick ? -1 : 1;
    return (x->bytes[0] >> 4 == 9) - (y->bytes[0] >> 4 == 9); /* a tone ends before the next begins */
}

/* A standard MIDI file of format 0. */
static GByteArray *midi_file(GArray *events)
{
    GByteArray *track = g_byte_array_new(), *file = g_byte_array_new();
    guint at = 0;

    g_array_sort(events, compare_ticks);
    for (guint i = 0; i < events->len; i++) {
        const midi_event *e = &g_array_index(events, midi_event, i);
        guint wait = e->tick - at;
        if (wait >= 0x80)
            PUT(track, (guint8)(0x80 | (wait >> 7 & 0x7f)));
        PUT(track, (guint8)(wait & 0x7f));
        put(track, e->bytes, e->n);
        at = e->tick;
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

static const char *sound_font(void)
{
    const char *named = g_getenv("APERTA_SOUND_FONT");

    return named != NULL ? named : SOUND_FONT;
}

static gboolean play_midi(canvas *c, GArray *events)
{
    g_autofree char *fluidsynth = g_find_program_in_path("fluidsynth");
    g_autofree char *folder = g_dir_make_tmp("aperta-players-XXXXXX", NULL);
    g_autofree char *score = g_build_filename(folder, "chords.mid", NULL);
    g_autofree char *wav = g_build_filename(folder, "chords.wav", NULL);
    const char *argv[] = {fluidsynth, "-ni", "-q", "-r", "16000", "-F", wav, sound_font(), score, NULL};
    g_autoptr(GByteArray) midi = midi_file(events);
    gboolean played = fluidsynth != NULL && g_file_test(sound_font(), G_FILE_TEST_EXISTS) &&
                      g_file_set_contents(score, (const char *)midi->data, midi->len, NULL) &&
                      g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                                   NULL, NULL, NULL, NULL, NULL, NULL) &&
                      read_into(c, wav);

    g_remove(score);
    g_remove(wav);
    g_rmdir(folder);
    return played;
}

static gboolean play_chords_by_program(canvas *c, int program, synth_random *random)
{
    g_autoptr(GArray) events = g_array_new(FALSE, FALSE, sizeof(midi_event));

    set_up(events, 0, program);
    score_chords(events, 0, (double)c->n / c->rate_hz, random);
    return play_midi(c, events);
}

/* ---- all --------------------------------------------------------------------------------------------------------- */

static void normalise(float *samples, gsize n)
{
    double power = 0.0;

    for (gsize i = 0; i < n; i++)
        power += (double)samples[i] * samples[i] / (double)n;
    for (gsize i = 0; i < n; i++)
        samples[i] *= (float)(1.0 / sqrt(MAX(power, 1e-20)));
}

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
    else if (!play_chords_by_program(&c, PROGRAMS[kind], &random))
        return NULL;
    normalise(samples, n);
    return g_steal_pointer(&samples);
}

float *player_score_sound(player_score score, int program, gsize n, int rate_hz, guint64 seed)
{
    g_autofree float *samples = g_new0(float, n);
    canvas c = {samples, n, rate_hz};
    synth_random random = synth_random_seed(synth_random_spread(seed + 101 * (guint64)program));
    g_autoptr(GArray) events = g_array_new(FALSE, FALSE, sizeof(midi_event));
    double seconds = (double)n / rate_hz;
    gboolean low = (program >= 32 && program < 40) || program == 43 || program == 58; /* basses, tuba */

    set_up(events, 0, program);
    if (score == PLAYER_MELODY)
        score_melody(events, 0, low ? 33 : 57, low ? 52 : 77, seconds, &random);
    else
        score_chords(events, 0, seconds, &random);
    if (score == PLAYER_BAND) {
        set_up(events, 1, 33);
        set_up(events, 2, 48);
        score_melody(events, 1, 33, 48, seconds, &random);
        score_chords(events, 2, seconds, &random);
        score_drums(events, seconds);
    }
    if (!play_midi(&c, events))
        return NULL;
    normalise(samples, n);
    return g_steal_pointer(&samples);
}
