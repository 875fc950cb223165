/* songs.c - songs FOLDER COUNT NOTES SEED: writes COUNT generated songs of NOTES notes as MusicXML, for the bench of
 * sheets. Words are drawn from a list of common English ones, tunes are a random walk; each song is another one. */
#include <glib.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>

static const char *const words[][2] = {
    {"see", NULL},   {"the", NULL},   {"wa", "ter"},   {"moon", NULL}, {"and", NULL},   {"eve", "ning"},
    {"low", NULL},   {"of", NULL},    {"light", NULL}, {"riv", "er"},  {"day", NULL},   {"in", NULL},
    {"sum", "mer"},  {"heart", NULL}, {"you", NULL},   {"a", "way"},   {"night", NULL}, {"bird", NULL},
    {"stone", NULL}, {"o", "pen"},    {"wind", NULL},  {"blue", NULL}, {"fall", "ing"}, {"home", NULL},
    {"ring", NULL},  {"gold", "en"},  {"far", NULL},   {"bell", NULL}, {"sing", "ing"}, {"rain", NULL},
    {"green", NULL}, {"a", "bove"},   {"deep", NULL},  {"si", "lent"}, {"road", NULL},
};

static const char steps[] = "CDEFGAB";

typedef struct {
    GString *xml;
    GRand *rand;
    int place; /* of the tune, in steps above C4 */
    guint n_notes;
} song;

static void append_note(song *s, const char *text, const char *syllabic)
{
    int length = g_rand_int_range(s->rand, 1, 4);

    s->place = CLAMP(s->place + g_rand_int_range(s->rand, -2, 3), -2, 9);
    if (s->n_notes % 8 == 0)
        g_string_append_printf(s->xml, "%s<measure number=\"%u\">", s->n_notes > 0 ? "</measure>" : "",
                               1 + s->n_notes / 8);
    if (s->n_notes == 0)
        g_string_append(s->xml, "<attributes><divisions>2</divisions></attributes><sound tempo=\"96\"/>");
    g_string_append_printf(
        s->xml, "<note><pitch><step>%c</step><octave>%d</octave></pitch><duration>%d</duration><voice>1</voice>",
        steps[(s->place + 7) % 7], 4 + (s->place + 7) / 7 - 1, length);
    if (text != NULL)
        g_string_append_printf(s->xml, "<lyric number=\"1\"><syllabic>%s</syllabic><text>%s</text></lyric>", syllabic,
                               text);
    g_string_append(s->xml, "</note>");
    s->n_notes++;
}

static char *new_song(guint n_notes, GRand *rand)
{
    song s = {.xml = g_string_new("<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Voice"
                                  "</part-name></score-part></part-list><part id=\"P1\">"),
              .rand = rand};

    while (s.n_notes < n_notes) {
        const char *const *word = words[g_rand_int_range(rand, 0, G_N_ELEMENTS(words))];
        append_note(&s, word[0], word[1] != NULL ? "begin" : "single");
        if (word[1] != NULL)
            append_note(&s, word[1], "end");
        if (g_rand_int_range(rand, 0, 8) == 0)
            append_note(&s, NULL, NULL); /* a melisma */
    }
    g_string_append(s.xml, "</measure></part></score-partwise>\n");
    return g_string_free(s.xml, FALSE);
}

int main(int argc, char **argv)
{
    if (argc != 5) {
        fprintf(stderr, "usage: songs FOLDER COUNT NOTES SEED\n");
        return 2;
    }
    g_autoptr(GRand) rand = g_rand_new_with_seed((guint32)atoi(argv[4]));
    g_mkdir_with_parents(argv[1], 0777);
    for (int i = 1; i <= atoi(argv[2]); i++) {
        g_autofree char *xml = new_song((guint)atoi(argv[3]), rand);
        g_autofree char *path = g_strdup_printf("%s/song-%04d.musicxml", argv[1], i);
        if (!g_file_set_contents(path, xml, -1, NULL))
            return 1;
    }
    return 0;
}
