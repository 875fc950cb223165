/* strays.c - notes that nobody sang: echoes, and sounds far softer than the singing. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>

static double loudest_db(const aperta_f0_track *track, guint from, guint to)
{
    double loudest = -HUGE_VAL;

    for (guint i = from; i < to; i++)
        loudest = MAX(loudest, track->frames[i].level_db);
    return loudest;
}

/* A note that falls from its first moment on, on the pitch of a louder one just before, was not sung. */
static gboolean is_echo(const aperta_f0_track *track, const aperta_note *before, const aperta_note *note)
{
    guint from, to, before_from, before_to;

    if (note->span.start_s - before->span.end_s > NOTE_ECHO_GAP_S ||
        fabs(aperta_cents_between(before->f0_hz, note->f0_hz)) > NOTE_ECHO_CENTS)
        return FALSE;
    pitch_span_frames(track, before->span, &before_from, &before_to);
    pitch_span_frames(track, note->span, &from, &to);
    guint start = MIN(from + (guint)(NOTE_ECHO_START_S / track->hop_s), to);
    double start_db = loudest_db(track, from, start);
    return loudest_db(track, from, to) < loudest_db(track, before_from, before_to) - NOTE_ECHO_DB &&
           loudest_db(track, start, to) < start_db + NOTE_ECHO_RISE_DB &&
           start_db - track->frames[to - 1].level_db > NOTE_ECHO_FALL_DB;
}

static void drop_echoes(const aperta_f0_track *track, GArray *notes, GArray *levels)
{
    guint kept = 0;

    for (guint i = 0; i < notes->len; i++) {
        const aperta_note *note = &g_array_index(notes, aperta_note, i);
        if (kept > 0 && is_echo(track, &g_array_index(notes, aperta_note, kept - 1), note))
            continue;
        g_array_index(levels, double, kept) = g_array_index(levels, double, i);
        g_array_index(notes, aperta_note, kept++) = *note;
    }
    g_array_set_size(notes, kept);
    g_array_set_size(levels, kept);
}

/* Drops notes far softer than the take's median note: echoes, noises, somebody in the next room. */
static void drop_soft(GArray *notes, GArray *levels)
{
    if (notes->len == 0)
        return;

    const double *level = (const double *)(void *)levels->data;
    g_autofree double *copy = g_memdup2(level, levels->len * sizeof *level);
    double threshold = dsp_quantile(copy, levels->len, 0.5) - NOTE_SOFTER_DB;
    guint kept = 0;
    for (guint i = 0; i < notes->len; i++)
        if (level[i] >= threshold)
            g_array_index(notes, aperta_note, kept++) = g_array_index(notes, aperta_note, i);
    g_array_set_size(notes, kept);
}

void pitch_drop_strays(const aperta_f0_track *track, GArray *notes, GArray *levels)
{
    drop_echoes(track, notes, levels);
    drop_soft(notes, levels);
}
