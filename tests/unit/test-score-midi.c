/* test-score-midi.c - standard MIDI files. Rules: Standard MIDI Files 1.0 (MIDI Manufacturers Association, 1988);
 * habits of files with words: common practice, no source. */
#include "expect.h"
#include "score-files.h"
#include "score-reading.h"
#include "score/score-private.h"

#include <string.h>

enum { LYRIC = 0x05, TEXT = 0x01, NAME = 0x03 };

static aperta_score *read_tracks(int format, guint16 division, GByteArray **tracks, guint n_tracks)
{
    g_autoptr(GBytes) file = midi_file_of(format, division, tracks, n_tracks);
    g_autoptr(GError) error = NULL;
    gsize n;
    const void *bytes = g_bytes_get_data(file, &n);
    aperta_score *score = score_read_bytes("song.mid", bytes, n, NULL, &error);

    if (score == NULL)
        print_message("%s\n", error->message);
    assert_non_null(score);
    for (guint i = 0; i < n_tracks; i++)
        g_byte_array_unref(tracks[i]);
    return score;
}

static void expect_tracks(int format, GByteArray **tracks, guint n_tracks, const char *expected)
{
    g_autoptr(aperta_score) score = read_tracks(format, 96, tracks, n_tracks);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, expected);
}

/* Quarters C4 D4 E4 ... each with a text of that type. */
static GByteArray *sung(guint8 type, const char *const *texts)
{
    static const int scale[] = {60, 62, 64, 65, 67, 69};
    GByteArray *track = g_byte_array_new();

    for (guint i = 0; texts[i] != NULL; i++) {
        midi_put_text(track, 0, type, texts[i]);
        midi_put_note(track, 0, 0, scale[i], 96);
    }
    return track;
}

#define SUNG(type, ...) sung(type, (const char *const[]){__VA_ARGS__, NULL})

/* Format 1: tempo, meter and key in the first track; key and tempo in seconds. */
static void test_format_1(void **state)
{
    (void)state;
    GByteArray *conductor = g_byte_array_new();
    midi_put_text(conductor, 0, NAME, "Evening");
    midi_put_meta(conductor, 0, 0x51, "\x0F\x42\x40", 3); /* 1 000 000 us: 60 a minute */
    midi_put_meta(conductor, 0, 0x58, "\x03\x02\x18\x08", 4);
    midi_put_meta(conductor, 0, 0x59, "\xFC\x01", 2); /* four flats, minor */
    midi_put_meta(conductor, 96, 0x51, "\x07\xA1\x20", 3);
    GByteArray *voice = g_byte_array_new();
    midi_put_text(voice, 0, NAME, "Voice");
    midi_put_note(voice, 0, 0, 68, 96);
    midi_put_note(voice, 0, 0, 61, 48);
    midi_put_note(voice, 192, 0, 60, 48);
    GByteArray *tracks[] = {conductor, voice};
    g_autoptr(aperta_score) score = read_tracks(1, 96, tracks, 2);
    g_autofree char *shown = show(score);
    const aperta_score_note *last = &score->notes[2];

    assert_string_equal(shown, "A♭4@0+1 D♭4@1+0.5 C4@3.5+0.5");
    assert_int_equal(score->format, APERTA_SCORE_MIDI);
    assert_string_equal(score->title, "Evening");
    assert_true(score->key.known && score->key.minor && score->key.tonic == 5);
    expect_near(score->tempo_bpm, 60.0, 1e-6);
    expect_near(last->start_s, 1.0 + 2.5 * 0.5, 1e-6);
    assert_string_equal(last->bar, "2");
    assert_int_equal(last->fifths, -4);
    assert_string_equal(score->parts[0].id, "track 2");
    assert_string_equal(score->parts[0].name, "Voice");
}

/* A blank parts words, a hyphen joins, "/" and "\" begin lines. */
static void test_words(void **state)
{
    (void)state;
    GByteArray *hyphens[] = {SUNG(LYRIC, "wa-", "ter-", "fall", "sings")};
    expect_tracks(1, hyphens, 1, "C4@0+1 {1:wa-} D4@1+1 {1:-ter-} E4@2+1 {1:-fall} F4@3+1 {1:sings}");
    GByteArray *blanks[] = {SUNG(LYRIC, "wa", "ter ", "is", " blue\r")};
    expect_tracks(1, blanks, 1, "C4@0+1 {1:wa-} D4@1+1 {1:-ter} E4@2+1 {1:is} F4@3+1 {1:blue}");
    GByteArray *lines[] = {SUNG(TEXT, "\\Sil", "ver ", "moon", "/a", "bove")};
    expect_tracks(1, lines, 1, "C4@0+1 {1:Sil-} D4@1+1 {1:-ver} E4@2+1 {1:moon} F4@3+1 {1:a-} G4@4+1 {1:-bove}");
    GByteArray *breaks[] = {SUNG(LYRIC, "wa", "ter", "blue")};
    midi_put_text(breaks[0], 0, LYRIC, "\n");
    expect_tracks(1, breaks, 1, "C4@0+1 {1:wa} D4@1+1 {1:ter} E4@2+1 {1:blue}");
}

/* Lyric events win over text events; "@" and braces are about the file. */
static void test_which_texts(void **state)
{
    (void)state;
    GByteArray *track = SUNG(LYRIC, "{@LATIN}one", "two");
    midi_put_text(track, 0, TEXT, "made with care");
    GByteArray *tracks[] = {track};
    expect_tracks(1, tracks, 1, "C4@0+1 {1:one} D4@1+1 {1:two}");
    GByteArray *karaoke = g_byte_array_new();
    midi_put_text(karaoke, 0, TEXT, "@T A title");
    midi_put_text(karaoke, 0, TEXT, "\\one");
    midi_put_note(karaoke, 0, 0, 60, 96);
    GByteArray *other[] = {karaoke};
    expect_tracks(1, other, 1, "C4@0+1 {1:one}");
}

/* Words in a track of their own go to the track whose notes begin with them. */
static void test_words_in_their_own_track(void **state)
{
    (void)state;
    GByteArray *words = g_byte_array_new();
    midi_put_text(words, 0, NAME, "Words");
    midi_put_text(words, 48, TEXT, "\\one ");
    midi_put_text(words, 96, TEXT, "two ");
    midi_put_text(words, 96, TEXT, "three");
    GByteArray *piano = g_byte_array_new();
    for (int i = 0; i < 8; i++)
        midi_put_note(piano, i == 0 ? 0 : 96, 1, 48, 96);
    GByteArray *voice = g_byte_array_new();
    for (int i = 0; i < 3; i++)
        midi_put_note(voice, i == 0 ? 48 : 0, 0, 60 + i, 96);
    GByteArray *tracks[] = {words, piano, voice};
    g_autoptr(aperta_score) score = read_tracks(1, 96, tracks, 3);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0.5+1 {1:one} C♯4@1.5+1 {1:two} D4@2.5+1 {1:three}");
    assert_string_equal(score->parts[score->part].id, "track 3");
}

/* Format 0: channels are parts; channel 10 is percussion. */
static void test_format_0(void **state)
{
    (void)state;
    GByteArray *track = g_byte_array_new();
    midi_put_note(track, 0, 9, 35, 10);
    midi_put_note(track, 0, 2, 48, 38);
    midi_put_text(track, 0, LYRIC, "la");
    midi_put_note(track, 0, 0, 60, 48);
    midi_put_text(track, 0, LYRIC, "lo");
    midi_put_note(track, 0, 0, 62, 48);
    GByteArray *tracks[] = {track};
    g_autoptr(aperta_score) score = read_tracks(0, 96, tracks, 1);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0.5+0.5 {1:la} D4@1+0.5 {1:lo}");
    assert_int_equal(score->n_parts, 3);
    assert_string_equal(score->parts[0].id, "channel 1");
    assert_true(score->parts[2].percussion);
}

/* Running status: the status byte of equal events is left out; a note on of velocity 0 is a note off. */
static void test_running_status(void **state)
{
    static const guint8 bytes[] = {0, 0x90, 60, 80, 96, 60, 0, 0, 62, 80, 96, 62, 0};
    (void)state;
    GByteArray *track = g_byte_array_new();
    g_byte_array_append(track, bytes, sizeof bytes);
    GByteArray *tracks[] = {track};

    expect_tracks(0, tracks, 1, "C4@0+1 D4@1+1");
}

/* One voice: a note ends where the next begins; of notes that begin together the highest stays. */
static void test_overlaps(void **state)
{
    static const guint8 bytes[] = {0,  0x90, 60, 80, 0,  64, 80, 0,  55, 80, 96, 67, 80,
                                   10, 60,   0,  0,  64, 0,  0,  55, 0,  38, 67, 0};
    (void)state;
    GByteArray *track = g_byte_array_new();
    g_byte_array_append(track, bytes, sizeof bytes);
    GByteArray *tracks[] = {track};
    g_autoptr(aperta_score) score = read_tracks(0, 96, tracks, 1);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "E4@0+1 G4@1+0.5");
    assert_true(has_remark(score, "Where notes of one voice begin together, the top one was taken (2 places)"));
}

/* SMPTE division: 25 frames a second, 40 ticks a frame are 1000 ticks a second. */
static void test_smpte(void **state)
{
    (void)state;
    GByteArray *track = g_byte_array_new();
    midi_put_meta(track, 0, 0x51, "\x0F\x42\x40", 3); /* a tempo means nothing here */
    midi_put_note(track, 500, 0, 60, 1500);
    GByteArray *tracks[] = {track};
    g_autoptr(aperta_score) score = read_tracks(1, 0xE728, tracks, 1);
    const aperta_score_note *note = &score->notes[0];

    expect_near(note->start_s, 0.5, 1e-9);
    expect_near(note->end_s, 2.0, 1e-9);
    assert_true(has_remark(score, "The file counts film frames"));
}

/* Texts in UTF-8, Windows-1252 with its curly apostrophe, and Shift-JIS (さくら: "82 B3 82 AD 82 E7"). */
static void test_encodings(void **state)
{
    static const struct {
        const char *bytes, *text, *remark;
    } rows[] = {{"fr\xC3\xBCh", "früh", NULL},
                {"fr\xFCh", "früh", "read as Western European"},
                {"don\x92t", "don’t", "read as Western European"},
                {"\x82\xB3\x82\xAD\x82\xE7", "さくら", "read as Japanese (Shift-JIS)"}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        GByteArray *tracks[] = {SUNG(LYRIC, rows[i].bytes)};
        g_autoptr(aperta_score) score = read_tracks(1, 96, tracks, 1);
        const aperta_score_note *note = &score->notes[0];
        assert_string_equal(note->lyrics[0].text, rows[i].text);
        if (rows[i].remark != NULL)
            assert_true(has_remark(score, rows[i].remark));
    }
}

/* A syllable where nothing sounds is told; played notes may be a little off their words. */
static void test_words_beside_notes(void **state)
{
    (void)state;
    GByteArray *track = SUNG(LYRIC, "one ", "two ");
    midi_put_text(track, 960, LYRIC, "lost ");
    midi_put_text(track, 96, LYRIC, "near ");
    midi_put_note(track, 7, 0, 72, 96);
    GByteArray *tracks[] = {track};
    g_autoptr(aperta_score) score = read_tracks(1, 96, tracks, 1);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1 {1:one} D4@1+1 {1:two} C5@13.0729+1 {1:near}");
    assert_true(has_remark(score, "(1 syllable: \"lost\")"));
    assert_int_equal(score->parts[0].n_syllables, 4);
}

static void expect_refused(GBytes *file, const char *message)
{
    gsize n;
    const void *bytes = g_bytes_get_data(file, &n);
    g_autofree char *said = failure_of(bytes, n, APERTA_ERROR_FORMAT);

    if (!g_str_has_prefix(said, message))
        print_message("%s\n", said);
    assert_true(g_str_has_prefix(said, message));
    g_bytes_unref(file);
}

static void test_bad_files(void **state)
{
    static const guint8 stray[] = {0, 60, 80};
    (void)state;
    GByteArray *track = SUNG(LYRIC, "one");
    g_autoptr(GBytes) good = midi_file_of(1, 96, &track, 1);

    expect_refused(g_bytes_new_from_bytes(good, 0, 12), "test: the MIDI file breaks off in its header");
    expect_refused(g_bytes_new_from_bytes(good, 0, g_bytes_get_size(good) - 3),
                   "test: the MIDI file breaks off in track 1");
    expect_refused(midi_file_of(2, 96, &track, 1), "test: this is a MIDI file of format 2, a set of patterns");
    expect_refused(midi_file_of(1, 0, &track, 1), "test: the MIDI file has no unit of time");
    expect_refused(midi_file_of(1, 96, NULL, 0), "test: it holds no music");
    g_byte_array_unref(track);
    GByteArray *damaged = g_byte_array_new();
    g_byte_array_append(damaged, stray, sizeof stray);
    expect_refused(midi_file_of(1, 96, &damaged, 1), "test: track 1 of the MIDI file is damaged");
    g_byte_array_unref(damaged);
    GByteArray *drums = g_byte_array_new();
    midi_put_note(drums, 0, 9, 35, 10);
    expect_refused(midi_file_of(1, 96, &drums, 1), "test: there are no notes with a pitch");
    g_byte_array_unref(drums);
}

/* A note that is held for hours is cut, as it is in every score. */
static void test_long_note(void **state)
{
    (void)state;
    GByteArray *track = g_byte_array_new();
    midi_put_note(track, 0, 0, 60, 2000);
    g_autoptr(aperta_score) score = read_tracks(1, 1, &track, 1);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1000");
    assert_true(has_remark(score, "Notes longer than 1000 quarters are cut there (1 note)"));
}

/* The same event over and over behind the header: refused at the limit, however long the file is. */
static void expect_too_many(const char *event, gsize n_bytes, guint n, const char *message)
{
    g_autoptr(GByteArray) track = g_byte_array_new();
    for (guint i = 0; i < n; i++)
        g_byte_array_append(track, (const guint8 *)event, (guint)n_bytes);
    GByteArray *tracks[] = {track};
    expect_refused(midi_file_of(1, 96, tracks, 1), message);
}

static void test_crowds(void **state)
{
    (void)state;
    expect_too_many("\0\xFF\x05\1a", 5, 50001, "test: it has more than 50000 lyric or text events (export one song)");
    expect_too_many("\0\xFF\x51\3\7\xA1\x20", 7, 100001,
                    "test: it has more than 100000 tempi, meters and keys (export one song)");
    expect_too_many("\0\x90\x40\x40", 4, 1000001, "test: it has more than 1000000 notes (export one song)");
}

/* 60 MB of empty tracks: neither their number nor their size costs time or memory. */
static void test_many_tracks(void **state)
{
    (void)state;
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    g_byte_array_append(bytes, (const guint8 *)"MThd\0\0\0\6\0\1\0\1\0\x60", 14);
    while (bytes->len < 60u << 20)
        g_byte_array_append(bytes, (const guint8 *)"MTrk\0\0\0\0", 8);
    gint64 start_us = g_get_monotonic_time();
    expect_refused(g_bytes_new_static(bytes->data, bytes->len), "test: it has more than 300 tracks (export one song)");
    assert_true(g_get_monotonic_time() - start_us < G_USEC_PER_SEC);
}

/* A key that sounds at the end of a track does not sound in the next one. */
static void test_unended_over_tracks(void **state)
{
    (void)state;
    static const guint8 on[] = {0x90, 60, 80};
    GByteArray *first = g_byte_array_new();
    midi_put(first, 0, on, 3);
    midi_put_text(first, 96, TEXT, "rest");
    GByteArray *second = g_byte_array_new();
    midi_put_note(second, 0, 0, 60, 48);
    midi_put_note(second, 0, 0, 62, 48);
    GByteArray *tracks[] = {first, second};
    g_autoptr(aperta_score) score = read_tracks(1, 96, tracks, 2);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+0.5 D4@0.5+0.5");
    assert_true(has_remark(score, "Notes that nothing ends last to the end of their track (1 note)"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_format_1),
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_which_texts),
        cmocka_unit_test(test_words_in_their_own_track),
        cmocka_unit_test(test_format_0),
        cmocka_unit_test(test_running_status),
        cmocka_unit_test(test_overlaps),
        cmocka_unit_test(test_smpte),
        cmocka_unit_test(test_encodings),
        cmocka_unit_test(test_words_beside_notes),
        cmocka_unit_test(test_bad_files),
        cmocka_unit_test(test_long_note),
        cmocka_unit_test(test_crowds),
        cmocka_unit_test(test_many_tracks),
        cmocka_unit_test(test_unended_over_tracks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
