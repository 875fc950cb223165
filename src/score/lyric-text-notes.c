/* lyric-text-notes.c - one token of a line of pitches → a note, and where in its bar it stands. */
#include "score/lyric-text-private.h"

#include <string.h>

void score_text_next_bar(text_reading *in)
{
    if (in->cursor <= SCORE_SAME_QUARTERS)
        return;
    in->bar++;
    in->cursor = 0.0;
    score_draft_bar(in->draft, in->bar);
}

gboolean score_text_fail_without_octave(const text_reading *in, const text_token *token)
{
    g_autofree char *pitch = g_strndup(token->text, strcspn(token->text, ":"));

    return score_text_fail(in, token->line, token->column,
                           "the first pitch of a line needs its octave, such as %s4 (" SCORE_TEXT_MANUAL ")", pitch);
}

/* "F#" or "F#4" → the pitch and its name; an octave that is not written is that of the pitch before. */
static gboolean read_pitch(text_reading *in, const text_token *token, const char *text, score_event *event)
{
    gsize n = strlen(text);
    if (strpbrk(text, "+-") != NULL)
        return score_text_fail(in, token->line, token->column,
                               "expected an octave from 0 to 9 without a sign, found \"%s\" (" SCORE_TEXT_MANUAL ")",
                               text);
    g_autofree char *whole =
        n > 0 && g_ascii_isdigit(text[n - 1]) ? g_strdup(text) : g_strdup_printf("%s%d", text, MAX(in->octave, 0));

    if (!aperta_pitch_parse(whole, &event->midi))
        return score_text_fail(
            in, token->line, token->column,
            "expected a pitch such as G4, F#4 or Bb3, or r for a rest, found \"%s\" (" SCORE_TEXT_MANUAL ")", text);
    if (in->octave < 0 && !g_ascii_isdigit(text[n - 1]))
        return score_text_fail_without_octave(in, token);
    in->octave = whole[strlen(whole) - 1] - '0';
    event->name[0] = g_ascii_toupper(whole[0]);
    event->name[1] = '\0';
    for (const char *at = whole + 1; score_text_accidental_bytes(at) > 0; at += score_text_accidental_bytes(at))
        g_strlcat(event->name,
                  *at == '#'                  ? "♯"
                  : *at == 'b'                ? "♭"
                  : g_str_has_prefix(at, "♯") ? "♯"
                                              : "♭",
                  sizeof event->name);
    gsize used = strlen(event->name);
    if (used + 2 <= sizeof event->name) {
        event->name[used] = (char)('0' + in->octave);
        event->name[used + 1] = '\0';
    } else {
        event->name[0] = '\0';
    }
    return TRUE;
}

/* Where nobody draws bar lines, a full bar ends of itself. */
static void place_in_bar(text_reading *in)
{
    const score_bar *bar = score_draft_bar(in->draft, in->bar);
    double full = bar->meter.n_beats > 0 ? 4.0 * bar->meter.n_beats / bar->meter.beat_type : 0.0;
    score_meter meter = bar->meter;

    while (!in->has_bars && full > 0.0 && in->cursor >= full - SCORE_SAME_QUARTERS && in->bar < SCORE_BARS_MAX) {
        double over = MAX(in->cursor - full, 0.0);
        score_draft_bar(in->draft, in->bar)->length = full;
        score_bar *next = score_draft_bar(in->draft, ++in->bar);
        next->meter = meter;
        in->cursor = over;
    }
}

static void pass(text_reading *in, double quarters)
{
    score_bar *bar = score_draft_bar(in->draft, in->bar);

    in->cursor += quarters;
    bar->length = MAX(bar->length, in->cursor);
}

gboolean score_text_note(text_reading *in, const text_token *token, score_event *event, gboolean *taken)
{
    const char *colon = strchr(token->text, ':');
    g_autofree char *pitch =
        colon != NULL ? g_strndup(token->text, (gsize)(colon - token->text)) : g_strdup(token->text);
    double length = in->usual_length;

    *taken = FALSE;
    if (score_text_is_bar_line(token->text)) {
        score_text_next_bar(in);
        return TRUE;
    }
    if (colon != NULL && !score_text_length(colon + 1, &length))
        return score_text_fail(in, token->line, token->column,
                               "expected a length in quarters behind the colon, such as G4:2 or "
                               "G4:1/2, found \"%s\"",
                               token->text);
    if (!score_text_is_rest(token->text)) {
        if (!read_pitch(in, token, pitch, event))
            return FALSE;
        *taken = TRUE;
    }
    place_in_bar(in);
    event->bar = in->bar;
    event->offset = in->cursor;
    event->length = length;
    event->fifths = in->fifths;
    pass(in, length);
    return TRUE;
}
