/* test-audio.c - sound files of every kind, written here with libsndfile, read by src/audio.
 *
 * Expected values are what was written, sample by sample or as a tone; other origins are named beside the check. */
#include "audio-reading.h"

#include <sys/stat.h>
#include <unistd.h>

/* ---- formats ----------------------------------------------------------------------------------------------------- */

/* rest_db, where sound is coded in N bits: 6.02 N + 1.76 dB (Bennett 1948, Bell Syst. Tech. J. 27:446-472), less the
 * 6 dB by which the tone is below full scale, rounded up a little; never below the resampler's -100 dB. A-law: about 38
 * dB (from memory of ITU-T G.711, unchecked). Lossy coders: what sounds clean, -30 dB; common practice, no source. */
static const struct {
    const char *name;
    int format, rate_hz;
    double rest_db;
    int spare; /* samples by which the length may be off, at 16 kHz: its last one may be half there */
} formats[] = {
    {"u8.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_U8, 44100, -43, 1},
    {"s16.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 8000, -90, 1},
    {"s16.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 11025, -90, 1},
    {"s16.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 16000, -90, 0},
    {"s16.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, -90, 1},
    {"s24.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_24, 96000, -100, 1},
    {"s32.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_32, 192000, -100, 1},
    {"float.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 48000, -100, 1},
    {"alaw.wav", SF_FORMAT_WAV | SF_FORMAT_ALAW, 8000, -36, 1},
    {"s16.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 22050, -90, 1},
    {"s24.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 44100, -100, 1},
    {"s16.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 32000, -90, 1},
    {"s24.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 192000, -100, 1},
    {"vorbis.ogg", SF_FORMAT_OGG | SF_FORMAT_VORBIS, 44100, -30, 1},
    {"opus.opus", SF_FORMAT_OGG | SF_FORMAT_OPUS, 48000, -30, 1},
};

/* Coders ring at a sudden start or end. */
static void fade(float *samples, gsize n, gsize edge)
{
    for (gsize i = 0; i < edge; i++) {
        samples[i] *= (float)i / edge;
        samples[n - 1 - i] *= (float)i / edge;
    }
}

static void check_format(const char *name, int format, int rate_hz, double rest_db, int spare)
{
    g_autofree char *path = path_of(name);
    gsize n = (gsize)rate_hz * 3 / 2;
    g_autofree float *samples = new_tone(TONE_HZ, TONE, rate_hz, n);

    fade(samples, n, (gsize)rate_hz / 20);
    if (!write_sound(path, format, rate_hz, 1, samples, n)) {
        print_message("%s at %d Hz cannot be written here\n", name, rate_hz);
        skip();
    }
    g_auto(reading) r = read_all(path);
    tone t = measure_tone(&r, TONE_HZ, 0.5);
    if (!(t.rest_db < rest_db))
        print_error("%s at %d Hz: rest %.1f dB\n", name, rate_hz, t.rest_db);
    assert_true(t.rest_db < rest_db);
    expect_near(20.0 * log10(t.amplitude / TONE), 0.0, rest_db > -50 ? 0.2 : 0.01);
    expect_near(t.hz, TONE_HZ, 0.01);
    expect_near(r.samples->len, 1.5 * APERTA_AUDIO_RATE_HZ, spare);
    expect_near(r.info.seconds, 1.5, (double)spare / APERTA_AUDIO_RATE_HZ + 1e-9);
    assert_int_equal(r.info.sample_rate_hz, rate_hz);
    assert_int_equal(r.info.n_channels, 1);
    assert_true((r.info.bits_per_s > 0.0) == (rest_db == -30)); /* of the lossy ones only */
    assert_false(r.health.truncated);
    assert_int_equal(r.health.n_clipped, 0);
    expect_near(r.health.peak, TONE, rest_db > -50 ? 0.02 : 1e-3);
}

static void test_formats(void **state)
{
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(formats); i++)
        check_format(formats[i].name, formats[i].format, formats[i].rate_hz, formats[i].rest_db, formats[i].spare);
}

/* Apart, because an older libsndfile cannot write it. */
static void test_mp3(void **state)
{
    (void)state;
    check_format("tone.mp3", SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, 44100, -30, 1);
}

/* At the analysis rate nothing is computed: what was written comes back. */
static void test_same_rate_is_exact(void **state)
{
    float samples[5000];
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(samples); i++)
        samples[i] = (float)i / 5000.0f - 0.5f;
    g_autofree char *path = write_float("exact.wav", APERTA_AUDIO_RATE_HZ, 1, samples, 5000);
    g_auto(reading) r = read_all(path);
    assert_int_equal(r.samples->len, 5000);
    assert_memory_equal(r.samples->data, samples, sizeof samples);
}

static void test_portions_do_not_matter(void **state)
{
    g_autofree float *samples = new_tone(TONE_HZ, TONE, 44100, 20000);
    g_autofree char *path = write_float("portions.wav", 44100, 1, samples, 20000);
    aperta_audio_options options = {0};
    g_auto(reading) one = read_sound(path, &options, 1);
    g_auto(reading) odd = read_sound(path, &options, 997);
    g_auto(reading) all = read_sound(path, &options, 100000);
    (void)state;

    assert_int_equal(one.samples->len, all.samples->len);
    assert_int_equal(odd.samples->len, all.samples->len);
    assert_memory_equal(one.samples->data, all.samples->data, all.samples->len * sizeof(float));
    assert_memory_equal(odd.samples->data, all.samples->data, all.samples->len * sizeof(float));
    expect_near(one.health.floor_db, all.health.floor_db, 1e-9);
}

/* ---- channels ---------------------------------------------------------------------------------------------------- */

/* Channel c (from 0) of a file of n_channels holds a tone of hz[c]. */
static char *write_channels(const char *name, const double *hz, int n_channels)
{
    gsize n = 16000;
    g_autofree float *samples = g_new(float, n *(gsize)n_channels);

    for (gsize i = 0; i < n; i++)
        for (int c = 0; c < n_channels; c++)
            samples[i * (gsize)n_channels + (gsize)c] = (float)(TONE * sin(2.0 * G_PI * hz[c] * i / 16000.0));
    return write_float(name, 16000, n_channels, samples, n);
}

static void test_channels(void **state)
{
    static const double hz[] = {440, 660, 880};
    g_autofree char *path = write_channels("three.wav", hz, 3);
    (void)state;

    for (int c = 0; c < 3; c++) {
        g_auto(reading) r = read_sound(path, &(aperta_audio_options){.channel = c + 1}, 1000);
        tone t = measure_tone(&r, hz[c], 0.25);
        expect_near(t.amplitude, TONE, 1e-4);
        assert_true(t.rest_db < -90);
        assert_int_equal(r.info.channel, c + 1);
        assert_int_equal(r.info.n_channels, 3);
    }
    g_auto(reading) mix = read_all(path);
    for (int c = 0; c < 3; c++)
        expect_near(measure_tone(&mix, hz[c], 0.25).amplitude, TONE / 3.0, 1e-4);
}

static void test_many_channels(void **state)
{
    double hz[32];
    (void)state;
    for (int c = 0; c < 32; c++)
        hz[c] = c == 31 ? 880 : 440;
    g_autofree char *path = write_channels("many.wav", hz, 32);
    g_auto(reading) last = read_sound(path, &(aperta_audio_options){.channel = 32}, 1000);
    g_auto(reading) mix = read_all(path);
    expect_near(measure_tone(&last, 880, 0.25).amplitude, TONE, 1e-4);
    expect_near(measure_tone(&mix, 440, 0.25).amplitude, TONE * 31.0 / 32.0, 1e-4);
}

/* An electroglottograph or a click track beside the voice is told from a second microphone. */
static void test_channels_differ(void **state)
{
    static const struct {
        double hz[2];
        gboolean differ;
    } rows[] = {{{440, 440}, FALSE}, {{440, 660}, TRUE}, {{440, 0}, FALSE /* an empty channel is harmless */}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *path = write_channels("two.wav", rows[i].hz, 2);
        g_auto(reading) r = read_all(path);
        assert_int_equal(r.health.channels_differ, rows[i].differ);
    }
}

/* ---- what is wrong with a recording ------------------------------------------------------------------------------ */

static void test_clipping(void **state)
{
    gsize n = 44100, flat = 0;
    g_autofree float *loud = new_tone(TONE_HZ, 1.5, 44100, n);
    g_autofree float *full = new_tone(TONE_HZ, 0.9999, 44100, n);
    g_autofree char *path = path_of("clipped.wav");
    (void)state;
    for (gsize i = 0; i < n; i++) {
        flat += fabsf(loud[i]) >= 32767.0f / 32768.0f;
        loud[i] = CLAMP(loud[i], -32767.0f / 32768.0f, 32767.0f / 32768.0f);
    }
    assert_true(write_sound(path, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, loud, n));
    g_auto(reading) clipped = read_all(path);
    assert_int_equal(clipped.health.n_clipped, flat);

    assert_true(write_sound(path, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 44100, 1, full, n));
    g_auto(reading) clean = read_all(path);
    assert_int_equal(clean.health.n_clipped, 0);

    for (gsize i = 0; i < 7; i++)
        full[1000 * i] = 1.2f + 0.01f * i;
    assert_true(write_sound(path, SF_FORMAT_WAV | SF_FORMAT_FLOAT, 44100, 1, full, n));
    g_auto(reading) beyond = read_all(path);
    assert_int_equal(beyond.health.n_clipped, 7);
    expect_near(beyond.health.peak, 1.26, 1e-6);
}

static void test_not_numbers(void **state)
{
    g_autofree float *samples = new_tone(TONE_HZ, TONE, 16000, 4000);
    (void)state;
    samples[100] = NAN;
    samples[200] = INFINITY;
    samples[201] = -INFINITY;
    samples[300] = -3e38f; /* numbers, but what would be reckoned with them is none */
    samples[301] = 1.1e12f;
    g_autofree char *path = write_float("nan.wav", 16000, 1, samples, 4000);
    g_auto(reading) r = read_all(path);
    assert_int_equal(r.health.n_not_numbers, 5);
    assert_int_equal(r.samples->len, 4000);
    assert_true(sample(&r, 100) == 0.0f && sample(&r, 200) == 0.0f && sample(&r, 201) == 0.0f);
    assert_true(sample(&r, 101) == samples[101] && sample(&r, 202) == samples[202]);
    expect_near(r.health.peak, TONE, 1e-3);
}

/* ---- floor and hum ----------------------------------------------------------------------------------------------- */

/* Two seconds of tone and one of rest; under all of it hum (RMS) and noise (RMS). */
static reading read_with_floor(double hum_hz, double hum_db, double noise_db)
{
    gsize n = 3 * 44100;
    g_autofree float *samples = new_tone(TONE_HZ, TONE, 44100, n);
    double hum = sqrt(2.0) * pow(10.0, hum_db / 20.0), noise = sqrt(3.0) * pow(10.0, noise_db / 20.0);
    g_autoptr(GRand) random = g_rand_new_with_seed(1);

    for (gsize i = 0; i < n; i++) {
        double x = i < 2 * 44100 ? samples[i] : 0.0;
        x += hum * sin(2.0 * G_PI * hum_hz * i / 44100.0) + noise * g_rand_double_range(random, -1.0, 1.0);
        samples[i] = (float)x;
    }
    g_autofree char *path = write_float("floor.wav", 44100, 1, samples, n);
    return read_all(path);
}

static void test_floor_and_hum(void **state)
{
    (void)state;
    for (int mains_hz = 50; mains_hz <= 60; mains_hz += 10) {
        g_auto(reading) hum = read_with_floor(mains_hz, -50, -70);
        assert_int_equal(hum.health.hum_hz, mains_hz);
        expect_near(hum.health.floor_db, -50, 0.3);
        g_auto(reading) noisy = read_with_floor(mains_hz, -60, -50);
        assert_int_equal(noisy.health.hum_hz, 0);
    }
    /* white to 22.05 kHz; the lower 8 kHz are kept */
    g_auto(reading) noise = read_with_floor(50, -200, -50);
    assert_int_equal(noise.health.hum_hz, 0);
    expect_near(noise.health.floor_db, -50 + 10.0 * log10(8000.0 / 22050.0), 1.0);
}

static void test_silence(void **state)
{
    float samples[16000] = {0};
    (void)state;
    g_autofree char *path = write_float("silence.wav", 16000, 1, samples, 16000);
    g_auto(reading) r = read_all(path);
    assert_int_equal(r.samples->len, 16000);
    expect_near(r.health.floor_db, -200, 0);
    expect_near(r.health.peak, 0, 0);
    assert_int_equal(r.health.hum_hz, 0);
}

/* ---- from and to ------------------------------------------------------------------------------------------------- */

static void test_from_to_exact(void **state)
{
    float samples[16000];
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(samples); i++)
        samples[i] = (float)i / 16384.0f;
    g_autofree char *path = write_float("ramp.wav", 16000, 1, samples, 16000);
    g_auto(reading) r = read_sound(path, &(aperta_audio_options){.from_s = 0.25, .to_s = 0.5}, 777);
    assert_int_equal(r.samples->len, 4000);
    assert_memory_equal(r.samples->data, samples + 4000, 4000 * sizeof(float));
    expect_near(r.info.from_s, 0.25, 0);
    expect_near(r.info.to_s, 0.5, 0);
    expect_near(r.info.seconds, 1.0, 0);
    assert_int_equal(r.health.n_samples, 4000);

    g_auto(reading) rest = read_sound(path, &(aperta_audio_options){.from_s = 0.75, .to_s = HUGE_VAL}, 777);
    assert_int_equal(rest.samples->len, 4000);
    assert_memory_equal(rest.samples->data, samples + 12000, 4000 * sizeof(float));
}

/* The second second is another tone; coded files have to be entered in the middle. */
static void test_from_in_coded_files(void **state)
{
    static const struct {
        const char *name;
        int format;
    } rows[] = {{"half.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16},
                {"half.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_16},
                {"half.ogg", SF_FORMAT_OGG | SF_FORMAT_VORBIS},
                {"half.opus", SF_FORMAT_OGG | SF_FORMAT_OPUS},
                {"half.mp3", SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III}};
    g_autofree float *samples = new_tone(440, TONE, 48000, 96000);
    g_autofree float *second = new_tone(880, TONE, 48000, 48000);
    (void)state;
    memcpy(samples + 48000, second, 48000 * sizeof *second);
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *path = path_of(rows[i].name);
        if (!write_sound(path, rows[i].format, 48000, 1, samples, 96000))
            continue;
        g_auto(reading) r = read_sound(path, &(aperta_audio_options){.from_s = 1.0, .to_s = 1.9}, 1000);
        tone t = measure_tone(&r, 880, 0.1);
        expect_near(r.samples->len, 0.9 * APERTA_AUDIO_RATE_HZ, 1);
        expect_near(t.amplitude, TONE, 0.02);
        expect_near(t.hz, 880, 0.05);
        assert_true(t.rest_db < -30);
    }
}

/* ---- errors ------------------------------------------------------------------------------------------------------ */

static void expect_error(const char *path, aperta_audio_options options, aperta_error code)
{
    GError *error = NULL;

    assert_null(aperta_audio_open(path, &options, &error));
    if (!g_error_matches(error, APERTA_ERROR, (int)code))
        print_error("%s: code %d\n", error->message, error->code);
    assert_true(g_error_matches(error, APERTA_ERROR, (int)code));
    assert_true(g_str_has_prefix(error->message, path));
    g_error_free(error);
}

static void test_not_sound(void **state)
{
    aperta_audio_options options = {0};
    g_autofree char *missing = path_of("missing.wav"), *empty = path_of("empty.wav"), *text = path_of("text.wav");
    g_autofree char *hollow = path_of("hollow.wav");
    float nothing = 0.0f;
    (void)state;

    expect_error(missing, options, APERTA_ERROR_NOT_FOUND);
    expect_error(folder, options, APERTA_ERROR_FORMAT);
    assert_true(g_file_set_contents(empty, "", 0, NULL));
    expect_error(empty, options, APERTA_ERROR_FORMAT);
    assert_true(g_file_set_contents(text, "The lantern swings.\n", -1, NULL));
    expect_error(text, options, APERTA_ERROR_FORMAT);
    assert_true(write_sound(hollow, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 44100, 1, &nothing, 0));
    expect_error(hollow, options, APERTA_ERROR_FORMAT);
}

/* The rates that audio.h names, and those just beyond. */
static void test_ends_of_rates(void **state)
{
    static const struct {
        int rate_hz;
        gboolean readable;
    } rows[] = {{999, FALSE}, {1000, TRUE}, {384000, TRUE}, {384001, FALSE}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        gsize n = (gsize)rows[i].rate_hz;
        g_autofree float *samples = new_tone(100.0, 0.5, rows[i].rate_hz, n);
        g_autofree char *path = write_float("rate.wav", rows[i].rate_hz, 1, samples, n);
        if (!rows[i].readable) {
            expect_error(path, (aperta_audio_options){0}, APERTA_ERROR_FORMAT);
            continue;
        }
        reading r = read_all(path);
        assert_int_equal(r.info.sample_rate_hz, rows[i].rate_hz);
        expect_near(r.samples->len, APERTA_AUDIO_RATE_HZ, 20);
        expect_near(measure_tone(&r, 100.0, 0.1).amplitude, 0.5, 0.005);
        g_array_unref(r.samples);
    }
}

static void test_out_of_range(void **state)
{
    static const double hz[] = {440, 440};
    g_autofree char *path = write_channels("range.wav", hz, 2); /* one second */
    (void)state;

    expect_error(path, (aperta_audio_options){.channel = 3}, APERTA_ERROR_RANGE);
    expect_error(path, (aperta_audio_options){.channel = -1}, APERTA_ERROR_RANGE);
    expect_error(path, (aperta_audio_options){.from_s = 1.0}, APERTA_ERROR_RANGE);
    expect_error(path, (aperta_audio_options){.from_s = 0.6, .to_s = 0.5}, APERTA_ERROR_RANGE);
}

static void test_unreadable(void **state)
{
    static const double hz[] = {440};
    g_autofree char *path = write_channels("secret.wav", hz, 1);
    (void)state;

    assert_int_equal(g_chmod(path, 0), 0);
    if (g_access(path, R_OK) == 0) {
        print_message("this user reads everything\n");
        g_clear_pointer(&path, g_free); /* skip does not return */
        skip();
    }
    expect_error(path, (aperta_audio_options){0}, APERTA_ERROR_UNREADABLE);
}

/* ------------------------------------------------------------------------------------------------------------------ */

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_formats),
        cmocka_unit_test(test_mp3),
        cmocka_unit_test(test_same_rate_is_exact),
        cmocka_unit_test(test_portions_do_not_matter),
        cmocka_unit_test(test_channels),
        cmocka_unit_test(test_many_channels),
        cmocka_unit_test(test_channels_differ),
        cmocka_unit_test(test_clipping),
        cmocka_unit_test(test_not_numbers),
        cmocka_unit_test(test_floor_and_hum),
        cmocka_unit_test(test_silence),
        cmocka_unit_test(test_from_to_exact),
        cmocka_unit_test(test_from_in_coded_files),
        cmocka_unit_test(test_not_sound),
        cmocka_unit_test(test_ends_of_rates),
        cmocka_unit_test(test_out_of_range),
        cmocka_unit_test(test_unreadable),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
