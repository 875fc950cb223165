/* audio-reading.h - sound files written with libsndfile into a folder of the test, and read back by src/audio. */
#ifndef AUDIO_READING_H
#define AUDIO_READING_H

#include "expect.h"

#include <aperta/audio.h>
#include <glib/gstdio.h>
#include <sndfile.h>
#include <string.h>

#define TONE_HZ 440.0
#define TONE    0.5 /* its amplitude */

static char *folder; /* set once, before the tests */

static char *path_of(const char *name)
{
    return g_build_filename(folder, name, NULL);
}

/* Files that this process has open. */
G_GNUC_UNUSED static int n_descriptors(void)
{
    int n = 0;
    GDir *dir = g_dir_open("/proc/self/fd", 0, NULL);

    while (g_dir_read_name(dir) != NULL)
        n++;
    g_dir_close(dir);
    return n;
}

/* The error names the file first, and holds the words. It is freed. */
G_GNUC_UNUSED static void expect_told(GError *error, const char *path, aperta_error code, const char *words)
{
    if (!g_error_matches(error, APERTA_ERROR, (int)code) || strstr(error->message, words) == NULL)
        print_error("%s\n", error->message);
    assert_true(g_error_matches(error, APERTA_ERROR, (int)code));
    assert_true(g_str_has_prefix(error->message, path));
    assert_non_null(strstr(error->message, words));
    g_error_free(error);
}

/* ---- writing ----------------------------------------------------------------------------------------------------- */

/* FALSE: this libsndfile cannot write the format. */
G_GNUC_UNUSED static gboolean write_sound(const char *path, int format, int rate_hz, int n_channels,
                                          const float *samples, gsize n)
{
    SF_INFO info = {.samplerate = rate_hz, .channels = n_channels, .format = format};

    if (!sf_format_check(&info))
        return FALSE;
    SNDFILE *file = sf_open(path, SFM_WRITE, &info);
    if (file == NULL)
        return FALSE;
    sf_count_t written = sf_writef_float(file, samples, (sf_count_t)n);
    sf_close(file);
    assert_int_equal(written, n);
    return TRUE;
}

G_GNUC_UNUSED static float *new_tone(double hz, double amplitude, int rate_hz, gsize n)
{
    float *samples = g_new(float, n);

    for (gsize i = 0; i < n; i++)
        samples[i] = (float)(amplitude * sin(2.0 * G_PI * hz * i / rate_hz));
    return samples;
}

G_GNUC_UNUSED static char *write_float(const char *name, int rate_hz, int n_channels, const float *samples, gsize n)
{
    char *path = path_of(name);

    assert_true(write_sound(path, SF_FORMAT_WAV | SF_FORMAT_FLOAT, rate_hz, n_channels, samples, n));
    return path;
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

typedef struct {
    GArray *samples; /* float */
    aperta_audio_info info;
    aperta_audio_health health;
} reading;

static void reading_clear(reading *r)
{
    g_clear_pointer(&r->samples, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(reading, reading_clear)

/* portion: samples asked for at once */
G_GNUC_UNUSED static reading read_sound(const char *path, const aperta_audio_options *options, gsize portion)
{
    reading r = {.samples = g_array_new(FALSE, FALSE, sizeof(float))};
    g_autofree float *block = g_new(float, portion);
    GError *error = NULL;
    gssize n;
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, options, &error);

    if (audio == NULL)
        fail_msg("%s", error->message);
    while ((n = aperta_audio_read(audio, block, portion, &error)) > 0)
        g_array_append_vals(r.samples, block, n);
    assert_int_equal(n, 0);
    r.info = *aperta_audio_get_info(audio);
    r.health = *aperta_audio_get_health(audio);
    return r;
}

G_GNUC_UNUSED static reading read_all(const char *path)
{
    return read_sound(path, &(aperta_audio_options){0}, 1000);
}

G_GNUC_UNUSED static float sample(const reading *r, gsize i)
{
    return g_array_index(r->samples, float, i);
}

/* The tone near hz between two moments: amplitude, frequency, and what is not the tone, in dB below it. */
typedef struct {
    double amplitude, hz, rest_db;
} tone;

static void project(const reading *r, double hz, gsize from, gsize n, double *c, double *s)
{
    *c = *s = 0.0;
    for (gsize i = from; i < from + n; i++) {
        double angle = 2.0 * G_PI * hz * i / APERTA_AUDIO_RATE_HZ;
        *c += 2.0 * sample(r, i) * cos(angle) / n;
        *s += 2.0 * sample(r, i) * sin(angle) / n;
    }
}

/* Frequency from the phases of two halves, which are whole numbers of cycles of 20 Hz long, so that 440, 660 and 880 Hz
 * do not disturb each other. */
G_GNUC_UNUSED static tone measure_tone(const reading *r, double hz, double from_s)
{
    gsize from = (gsize)(from_s * APERTA_AUDIO_RATE_HZ), half = APERTA_AUDIO_RATE_HZ / 4;
    double c[2], s[2], c_all, s_all, rest = 0.0;

    assert_true(r->samples->len >= from + 2 * half);
    project(r, hz, from, half, &c[0], &s[0]);
    project(r, hz, from + half, half, &c[1], &s[1]);
    project(r, hz, from, 2 * half, &c_all, &s_all);
    double turn = atan2(c[1], s[1]) - atan2(c[0], s[0]);
    turn -= 2.0 * G_PI * floor(turn / (2.0 * G_PI) + 0.5);
    for (gsize i = from; i < from + 2 * half; i++) {
        double angle = 2.0 * G_PI * hz * i / APERTA_AUDIO_RATE_HZ;
        double left = sample(r, i) - c_all * cos(angle) - s_all * sin(angle);
        rest += left * left / (2.0 * half);
    }
    double power = 0.5 * (c_all * c_all + s_all * s_all);
    return (tone){sqrt(2.0 * power), hz + turn * APERTA_AUDIO_RATE_HZ / (2.0 * G_PI * half),
                  10.0 * log10(rest / power + 1e-20)};
}

/* ---- the folder -------------------------------------------------------------------------------------------------- */

static int make_folder(void **state)
{
    (void)state;
    folder = g_dir_make_tmp("aperta-audio-XXXXXX", NULL);
    return folder == NULL;
}

static int remove_folder(void **state)
{
    const char *name;
    GDir *dir = g_dir_open(folder, 0, NULL);

    (void)state;
    while ((name = g_dir_read_name(dir)) != NULL) {
        g_autofree char *path = path_of(name);
        g_unlink(path);
    }
    g_dir_close(dir);
    g_rmdir(folder);
    g_free(folder);
    return 0;
}

#endif
