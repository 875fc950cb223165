/* loudness.c - how loud the singing is in a take, and what stands between the notes. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include "dsp/dsp.h"

double result_level_at(const aperta_f0_track *track, double time_s)
{
    return track->frames[aperta_f0_track_frame_at(track, time_s)].level_db;
}

gboolean result_singing_level(const aperta_result *result, double *level_db)
{
    g_autoptr(GArray) levels = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_span *steady = &result_note_at(result, i)->note.steady;
        double level = result_level_at(result->track, (steady->start_s + steady->end_s) / 2.0);
        g_array_append_val(levels, level);
    }
    if (levels->len == 0)
        return FALSE;
    *level_db = dsp_quantile((double *)(void *)levels->data, levels->len, 0.5);
    return TRUE;
}

/* The quieter half of the frames well away from any voice. */
gboolean result_rest_level(const aperta_f0_track *track, double *level_db)
{
    g_autoptr(GArray) levels = g_array_new(FALSE, FALSE, sizeof(double));
    guint away = (guint)(RESULT_REST_AWAY_S / track->hop_s), since = 0;

    for (guint i = 0; i < track->n_frames; i++) {
        since = track->frames[i].voiced ? 0 : since + 1;
        if (since <= 2 * away)
            continue;
        double level = track->frames[i - away].level_db; /* as far from the voice before as from the one after */
        g_array_append_val(levels, level);
    }
    if (levels->len < RESULT_REST_FRAMES_MIN)
        return FALSE;
    *level_db = dsp_quantile((double *)(void *)levels->data, levels->len, 0.25);
    return TRUE;
}
