/* test-score-lyrics.c - syllables, verses, elisions, melismas. Structure rules: W3C MusicXML 4.0, element <lyric>. */
#include "expect.h"
#include "score-reading.h"

#include <string.h>

/* One bar with one quarter for each of the given lyrics (the inside of <note> behind its duration). */
static char *quarters_with(const char *const *lyrics)
{
    GString *notes = g_string_new(NULL);

    for (; *lyrics != NULL; lyrics++) {
        g_autofree char *note = note_xml("C4", 2, NULL, *lyrics);
        g_string_append(notes, note);
    }
    char *text = one_bar(notes->str);
    g_string_free(notes, TRUE);
    return text;
}

/* What the syllables of each note are shown as, notes parted by "|". */
static void expect_lyrics(const char *const *lyrics, const char *expected)
{
    g_autofree char *text = quarters_with(lyrics);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);
    GString *only = g_string_new(NULL);
    gboolean inside = FALSE;

    for (const char *at = shown; *at != '\0'; at++) {
        if (g_str_has_prefix(at, "C4@") && at != shown)
            g_string_append_c(only, '|');
        inside = (inside || *at == '{') && *at != '}';
        if (inside && *at != '{')
            g_string_append_c(only, *at);
    }
    assert_string_equal(only->str, expected);
    g_string_free(only, TRUE);
}

#define LYRICS(...) ((const char *const[]){__VA_ARGS__, NULL})

/* <syllabic>; a note without a lyric, or with an extender only, goes on with the syllable before. */
static void test_words(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric number='1'><syllabic>begin</syllabic><text>Hal</text></lyric>",
                         "<lyric number='1'><syllabic>middle</syllabic><text>le</text></lyric>", "",
                         "<lyric number='1'><syllabic>end</syllabic><text>lu</text><extend type='start'/></lyric>",
                         "<lyric number='1'><extend type='stop'/></lyric>",
                         "<lyric number='1'><syllabic>single</syllabic><text>yes</text><end-line/></lyric>"),
                  "1:Hal-|1:-le-||1:-lu||1:yes");
}

/* <elision>: two syllables on one note; with and without a <syllabic> of its own, and written as one text. */
static void test_elisions(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric><syllabic>end</syllabic><text>to</text><elision>‿</elision>"
                         "<syllabic>begin</syllabic><text>a</text></lyric>",
                         "<lyric><syllabic>end</syllabic><text>mo</text></lyric>",
                         "<lyric><syllabic>single</syllabic><text>che</text><elision> </elision><text>a</text>"
                         "<elision/><text>io</text></lyric>"),
                  "1:-to 1:a-|1:-mo|1:che 1:a 1:io");
    expect_lyrics(LYRICS("<lyric><syllabic>end</syllabic><text>to‿a</text></lyric>",
                         "<lyric><syllabic>begin</syllabic><text>the wa</text></lyric>",
                         "<lyric><syllabic>end</syllabic><text>ter\u00A0is</text></lyric>",
                         "<lyric><syllabic>middle</syllabic><text>a\uE551b\uE550c</text></lyric>"),
                  "1:-to 1:a|1:the 1:wa-|1:-ter 1:is|1:-a 1:b 1:c-");
    /* texts that follow each other without an elision are one syllable in two fonts */
    expect_lyrics(LYRICS("<lyric><syllabic>single</syllabic><text>s</text><text font-style='italic'>un</text></lyric>"),
                  "1:sun");
}

/* Labels and signs without a letter are no syllables of their own. */
static void test_signs_beside_words(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric><text>1. Down</text></lyric>", "<lyric><text>oh !</text></lyric>",
                         "<lyric><text>— ah —</text></lyric>", "<lyric><text>“qu’ il</text></lyric>",
                         "<lyric><text>7</text></lyric>"),
                  "1:1. Down|1:oh !|1:— ah —|1:“qu’ 1:il|1:7");
}

/* Files without <syllabic> tell by hyphens typed into the text. */
static void test_typed_hyphens(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric><text>wa-</text></lyric>", "<lyric><text>ter-</text></lyric>",
                         "<lyric><text>fall</text></lyric>", "<lyric><text>is_</text></lyric>",
                         "<lyric><text>-</text></lyric>", "<lyric><text>_</text></lyric>",
                         "<lyric><text>blue</text></lyric>"),
                  "1:wa-|1:-ter-|1:-fall|1:is|||1:blue");
    expect_lyrics(LYRICS("<lyric><syllabic>single</syllabic><text>wa-</text></lyric>",
                         "<lyric><syllabic>begin</syllabic><text>sil-</text></lyric>",
                         "<lyric><syllabic>end</syllabic><text>-ver</text></lyric>"),
                  "1:wa-|1:sil-|1:-ver");
}

static void test_letters(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric><text>&amp;&#233;&#x3A9;</text></lyric>", "<lyric><text>ﬁnd</text></lyric>",
                         "<lyric><text>so\u00ADft</text></lyric>", "<lyric><text><![CDATA[a<b]]></text></lyric>",
                         "<lyric><text>  wide\n </text></lyric>", "<lyric><text/></lyric>",
                         "<lyric><text> \u00A0 </text></lyric>", "<lyric><text>лу<!-- x -->на</text></lyric>"),
                  "1:&éΩ|1:find|1:soft|1:a<b|1:wide|||1:луна");
}

/* An entity that nobody declares may be in the DTD that is not fetched; the letter is missed, and said. */
static void test_unknown_entity(void **state)
{
    (void)state;
    g_autofree char *inner = quarters_with(LYRICS("<lyric><text>fr&uuml;h</text></lyric>"));
    g_autofree char *text =
        g_strconcat("<!DOCTYPE score-partwise SYSTEM 'partwise.dtd'>", strstr(inner, "<score-partwise"), NULL);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1 {1:fr\uFFFDh}");
    assert_true(has_remark(score, "Letters named by an entity that the file does not know"));
}

/* <humming>, <laughing>: sung, but no text. */
static void test_humming(void **state)
{
    (void)state;
    g_autofree char *text = quarters_with(LYRICS("<lyric><humming/></lyric>", "<lyric><laughing/></lyric>"));
    g_autoptr(aperta_score) score = read_text(text);

    assert_int_equal(score->n_notes, 2);
    assert_true(has_remark(score, "Notes marked as hummed or laughed carry no syllable (2 notes)"));
    assert_true(has_remark(score, "There are no words under the notes"));
    assert_int_equal(score->n_verses, 0);
}

/* The number attribute is a name token, not a number; name tells lines of one number apart. */
static void test_verses(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric number='2'><text>b</text></lyric><lyric number='1'><text>a</text></lyric>",
                         "<lyric number='4'><text>d</text></lyric>"),
                  "1:a 2:b|4:d");
    expect_lyrics(LYRICS("<lyric number='part1verse1'><text>a</text></lyric>"
                         "<lyric number='part1verse2'><text>b</text></lyric>",
                         "<lyric number='part1chorus1'><text>c</text></lyric>"),
                  "1:a 2:b|3:c");
    expect_lyrics(LYRICS("<lyric number='1' name='Verse'><text>a</text></lyric>"
                         "<lyric number='1' name='Chorus'><text>b</text></lyric>",
                         "<lyric number='1' name='Verse'><text>c</text></lyric>"),
                  "1:a 2:b|1:c");
    expect_lyrics(LYRICS("<lyric><text>a</text></lyric><lyric><text>b</text></lyric>", "<lyric><text>c</text></lyric>"),
                  "1:a 2:b|1:c");
    expect_lyrics(LYRICS("<lyric name='chorus'><text>a</text></lyric>", "<lyric number='1000'><text>b</text></lyric>"),
                  "1:a|2:b");
    /* two lyrics of one number and no names: nothing is lost */
    expect_lyrics(LYRICS("<lyric number='1'><text>a</text></lyric><lyric number='1'><text>b</text></lyric>"),
                  "1:a 1:b");
}

static void test_verse_names_are_told(void **state)
{
    (void)state;
    g_autofree char *text = quarters_with(
        LYRICS("<lyric number='1'><text>a</text></lyric>", "<lyric number='chorus'><text>b</text></lyric>"));
    g_autoptr(aperta_score) score = read_text(text);

    assert_int_equal(score->n_verses, 2);
    assert_true(has_remark(score, "The lyric line \"chorus\" is read as verse 2"));
}

static const char *language_of(const aperta_score *score, guint note, guint lyric)
{
    const aperta_score_note *at = &score->notes[note];

    return at->lyrics[lyric].language;
}

/* xml:lang of <text> wins over <lyric-language> of the header, which may be for one line only. */
static void test_languages(void **state)
{
    (void)state;
    g_autofree char *inner = quarters_with(
        LYRICS("<lyric number='1'><text>a</text></lyric><lyric number='2'><text xml:lang='fr'>b</text></lyric>",
               "<lyric number='2'><text>c</text></lyric><lyric number='3'><text>d</text></lyric>"));
    g_autofree char *text = g_strconcat("<score-partwise><defaults><lyric-language number='1' xml:lang='it'/>"
                                        "<lyric-language number='2' xml:lang='de-AT'/></defaults>",
                                        strstr(inner, "<part-list>"), NULL);
    g_autoptr(aperta_score) score = read_text(text);

    assert_string_equal(language_of(score, 0, 0), "it");
    assert_string_equal(language_of(score, 0, 1), "fr");
    assert_string_equal(language_of(score, 1, 0), "de-AT");
    assert_null(language_of(score, 1, 1));
}

/* Each note of a chord may have a lyric: all go to the note that is sung. */
static void test_chord_lyrics(void **state)
{
    (void)state;
    expect_lyrics(LYRICS("<lyric number='1'><text>a</text></lyric>", "<chord/><lyric number='2'><text>b</text></lyric>",
                         "<chord/><lyric number='1'><text>a</text></lyric><lyric number='3'><text>c</text></lyric>"),
                  "1:a 2:b 3:c");
}

/* A text far too long for a note is cut, not refused. */
static void test_long_text(void **state)
{
    (void)state;
    g_autofree char *many = g_strnfill(5000, 'a');
    g_autofree char *lyric = g_strconcat("<lyric><text>ü", many, "</text></lyric>", NULL);
    g_autofree char *text = quarters_with(LYRICS(lyric));
    g_autoptr(aperta_score) score = read_text(text);

    assert_true(has_remark(score, "Lyrics much too long for a note are cut (1 place)"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_elisions),
        cmocka_unit_test(test_signs_beside_words),
        cmocka_unit_test(test_typed_hyphens),
        cmocka_unit_test(test_letters),
        cmocka_unit_test(test_unknown_entity),
        cmocka_unit_test(test_humming),
        cmocka_unit_test(test_verses),
        cmocka_unit_test(test_verse_names_are_told),
        cmocka_unit_test(test_languages),
        cmocka_unit_test(test_chord_lyrics),
        cmocka_unit_test(test_long_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
