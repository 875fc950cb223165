/* make-score.c - make-score KIND FILE: the scores that the dialogues of tests/cli read, good and bad. Words and tunes
 * are made up. */
#include <glib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <zip.h>

#define PART_LIST "<part-list><score-part id=\"P1\"><part-name>Voice</part-name></score-part></part-list>"
#define START     "<part id=\"P1\"><measure number=\"1\"><attributes><divisions>1</divisions>"
#define END       "</measure></part></score-partwise>\n"
#define NOTE(step, octave, length, rest)                                                                               \
    "<note><pitch><step>" step "</step><octave>" octave "</octave></pitch><duration>" length "</duration>"             \
    "<voice>1</voice>" rest "</note>"
#define WORD(text) "<lyric number=\"1\"><syllabic>single</syllabic><text>" text "</text></lyric>"

static const struct {
    const char *kind;
    const char *text;
} texts[] = {
    /* five notes: a tie, a melisma, two verses */
    {"song",
     "<score-partwise version=\"4.0\"><work><work-title>Low moon</work-title></work>" PART_LIST START
     "<key><fifths>1</fifths></key></attributes>" NOTE(
         "G", "3", "1",
         "<lyric number=\"1\"><syllabic>begin</syllabic><text>wa</text></lyric>"
         "<lyric number=\"2\"><syllabic>single</syllabic><text>cold</text></lyric>")
         NOTE("B", "3", "1",
              "<lyric number=\"1\"><syllabic>end</syllabic><text>ter,</text></lyric>"
              "<lyric number=\"2\"><syllabic>single</syllabic><text>sea,</text></lyric>")
             NOTE("C", "5", "2", "<tie type=\"start\"/>" WORD("see")) NOTE("C", "5", "1", "<tie type=\"stop\"/>")
                 NOTE("A", "4", "1", "") NOTE("D", "5", "2", WORD("ah.")) END},
    {"wordless",
     "<score-partwise>" PART_LIST START "</attributes>" NOTE("C", "5", "1", "") NOTE("A", "4", "1", "") END},
    {"swedish",
     "<score-partwise>" PART_LIST START "</attributes>" NOTE(
         "C", "5", "1", "<lyric number=\"1\"><syllabic>single</syllabic><text xml:lang=\"sv\">hej</text></lyric>") END},
    {"no-pitch", "<score-partwise>" PART_LIST START "</attributes><note><duration>1</duration>" WORD(
                     "see") "</note>" NOTE("C", "5", "1", WORD("sea")) END},
    {"negative", "<score-partwise>" PART_LIST START "</attributes>" NOTE("C", "5", "-4", WORD("see"))
                     NOTE("C", "5", "1", WORD("sea")) END},
    {"percussion", "<score-partwise>" PART_LIST START
                   "<clef><sign>percussion</sign></clef></attributes><note><unpitched/><duration>1</duration>" WORD(
                       "boom") "</note>" END},
    {"no-part", "<score-partwise><part-list/></score-partwise>\n"},
    {"not-xml", "Slow is the water, low is the moon\n<but I> see you\n"},
    {"wrong-root", "<html><body>see</body></html>\n"},
    {"truncated", "<score-partwise>" PART_LIST START "</attributes><note><pitch><step>C</step>"},
    {"external-entity",
     "<!DOCTYPE score-partwise [<!ENTITY secret SYSTEM \"file:///etc/hostname\">]>\n<score-partwise>" PART_LIST START
     "</attributes>" NOTE("C", "5", "1", WORD("&secret;")) END},
    {"entity-bomb",
     "<!DOCTYPE score-partwise [<!ENTITY a \"see see see see see see see see\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">"
     "<!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\"><!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;\">"
     "<!ENTITY e \"&d;&d;&d;&d;&d;&d;&d;&d;\"><!ENTITY f \"&e;&e;&e;&e;&e;&e;&e;&e;\">]>\n<score-partwise>" PART_LIST
         START "</attributes>" NOTE("C", "5", "1", WORD("&f;&f;&f;&f;&f;&f;&f;&f;")) END},
};

/* A MIDI file of format 0 with a lyric in Latin-1 and running status; 96 ticks a quarter. */
static const guchar midi[] = {
    'M', 'T',  'h',  'd', 0,    0,    0,   6,   0,  0,    0,  1,  0, 96, /* one track */
    'M', 'T',  'r',  'k', 0,    0,    0,   31,                           /* of 31 bytes */
    0,   0xFF, 0x05, 4,   'n',  0xE9, 'e', ' ', 0,  0x90, 72, 90,        /* "née " on C5 */
    96,  72,   0,                                                        /* off */
    0,   0xFF, 0x05, 2,   's',  'i',  0,   74,  90,                      /* "si" on D5 */
    96,  74,   0,    0,   0xFF, 0x2F, 0,
};

static void write_file(const char *path, const void *data, gsize n)
{
    g_autoptr(GError) error = NULL;

    if (!g_file_set_contents(path, data, (gssize)n, &error)) {
        fprintf(stderr, "make-score: %s\n", error->message);
        exit(1);
    }
}

/* 50 MB of opening tags. */
static void write_nesting(const char *path)
{
    const gsize n = 50u * 1000 * 1000;
    g_autoptr(GString) text = g_string_sized_new(n + 64);

    g_string_append(text, "<score-partwise>");
    while (text->len < n)
        g_string_append(text, "<part>");
    write_file(path, text->str, text->len);
}

/* An archive with one member of n blanks. */
static void write_zip(const char *path, const char *member, gsize n)
{
    g_autofree char *blanks = g_malloc(n + 1);
    zip_t *zip = zip_open(path, ZIP_CREATE | ZIP_TRUNCATE, NULL);

    memset(blanks, ' ', n);
    zip_source_t *source = zip_source_buffer(zip, blanks, n, 0);
    if (zip == NULL || zip_file_add(zip, member, source, ZIP_FL_OVERWRITE) < 0 || zip_close(zip) != 0) {
        fprintf(stderr, "make-score: %s cannot be written\n", path);
        exit(1);
    }
}

int main(int argc, char **argv)
{
    if (argc != 3)
        return 2;
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
        if (strcmp(argv[1], texts[i].kind) == 0) {
            write_file(argv[2], texts[i].text, strlen(texts[i].text));
            return 0;
        }
    }
    if (strcmp(argv[1], "midi") == 0)
        write_file(argv[2], midi, sizeof midi);
    else if (strcmp(argv[1], "nesting") == 0)
        write_nesting(argv[2]);
    else if (strcmp(argv[1], "no-score") == 0)
        write_zip(argv[2], "picture.png", 10);
    else if (strcmp(argv[1], "zip-bomb") == 0)
        write_zip(argv[2], "score.xml", 400u * 1000 * 1000);
    else
        return 2;
    return 0;
}
