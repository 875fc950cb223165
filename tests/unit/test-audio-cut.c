/* test-audio-cut.c - recordings that break off, and recordings that come through a pipe.
 *
 * Expected values are what was written; other origins are named beside the check. */
#include "audio-reading.h"

#include "audio/input.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

enum { RATE_HZ = 16000, SECONDS = 12 };

/* ---- files that break off ---------------------------------------------------------------------------------------- */

static char *write_tone(const char *name, int format)
{
    g_autofree float *samples = new_tone(TONE_HZ, TONE, RATE_HZ, RATE_HZ * SECONDS);
    char *path = path_of(name);
    g_autoptr(GRand) random = g_rand_new_with_seed(1);

    for (gsize i = 0; i < RATE_HZ * SECONDS; i++) /* so that Ogg needs more than one page */
        samples[i] += (float)g_rand_double_range(random, -0.1, 0.1);
    if (write_sound(path, format, RATE_HZ, 1, samples, RATE_HZ * SECONDS))
        return path;
    g_free(path);
    return NULL;
}

static void cut_file(const char *path, double share)
{
    g_autofree char *bytes = NULL;
    gsize n;

    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    assert_true(g_file_set_contents(path, bytes, (gssize)(share * n), NULL));
}

static const struct {
    const char *name;
    int format;
    gboolean promises; /* its header says how long it ought to be */
} kinds[] = {
    {"cut.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, TRUE},
    {"cut-float.wav", SF_FORMAT_WAVEX | SF_FORMAT_FLOAT, TRUE},
    {"cut.rf64", SF_FORMAT_RF64 | SF_FORMAT_PCM_24, TRUE},
    {"cut.w64", SF_FORMAT_W64 | SF_FORMAT_PCM_16, TRUE},
    {"cut.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_16, TRUE},
    {"cut.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_16, TRUE},
    {"cut.ogg", SF_FORMAT_OGG | SF_FORMAT_VORBIS, FALSE},
    {"cut.opus", SF_FORMAT_OGG | SF_FORMAT_OPUS, FALSE},
    {"cut.mp3", SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III, TRUE},
};

/* Half a file holds half of the sound, but for headers, the table of contents and the last block (an Ogg page holds up
 * to a second and more). What is told of the length is what was read. */
static void check_cut(const char *name, gboolean promises, const reading *r)
{
    double read_s = (double)r->samples->len / APERTA_AUDIO_RATE_HZ;

    if (!r->health.truncated || read_s < 0.25 * SECONDS || read_s > 0.56 * SECONDS)
        print_error("%s: truncated %d, %.2f s\n", name, r->health.truncated, read_s);
    assert_true(r->health.truncated);
    assert_true(read_s > 0.25 * SECONDS && read_s < 0.56 * SECONDS);
    expect_near(r->info.seconds, read_s, 1e-3);
    expect_near(r->info.to_s, read_s, 1e-3);
    expect_near(r->health.promised_s, promises ? SECONDS : 0.0, 0.1);
    tone t = measure_tone(r, TONE_HZ, 0.5);
    expect_near(t.amplitude, TONE, 0.02);
}

static void test_cut(void **state)
{
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *path = write_tone(kinds[i].name, kinds[i].format);
        if (path == NULL)
            continue;
        g_auto(reading) whole = read_all(path);
        if (whole.health.truncated)
            print_error("%s is called truncated\n", kinds[i].name);
        assert_false(whole.health.truncated);
        expect_near(whole.health.promised_s, 0.0, 0.0);
        cut_file(path, 0.5);
        g_auto(reading) cut = read_all(path);
        check_cut(kinds[i].name, kinds[i].promises, &cut);
    }
}

/* What is there can be entered in the middle, and nothing is read behind its end. */
static void test_cut_from_to(void **state)
{
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        GError *error = NULL;
        float block[1000];
        g_autofree char *path = write_tone(kinds[i].name, kinds[i].format);
        if (path == NULL)
            continue;
        cut_file(path, 0.5);
        g_auto(reading) r = read_sound(path, &(aperta_audio_options){.from_s = 0.5, .to_s = 1.5}, 1000);
        expect_near(r.samples->len, APERTA_AUDIO_RATE_HZ, 1);
        expect_near(measure_tone(&r, TONE_HZ, 0.25).amplitude, TONE, 0.02);
        g_autoptr(aperta_audio) late =
            aperta_audio_open(path, &(aperta_audio_options){.from_s = 0.75 * SECONDS}, &error);
        if (late != NULL)
            assert_int_equal(aperta_audio_read(late, block, G_N_ELEMENTS(block), &error), -1);
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_RANGE));
        g_error_free(error);
    }
}

/* All of it a second time, and the same. */
static void test_rewind(void **state)
{
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        static float blocks[2][RATE_HZ];
        g_autofree char *path = write_tone(kinds[i].name, kinds[i].format);
        if (path == NULL)
            continue;
        cut_file(path, 0.5);
        g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){.from_s = 0.25}, NULL);
        assert_non_null(audio);
        for (int pass = 0; pass < 2; pass++) {
            gssize n, total = 0;
            assert_int_equal(aperta_audio_read(audio, blocks[pass], RATE_HZ, NULL), RATE_HZ);
            while ((n = aperta_audio_read(audio, blocks[1], pass == 0 ? RATE_HZ : 0, NULL)) > 0)
                total += n;
            assert_int_equal(n, 0);
            assert_true(pass == 1 || aperta_audio_get_health(audio)->truncated);
            assert_true(pass == 1 || aperta_audio_rewind(audio, NULL));
        }
        assert_memory_equal(blocks[0], blocks[1], sizeof blocks[0]);
    }
}

/* The length field of the data chunk stands in bytes 40 to 43 (RIFF WAVE, Microsoft and IBM 1991). */
static void test_header_promises_4_gib(void **state)
{
    g_autofree float *samples = new_tone(TONE_HZ, TONE, 16000, 16000);
    g_autofree char *path = path_of("promise.wav"), *bytes = NULL;
    gsize n;
    (void)state;
    assert_true(write_sound(path, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 16000, 1, samples, 16000));
    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    assert_memory_equal(bytes + 36, "data", 4);
    memset(bytes + 40, 0xff, 3);
    bytes[40] = (char)0xfe;
    bytes[43] = (char)0xff;
    assert_true(g_file_set_contents(path, bytes, (gssize)n, NULL));
    g_auto(reading) r = read_all(path);
    assert_true(r.health.truncated);
    assert_in_range(r.samples->len, 16000, 16100); /* what follows the data may be taken for sound */
}

/* A recorder that was stopped by force leaves the length 0 in bytes 40 to 43; what a program writes into a pipe has all
 * ones there (FFmpeg does so), and is whole. */
static void test_length_left_open(void **state)
{
    (void)state;
    for (int streamed = 0; streamed < 2; streamed++) {
        g_autofree char *path = write_tone("open.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16), *bytes = NULL;
        gsize n;
        assert_true(g_file_get_contents(path, &bytes, &n, NULL));
        assert_memory_equal(bytes + 36, "data", 4);
        memset(bytes + 40, streamed ? 0xff : 0, 4);
        assert_true(g_file_set_contents(path, bytes, (gssize)n, NULL));
        g_auto(reading) r = read_all(path);
        assert_int_equal(r.health.truncated, !streamed);
        assert_in_range(r.samples->len, RATE_HZ * SECONDS, RATE_HZ * SECONDS + 100);
    }
}

/* The same of AIFF (size of SSND: big-endian, counts 8 bytes ahead of the samples; Apple 1989) and of W64 (8 bytes,
 * counts its head of 24; as libsndfile writes it). */
static void test_length_left_open_elsewhere(void **state)
{
    enum { SIZE = 0x50000 }; /* that is small when its bytes are turned round */
    static const struct {
        const char *name, *chunk;
        int format, size_at, size_bytes, ahead;
    } rows[] = {{"open.aiff", "SSND", SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 4, 4, 8},
                {"open.w64", "data", SF_FORMAT_W64 | SF_FORMAT_PCM_16, 16, 8, 0}};
    (void)state;
    for (gsize k = 0; k < G_N_ELEMENTS(rows); k++) {
        g_autofree char *path = write_tone(rows[k].name, rows[k].format), *bytes = NULL;
        gsize n, at = 0;
        assert_true(g_file_get_contents(path, &bytes, &n, NULL));
        while (at < 400 && memcmp(bytes + at, rows[k].chunk, 4) != 0)
            at++;
        assert_true(at < 400);
        memset(bytes + at + rows[k].size_at, 0, (gsize)rows[k].size_bytes);
        n = at + (gsize)rows[k].size_at + (gsize)rows[k].size_bytes + SIZE;
        assert_true(g_file_set_contents(path, bytes, (gssize)n, NULL));
        g_auto(reading) r = read_all(path);
        guint expected = (guint)(SIZE - rows[k].ahead) / 2;
        if (!r.health.truncated || r.samples->len != expected)
            print_error("%s: %u samples, truncated %d\n", rows[k].name, r.samples->len, r.health.truncated);
        assert_true(r.health.truncated);
        assert_int_equal(r.samples->len, expected);
        expect_near(measure_tone(&r, TONE_HZ, 0.5).amplitude, TONE, 0.02);
    }
}

/* A recording of nothing, with a comment behind it, is no sound. */
static void test_comment_is_no_sound(void **state)
{
    g_autofree char *path = write_tone("comment.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16), *bytes = NULL;
    GError *error = NULL;
    enum { COMMENT = 2000 };
    gsize n;
    (void)state;
    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    memset(bytes + 40, 0, 4);
    const guint32 size = GUINT32_TO_LE(COMMENT);
    memcpy(bytes + 44, "LIST", 4);
    memcpy(bytes + 48, &size, 4);
    assert_true(g_file_set_contents(path, bytes, 52 + COMMENT, NULL));
    assert_null(aperta_audio_open(path, &(aperta_audio_options){0}, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
    g_error_free(error);
}

/* STREAMINFO of a FLAC file that was written into a pipe has 0 for the number of samples: the low four bits of byte 21
 * and bytes 22 to 25 (RFC 9639, section 8.2). That is no fault. */
static void test_flac_without_length(void **state)
{
    g_autofree char *path = write_tone("stream.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_16), *bytes = NULL;
    gsize n;
    (void)state;
    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    bytes[21] &= (char)0xf0;
    memset(bytes + 22, 0, 4);
    assert_true(g_file_set_contents(path, bytes, (gssize)n, NULL));
    g_auto(reading) r = read_all(path);
    assert_false(r.health.truncated);
    expect_near(r.info.seconds, SECONDS, 1e-9);
    g_auto(reading) part = read_sound(path, &(aperta_audio_options){.from_s = 6.0, .to_s = 7.0}, 1000);
    expect_near(part.samples->len, APERTA_AUDIO_RATE_HZ, 0);
}

/* ---- pipes ------------------------------------------------------------------------------------------------------- */

/* Somebody who writes a file into a FIFO, a little late and in pieces. */
typedef struct {
    char *fifo, *file;
} writer;

static gpointer write_into(gpointer data)
{
    const writer *w = data;
    g_autofree char *bytes = NULL;
    gsize n = 0;

    g_usleep(50000);
    g_file_get_contents(w->file, &bytes, &n, NULL);
    int fd = open(w->fifo, O_WRONLY);
    for (gsize at = 0; at < n;) {
        gssize done = write(fd, bytes + at, MIN(n - at, 10000));
        if (done <= 0)
            break;
        at += (gsize)done;
    }
    close(fd);
    return NULL;
}

static GThread *start_writer(writer *w)
{
    g_unlink(w->fifo);
    assert_int_equal(mkfifo(w->fifo, 0600), 0);
    return g_thread_new("writer", write_into, w);
}

static void test_fifo(void **state)
{
    int before = n_descriptors();
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *fifo = path_of("fifo"), *path = write_tone(kinds[i].name, kinds[i].format);
        if (path == NULL)
            continue;
        g_auto(reading) direct = read_all(path);
        GThread *thread = start_writer(&(writer){fifo, path});
        g_auto(reading) piped = read_all(fifo);
        g_thread_join(thread);
        assert_int_equal(piped.samples->len, direct.samples->len);
        assert_memory_equal(piped.samples->data, direct.samples->data, direct.samples->len * sizeof(float));
    }
    assert_int_equal(n_descriptors(), before);
}

/* Where it is kept has no name, and nobody else may read it. */
static void test_kept_unseen(void **state)
{
    g_autofree char *fifo = path_of("fifo"), *path = write_tone("kept.wav", kinds[0].format);
    struct stat status;
    (void)state;
    GThread *thread = start_writer(&(writer){fifo, path});
    int fd = audio_input_open(&(audio_request){.path = fifo}, G_MAXUINT64, NULL);
    g_thread_join(thread);
    assert_true(fd >= 0);
    assert_int_equal(fstat(fd, &status), 0);
    assert_true(S_ISREG(status.st_mode));
    assert_int_equal(status.st_mode & 0777, 0600);
    assert_int_equal(status.st_nlink, 0);
    assert_int_equal(status.st_size, 44 + 2 * RATE_HZ * SECONDS);
    assert_true(fcntl(fd, F_GETFD) & FD_CLOEXEC);
    close(fd);
}

static void expect_refused(const char *path, guint64 most, const volatile int *cancel, aperta_error code,
                           const char *words)
{
    GError *error = NULL;

    assert_int_equal(audio_input_open(&(audio_request){path, cancel}, most, &error), -1);
    expect_told(error, path, code, words);
}

static void test_pipe_limits(void **state)
{
    g_autofree char *fifo = path_of("fifo"), *path = write_tone("kept.wav", kinds[0].format), *empty = path_of("empty");
    struct sigaction ignore = {.sa_handler = SIG_IGN}, before;
    const volatile int stop = 1;
    int ends[2];
    (void)state;
    sigaction(SIGPIPE, &ignore, &before); /* the writer is left without a reader */
    GThread *thread = start_writer(&(writer){fifo, path});
    expect_refused(fifo, 50000, NULL, APERTA_ERROR_RANGE, "came through the pipe");
    g_thread_join(thread);
    sigaction(SIGPIPE, &before, NULL);

    assert_int_equal(pipe(ends), 0);
    close(ends[1]);
    g_autofree char *spent = g_strdup_printf("/dev/fd/%d", ends[0]);
    expect_refused(spent, 1000, NULL, APERTA_ERROR_FORMAT, "nothing came through the pipe");
    close(ends[0]);

    g_unlink(fifo);
    assert_int_equal(mkfifo(fifo, 0600), 0); /* nobody will ever write */
    expect_refused(fifo, 1000, &stop, APERTA_ERROR_INTERRUPTED, "interrupted");

    assert_true(g_file_set_contents(empty, "", 0, NULL));
    expect_refused(empty, 1000, NULL, APERTA_ERROR_FORMAT, "empty");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_cut),
        cmocka_unit_test(test_cut_from_to),
        cmocka_unit_test(test_rewind),
        cmocka_unit_test(test_header_promises_4_gib),
        cmocka_unit_test(test_length_left_open),
        cmocka_unit_test(test_length_left_open_elsewhere),
        cmocka_unit_test(test_comment_is_no_sound),
        cmocka_unit_test(test_flac_without_length),
        cmocka_unit_test(test_fifo),
        cmocka_unit_test(test_kept_unseen),
        cmocka_unit_test(test_pipe_limits),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
