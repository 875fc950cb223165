/* test-song.c - the demo's score: what it must hold, and what is said of a bad one. */
#include "expect.h"

#include "song-file.h"
#include "wav.h"

#include <aperta/base.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

/* Longest note of this vowel, manner and pitch range, seconds; 0 = none. */
static double longest_s(const demo_song *song, const char *vowel, song_manner manner, int low_midi, int high_midi)
{
    double longest = 0.0;

    for (guint i = 0; i < song->notes->len; i++) {
        const song_note *note = &g_array_index(song->notes, song_note, i);
        if (strcmp(note->vowel, vowel) == 0 && note->manner == manner && note->midi >= low_midi &&
            note->midi <= high_midi)
            longest = MAX(longest, note->beats * 60.0 / song->tempo);
    }
    return longest;
}

/* The hard cases that the demo is there to show. */
static void test_hard_cases(void **state)
{
    static const struct {
        const char *vowel;
        song_manner manner;
        int low_midi, high_midi;
    } cases[] = {{"i", SONG_BELT, 69, 74},     {"u", SONG_BELT, 69, 74},    {"e", SONG_BELT, 69, 74},
                 {"ɝ", SONG_BELT, 69, 74},     {"ɑ", SONG_BELT, 69, 69},    {"ɑ", SONG_BELT, 72, 72},
                 {"ɛ", SONG_BELT, 69, 74},     {"o", SONG_BREATHY, 55, 60}, {"ɑ", SONG_BREATHY, 57, 60},
                 {"u", SONG_STRAIGHT, 69, 74}, {"e>i", SONG_BELT, 69, 74}};
    g_autoptr(GError) error = NULL;
    g_autoptr(demo_song) song = song_read(TEST_SOURCE_DIR "/demo/song.txt", &error);

    (void)state;
    assert_null(error);
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++)
        assert_true(longest_s(song, cases[i].vowel, cases[i].manner, cases[i].low_midi, cases[i].high_midi) >= 0.9);
}

static void test_bad_lines(void **state)
{
    static const char *const bad[] = {"tempo fast",
                                      "vowel a 700 1200",
                                      "note 1 1 C4 a - plain",
                                      "note 1 1 H4 a - plain oh",
                                      "note 1 1 C4 o - plain oh",
                                      "note 1 -1 C4 a - plain oh",
                                      "note 1 1 C4 a - loud oh",
                                      "nonsense 3"};
    g_autofree char *path = NULL;
    int file = g_file_open_tmp("song-XXXXXX", &path, NULL);

    (void)state;
    assert_true(file >= 0 && g_close(file, NULL));
    for (gsize i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autofree char *text = g_strdup_printf("vowel a 700 1200 2500 3500 # a comment\n\n%s\n", bad[i]);
        g_autoptr(GError) error = NULL;
        assert_true(g_file_set_contents(path, text, -1, NULL));
        g_autoptr(demo_song) song = song_read(path, &error);
        assert_null(song);
        assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
        assert_non_null(strstr(error->message, "line 3"));
        assert_non_null(strstr(error->message, bad[i]));
    }
    g_unlink(path);
}

/* A FIFO stands for any device: it must be refused and left alone. */
static void test_never_replaces_a_device(void **state)
{
    g_autofree char *folder = g_dir_make_tmp("song-XXXXXX", NULL);
    g_autofree char *path = g_build_filename(folder, "fifo", NULL);
    const float silence[4] = {0};
    g_autoptr(GError) error = NULL;
    GStatBuf info;

    (void)state;
    assert_int_equal(mkfifo(path, 0600), 0);
    assert_false(wav_write(path, silence, 4, 16000, "test", &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE));
    assert_int_equal(g_stat(path, &info), 0);
    assert_true(S_ISFIFO(info.st_mode));
    g_unlink(path);
    g_rmdir(folder);
}

/* RIFF: size of the whole less 8; data chunk last, two bytes a sample, little endian. */
static void test_wav_bytes(void **state)
{
    const float samples[3] = {0.0f, 1.0f, -2.0f};
    g_autofree char *folder = g_dir_make_tmp("song-XXXXXX", NULL);
    g_autofree char *path = g_build_filename(folder, "a.wav", NULL);
    g_autofree char *bytes = NULL;
    gsize n;

    (void)state;
    assert_true(wav_write(path, samples, 3, 16000, "odd", NULL));
    assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    assert_int_equal(n, 36 + 8 + 4 + 8 + 4 + 8 + 6); /* RIFF and fmt, LIST with ICMT of "odd" and its 0, data */
    assert_int_equal((guint8)bytes[4], n - 8);
    assert_memory_equal(bytes + n - 14, "data\6\0\0\0\0\0\377\177\1\200", 14);
    g_unlink(path);
    g_rmdir(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_hard_cases), cmocka_unit_test(test_bad_lines),
                                       cmocka_unit_test(test_never_replaces_a_device),
                                       cmocka_unit_test(test_wav_bytes)};

    return cmocka_run_group_tests_name("song", tests, NULL, NULL);
}
