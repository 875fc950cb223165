/* test-score-bad.c - files that are damaged, hostile, or no scores: a message, never a crash, never much memory. */
#include "expect.h"
#include "score-files.h"
#include "score-reading.h"
#include "score/score-private.h"

#include <aperta/words.h>
#include <glib/gstdio.h>
#include <string.h>

static void expect_failure(const char *text, const char *message)
{
    g_autofree char *said = failure_of(text, strlen(text), APERTA_ERROR_FORMAT);

    if (!g_str_has_prefix(said, message))
        print_message("%s\n", said);
    assert_true(g_str_has_prefix(said, message));
}

static void expect_archive_failure(GBytes *archive, const char *message)
{
    gsize n;
    const void *bytes = g_bytes_get_data(archive, &n);
    g_autofree char *said = failure_of(bytes, n, APERTA_ERROR_FORMAT);

    if (!g_str_has_prefix(said, message))
        print_message("%s\n", said);
    assert_true(g_str_has_prefix(said, message));
    g_bytes_unref(archive);
}

static void test_no_score(void **state)
{
    (void)state;
    g_autofree char *empty = failure_of("", 0, APERTA_ERROR_FORMAT);
    assert_string_equal(empty, "test: the file is empty (export the score again)");
    g_autofree char *picture = failure_of("\x89PNG\r\n\x1a\n\0\0", 10, APERTA_ERROR_FORMAT);
    assert_true(g_str_has_prefix(picture, "test: this is no score that can be read"));
    expect_failure("<html><body/></html>", "test: this XML is no MusicXML score: it begins with <html>");
    expect_failure("<opus><score/></opus>", "test: this XML is no MusicXML score: it begins with <opus>");
    expect_failure("<score-partwise></score-partwise>", "test: it holds no music");
    expect_failure("<score-partwise><part-list><score-part id='P1'><part-name>A</part-name></score-part></part-list>"
                   "<part id='P1'></part></score-partwise>",
                   "test: there are no notes with a pitch (a sung part is needed)");
}

/* The name says what it should be. */
static void test_wrong_names(void **state)
{
    static const char *const names[] = {"song.musicxml", "song.XML", "song.mxl", "song.mid"};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autoptr(GError) error = NULL;
        assert_null(score_read_bytes(names[i], "moon\nC4\n", 8, NULL, &error));
        assert_non_null(strstr(error->message, "but its content is none"));
    }
}

/* Cut anywhere, a score is refused with the line where it breaks off. */
static void test_truncated(void **state)
{
    (void)state;
    g_autofree char *note = note_xml("C4", 2, "la", NULL);
    g_autofree char *lines = g_strconcat("\n", note, "\n", note, "\n", NULL);
    g_autofree char *text = one_bar(lines);

    for (gsize n = strlen(text) - 1; n > 60; n -= 37) {
        g_autofree char *said = failure_of(text, n, APERTA_ERROR_FORMAT);
        assert_true(g_str_has_prefix(said, "test:1: damaged XML: ") ||
                    g_str_has_prefix(said, "test:2: damaged XML: ") ||
                    g_str_has_prefix(said, "test:3: damaged XML: ") || g_str_has_prefix(said, "test:4: damaged XML: "));
    }
}

/* The text says UTF-8 and is not; an encoding that nobody knows. */
static void test_wrong_encoding(void **state)
{
    (void)state;
    g_autofree char *note = note_xml("C4", 2, "fr\xFCh", NULL);
    g_autofree char *text = one_bar(note);

    expect_failure(text, "test:1: damaged XML: Input is not proper UTF-8");
    expect_failure("<?xml version='1.0' encoding='xx'?><score-partwise/>", "test:1: damaged XML:");
}

#define WITH_DOCTYPE(subset, text)                                                                                     \
    "<!DOCTYPE score-partwise [" subset "]><score-partwise><part-list><score-part id='P1'><part-name>" text            \
    "</part-name></score-part></part-list><part id='P1'><measure number='1'><note><pitch><step>C</step>"               \
    "<octave>4</octave></pitch><duration>1</duration></note></measure></part></score-partwise>"

/* Entities that explode, that name a file, that name a network place, parameter entities: refused by us or by libxml2,
 * and nothing of the file is read. */
static void test_entities(void **state)
{
    static const char *const texts[] = {
        WITH_DOCTYPE("<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;'>"
                     "<!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;'><!ENTITY d '&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;'>"
                     "<!ENTITY e '&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;'><!ENTITY f '&e;&e;&e;&e;&e;&e;&e;&e;&e;&e;'>"
                     "<!ENTITY g '&f;&f;&f;&f;&f;&f;&f;&f;&f;&f;'>",
                     "&g;"),
        WITH_DOCTYPE("<!ENTITY x 'moon'>", "&x;"),
        WITH_DOCTYPE("<!ENTITY x SYSTEM 'file:///etc/passwd'>", "&x;"),
        WITH_DOCTYPE("<!ENTITY x SYSTEM 'http://localhost:9/x'>", "&x;"),
        WITH_DOCTYPE("<!ENTITY % p SYSTEM 'file:///etc/passwd'> %p; <!ENTITY y 'z'>", "x"),
    };
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_autofree char *said = failure_of(texts[i], strlen(texts[i]), APERTA_ERROR_FORMAT);
        assert_true(strstr(said, "it declares XML entities of its own") != NULL ||
                    strstr(said, "entity reference loop") != NULL);
        assert_null(strstr(said, "root:"));
    }
}

/* 50 MB of opening tags, and a nesting that is only too deep: refused at once. */
static void test_nesting(void **state)
{
    (void)state;
    g_autoptr(GString) text = g_string_new("<score-partwise><part-list/><part id='P1'><measure><note>");

    while (text->len < 50u << 20)
        g_string_append(text, "<a><a><a><a><a><a><a><a><a><a>");
    gint64 start_us = g_get_monotonic_time();
    expect_failure(text->str, "test: there are too many elements in one place for a score");
    g_string_truncate(text, 1000);
    expect_failure(text->str, "test:1: damaged XML: Excessive depth in document");
    assert_true(g_get_monotonic_time() - start_us < 20 * G_USEC_PER_SEC);
}

/* Files that would make a parser slow or large for their size. */
static void test_crowds(void **state)
{
    static const char *const encodings[] = {"UTF-8", "UTF-16"};
    (void)state;
    g_autoptr(GString) dots = g_string_new("<score-partwise><part id='P1'><measure><note>");
    g_autoptr(GString) attributes = g_string_new("<score-partwise><part id='P1'><measure><note");
    for (int i = 0; i < 60000; i++)
        g_string_append(dots, "<dot/>");
    for (int i = 0; i < 600; i++)
        g_string_append_printf(attributes, " a%d='>'", i);
    g_string_append_c(attributes, '>');

    for (gsize i = 0; i < G_N_ELEMENTS(encodings); i++) {
        gsize n;
        g_autofree char *crowd = g_convert(dots->str, -1, encodings[i], "UTF-8", NULL, &n, NULL);
        g_autofree char *said = failure_of(crowd, n, APERTA_ERROR_FORMAT);
        assert_true(g_str_has_prefix(said, "test: there are too many elements in one place for a score"));
    }
    expect_failure(attributes->str, "test: there are too many attributes in one place for a score");
    gsize n;
    g_autofree char *wide = g_convert("<score-partwise/>", -1, "UTF-32", "UTF-8", NULL, &n, NULL);
    g_autofree char *said = failure_of(wide, n, APERTA_ERROR_FORMAT);
    assert_string_equal(said, "test: its encoding UTF-32 is unusual and not read (save it as UTF-8)");
    expect_failure("<?xml version='1.0' encoding='UTF-7'?><score-partwise/>",
                   "test: its encoding UTF-7 is unusual and not read");
}

/* Equal signs in comments, texts, instructions and values are no attributes; quotes in them close nothing. */
static void test_equal_signs(void **state)
{
    static const char *const encodings[] = {"UTF-8", "UTF-16LE", "UTF-16BE"};
    (void)state;
    g_autofree char *signs = g_strnfill(2000, '=');
    g_autofree char *text = g_strdup_printf(
        "<score-partwise><!-- don't %s > <a --><?x don't %s > "
        "?><work><work-title>\"%s\"</work-title></work><part-list/>"
        "<part "
        "id='%s'><measure><note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><lyric><text>"
        "<![CDATA[don't%s]]></text></lyric></note></measure></part></score-partwise>",
        signs, signs, signs, signs, signs);

    g_autoptr(aperta_score) score = read_text(text);
    assert_int_equal(score->n_notes, 1);
    assert_int_equal(strlen(score->title), 2002);
    for (gsize i = 0; i < G_N_ELEMENTS(encodings); i++) {
        g_autoptr(GString) tag = g_string_new(text);
        /* U+223E and U+3E22 hold the bytes of a quote and of an end of a tag */
        g_string_append(tag, "<!-- \" --><note b='\u223E\u3E22'");
        for (int k = 0; k < 600; k++)
            g_string_append_printf(tag, " a%d='>'", k);
        gsize n;
        g_autofree char *bytes = g_convert(tag->str, -1, encodings[i], "UTF-8", NULL, &n, NULL);
        g_autofree char *said = failure_of(bytes, n, APERTA_ERROR_FORMAT);
        assert_true(g_str_has_prefix(said, "test: there are too many attributes in one place for a score"));
    }
}

/* Octaves far off, with the transposition that takes them farthest: the note is left out. A written octave of 0 to 9:
 * W3C MusicXML 4.0, type octave. */
static void test_octaves(void **state)
{
    static const char *const octaves[] = {"-20", "-2", "11", "20", "1e9"};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(octaves); i++) {
        g_autofree char *notes = g_strdup_printf(
            "<attributes><transpose><diatonic>-35</diatonic><chromatic>-60</chromatic><octave-change>-5</octave-change>"
            "</transpose></attributes><note><pitch><step>C</step><octave>%s</octave></pitch><duration>1</duration>"
            "</note><note><pitch><step>C</step><octave>-1</octave></pitch><duration>1</duration></note>"
            "<note><pitch><step>C</step><octave>10</octave></pitch><duration>1</duration></note>",
            octaves[i]);
        g_autofree char *text = one_bar(notes);
        g_autoptr(aperta_score) score = read_text(text);
        g_autofree char *shown = show(score);
        assert_string_equal(shown, "C0@1+0.5");
        assert_true(has_remark(score, "Notes without a pitch that can be read are left out (1 note)"));
        assert_true(has_remark(score, "Notes outside C-1 to G9 are left out (1 note)"));
    }
}

/* A name that every note or syllable repeats would fill the memory if it were long: cut between two letters. */
static void test_long_names(void **state)
{
    (void)state;
    g_autoptr(GString) name = g_string_new("a");
    while (name->len < 100000)
        g_string_append(name, "ü");
    g_autofree char *header = g_strdup_printf("<defaults><lyric-language xml:lang='%s'/></defaults>", name->str);
    g_autofree char *music = g_strdup_printf(
        "<part id='%s'><measure number='%s'><note><pitch><step>C</step><octave>4</octave></pitch>"
        "<duration>1</duration><voice>%s</voice><lyric number='%s'><text>la</text></lyric></note></measure></part>",
        name->str, name->str, name->str, name->str);
    g_autofree char *text = g_strconcat("<score-partwise>", header, "<part-list/>", music, "</score-partwise>", NULL);
    g_autoptr(aperta_score) score = read_text(text);
    const aperta_lyric *lyric = &note_of(score, 0)->lyrics[0];
    const char *kept[] = {lyric->language, note_of(score, 0)->bar, score->parts[0].id};

    for (gsize i = 0; i < G_N_ELEMENTS(kept); i++) {
        assert_int_equal(strlen(kept[i]), 199);
        assert_true(g_utf8_validate(kept[i], -1, NULL));
    }
    for (guint i = 0; i < score->n_remarks; i++) {
        g_autofree char *sentence = aperta_score_remark_text(&score->remarks[i]);
        assert_true(strlen(sentence) < 400);
    }
    g_autofree char *song = g_strdup_printf("language: %s\nla\nC4\n", name->str);
    g_autoptr(aperta_score) typed = read_text(song);
    lyric = &note_of(typed, 0)->lyrics[0];
    assert_int_equal(strlen(lyric->language), 199);
}

/* Once there are too many lines of lyrics, those that are known are still told apart. */
static void test_many_lyric_lines(void **state)
{
    (void)state;
    g_autoptr(GString) notes = g_string_new(NULL);
    for (int i = 1; i <= 205; i++)
        g_string_append_printf(notes,
                               "<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration>"
                               "<lyric number='%d'><text>la</text></lyric></note>",
                               i);
    g_string_append(notes, "<note><pitch><step>D</step><octave>4</octave></pitch><duration>1</duration>"
                           "<lyric number='50'><text>last</text></lyric></note>");
    g_autofree char *text = one_bar(notes->str);
    g_autoptr(aperta_score) score = read_text(text);
    const aperta_lyric *last = &note_of(score, 205)->lyrics[0];

    assert_int_equal(last->verse, 50);
    assert_true(has_remark(score, "More lines of lyrics than can be told apart; the rest count as one (5 lyrics)"));
}

/* And so with voices, also those that move to another staff. */
static void test_many_voices(void **state)
{
    (void)state;
    g_autoptr(GString) notes = g_string_new(NULL);
    for (int i = 1; i <= 103; i++)
        g_string_append_printf(notes,
                               "<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration>"
                               "<voice>%d</voice></note>",
                               i);
    g_string_append(notes, "<note><pitch><step>D</step><octave>4</octave></pitch><duration>1</duration>"
                           "<voice>50</voice></note><note><pitch><step>E</step><octave>4</octave></pitch>"
                           "<duration>1</duration><voice>50</voice><staff>2</staff></note>");
    g_autofree char *text = one_bar(notes->str);
    g_autoptr(aperta_score) known = read_text_with(text, "P1/50", 0);
    g_autofree char *shown = show(known);
    g_autoptr(aperta_score) first = read_text_with(text, "P1/1", 0);

    assert_string_equal(shown, "C4@24.5+0.5 D4@51.5+0.5");
    assert_int_equal(first->n_notes, 1 + 3 + 1);
    assert_true(has_remark(first, "More voices than can be told apart; the rest count as the first (4 notes)"));
}

static void test_archives(void **state)
{
    (void)state;
    g_autoptr(GBytes) words = g_bytes_new_static("hello", 5);
    g_autoptr(GBytes) wrong = g_bytes_new_static("<html/>", 7);
    GBytes *broken = mxl_of("<score-partwise/>");

    expect_archive_failure(zip_of("readme.txt", words, NULL), "test: there is no score in this zip archive");
    expect_archive_failure(zip_of("a.xml", wrong, NULL), "test: this XML is no MusicXML score: it begins with <html>");
    expect_archive_failure(g_bytes_new_from_bytes(broken, 0, g_bytes_get_size(broken) / 2),
                           "test: damaged zip archive");
    g_bytes_unref(broken);
    expect_archive_failure(g_bytes_new("PK\3\4garbage", 11), "test: damaged zip archive");
}

/* 200 MB of blanks zip to 200 kB; no more than the limit is unzipped. */
static void test_zip_bomb(void **state)
{
    (void)state;
    gsize n = 200u << 20;
    g_autofree char *blanks = g_malloc(n);
    memset(blanks, ' ', n);
    g_autoptr(GBytes) content = g_bytes_new_static(blanks, n);
    GBytes *archive = zip_of("score.xml", content, NULL);

    assert_true(g_bytes_get_size(archive) < 1u << 20);
    expect_archive_failure(archive, "test: unzipped larger than 64 MB, which no score is (export one song)");
}

/* A good archive, and one whose container names nothing. */
static void test_good_archives(void **state)
{
    (void)state;
    g_autofree char *note = note_xml("C4", 2, "la", NULL);
    g_autofree char *text = one_bar(note);
    g_autoptr(GBytes) score = g_bytes_new_static(text, strlen(text));
    g_autoptr(GBytes) container = g_bytes_new_static("<container/>", 12);
    GBytes *archives[] = {mxl_of(text), zip_of("META-INF/container.xml", container, "song.musicxml", score, NULL),
                          zip_of("song.xml", score, NULL)};

    for (gsize i = 0; i < G_N_ELEMENTS(archives); i++) {
        gsize n;
        const void *bytes = g_bytes_get_data(archives[i], &n);
        g_autoptr(aperta_score) read = score_read_bytes("song.mxl", bytes, n, NULL, NULL);
        assert_non_null(read);
        g_autofree char *shown = show(read);
        assert_string_equal(shown, "C4@0+1 {1:la}");
        g_bytes_unref(archives[i]);
    }
}

/* Words on a percussion staff: the part with pitches is read; alone, it is refused. */
static void test_percussion(void **state)
{
    static const char drums[] = "<part id='P1'><measure number='1'><attributes><clef><sign>percussion</sign></clef>"
                                "</attributes><note><unpitched/><duration>1</duration><lyric><text>boom</text></lyric>"
                                "</note></measure></part>";
    (void)state;
    g_autofree char *alone = g_strconcat("<score-partwise><part-list/>", drums, "</score-partwise>", NULL);
    expect_failure(alone, "test: there are no notes with a pitch (a sung part is needed)");
    g_autofree char *both =
        g_strconcat("<score-partwise><part-list/>", drums,
                    "<part id='P2'><measure number='1'><note><pitch><step>C</step><octave>4</octave>"
                    "</pitch><duration>1</duration></note></measure></part></score-partwise>",
                    NULL);
    g_autoptr(aperta_score) score = read_text(both);
    assert_int_equal(score->part, 1);
    assert_true(score->parts[0].percussion);
    assert_true(has_remark(score, "This part has no words; other parts have some"));
}

/* No words at all: still the pitches, and said. */
static void test_no_words(void **state)
{
    (void)state;
    g_autofree char *note = note_xml("C4", 2, NULL, NULL);
    g_autofree char *text = one_bar(note);
    g_autoptr(aperta_score) score = read_text(text);

    assert_int_equal(score->n_verses, 0);
    assert_int_equal(score->n_notes, 1);
    assert_true(has_remark(score, "There are no words under the notes"));
}

static void test_files(void **state)
{
    (void)state;
    g_autoptr(GError) error = NULL;
    assert_null(aperta_score_read("no-such-song.musicxml", NULL, &error));
    assert_int_equal(error->code, APERTA_ERROR_NOT_FOUND);
    g_clear_error(&error);
    assert_null(aperta_score_read(TEST_SOURCE_DIR, NULL, &error));
    assert_int_equal(error->code, APERTA_ERROR_FORMAT);
    assert_non_null(strstr(error->message, "this is a folder"));
    g_clear_error(&error);
    assert_null(aperta_score_read("/dev/zero", NULL, &error));
    assert_int_equal(error->code, APERTA_ERROR_FORMAT);
    assert_non_null(strstr(error->message, "larger than 64 MB, which no score is"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_score),
        cmocka_unit_test(test_wrong_names),
        cmocka_unit_test(test_truncated),
        cmocka_unit_test(test_wrong_encoding),
        cmocka_unit_test(test_entities),
        cmocka_unit_test(test_nesting),
        cmocka_unit_test(test_crowds),
        cmocka_unit_test(test_archives),
        cmocka_unit_test(test_zip_bomb),
        cmocka_unit_test(test_good_archives),
        cmocka_unit_test(test_percussion),
        cmocka_unit_test(test_no_words),
        cmocka_unit_test(test_files),
        cmocka_unit_test(test_equal_signs),
        cmocka_unit_test(test_octaves),
        cmocka_unit_test(test_long_names),
        cmocka_unit_test(test_many_lyric_lines),
        cmocka_unit_test(test_many_voices),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
