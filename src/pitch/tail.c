/* tail.c - what a room goes on sounding after the singer.
 *
 * A voice stops within some 50 ms; a room's echo falls on, nearly along a straight line in dB (its reverberation time
 * is defined by that line). So where a voiced run ends in a fall of the level that is steep enough for a room, longer
 * than a singer's release and interrupted by no rise and no rest, its last part is a tail. */
#include "pitch/pitch-private.h"

#include <math.h>

typedef struct {
    guint release, shortest, standing, reach; /* frames */
} tail_sizes;

/* Where the fall that ends at frame n - 1 begins. */
static guint fall_start(const double *level_db, guint n, const tail_sizes *sizes)
{
    guint from = 0, lowest = 0;

    for (guint i = 1; i < n; i++) {
        gboolean rises = level_db[i] > MIN(level_db[lowest] + PITCH_TAIL_RISE_DB, level_db[from]);
        gboolean stands =
            i - from >= sizes->standing && level_db[i - sizes->standing] - level_db[i] < PITCH_TAIL_STANDS_DB;
        if (rises || stands)
            from = lowest = i;
        else if (level_db[i] < level_db[lowest])
            lowest = i;
    }
    while (from + 1 < n && level_db[from] - level_db[from + 1] < PITCH_TAIL_STARTS_DB)
        from++;
    return from;
}

/* The loudest of the fall within reach before frame i. */
static double before_db(const double *level_db, guint from, guint i, guint reach)
{
    double loudest = -HUGE_VAL;

    for (guint k = i - from > reach ? i - reach : from; k < i; k++)
        loudest = MAX(loudest, level_db[k]);
    return loudest;
}

/* One voiced run, n frames. */
static void drop_tail(aperta_f0 *frames, guint n, double hop_s, const tail_sizes *sizes)
{
    g_autofree double *level_db = g_new(double, n);

    for (guint i = 0; i < n; i++)
        level_db[i] = frames[i].level_db;
    pitch_smooth(level_db, n, hop_s, NULL);
    guint from = fall_start(level_db, n, sizes);
    if (n - from < sizes->shortest || level_db[from + sizes->release] - level_db[n - 1] < PITCH_TAIL_AFTER_DB)
        return;
    for (guint i = from + sizes->release; i < n; i++)
        if (before_db(level_db, from, i, sizes->reach) - level_db[i] >= PITCH_TAIL_DB) {
            frames[i].voiced = FALSE;
            frames[i].f0_hz = 0.0f;
        }
}

void pitch_drop_tails(aperta_f0_track *track)
{
    double hop_s = track->hop_s;
    tail_sizes sizes = {.release = (guint)(PITCH_TAIL_RELEASE_S / hop_s),
                        .shortest = (guint)(PITCH_TAIL_MIN_S / hop_s),
                        .standing = (guint)(PITCH_TAIL_STANDING_S / hop_s),
                        .reach = (guint)(PITCH_TAIL_REACH_S / hop_s)};
    guint from = 0;

    for (guint i = 0; i <= track->n_frames; i++) {
        if (i < track->n_frames && track->frames[i].voiced)
            continue;
        if (i > from)
            drop_tail(track->frames + from, i - from, hop_s, &sizes);
        from = i + 1;
    }
}
