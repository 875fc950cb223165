/* read-tract.c - the second reading of a recording: the tract, note by note, with several threads.
 *
 * The caller's thread reads the stream once and cuts the notes out of it. The others take them from a short queue;
 * while that is full, the caller's thread reads a note itself. So few notes are in memory however long the recording
 * is. A note is read from its own samples, by a tract that keeps nothing of the note before, and its steady frames
 * belong to no other note: the result is the same whatever the number of threads. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <aperta/tract.h>
#include <string.h>

enum {
    BLOCK = 8192,
    JOBS_MAX = 64,
    QUEUED = 2, /* notes for each thread that wait for it */
};

/* ---- the stream -------------------------------------------------------------------------------------------------- */

/* The stretch of sound that is in memory. */
typedef struct {
    aperta_audio *audio;
    GArray *samples; /* float */
    guint64 first;   /* number of samples[0] in the stream */
    gboolean at_end;
} sliding;

/* Makes samples from..to available as far as the recording goes. from never goes back. */
static gboolean slide(sliding *s, guint64 from, guint64 to, GError **error)
{
    float block[BLOCK];

    while (!s->at_end && s->first + s->samples->len < to) {
        gssize n = aperta_audio_read(s->audio, block, BLOCK, error);
        if (n < 0)
            return FALSE;
        s->at_end = n == 0;
        guint64 drop = s->first < from ? MIN(from - s->first, s->samples->len) : 0;
        if (drop > 0) {
            g_array_remove_range(s->samples, 0, drop);
            s->first += drop;
        }
        g_array_append_vals(s->samples, block, n);
    }
    return TRUE;
}

/* What of a note is listened to: all of it, or the middle of a very long one. */
static aperta_span listening_span(const aperta_note *note)
{
    double middle_s = (note->steady.start_s + note->steady.end_s) / 2.0;
    double reach_s = APERTA_TRACT_NOTE_MAX_S / 2.0 + 1.0;

    return (aperta_span){MAX(note->span.start_s, middle_s - reach_s) - RESULT_MARGIN_S,
                         MIN(note->span.end_s, middle_s + reach_s) + RESULT_MARGIN_S};
}

/* ---- one note ---------------------------------------------------------------------------------------------------- */

typedef struct {
    aperta_sung_note *note;
    float *samples;
    gsize n;
    double start_s;
} note_sound;

static void note_sound_free(void *data)
{
    note_sound *sound = data;

    g_free(sound->samples);
    g_free(sound);
}

/* NULL: the stream could not be read. */
static note_sound *cut_note(sliding *s, aperta_sung_note *note, double from_s, GError **error)
{
    aperta_span span = listening_span(&note->note);
    double rate = APERTA_AUDIO_RATE_HZ;
    guint64 from = (guint64)MAX((span.start_s - from_s) * rate, 0.0);
    guint64 to = (guint64)MAX((span.end_s - from_s) * rate, 0.0);

    if (!slide(s, from, to, error))
        return NULL;
    note_sound *sound = g_new0(note_sound, 1);
    guint64 skip = from > s->first ? MIN(from - s->first, s->samples->len) : 0;
    sound->note = note;
    sound->n = MIN(to - from, s->samples->len - skip);
    sound->samples = g_memdup2((const float *)(void *)s->samples->data + skip, sound->n * sizeof(float));
    sound->start_s = from_s + (s->first + skip) / rate;
    return sound;
}

/* ---- all notes --------------------------------------------------------------------------------------------------- */

typedef struct {
    aperta_result *result;
    GAsyncQueue *tracts; /* aperta_tract, one for each thread: those that rest */
    GThreadPool *pool;   /* of note_sound; NULL: a single thread */
} crew;

static void destroy_tract(void *tract)
{
    aperta_tract_destroy(tract);
}

static void read_note(void *data, void *user_data)
{
    note_sound *sound = data;
    crew *c = user_data;
    aperta_result *r = c->result;
    aperta_tract *tract = g_async_queue_pop(c->tracts);

    aperta_tract_read(tract, sound->samples, sound->n, sound->start_s, r->track, &sound->note->note,
                      &sound->note->tract, r->frames);
    g_async_queue_push(c->tracts, tract);
    note_sound_free(sound);
}

static void crew_gather(crew *c, aperta_result *r, guint jobs)
{
    aperta_tract_config config = {.sample_rate_hz = APERTA_AUDIO_RATE_HZ,
                                  .voice = r->settings.voice,
                                  .band_hz = r->sample_rate_hz < APERTA_AUDIO_RATE_HZ ? 0.45 * r->sample_rate_hz : 0.0};

    *c = (crew){.result = r, .tracts = g_async_queue_new_full(destroy_tract)};
    for (guint i = 0; i < jobs; i++)
        g_async_queue_push(c->tracts, aperta_tract_create(&config));
    if (jobs > 1)
        c->pool = g_thread_pool_new_full(read_note, c, note_sound_free, (int)jobs - 1, TRUE, NULL);
}

/* Ends the threads after the notes they are at, or after all that wait. */
static void crew_dismiss(crew *c, gboolean at_once)
{
    if (c->pool != NULL)
        g_thread_pool_free(c->pool, at_once, TRUE);
    g_async_queue_unref(c->tracts);
}

static gboolean crew_has_room(const crew *c)
{
    return c->pool != NULL && g_thread_pool_unprocessed(c->pool) < QUEUED * g_thread_pool_get_num_threads(c->pool);
}

static gboolean read_notes(crew *c, sliding *s, result_go_on go_on, void *data, GError **error)
{
    aperta_result *r = c->result;

    for (guint i = 0; i < r->notes->len; i++) {
        aperta_sung_note *note = aperta_sung_note_at(r->notes, i);
        memset(&note->tract, 0, sizeof note->tract);
        if (note->note.withheld == APERTA_WITHHELD_NOT) {
            note_sound *sound = cut_note(s, note, r->from_s, error);
            if (sound == NULL)
                return FALSE;
            if (crew_has_room(c))
                g_thread_pool_push(c->pool, sound, NULL);
            else
                read_note(sound, c);
        }
        if (!go_on((i + 1.0) / r->notes->len, data, error))
            return FALSE;
    }
    return TRUE;
}

gboolean result_read_tract(aperta_result *result, aperta_audio *audio, guint jobs, result_go_on go_on, void *data,
                           GError **error)
{
    g_autoptr(GArray) samples = g_array_new(FALSE, FALSE, sizeof(float));
    sliding s = {.audio = audio, .samples = samples};
    crew c;

    if (result->frames != NULL)
        memset(result->frames, 0, result->track->n_frames * sizeof *result->frames);
    crew_gather(&c, result, CLAMP(jobs, 1, MIN(JOBS_MAX, MAX(result->notes->len, 1))));
    gboolean read = read_notes(&c, &s, go_on, data, error);
    crew_dismiss(&c, !read);
    return read;
}
