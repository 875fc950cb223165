/* test-score-marked.c - the marked copy: the input plus one lyric line, and nothing else. Truth: the canonical form of
 * XML (W3C Canonical XML 1.0, by libxml2) of the input, and of the copy once the added lyrics are taken out. */
#include "expect.h"
#include "score-files.h"
#include "score-reading.h"

#include <glib/gstdio.h>
#include <libxml/c14n.h>
#include <libxml/parser.h>
#include <string.h>

/* Behind %s the encoding. Comments, processing instructions, CDATA, entities, attributes in odd quotes, <play>. */
#define RICH_SCORE                                                                                                     \
    "<?xml version=\"1.0\" encoding=\"%s\" standalone=\"no\"?>\n<?style none?>\n<!-- before -->\n"                     \
    "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "                                 \
    "\"http://www.musicxml.org/dtds/partwise.dtd\">\n"                                                                 \
    "<score-partwise version='4.0'>\n  <part-list><score-part id=\"P1\"><part-name>fr&#252;h &amp; sp\u00E4t"          \
    "</part-name></score-part></part-list>\n  <part id=\"P1\">\n    <measure number=\"1\">\n"                          \
    "      <attributes><divisions>2</divisions></attributes>\n"                                                        \
    "      <note default-x='12.5'>\n        <pitch><step>C</step><octave>4</octave></pitch><duration>2</duration>\n"   \
    "        <voice>1</voice><notations><fermata/></notations>\n"                                                      \
    "        <lyric number=\"1\" default-y=\"-80\" placement=\"below\" justify=\"left\"><syllabic>single</syllabic>"   \
    "<text><![CDATA[la]]></text></lyric>\n"                                                                            \
    "        <lyric number=\"2\" default-y=\"-98\"><text>lo</text></lyric>\n        <play><mute>on</mute></play>\n"    \
    "      </note>\n      <note><!-- bare --><pitch><step>D</step><octave>4</octave></pitch><duration>2</duration>"    \
    "</note>\n      <note><pitch><step>E</step><octave>4</octave></pitch><duration>2</duration><notations/>"           \
    "<listen/></note>\n    </measure>\n  </part>\n</score-partwise>\n<?after it?>\n"

typedef struct {
    char *dir; /* of this test alone */
    char *path;
    GBytes *input; /* the XML itself */
} song_file;

static song_file write_song(const char *name, const void *bytes, gsize n, GBytes *xml)
{
    song_file file = {.dir = g_dir_make_tmp("aperta-test-XXXXXX", NULL), .input = g_bytes_ref(xml)};

    assert_non_null(file.dir);
    file.path = g_build_filename(file.dir, name, NULL);
    assert_true(g_file_set_contents(file.path, bytes, (gssize)n, NULL));
    return file;
}

static void clear_song(song_file *file)
{
    g_unlink(file->path);
    g_rmdir(file->dir);
    g_free(file->path);
    g_free(file->dir);
    g_bytes_unref(file->input);
}

static GBytes *in_encoding(const char *text, const char *encoding)
{
    gsize n;
    char *bytes = g_convert(text, -1, encoding, "UTF-8", NULL, &n, NULL);

    assert_non_null(bytes);
    return g_bytes_new_take(bytes, n);
}

static xmlDoc *parse(GBytes *bytes)
{
    gsize n;
    const char *text = g_bytes_get_data(bytes, &n);
    xmlDoc *doc = xmlReadMemory(text, (int)n, NULL, NULL, XML_PARSE_NONET);

    assert_non_null(doc);
    return doc;
}

static char *canonical(xmlDoc *doc)
{
    xmlChar *text = NULL;

    assert_true(xmlC14NDocDumpMemory(doc, NULL, XML_C14N_1_0, NULL, 1, &text) > 0);
    char *copy = g_strdup((const char *)text);
    xmlFree(text);
    return copy;
}

/* Takes out the lyrics of that number; returns how many. */
static guint remove_lyrics(xmlNode *node, const char *number)
{
    guint n = 0;

    for (xmlNode *child = node->children; child != NULL;) {
        xmlNode *next = child->next;
        xmlChar *its = child->type == XML_ELEMENT_NODE ? xmlGetNoNsProp(child, BAD_CAST "number") : NULL;
        if (child->type == XML_ELEMENT_NODE && xmlStrEqual(child->name, BAD_CAST "lyric") &&
            xmlStrEqual(its, BAD_CAST number)) {
            xmlUnlinkNode(child);
            xmlFreeNode(child);
            n++;
        } else if (child->type == XML_ELEMENT_NODE) {
            n += remove_lyrics(child, number);
        }
        xmlFree(its);
        child = next;
    }
    return n;
}

static GBytes *marked_copy(const char *path, const aperta_score_mark *marks, gsize n_marks)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_score) score = aperta_score_read(path, NULL, &error);
    assert_non_null(score);
    GBytes *bytes = aperta_score_write_marked(path, score, marks, n_marks, &error);

    if (bytes == NULL)
        print_message("%s\n", error->message);
    assert_non_null(bytes);
    return bytes;
}

static aperta_score_mark marks_of_rich[] = {{0, (char *)"ɔ"}, {1, (char *)"a<b"}, {2, (char *)"früh"}};

static void expect_only_added(song_file *file, const char *number, const aperta_score_mark *marks, guint n_marks)
{
    g_autoptr(GBytes) copy = marked_copy(file->path, marks, n_marks);
    xmlDoc *before = parse(file->input);
    xmlDoc *after = parse(copy);

    assert_int_equal(remove_lyrics((xmlNode *)after, number), n_marks);
    g_autofree char *expected = canonical(before);
    g_autofree char *found = canonical(after);
    assert_string_equal(found, expected);
    if (before->intSubset != NULL) {
        assert_non_null(after->intSubset);
        assert_string_equal((const char *)after->intSubset->ExternalID, (const char *)before->intSubset->ExternalID);
        assert_string_equal((const char *)after->intSubset->SystemID, (const char *)before->intSubset->SystemID);
    }
    if (before->standalone >= 0) /* written */
        assert_int_equal(after->standalone, before->standalone);
    if (before->encoding != NULL && g_ascii_strncasecmp((const char *)before->encoding, "UTF-16", 6) != 0)
        assert_string_equal((const char *)after->encoding, (const char *)before->encoding);
    xmlFreeDoc(before);
    xmlFreeDoc(after);
}

static void test_nothing_else_changes(void **state)
{
    static const char *const encodings[] = {"UTF-8", "ISO-8859-1", "UTF-16"};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(encodings); i++) {
        g_autofree char *text = g_strdup_printf(RICH_SCORE, encodings[i]);
        g_autoptr(GBytes) bytes = in_encoding(text, encodings[i]);
        song_file file =
            write_song("aperta-marked.musicxml", g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes), bytes);
        expect_only_added(&file, "3", marks_of_rich, 3);
        clear_song(&file);
    }
}

static void test_compressed(void **state)
{
    (void)state;
    g_autofree char *text = g_strdup_printf(RICH_SCORE, "UTF-8");
    g_autoptr(GBytes) xml = g_bytes_new_static(text, strlen(text));
    g_autoptr(GBytes) archive = mxl_of(text);
    song_file file = write_song("aperta-marked.mxl", g_bytes_get_data(archive, NULL), g_bytes_get_size(archive), xml);

    expect_only_added(&file, "3", marks_of_rich, 3);
    clear_song(&file);
}

static void test_timewise(void **state)
{
    static const char text[] = "<score-timewise><part-list><score-part id='A'><part-name>a</part-name></score-part>"
                               "</part-list><measure number='1'><part id='A'><note><pitch><step>C</step>"
                               "<octave>4</octave></pitch><duration>1</duration></note></part></measure>"
                               "<measure number='2'><part id='A'><note><pitch><step>D</step><octave>4</octave></pitch>"
                               "<duration>1</duration></note></part></measure></score-timewise>";
    (void)state;
    g_autoptr(GBytes) xml = g_bytes_new_static(text, sizeof text - 1);
    song_file file = write_song("aperta-marked.xml", text, sizeof text - 1, xml);
    aperta_score_mark marks[] = {{1, (char *)"oh"}};
    g_autoptr(GBytes) copy = marked_copy(file.path, marks, 1);
    g_autofree char *copied = g_strndup(g_bytes_get_data(copy, NULL), g_bytes_get_size(copy));

    assert_non_null(strstr(copied, "<step>D</step><octave>4</octave></pitch><duration>1</duration><lyric number=\"1\" "
                                   "name=\"Aperta marks\"><syllabic>single</syllabic><text>oh</text></lyric></note>"));
    expect_only_added(&file, "1", marks, 1);
    clear_song(&file);
}

/* Order of the children of <note> (W3C MusicXML 4.0, element <note>), as far as used here. */
static void expect_order(const xmlNode *note)
{
    static const char *const order[] = {"grace", "chord", "pitch",     "duration", "tie",  "voice",
                                        "type",  "staff", "notations", "lyric",    "play", "listen"};
    gsize at = 0;

    for (const xmlNode *child = note->children; child != NULL; child = child->next) {
        if (child->type != XML_ELEMENT_NODE)
            continue;
        while (at < G_N_ELEMENTS(order) && strcmp(order[at], (const char *)child->name) != 0)
            at++;
        assert_true(at < G_N_ELEMENTS(order));
    }
}

static void expect_orders_below(const xmlNode *node)
{
    for (const xmlNode *child = node->children; child != NULL; child = child->next) {
        if (child->type != XML_ELEMENT_NODE)
            continue;
        if (strcmp((const char *)child->name, "note") == 0)
            expect_order(child);
        else
            expect_orders_below(child);
    }
}

/* The new line stands in its place, below the others at their distance, and like them. */
static void test_place_of_the_line(void **state)
{
    (void)state;
    g_autofree char *text = g_strdup_printf(RICH_SCORE, "UTF-8");
    g_autoptr(GBytes) xml = g_bytes_new_static(text, strlen(text));
    song_file file = write_song("aperta-marked.musicxml", text, strlen(text), xml);
    g_autoptr(GBytes) copy = marked_copy(file.path, marks_of_rich, 3);
    g_autofree char *copied = g_strndup(g_bytes_get_data(copy, NULL), g_bytes_get_size(copy));
    xmlDoc *doc = parse(copy);

    expect_orders_below((xmlNode *)doc);
    assert_non_null(strstr(
        copied, "<lyric number=\"3\" name=\"Aperta marks\" default-y=\"-116.00\" placement=\"below\" justify=\"left\">"
                "<syllabic>single</syllabic><text>ɔ</text></lyric>\n        <play>"));
    assert_non_null(strstr(copied, "<notations/><lyric number=\"3\""));
    xmlFreeDoc(doc);
    clear_song(&file);
}

static void test_number_of_the_line(void **state)
{
    (void)state;
    g_autofree char *note = note_xml("C4", 2, NULL,
                                     "<lyric number='chorus'><text>a</text></lyric>"
                                     "<lyric number='2'><text>b</text></lyric>");
    g_autofree char *text = one_bar(note);
    g_autoptr(GBytes) xml = g_bytes_new_static(text, strlen(text));
    song_file file = write_song("aperta-marked.musicxml", text, strlen(text), xml);

    expect_only_added(&file, "4", marks_of_rich, 1);
    clear_song(&file);
}

/* A marked copy is read as the song it was made of, and marked again it has the new marks only; one without marks is
 * the input again. Ours by definition (aperta-sheet(1)); the input, by its canonical form. */
static void test_marked_again(void **state)
{
    (void)state;
    g_autofree char *text = g_strdup_printf(RICH_SCORE, "UTF-8");
    g_autoptr(GBytes) xml = g_bytes_new_static(text, strlen(text));
    song_file file = write_song("aperta-original.musicxml", text, strlen(text), xml);
    g_autoptr(GBytes) copy = marked_copy(file.path, marks_of_rich, 3);
    song_file marked = write_song("aperta-marked.musicxml", g_bytes_get_data(copy, NULL), g_bytes_get_size(copy), xml);
    g_autoptr(aperta_score) before = aperta_score_read(file.path, NULL, NULL);
    g_autoptr(aperta_score) after = aperta_score_read(marked.path, NULL, NULL);

    g_autofree char *expected = show(before);
    g_autofree char *found = show(after);
    assert_string_equal(found, expected);
    assert_int_equal(after->n_verses, before->n_verses);
    assert_int_equal(after->n_remarks, before->n_remarks + 1);
    assert_true(has_remark(after, "Marks of an earlier run of aperta are not read as words (3 marks)"));
    expect_only_added(&marked, "3", marks_of_rich, 1);
    expect_only_added(&marked, "3", NULL, 0);
    clear_song(&marked);
    clear_song(&file);
}

static void test_refusals(void **state)
{
    static const char words[] = "moon\nC4\n";
    (void)state;
    g_autoptr(GError) error = NULL;
    g_autoptr(GBytes) bytes = g_bytes_new_static(words, sizeof words - 1);
    song_file text_file = write_song("aperta-marked.txt", words, sizeof words - 1, bytes);
    g_autoptr(aperta_score) score = aperta_score_read(text_file.path, NULL, NULL);
    assert_non_null(score);
    assert_null(aperta_score_write_marked(text_file.path, score, marks_of_rich, 1, &error));
    assert_int_equal(error->code, APERTA_ERROR_FORMAT);
    assert_non_null(strstr(error->message, "only a MusicXML score can be marked"));
    g_clear_error(&error);
    clear_song(&text_file);

    g_autofree char *note = note_xml("C4", 2, "la", NULL);
    g_autofree char *text = one_bar(note);
    song_file file = write_song("aperta-marked.musicxml", text, strlen(text), bytes);
    aperta_score_mark bad[] = {{7, (char *)"aw"}, {0, (char *)""}, {0, (char *)"a\x01"}};
    for (gsize i = 0; i < G_N_ELEMENTS(bad); i++) {
        assert_null(aperta_score_write_marked(file.path, score, &bad[i], 1, &error));
        assert_int_equal(error->code, APERTA_ERROR_RANGE);
        g_clear_error(&error);
    }
    assert_null(aperta_score_write_marked("no-such-song.xml", score, bad, 1, &error));
    assert_int_equal(error->code, APERTA_ERROR_NOT_FOUND);
    clear_song(&file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nothing_else_changes),
        cmocka_unit_test(test_compressed),
        cmocka_unit_test(test_timewise),
        cmocka_unit_test(test_place_of_the_line),
        cmocka_unit_test(test_number_of_the_line),
        cmocka_unit_test(test_marked_again),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
