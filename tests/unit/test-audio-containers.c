/* test-audio-containers.c - M4A, MP4, MOV, WebM and MKA, made here with the program ffmpeg, read through aperta-decode;
 * and a decoder that fails.
 *
 * Expected values are what was written: a tone, and a moment at which it begins. */
#include "audio-reading.h"

#include "audio/decoder-stream.h"
#include "audio/helper.h"
#include "audio/source.h"

#include <aperta/result.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#define ONSET_S 1.0 /* silence before, the tone after it */
#define END_S   3.0

enum { RATE_HZ = 44100 };

#ifdef HAVE_LIBAV

/* ---- making files ------------------------------------------------------------------------------------------------ */

/* tone.wav: the left channel begins at ONSET_S, the right one too, an octave higher. */
static void write_tones(void)
{
    gsize n = (gsize)(END_S * RATE_HZ);
    g_autofree float *samples = g_new0(float, 2 * n);
    g_autofree char *path = path_of("tone.wav");

    for (gsize i = (gsize)(ONSET_S * RATE_HZ); i < n; i++)
        for (int c = 0; c < 2; c++)
            samples[2 * i + (gsize)c] = (float)(TONE * sin(2.0 * G_PI * (c + 1) * TONE_HZ * i / RATE_HZ));
    assert_true(write_sound(path, SF_FORMAT_WAV | SF_FORMAT_FLOAT, RATE_HZ, 2, samples, n));
}

/* Runs ffmpeg in the folder; "| cat" at the end of the arguments writes into a pipe, where it cannot go back. */
static char *make_file(const char *name, const char *arguments)
{
    const char *to = g_str_has_suffix(arguments, "| cat") ? ">" : "";
    g_autofree char *command =
        g_strdup_printf("cd '%s' && ffmpeg -nostdin -v error -y %s %s %s", folder, arguments, to, name);
    char *argv[] = {(char *)"sh", (char *)"-c", command, NULL};
    int status = 0;

    write_tones();
    assert_true(g_spawn_sync(NULL, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL));
    if (status != 0)
        fail_msg("%s", command);
    return path_of(name);
}

static void need_ffmpeg(void)
{
    g_autofree char *program = g_find_program_in_path("ffmpeg");

    if (program != NULL)
        return;
    print_message("there is no program ffmpeg to make files with\n");
    g_clear_pointer(&program, g_free);
    skip();
}

#define FILM "-f lavfi -i testsrc=size=64x48:rate=10:duration=3.5"

static const struct {
    const char *name, *arguments;
    gboolean lossy;
    double onset_s;     /* in the time of the film */
    double onset_off_s; /* coders smear it; the clock of Matroska has milliseconds */
} kinds[] = {
    {"aac.m4a", "-i tone.wav -c:a aac -b:a 128k", TRUE, ONSET_S, 0.003},
    {"alac.m4a", "-i tone.wav -c:a alac", FALSE, ONSET_S, 0.001},
    {"film.mp4", FILM " -i tone.wav -c:v mpeg4 -c:a aac", TRUE, ONSET_S, 0.003},
    {"pcm.mov", FILM " -i tone.wav -c:v mpeg4 -c:a pcm_s16be", FALSE, ONSET_S, 0.001},
    {"index-first.mp4", "-i tone.wav -c:a aac -movflags faststart", TRUE, ONSET_S, 0.003},
    {"browser.webm", "-i tone.wav -c:a libopus -f webm - | cat", TRUE, ONSET_S,
     0.006}, /* it does not tell its length */
    {"file.webm", "-i tone.wav -c:a libvorbis", TRUE, ONSET_S, 0.006},
    {"flac.mka", "-i tone.wav -c:a flac", FALSE, ONSET_S, 0.001},
    {"late.mov", "-itsoffset 0.5 -i tone.wav " FILM " -map 0:a -map 1:v -c:v mpeg4 -c:a aac", TRUE, ONSET_S + 0.5,
     0.003},
    {"late.m4a", "-itsoffset 0.5 -i tone.wav -c:a alac", FALSE, ONSET_S + 0.5, 0.001},
    {"late.mka", "-itsoffset 0.5 -i tone.wav -c:a flac", FALSE, ONSET_S + 0.5, 0.001},
    {"late.webm", "-itsoffset 0.5 -i tone.wav " FILM " -map 1:v -map 0:a -c:v libvpx -c:a libopus", TRUE, ONSET_S + 0.5,
     0.006},
};

/* ---- what they hold ---------------------------------------------------------------------------------------------- */

/* When the tone begins, in the time of the file: half of its amplitude is passed. */
static double onset_of(const reading *r)
{
    gsize i = 0;

    while (i < r->samples->len && fabsf(sample(r, i)) < 0.25 * TONE)
        i++;
    return r->info.from_s + (double)i / APERTA_AUDIO_RATE_HZ;
}

static void test_containers(void **state)
{
    int before = n_descriptors();
    (void)state;
    need_ffmpeg();
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *path = make_file(kinds[i].name, kinds[i].arguments);
        g_auto(reading) r = read_sound(path, &(aperta_audio_options){.channel = 1}, 1000);
        double onset_s = onset_of(&r), end_s = kinds[i].onset_s + END_S - ONSET_S;
        tone t = measure_tone(&r, TONE_HZ, kinds[i].onset_s - r.info.from_s + 0.5);
        if (fabs(onset_s - kinds[i].onset_s) > kinds[i].onset_off_s || fabs(r.info.seconds - end_s) > 0.03)
            print_error("%s: begins %.4f s, ends %.4f s\n", kinds[i].name, onset_s, r.info.seconds);
        expect_near(onset_s, kinds[i].onset_s, kinds[i].onset_off_s);
        expect_near(r.info.seconds, end_s, 0.03); /* a coded frame */
        expect_near(r.info.from_s + (double)r.samples->len / APERTA_AUDIO_RATE_HZ, r.info.seconds, 1e-3);
        if (fabs(t.amplitude - TONE) > 0.02)
            print_error("%s: amplitude %.3f\n", kinds[i].name, t.amplitude);
        expect_near(t.hz, TONE_HZ, 0.02);
        expect_near(t.amplitude, TONE, kinds[i].lossy ? 0.02 : 1e-4);
        assert_true(t.rest_db < (kinds[i].lossy ? -30 : -80));
        assert_int_equal(r.info.n_channels, 2);
        assert_int_equal(r.info.sample_rate_hz, strstr(kinds[i].arguments, "opus") != NULL ? 48000 : RATE_HZ);
        assert_int_equal(r.info.bits_per_s > 0.0, kinds[i].lossy);
        assert_false(r.health.truncated);
        assert_false(r.health.damaged);
    }
    assert_int_equal(n_descriptors(), before);
}

/* Of a span exactly the span, in the time of the file, of the channel that was asked for. */
static void test_span_and_channel(void **state)
{
    (void)state;
    need_ffmpeg();
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *path = make_file(kinds[i].name, kinds[i].arguments);
        aperta_audio_options options = {.channel = 2, .from_s = 0.75, .to_s = kinds[i].onset_s + 1.0};
        g_auto(reading) r = read_sound(path, &options, 997);
        expect_near(r.samples->len, (kinds[i].onset_s + 0.25) * APERTA_AUDIO_RATE_HZ, 1);
        expect_near(r.info.from_s, 0.75, 0.0);
        expect_near(onset_of(&r), kinds[i].onset_s, kinds[i].onset_off_s);
        tone t = measure_tone(&r, 2.0 * TONE_HZ, kinds[i].onset_s - 0.75 + 0.25);
        expect_near(t.amplitude, TONE, 0.02);
        assert_true(t.rest_db < -30);
    }
}

static void test_read_twice(void **state)
{
    static float blocks[2][2 * APERTA_AUDIO_RATE_HZ];
    g_autofree char *path = NULL;
    (void)state;
    need_ffmpeg();
    path = make_file(kinds[5].name, kinds[5].arguments);
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){.from_s = 0.5}, NULL);
    for (int pass = 0; pass < 2; pass++) {
        assert_int_equal(aperta_audio_read(audio, blocks[pass], G_N_ELEMENTS(blocks[pass]), NULL),
                         G_N_ELEMENTS(blocks[pass]));
        assert_true(pass == 1 || aperta_audio_rewind(audio, NULL));
    }
    assert_memory_equal(blocks[0], blocks[1], sizeof blocks[0]);
}

/* Before anything is read, the length is known too. */
static void test_info(void **state)
{
    (void)state;
    need_ffmpeg();
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++) {
        g_autofree char *path = make_file(kinds[i].name, kinds[i].arguments);
        g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){0}, NULL);
        expect_near(aperta_audio_get_info(audio)->seconds, kinds[i].onset_s + END_S - ONSET_S, 0.05);
    }
}

/* Silence that a container only claims has an end: three hours of gaps, 500 s each, around 3 s of sound. */
static void test_gaps_without_end(void **state)
{
    static float block[4096];
    gint64 n, total = 0;
    (void)state;
    need_ffmpeg();
    g_autofree char *path = make_file("gaps.mka", "-f lavfi -i sine=440:sample_rate=8000:duration=3 -af "
                                                  "asetnsamples=1000,asetpts=PTS+N/1000*500/TB -c:a pcm_s16le");
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    g_autoptr(audio_source) source = audio_source_open(fd, &(audio_request){.path = path}, NULL);
    assert_non_null(source);
    while ((n = source->kind->read(source, block, G_N_ELEMENTS(block), NULL)) > 0)
        total += n;
    assert_int_equal(n, 0);
    if (total < 3000 * 8000 || total > 3700 * 8000)
        print_error("%.1f s\n", (double)total / 8000);
    assert_true(total > 3000 * 8000 && total < 3700 * 8000);
    assert_true(source->damaged);
}

/* MP3 without a table of contents, whose bit rate is large at first. */
static void test_mp3_without_table(void **state)
{
    (void)state;
    need_ffmpeg();
    g_autofree char *path =
        make_file("bare.mp3", "-f lavfi -i \"aevalsrc='0.5*sin(2*PI*440*t)+lt(t,3)*0.4*(random(0)-0.5)':s=44100:d=9.8\""
                              " -c:a libmp3lame -q:a 2 -write_xing 0");
    g_auto(reading) r = read_all(path);
    if (fabs(r.info.seconds - 9.8) > 0.1)
        print_error("%.2f s\n", r.info.seconds);
    expect_near(r.info.seconds, 9.8, 0.1); /* the coder fills up to whole frames, and has a delay */
    assert_false(r.health.truncated);
    expect_near(measure_tone(&r, 440, 8.0).amplitude, 0.5, 0.02);
    g_auto(reading) part = read_sound(path, &(aperta_audio_options){.from_s = 8.0, .to_s = 9.0}, 1000);
    expect_near(measure_tone(&part, 440, 0.25).amplitude, 0.5, 0.02);
}

static void test_first_sound_only(void **state)
{
    g_autofree char *path = NULL;
    (void)state;
    need_ffmpeg();
    path =
        make_file("two.mka", "-f lavfi -i sine=440:duration=2 -f lavfi -i sine=880:duration=2 -map 0 -map 1 -c:a flac");
    g_auto(reading) r = read_all(path);
    assert_true(measure_tone(&r, 440, 0.5).rest_db < -60);
}

/* A name says nothing. */
static void test_by_content(void **state)
{
    (void)state;
    need_ffmpeg();
    g_autofree char *made = make_file("alac.m4a", kinds[1].arguments), *as_wav = path_of("alac.wav");
    g_autofree char *tones = path_of("tone.wav"), *as_m4a = path_of("tone.m4a");
    assert_int_equal(g_rename(made, as_wav), 0);
    g_auto(reading) alac = read_all(as_wav);
    assert_int_equal(g_rename(tones, as_m4a), 0);
    g_auto(reading) wav = read_all(as_m4a);
    assert_int_equal(alac.samples->len, wav.samples->len);
}

/* ---- files that break off ---------------------------------------------------------------------------------------- */

static void cut_to(const char *path, double share)
{
    g_autofree char *bytes = NULL;
    gsize n;

    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    assert_true(g_file_set_contents(path, bytes, (gssize)(share * n), NULL));
}

static void test_cut(void **state)
{
    static const struct {
        const char *name, *arguments;
        gboolean promises;
    } rows[] = {
        {"cut.m4a", "-i tone.wav -c:a alac -movflags faststart", TRUE},
        {"cut.mp4", FILM " -i tone.wav -c:v mpeg4 -c:a aac -movflags faststart", TRUE},
        {"cut.mka", "-i tone.wav -c:a flac", TRUE},
        {"cut.webm", "-i tone.wav -c:a libopus", TRUE},
    };
    (void)state;
    need_ffmpeg();
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *path = make_file(rows[i].name, rows[i].arguments);
        cut_to(path, 0.75);
        g_auto(reading) r = read_sound(path, &(aperta_audio_options){.channel = 1}, 1000);
        if (!r.health.truncated || r.info.seconds > 0.9 * END_S)
            print_error("%s: %.2f s\n", rows[i].name, r.info.seconds);
        assert_true(r.health.truncated);
        assert_true(r.info.seconds > ONSET_S + 0.6 && r.info.seconds < 0.9 * END_S);
        expect_near(measure_tone(&r, TONE_HZ, ONSET_S + 0.05).amplitude, TONE, 0.02);
        expect_near(r.health.promised_s, END_S, 0.6); /* the film's own end is later than the sound's */
    }
}

/* The program that we started and that runs yet; -1: none. */
static pid_t child_of_ours(void)
{
    g_autofree char *path = g_strdup_printf("/proc/self/task/%d/children", (int)getpid()), *pids = NULL;

    if (!g_file_get_contents(path, &pids, NULL, NULL) || *pids == '\0')
        return -1;
    return (pid_t)g_ascii_strtoll(pids, NULL, 10);
}

/* A decoder that dies in the middle: what came before is kept, and it is said that the recording breaks off. */
static void test_decoder_dies(void **state)
{
    static float block[4000];
    GError *error = NULL;
    gssize n, total = 0;
    (void)state;
    need_ffmpeg();
    g_autofree char *path = make_file(kinds[1].name, kinds[1].arguments);
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){0}, NULL);
    assert_int_equal(aperta_audio_read(audio, block, G_N_ELEMENTS(block), NULL), G_N_ELEMENTS(block));
    pid_t decoder = child_of_ours();
    assert_true(decoder > 0);
    kill(decoder, SIGKILL);
    while ((n = aperta_audio_read(audio, block, G_N_ELEMENTS(block), &error)) > 0)
        total += n;
    if (error != NULL)
        print_error("%s\n", error->message);
    assert_int_equal(n, 0);
    assert_true(total < 0.9 * END_S * APERTA_AUDIO_RATE_HZ);
    assert_true(aperta_audio_get_health(audio)->truncated);
}

/* The duration of a track is in bytes 20 to 23 from the name of its box mdhd (ISO/IEC 14496-12, section 8.4.2). */
static void test_more_than_it_says(void **state)
{
    gsize n, at = 0;
    (void)state;
    need_ffmpeg();
    g_autofree char *path = make_file(kinds[1].name, kinds[1].arguments), *bytes = NULL;
    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    while (at + 24 < n && memcmp(bytes + at, "mdhd", 4) != 0)
        at++;
    const guint32 claim = GUINT32_TO_BE(RATE_HZ);
    memcpy(bytes + at + 20, &claim, sizeof claim);
    assert_true(g_file_set_contents(path, bytes, (gssize)n, NULL));
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){0}, NULL);
    expect_near(aperta_audio_get_info(audio)->seconds, 1.0, 1e-6);
    g_auto(reading) r = read_sound(path, &(aperta_audio_options){.to_s = 2.0}, 1000);
    expect_near(r.samples->len, 2 * APERTA_AUDIO_RATE_HZ, 1);
}

static void expect_error(const char *path, aperta_error code, const char *words)
{
    GError *error = NULL;

    assert_null(aperta_audio_open(path, &(aperta_audio_options){0}, &error));
    expect_told(error, path, code, words);
}

static void test_not_read(void **state)
{
    static const char zeros[200] = "\0\0\0\x14"
                                   "ftypM4A \0\0\0\0M4A \0\0\0\xb4"
                                   "moov";
    int before = n_descriptors();
    (void)state;
    need_ffmpeg();
    g_autofree char *no_index = make_file("no-index.m4a", "-i tone.wav -c:a aac");
    cut_to(no_index, 0.75);
    expect_error(no_index, APERTA_ERROR_FORMAT, "its index is missing");
    g_autofree char *mute = make_file("mute.mp4", FILM " -c:v mpeg4");
    expect_error(mute, APERTA_ERROR_FORMAT, "it holds no sound (is this the right file?)");
    g_autofree char *coding = make_file("coding.mka", "-i tone.wav -c:a ac3");
    expect_error(coding, APERTA_ERROR_FORMAT, "not read: ac3");
    g_autofree char *hollow = path_of("hollow.m4a");
    assert_true(g_file_set_contents(hollow, zeros, sizeof zeros, NULL));
    expect_error(hollow, APERTA_ERROR_FORMAT, "(");
    assert_int_equal(n_descriptors(), before);
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1); /* no child is left */
    assert_int_equal(errno, ECHILD);
}

/* ---- takes, also of several threads ------------------------------------------------------------------------------ */

static gpointer take_file(gpointer path)
{
    aperta_take_options options = {.voice = APERTA_VOICE_WOMAN, .jobs = 2};

    return aperta_take(path, &options, NULL);
}

static void test_four_threads(void **state)
{
    enum { N = 4 };
    GThread *threads[N];
    aperta_result *results[N];
    int before = n_descriptors();
    (void)state;
    need_ffmpeg();
    g_autofree char *path =
        make_file("sung.m4a", "-f lavfi -i \"aevalsrc='0.1*gte(t,0.5)*(sin(2*PI*440*t)+sin(2*PI*880*t)+"
                              "0.5*sin(2*PI*1320*t))':s=44100:d=2\" -c:a aac -b:a 128k");
    for (int i = 0; i < N; i++)
        threads[i] = g_thread_new("take", take_file, path);
    for (int i = 0; i < N; i++) {
        results[i] = g_thread_join(threads[i]);
        assert_non_null(results[i]);
        assert_int_equal(results[i]->notes->len, 1);
        const aperta_sung_note *note = aperta_sung_note_at(results[i]->notes, 0);
        expect_near(note->note.f0_hz, 440.0, 0.5);
        expect_near(note->note.span.start_s, 0.5, 0.03);
        expect_near(results[i]->seconds, 2.0, 0.03);
    }
    for (int i = 0; i < N; i++)
        aperta_result_free(results[i]);
    assert_int_equal(n_descriptors(), before);
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
    assert_int_equal(errno, ECHILD);
}

/* A decoder that is left in the middle of its file dies of it, and not we; so does one whose exit status the system
 * throws away. */
static void test_left_early(void **state)
{
    static float block[1000];
    struct sigaction ignore = {.sa_handler = SIG_IGN}, children;
    (void)state;
    need_ffmpeg();
    g_autofree char *path = make_file(kinds[1].name, kinds[1].arguments);
    for (int ignored = 0; ignored < 2; ignored++) {
        if (ignored)
            sigaction(SIGCHLD, &ignore, &children);
        for (int i = 0; i < 5; i++) {
            g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){0}, NULL);
            assert_int_equal(aperta_audio_read(audio, block, G_N_ELEMENTS(block), NULL), G_N_ELEMENTS(block));
        }
        g_auto(reading) r = read_all(path);
        assert_false(r.health.truncated);
        if (ignored)
            sigaction(SIGCHLD, &children, NULL);
        assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
    }
}

#else

static void test_built_without(void **state)
{
    static const char m4a[64] = "\0\0\0\x20"
                                "ftypM4A ",
                      webm[64] = "\x1a\x45\xdf\xa3";
    const struct {
        const char *name, *bytes, *words;
    } rows[] = {{"a.m4a", m4a, "this is an M4A, MP4 or MOV file, and this Aperta was built without"},
                {"a.webm", webm, "this is a WebM or Matroska file, and this Aperta was built without"}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *path = path_of(rows[i].name);
        GError *error = NULL;
        assert_true(g_file_set_contents(path, rows[i].bytes, 64, NULL));
        assert_null(aperta_audio_open(path, &(aperta_audio_options){0}, &error));
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
        assert_non_null(strstr(error->message, rows[i].words));
        g_error_free(error);
    }
}

#endif

/* ---- a decoder that fails: scripts that speak its language ------------------------------------------------------- */

static char *write_script(const char *commands)
{
    char *path = path_of("decoder");
    g_autofree char *text = g_strdup_printf("#!/bin/sh\ncd '%s'\n%s\n", folder, commands);

    assert_true(g_file_set_contents(path, text, -1, NULL));
    assert_int_equal(g_chmod(path, 0700), 0);
    return path;
}

static void write_bytes(const char *name, const void *bytes, gsize n)
{
    g_autofree char *path = path_of(name);

    assert_true(g_file_set_contents(path, bytes, (gssize)n, NULL));
}

/* header: a good one; block: ten frames; wrong: a block of -5 frames; end: a good one. */
static void write_parts(void)
{
    decoder_header header = {DECODER_MAGIC, DECODER_WHOLE, 16000, 1, 0, 0.0, -1.0, -1.0, "test"};
    struct {
        gint32 n;
        float frames[10];
    } block = {10, {0.5f}};
    const gint32 wrong = -5, none = 0;
    decoder_end end = {0};

    write_bytes("header", &header, sizeof header);
    write_bytes("block", &block, sizeof block);
    write_bytes("wrong", &wrong, sizeof wrong);
    write_bytes("none", &none, sizeof none);
    write_bytes("end", &end, sizeof end);
    header.n_channels = 1000;
    write_bytes("channels", &header, sizeof header);
    header.outcome = 99;
    write_bytes("outcome", &header, sizeof header);
}

/* Frames that could be read before it failed; -1: not even opened. */
static gint64 frames_of(const char *commands, GError **error)
{
    g_autofree char *program = write_script(commands);
    int fd = open("/dev/null", O_RDONLY | O_CLOEXEC);
    audio_request request = {.path = "song.m4a"};
    audio_source *source = audio_decoder_open(fd, &request, program, 0.7, error);
    float frames[3];
    gint64 n = 0, total = 0;

    if (source == NULL) {
        close(fd);
        return -1;
    }
    while ((n = source->kind->read(source, frames, 3, error)) > 0)
        total += n;
    audio_source_close(source);
    return total;
}

static void test_failing_decoder(void **state)
{
    static const struct {
        const char *commands;
        gint64 frames;
        const char *words; /* NULL: no error */
    } rows[] = {
        {"cat header block block none end", 20, NULL},
        {"exit 1", -1, "broke off: it ended early"},
        {"kill -SEGV $$", -1, "broke off: Segmentation fault"},
        {"head -c 20 header", -1, "broke off: it ended early"},
        {"head -c 300 /dev/zero", -1, "broke off: what it says is no sound"},
        {"cat channels", -1, "broke off: what it says is no sound"},
        {"cat outcome", -1, "could not work"},
        {"exec sleep 60", -1, "nothing came from it for"},
        {"cat header; exec sleep 60", 0, "nothing came from it for"},
        {"cat header block; exec >/dev/null; exec sleep 60", 9, "broke off: it ended early"},
        {"cat header block; kill -KILL $$", 9, "broke off: Killed"},
        {"cat header block; head -c 11 block", 9, "broke off: it ended early"},
        {"cat header block wrong", 9, "broke off: what it says is no sound"},
        {"cat header block none; head -c 3 end", 9, "broke off: it ended early"},
    };
    int before = n_descriptors();
    (void)state;
    write_parts();
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        GError *error = NULL;
        gint64 n = frames_of(rows[i].commands, &error);
        if (n != rows[i].frames || (error == NULL) != (rows[i].words == NULL) ||
            (error != NULL && strstr(error->message, rows[i].words) == NULL))
            print_error("%s: %d frames, %s\n", rows[i].commands, (int)n, error != NULL ? error->message : "no error");
        assert_int_equal(n, rows[i].frames);
        assert_int_equal(error == NULL, rows[i].words == NULL);
        if (error != NULL) {
            assert_non_null(strstr(error->message, rows[i].words));
            assert_true(g_str_has_prefix(error->message, "song.m4a: "));
        }
        g_clear_error(&error);
    }
    assert_int_equal(n_descriptors(), before);
    assert_int_equal(waitpid(-1, NULL, WNOHANG), -1);
    assert_int_equal(errno, ECHILD);
}

/* Where the system throws exit statuses away, a helper's number is free once it is gone. */
static void test_number_of_the_dead(void **state)
{
    struct sigaction ignore = {.sa_handler = SIG_IGN}, before;
    g_autofree char *program = write_script("exit 1"), *said = NULL;
    char *argv[] = {(char *)"sh", (char *)"-c", (char *)"sleep 20 >/dev/null 2>&1 & echo $!", NULL};
    audio_helper helper;
    char byte;
    int file = open("/dev/null", O_RDONLY | O_CLOEXEC);
    (void)state;
    sigaction(SIGCHLD, &ignore, &before);
    assert_true(audio_helper_start(&helper, &(audio_helper_options){program, 5.0, NULL}, file));
    assert_false(audio_helper_read(&helper, &byte, 1));
    sigaction(SIGCHLD, &before, NULL);
    close(file);
    assert_int_equal(helper.pid, 0);
    audio_helper_end(&helper);

    assert_true(g_spawn_sync(NULL, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &said, NULL, NULL, NULL));
    pid_t other = (pid_t)g_ascii_strtoll(said, NULL, 10); /* nobody's helper */
    audio_helper stale = {.pid = other, .output = -1};
    audio_helper_end(&stale);
    g_usleep(50000);
    g_autofree char *path = g_strdup_printf("/proc/%d/cmdline", (int)other), *command = NULL;
    gboolean lives = g_file_get_contents(path, &command, NULL, NULL) && g_strcmp0(command, "sleep") == 0;
    if (lives)
        kill(other, SIGKILL);
    assert_true(lives);
}

static void test_no_program(void **state)
{
    GError *error = NULL;
    int fd = open("/dev/null", O_RDONLY | O_CLOEXEC);
    audio_request request = {.path = "song.m4a"};
    (void)state;
    assert_null(audio_decoder_open(fd, &request, "/nowhere/aperta-decode", 1.0, &error));
    assert_non_null(strstr(error->message, "/nowhere/aperta-decode, which cannot be started: No such file"));
    g_error_free(error);
    close(fd);
}

/* Pipes that this process would hand on: those of make, but none of a helper. */
static int n_pipes(void)
{
    int n = 0;

    for (int fd = STDERR_FILENO + 1; fd < 1024; fd++) {
        g_autofree char *link = g_strdup_printf("/proc/self/fd/%d", fd);
        g_autofree char *target = g_file_read_link(link, NULL);
        n += target != NULL && g_str_has_prefix(target, "pipe:") && !(fcntl(fd, F_GETFD) & FD_CLOEXEC);
    }
    return n;
}

/* It inherits no end of its own pipe beside its output, and signals as a new program has them. */
static void test_what_it_inherits(void **state)
{
    struct sigaction ignore = {.sa_handler = SIG_IGN}, before;
    g_autofree char *said = NULL, *path = path_of("said");
    guint64 blocked, ignored;
    GError *error = NULL;
    int pipes = -1;
    (void)state;
    sigaction(SIGPIPE, &ignore, &before);
    frames_of("grep -E '^Sig(Ign|Blk)' /proc/self/status >said; "
              "ls -l /proc/self/fd >fds; grep -v ' [012] -> ' fds | grep -c pipe: >>said",
              &error);
    sigaction(SIGPIPE, &before, NULL);
    assert_true(g_file_get_contents(path, &said, NULL, NULL));
    assert_int_equal(
        sscanf(said, "SigBlk: %" G_GINT64_MODIFIER "x SigIgn: %" G_GINT64_MODIFIER "x %d", &blocked, &ignored, &pipes),
        3);
    assert_int_equal(blocked, 0);
    assert_int_equal(ignored >> (SIGPIPE - 1) & 1, 0);
    assert_int_equal(pipes, n_pipes());
    g_clear_error(&error);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
#ifdef HAVE_LIBAV
        cmocka_unit_test(test_containers),
        cmocka_unit_test(test_span_and_channel),
        cmocka_unit_test(test_read_twice),
        cmocka_unit_test(test_info),
        cmocka_unit_test(test_gaps_without_end),
        cmocka_unit_test(test_mp3_without_table),
        cmocka_unit_test(test_first_sound_only),
        cmocka_unit_test(test_by_content),
        cmocka_unit_test(test_cut),
        cmocka_unit_test(test_decoder_dies),
        cmocka_unit_test(test_more_than_it_says),
        cmocka_unit_test(test_not_read),
        cmocka_unit_test(test_four_threads),
        cmocka_unit_test(test_left_early),
#else
        cmocka_unit_test(test_built_without),
#endif
        cmocka_unit_test(test_failing_decoder),
        cmocka_unit_test(test_number_of_the_dead),
        cmocka_unit_test(test_no_program),
        cmocka_unit_test(test_what_it_inherits),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
