/* codecs.c - what a phone does to F1: AAC at 128 and 64 kbit/s, and an automatic gain, beside the untouched sound.
 *
 * Synthetic notes (token.h) have known resonances and are read with their true f0. People, if a folder of recordings is
 * given (*.flac or *.wav; "man" without "wo" in the name is a man), have none: there the reading of the untouched
 * recording is what the others are compared with. AAC is the program ffmpeg's own encoder, mono, 44.1 kHz, and read
 * back as a user's M4A is; a phone's encoder is another one.
 *
 * The automatic gain is a simple model of ours, not that of any phone: the level is followed with 5 ms up and 100 ms
 * down; above -40 dB the gain falls by 3 dB for 4 dB (ratio 4), so that loud and soft come near to each other, and all
 * is raised to the old peak. It shows what a gain does that follows the voice; phones also cut noise and echo, and that
 * is not in it. White noise at -80 dB, which nobody hears, shows what of all that any change at all would do.
 *
 * Usage: codecs [notes a pitch, 40] [folder of people] */
#include "token.h"

#include <aperta/audio.h>
#include <aperta/result.h>
#include <glib/gstdio.h>
#include <math.h>
#include <sndfile.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef enum { UNTOUCHED, NOISE, AAC_128, AAC_64, GAIN, GAIN_AAC_64, N_WAYS } way;
static const char *const WAY[N_WAYS] = {"untouched",     "noise at -80 dB", "AAC 128 kbit/s",
                                        "AAC 64 kbit/s", "automatic gain",  "gain, AAC 64"};
static const double PITCHES_HZ[] = {165, 262, 349, 440, 587};
enum { N_PITCHES = G_N_ELEMENTS(PITCHES_HZ), RATE_HZ = APERTA_AUDIO_RATE_HZ, NOTES_MAX = 1000 };

static char *folder;

/* ---- the ways ---------------------------------------------------------------------------------------------------- */

#define GAIN_ATTACK_S  0.005
#define GAIN_RELEASE_S 0.1
#define GAIN_FROM_DB   (-40.0)
#define GAIN_RATIO     4.0

static void automatic_gain(float *samples, gsize n, int rate_hz)
{
    double level = 1e-6, peak_before = 1e-9, peak_after = 1e-9;

    for (gsize i = 0; i < n; i++) {
        double x = fabs((double)samples[i]);
        double tau_s = x > level ? GAIN_ATTACK_S : GAIN_RELEASE_S;
        level += (x - level) * (1.0 - exp(-1.0 / (tau_s * rate_hz)));
        double over_db = MAX(20.0 * log10(level + 1e-9) - GAIN_FROM_DB, 0.0);
        peak_before = MAX(peak_before, x);
        samples[i] *= (float)pow(10.0, -over_db * (1.0 - 1.0 / GAIN_RATIO) / 20.0);
        peak_after = MAX(peak_after, fabs((double)samples[i]));
    }
    for (gsize i = 0; i < n; i++)
        samples[i] *= (float)(peak_before / peak_after);
}

/* Nothing anybody hears: what it changes, anything would. */
static void add_noise(float *samples, gsize n)
{
    g_autoptr(GRand) random = g_rand_new_with_seed(1);

    for (gsize i = 0; i < n; i++)
        samples[i] += (float)g_rand_double_range(random, -1.0, 1.0) * sqrtf(3.0f) * 1e-4f;
}

static void write_wav(const char *path, const float *samples, gsize n, int rate_hz)
{
    SF_INFO info = {.samplerate = rate_hz, .channels = 1, .format = SF_FORMAT_WAV | SF_FORMAT_FLOAT};
    SNDFILE *file = sf_open(path, SFM_WRITE, &info);

    if (file == NULL || sf_writef_float(file, samples, (sf_count_t)n) != (sf_count_t)n)
        g_error("%s cannot be written", path);
    sf_close(file);
}

/* A file of the sound as it comes that way; the caller frees its name. */
static char *send(const float *samples, gsize n, int rate_hz, way which)
{
    g_autofree float *copy = g_memdup2(samples, n * sizeof *samples);
    g_autofree char *wav = g_build_filename(folder, "sound.wav", NULL),
                    *m4a = g_build_filename(folder, "sound.m4a", NULL);
    int kbit_s = which == AAC_128 ? 128 : which == AAC_64 || which == GAIN_AAC_64 ? 64 : 0, status = 1;

    if (which == GAIN || which == GAIN_AAC_64)
        automatic_gain(copy, n, rate_hz);
    if (which == NOISE)
        add_noise(copy, n);
    write_wav(wav, copy, n, rate_hz);
    if (kbit_s == 0)
        return g_steal_pointer(&wav);
    g_autofree char *command =
        g_strdup_printf("ffmpeg -nostdin -v error -y -i '%s' -ac 1 -ar 44100 -c:a aac -b:a %dk '%s'", wav, kbit_s, m4a);
    if (!g_spawn_command_line_sync(command, NULL, NULL, &status, NULL) || status != 0)
        g_error("%s (is ffmpeg installed?)", command);
    return g_steal_pointer(&m4a);
}

/* All of a file, at least n samples at 16 kHz. */
static float *read_back(const char *path, gsize n)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){0}, &error);
    float *samples = g_new0(float, n);
    gsize done = 0;
    gssize got = 0;

    while (audio != NULL && done < n && (got = aperta_audio_read(audio, samples + done, n - done, &error)) > 0)
        done += (gsize)got;
    if (error != NULL)
        g_error("%s", error->message);
    return samples;
}

/* ---- synthetic notes --------------------------------------------------------------------------------------------- */

typedef struct {
    double error[NOTES_MAX], moved[NOTES_MAX]; /* of F1, per cent: of the truth, of the untouched reading */
    guint n, n_inside, n_moved;
} f1_score;

static int by_size(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static double quantile(double *values, guint n, double q)
{
    if (n == 0)
        return NAN;
    qsort(values, n, sizeof *values, by_size);
    return values[MIN((guint)(q * n), n - 1)];
}

static void score_note(f1_score *s, const token *t, const float *samples, double *untouched_hz)
{
    aperta_tract_config config = {RATE_HZ, t->voice, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
    aperta_tract_reading reading;

    aperta_tract_read(tract, samples, t->take->n_samples, 0.0, t->track, &t->note, &reading, NULL);
    const aperta_resonance *f1 = &reading.resonances[0];
    double true_hz = t->take->notes[0].resonances[0].hz;
    if (f1->status != APERTA_MEASURED) {
        *untouched_hz = samples == t->take->samples ? 0.0 : *untouched_hz;
        return;
    }
    s->n_inside += true_hz >= f1->low_hz && true_hz <= f1->high_hz;
    s->error[s->n++] = 100.0 * fabs(log(f1->hz / true_hz));
    if (samples == t->take->samples)
        *untouched_hz = f1->hz;
    else if (*untouched_hz > 0.0)
        s->moved[s->n_moved++] = 100.0 * fabs(log(f1->hz / *untouched_hz));
}

static void print_score(const char *name, f1_score *s, guint n)
{
    printf("  %-16s measured %3.0f %%, error median %4.1f %%, 90th %4.1f %%, inside its 90 %% interval %3.0f %%", name,
           100.0 * s->n / n, quantile(s->error, s->n, 0.5), quantile(s->error, s->n, 0.9),
           100.0 * s->n_inside / MAX(s->n, 1));
    if (s->n_moved > 0)
        printf("; moved by %4.1f %%, 90th %4.1f %%", quantile(s->moved, s->n_moved, 0.5),
               quantile(s->moved, s->n_moved, 0.9));
    printf("\n");
    fflush(stdout);
}

static token *draw(double hz, guint i)
{
    token_spec spec = token_spec_default();

    spec.voice = hz < 300.0 && i % 2 == 0 ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN;
    spec.low_hz = hz / exp2(1.0 / 12.0);
    spec.high_hz = hz * exp2(1.0 / 12.0);
    spec.seed = 5000 + i + (guint64)(100.0 * hz);
    return token_new(&spec);
}

/* All notes of a pitch go one way in one file, as a take does. */
static void read_pitch(double hz, guint n)
{
    g_autoptr(GPtrArray) tokens = g_ptr_array_new_with_free_func((GDestroyNotify)token_free);
    g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(float));
    g_autofree double *untouched_hz = g_new0(double, n);

    for (guint i = 0; i < n; i++) {
        token *t = draw(hz, i);
        g_ptr_array_add(tokens, t);
        g_array_append_vals(all, t->take->samples, (guint)t->take->n_samples);
    }
    printf("%.0f Hz, %u notes\n", hz, n);
    for (way w = UNTOUCHED; w < N_WAYS; w++) {
        g_autofree f1_score *s = g_new0(f1_score, 1);
        g_autofree char *path = w != UNTOUCHED ? send((float *)(void *)all->data, all->len, RATE_HZ, w) : NULL;
        g_autofree float *heard = w != UNTOUCHED ? read_back(path, all->len) : NULL;
        gsize at = 0;
        for (guint i = 0; i < n; i++) {
            const token *t = g_ptr_array_index(tokens, i);
            score_note(s, t, w == UNTOUCHED ? t->take->samples : heard + at, &untouched_hz[i]);
            at += t->take->n_samples;
        }
        print_score(WAY[w], s, n);
    }
}

/* ---- people ------------------------------------------------------------------------------------------------------ */

typedef struct {
    double moved[NOTES_MAX];
    guint n, n_notes, n_found;
    guint n_sure, n_vowel, n_place; /* heard with at least even odds before; the same name after; the same place */
} moved_score;

static const aperta_sung_note *same_note(const aperta_result *r, const aperta_note *note)
{
    double middle_s = (note->steady.start_s + note->steady.end_s) / 2.0;

    for (guint i = 0; i < r->notes->len; i++) {
        const aperta_sung_note *other = aperta_sung_note_at(r->notes, i);
        if (other->note.span.start_s <= middle_s && other->note.span.end_s >= middle_s &&
            fabs(12.0 * log2(other->note.f0_hz / note->f0_hz)) < 0.5)
            return other;
    }
    return NULL;
}

static void compare(moved_score *s, const aperta_result *before, const aperta_result *after)
{
    for (guint i = 0; i < before->notes->len && s->n < NOTES_MAX; i++) {
        const aperta_sung_note *one = aperta_sung_note_at(before->notes, i), *two = same_note(after, &one->note);
        s->n_notes++;
        if (two == NULL)
            continue;
        s->n_found++;
        if (one->vowel.heard != NULL && one->vowel.confidence >= 0.5) {
            s->n_sure++;
            s->n_vowel += one->vowel.heard == two->vowel.heard;
            s->n_place += two->vowel.heard != NULL && one->vowel.heard->place == two->vowel.heard->place;
        }
        const aperta_resonance *a = &aperta_sung_note_resonances(one)[0], *b = &aperta_sung_note_resonances(two)[0];
        if (a->status == APERTA_MEASURED && b->status == APERTA_MEASURED)
            s->moved[s->n++] = 100.0 * fabs(log(b->hz / a->hz));
    }
}

static aperta_result *take_of(const char *path, gboolean man)
{
    aperta_take_options options = {.voice = man ? APERTA_VOICE_MAN : APERTA_VOICE_WOMAN, .jobs = 2};
    g_autoptr(GError) error = NULL;
    aperta_result *result = aperta_take(path, &options, &error);

    if (result == NULL)
        g_error("%s", error->message);
    return result;
}

/* The file as mono at its own rate. */
static float *whole_file(const char *path, gsize *n, int *rate_hz)
{
    SF_INFO info = {0};
    SNDFILE *file = sf_open(path, SFM_READ, &info);

    if (file == NULL)
        g_error("%s cannot be read", path);
    g_autofree float *frames = g_new0(float, (gsize)info.frames *(gsize)info.channels);
    float *mono = g_new0(float, (gsize)info.frames);
    *n = (gsize)sf_readf_float(file, frames, info.frames);
    for (gsize i = 0; i < *n; i++)
        for (int c = 0; c < info.channels; c++)
            mono[i] += frames[i * (gsize)info.channels + (gsize)c] / (float)info.channels;
    sf_close(file);
    *rate_hz = info.samplerate;
    return mono;
}

static void read_person(const char *path, moved_score *scores)
{
    gsize n;
    int rate_hz;
    gboolean man = strstr(path, "woman") == NULL && strstr(path, "man") != NULL;
    g_autofree float *samples = whole_file(path, &n, &rate_hz);
    g_autofree char *first = send(samples, n, rate_hz, UNTOUCHED);
    g_autoptr(aperta_result) before = take_of(first, man);

    for (way w = NOISE; w < N_WAYS; w++) {
        g_autofree char *sent = send(samples, n, rate_hz, w);
        g_autoptr(aperta_result) after = take_of(sent, man);
        compare(&scores[w], before, after);
    }
}

static void read_people(const char *people)
{
    g_autofree moved_score *scores = g_new0(moved_score, N_WAYS);
    GDir *dir = g_dir_open(people, 0, NULL);
    const char *name;
    guint n = 0;

    while (dir != NULL && (name = g_dir_read_name(dir)) != NULL) {
        g_autofree char *path = g_build_filename(people, name, NULL);
        if (!g_str_has_suffix(name, ".flac") && !g_str_has_suffix(name, ".wav"))
            continue;
        read_person(path, scores);
        n++;
    }
    if (dir != NULL)
        g_dir_close(dir);
    printf("people: %u recordings of %s, whole takes, against the untouched recording\n", n, people);
    for (way w = NOISE; n > 0 && w < N_WAYS; w++) {
        moved_score *s = &scores[w];
        printf(
            "  %-16s %u of %u notes found again; F1 of %u moved by %4.1f %% in the median, 90th %4.1f %%; of %u vowels "
            "that were likely %3.0f %% keep their name, %3.0f %% front, central or back\n",
            WAY[w], s->n_found, s->n_notes, s->n, quantile(s->moved, s->n, 0.5), quantile(s->moved, s->n, 0.9),
            s->n_sure, 100.0 * s->n_vowel / MAX(s->n_sure, 1), 100.0 * s->n_place / MAX(s->n_sure, 1));
    }
}

int main(int argc, char **argv)
{
    guint n = argc > 1 ? CLAMP((guint)atoi(argv[1]), 1, NOTES_MAX) : 40;

    folder = g_dir_make_tmp("aperta-codecs-XXXXXX", NULL);
    for (int p = 0; p < N_PITCHES; p++)
        read_pitch(PITCHES_HZ[p], n);
    if (argc > 2)
        read_people(argv[2]);
    else
        printf("people: no folder with recordings was given, so none were read\n");
    g_autofree char *command = g_strdup_printf("rm -r '%s'", folder);
    return g_spawn_command_line_sync(command, NULL, NULL, NULL, NULL) ? 0 : 1;
}
