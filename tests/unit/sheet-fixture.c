/* sheet-fixture.c - made-up scores in memory. */
#include "sheet-fixture.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void add_lyric(aperta_score *score, aperta_score_note *note, int verse, const char *text)
{
    gboolean goes_on = g_str_has_suffix(text, "-"), joins = g_str_has_prefix(text, "-") && text[1] != '\0';

    note->lyrics = g_renew(aperta_lyric, note->lyrics, note->n_lyrics + 1);
    aperta_lyric *lyric = &note->lyrics[note->n_lyrics++];
    *lyric = (aperta_lyric){.language = NULL};
    lyric->verse = verse;
    lyric->text = g_strndup(text + (joins ? 1 : 0), strlen(text) - (joins ? 1 : 0) - (goes_on ? 1 : 0));
    lyric->syllabic = joins ? (goes_on ? APERTA_SYLLABIC_MIDDLE : APERTA_SYLLABIC_END)
                            : (goes_on ? APERTA_SYLLABIC_BEGIN : APERTA_SYLLABIC_SINGLE);
    score->n_verses = MAX(score->n_verses, verse);
}

static void add_note(aperta_score *score, char **fields, double *at)
{
    score->notes = g_renew(aperta_score_note, score->notes, score->n_notes + 1);
    aperta_score_note *note = &score->notes[score->n_notes];
    *note = (aperta_score_note){.element = score->n_notes++};
    note->start_quarters = *at;
    note->length_quarters = g_ascii_strtod(fields[1], NULL);
    note->start_s = 0.5 * *at;
    note->end_s = 0.5 * (*at + note->length_quarters);
    note->stress = fmod(*at, 4.0) == 0.0 ? 1.0 : 0.25;
    if (!aperta_pitch_parse(fields[0], &note->midi))
        g_error("no pitch: %s", fields[0]);
    aperta_pitch_spell(note->midi, NULL, note->name);
    note->bar = g_strdup_printf("%d", 1 + (int)(*at / 4.0));
    *at += note->length_quarters;
    for (int verse = 1; fields[verse + 1] != NULL; verse++) {
        g_auto(GStrv) parts = g_strsplit(fields[verse + 1], "+", -1);
        for (char **part = parts; *part != NULL; part++)
            if (**part != '\0')
                add_lyric(score, note, verse, *part);
    }
}

aperta_score *fixture_score(const char *notes)
{
    aperta_score *score = g_new0(aperta_score, 1);
    aperta_score_part *part = g_new0(aperta_score_part, 1);
    g_auto(GStrv) words = g_strsplit(notes, " ", -1);
    double at = 0.0;

    score->file = g_strdup("fixture.musicxml");
    score->title = g_strdup("Fixture");
    score->n_parts = 1;
    score->parts = part;
    score->key = (aperta_key){.known = TRUE, .confidence = 1.0};
    for (char **word = words; *word != NULL; word++) {
        g_auto(GStrv) fields = g_strsplit(*word, ":", -1);
        if (**word == '\0')
            continue;
        if (strcmp(fields[0], "r") == 0)
            at += g_ascii_strtod(fields[1], NULL);
        else
            add_note(score, fields, &at);
    }
    part->id = g_strdup("P1");
    part->name = g_strdup("Voice");
    part->n_notes = score->n_notes;
    for (guint i = 0; i < score->n_notes; i++)
        part->n_syllables += score->notes[i].n_lyrics;
    return score;
}
