/* score-reading.c - see score-reading.h. */
#include "score-reading.h"
#include "expect.h"
#include "score/score-private.h"

#include <aperta/words.h>
#include <string.h>

char *one_part(const char *bars)
{
    return g_strconcat("<?xml version='1.0' encoding='UTF-8'?>"
                       "<score-partwise version='4.0'><part-list><score-part id='P1'><part-name>Voice</part-name>"
                       "</score-part></part-list><part id='P1'>",
                       bars, "</part></score-partwise>", NULL);
}

char *one_bar(const char *notes)
{
    g_autofree char *bar = g_strconcat("<measure number='1'><attributes><divisions>2</divisions><time><beats>4</beats>"
                                       "<beat-type>4</beat-type></time></attributes>",
                                       notes, "</measure>", NULL);

    return one_part(bar);
}

static char *lyric_xml(const char *lyric)
{
    gsize n = strlen(lyric);
    gboolean from = lyric[0] == '-';
    gboolean on = lyric[n - 1] == '-';
    const char *syllabic = from && on ? "middle" : from ? "end" : on ? "begin" : "single";
    g_autofree char *text = g_strndup(lyric + from, n - from - on);

    return g_strdup_printf("<lyric number='1'><syllabic>%s</syllabic><text>%s</text></lyric>", syllabic, text);
}

char *note_xml(const char *pitch, int duration, const char *lyric, const char *extra)
{
    g_autofree char *words = lyric != NULL ? lyric_xml(lyric) : g_strdup("");
    int alter = pitch[1] == '#' ? 1 : pitch[1] == 'b' ? -1 : 0;

    return g_strdup_printf("<note><pitch><step>%c</step><alter>%d</alter><octave>%s</octave></pitch>"
                           "<duration>%d</duration>%s%s</note>",
                           pitch[0], alter, pitch + 1 + (alter != 0), duration, extra != NULL ? extra : "", words);
}

aperta_score *read_text_with(const char *text, const char *part, int octave)
{
    GError *error = NULL;
    aperta_score_options options = {part, octave};
    aperta_score *score = score_read_bytes("test", text, strlen(text), &options, &error);

    if (score == NULL)
        print_message("%s\n", error->message);
    assert_non_null(score);
    assert_null(error);
    return score;
}

aperta_score *read_text(const char *text)
{
    return read_text_with(text, NULL, 0);
}

char *failure_of(const void *bytes, gsize n, int code)
{
    GError *error = NULL;

    assert_null(score_read_bytes("test", bytes, n, NULL, &error));
    assert_non_null(error);
    assert_true(error->domain == APERTA_ERROR);
    assert_int_equal(error->code, code);
    char *message = g_strdup(error->message);
    g_error_free(error);
    return message;
}

static void show_lyric(GString *text, const aperta_lyric *lyric)
{
    gboolean from = lyric->syllabic == APERTA_SYLLABIC_MIDDLE || lyric->syllabic == APERTA_SYLLABIC_END;
    gboolean on = lyric->syllabic == APERTA_SYLLABIC_MIDDLE || lyric->syllabic == APERTA_SYLLABIC_BEGIN;

    g_string_append_printf(text, "%d:%s%s%s", lyric->verse, from ? "-" : "", lyric->text, on ? "-" : "");
}

char *show(const aperta_score *score)
{
    GString *text = g_string_new(NULL);

    for (guint i = 0; i < score->n_notes; i++) {
        const aperta_score_note *note = &score->notes[i];
        g_string_append_printf(text, "%s%s@%g+%g", i > 0 ? " " : "", note->name, note->start_quarters,
                               note->length_quarters);
        for (guint k = 0; k < note->n_lyrics; k++) {
            g_string_append(text, k == 0 ? " {" : " ");
            show_lyric(text, &note->lyrics[k]);
        }
        g_string_append(text, note->n_lyrics > 0 ? "}" : "");
    }
    return g_string_free(text, FALSE);
}

void expect_shown(const char *text, const char *expected)
{
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, expected);
}

gboolean has_remark(const aperta_score *score, const char *words)
{
    for (guint i = 0; i < score->n_remarks; i++) {
        g_autofree char *text = aperta_score_remark_text(&score->remarks[i]);
        if (strstr(text, words) != NULL)
            return TRUE;
    }
    return FALSE;
}

char *joined(char *first, ...)
{
    GString *all = g_string_new(first);
    va_list more;
    char *text;

    g_free(first);
    va_start(more, first);
    while ((text = va_arg(more, char *)) != NULL) {
        g_string_append(all, text);
        g_free(text);
    }
    va_end(more);
    return g_string_free(all, FALSE);
}

char *two_parts(const char *first, const char *second)
{
    return g_strconcat("<score-partwise><part-list><score-part id='P1'><part-name>Piano</part-name></score-part>"
                       "<score-part id='P2'><part-name>Mezzo</part-name></score-part></part-list><part id='P1'>"
                       "<measure number='1'><attributes><divisions>2</divisions></attributes>",
                       first,
                       "</measure></part><part id='P2'><measure number='1'><attributes><divisions>2</divisions>"
                       "</attributes>",
                       second, "</measure></part></score-partwise>", NULL);
}

const aperta_score_note *note_of(const aperta_score *score, guint index)
{
    return &score->notes[index];
}
