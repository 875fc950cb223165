/* lyric-lines.c - where a line of the lyric ends: at a full stop, at a comma or a rest when the line is long enough,
 * and where words end or begin. */
#include "align/align-private.h"
#include "align/align-tuning.h"

static const aperta_score_note *score_note(const aperta_score *score, guint i)
{
    return &score->notes[i];
}

double align_rest_before(const aperta_score *score, guint i)
{
    const aperta_score_note *before = score_note(score, i - 1);

    return score_note(score, i)->start_quarters - before->start_quarters - before->length_quarters;
}

/* The syllable with which something new is sung on note i; -1: the note goes on with what was sung before. */
static int new_syllable(const aperta_underlay *underlay, guint i)
{
    const aperta_laid_note *note = &underlay->notes[i];
    gboolean goes_on = i > 0 && underlay->notes[i - 1].sung_on == note->sung_on;

    if (note->n_begun > 0)
        return goes_on ? -1 : (int)note->first_begun; /* the same one: a grace note has begun it */
    return goes_on ? -1 : note->sung_on;
}

static gboolean starts_word(const aperta_underlay *underlay, guint i)
{
    int syllable = new_syllable(underlay, i);

    return syllable >= 0 && underlay->words[underlay->syllables[syllable].word].first == (guint)syllable;
}

static align_ending ending_before(const aperta_underlay *underlay, int syllable)
{
    return syllable > 0 ? align_text_ending(underlay->texts[syllable - 1]) : ALIGN_GOES_ON;
}

static gboolean breaks_before(const aperta_underlay *underlay, const aperta_score *score, guint i,
                              const aperta_laid_line *line, guint n_syllables)
{
    gboolean sung = underlay->notes[i].sung_on >= 0;
    double rest = align_rest_before(score, i);

    if (!sung)
        return line->sung || rest >= ALIGN_LINE_QUARTERS || line->n_notes >= ALIGN_WORDLESS_NOTES_MAX;
    if (!line->sung)
        return TRUE;
    if (!starts_word(underlay, i))
        return FALSE;
    align_ending ending = ending_before(underlay, new_syllable(underlay, i));
    if (ending == ALIGN_STOP)
        return TRUE;
    return n_syllables >= ALIGN_LINE_SYLLABLES_MIN && (ending == ALIGN_COMMA || rest >= ALIGN_LINE_QUARTERS);
}

/* Is there a rest anywhere between two notes? */
static gboolean rest_between(const aperta_score *score, guint from, guint to)
{
    for (guint i = from + 1; i <= to; i++)
        if (align_rest_before(score, i) >= ALIGN_REST_QUARTERS)
            return TRUE;
    return FALSE;
}

static void end_words(aperta_underlay *underlay, const aperta_score *score)
{
    for (guint w = 0; w < underlay->n_words; w++) {
        guint last = underlay->words[w].first + underlay->spoken[w].n_syllables - 1;
        underlay->spoken[w].line_ends =
            last + 1 == underlay->n_syllables ||
            rest_between(score, underlay->syllables[last].note, underlay->syllables[last + 1].note) ||
            align_text_ending(underlay->texts[last]) != ALIGN_GOES_ON;
    }
}

void align_lines(aperta_underlay *underlay, const aperta_score *score)
{
    GArray *lines = g_array_new(FALSE, FALSE, sizeof(aperta_laid_line));
    aperta_laid_line line = {0};
    guint n_syllables = 0;

    for (guint i = 0; i < underlay->n_notes; i++) {
        const aperta_laid_note *note = &underlay->notes[i];
        if (line.n_notes > 0 && breaks_before(underlay, score, i, &line, n_syllables)) {
            g_array_append_val(lines, line);
            line = (aperta_laid_line){.first_note = i};
            n_syllables = 0;
        }
        if (line.n_notes == 0)
            line.sung = note->sung_on >= 0;
        line.n_notes++;
        n_syllables += note->n_begun;
    }
    if (line.n_notes > 0)
        g_array_append_val(lines, line);
    underlay->n_lines = lines->len;
    underlay->lines = (aperta_laid_line *)(void *)g_array_free(lines, FALSE);
    end_words(underlay, score);
}
