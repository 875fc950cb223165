/* take.c - one recording from file to advice.
 *
 * The file is opened once and read twice, so that an hour is never held in memory: first for the pitch, from which the
 * notes come, then for the tract, note by note (read-tract.c). */
#include "result/first.h"
#include "result/result-private.h"

enum { BLOCK = 8192 };
#define PITCH_SHARE 0.5 /* of the progress */

typedef struct {
    const char *path;
    const aperta_take_options *options;
    aperta_audio *audio;
    aperta_rules *rules;
    GArray *corrections; /* may be NULL */
    result_sung *sung;   /* vowels as told; may be NULL */
    GArray *notes;       /* aperta_note */
    aperta_audio_health health;
    double doubt;          /* probability that the voice is another; 0 when it was told */
    aperta_vowel_ear *ear; /* once the tract is read */
    result_noticed noticed;
    aperta_result *result;
} take;

static void take_clear(take *t)
{
    aperta_audio_close(t->audio);
    aperta_rules_free(t->rules);
    g_clear_pointer(&t->corrections, g_array_unref);
    result_sung_free(t->sung);
    g_clear_pointer(&t->notes, g_array_unref);
    aperta_vowel_ear_free(t->ear);
    aperta_result_free(t->result);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(take, take_clear)

/* Tells how far it is; FALSE when the caller wants to stop. */
static gboolean go_on(const take *t, double fraction, GError **error)
{
    const aperta_take_options *o = t->options;

    if (o->cancel != NULL && *o->cancel) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_INTERRUPTED, "%s: interrupted (nothing was written)", t->path);
        return FALSE;
    }
    if (o->progress != NULL)
        o->progress(CLAMP(fraction, 0.0, 1.0), o->progress_data);
    return TRUE;
}

static gboolean load_settings(take *t, GError **error)
{
    const aperta_take_options *o = t->options;

    t->rules = result_load_settings(&t->result->settings, o->style, o->table, o->voice, error);
    if (t->rules == NULL)
        return FALSE;
    if (o->corrections != NULL) {
        t->corrections = result_corrections_load(o->corrections, error);
        if (t->corrections == NULL)
            return FALSE;
        if (t->corrections->len == 0)
            result_warn(t->result->warnings, (aperta_warning){.kind = APERTA_WARNING_NO_CORRECTIONS});
    }
    if (o->sung != NULL) {
        t->sung = result_sung_read(o->sung, error);
        if (t->sung == NULL)
            return FALSE;
    }
    return TRUE;
}

/* ---- first reading: pitch ------------------------------------------------------------------------------------ */

static gboolean open_audio(take *t, GError **error)
{
    const aperta_take_options *o = t->options;
    aperta_audio_options options = {.channel = o->channel, .from_s = o->from_s, .to_s = o->to_s, .cancel = o->cancel};

    t->audio = aperta_audio_open(t->path, &options, error);
    return t->audio != NULL;
}

static gboolean read_pitch(take *t, aperta_pitch *pitch, GError **error)
{
    const aperta_audio_info *info = aperta_audio_get_info(t->audio);
    double length_s = info->to_s - info->from_s;
    guint64 done = 0;
    float block[BLOCK];
    gssize n;

    while ((n = aperta_audio_read(t->audio, block, BLOCK, error)) > 0) {
        aperta_pitch_push(pitch, block, n);
        done += n;
        if (!go_on(t, PITCH_SHARE * done / (length_s * APERTA_AUDIO_RATE_HZ), error))
            return FALSE;
    }
    return n == 0;
}

/* A frame reaches half a hop to either side of its time; a note ends no later than what was read. */
static void keep_within(aperta_span *span, double from_s, double to_s)
{
    span->start_s = CLAMP(span->start_s, from_s, to_s);
    span->end_s = CLAMP(span->end_s, from_s, to_s);
}

static gboolean find_notes(take *t, GError **error)
{
    aperta_result *r = t->result;
    aperta_pitch_config config = aperta_pitch_config_default(APERTA_AUDIO_RATE_HZ);
    if (t->options->hop_s > 0.0)
        config.hop_s = t->options->hop_s;
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&config);
    if (!read_pitch(t, pitch, error))
        return FALSE;

    const aperta_audio_info *info = aperta_audio_get_info(t->audio);
    g_autofree aperta_pitch_feature *features = NULL;
    r->seconds = info->seconds;
    r->sample_rate_hz = info->sample_rate_hz;
    r->channel = info->channel;
    r->from_s = info->from_s;
    r->to_s = info->to_s;
    t->health = *aperta_audio_get_health(t->audio);
    r->track = aperta_pitch_finish(pitch, info->from_s, &features);
    t->notes = aperta_pitch_notes(r->track, features);
    t->noticed = result_notice(r->track, features, (const aperta_note *)(void *)t->notes->data, t->notes->len);
    t->noticed.voice = aperta_pitch_voice_heard(r->track, (const aperta_note *)(void *)t->notes->data, t->notes->len);
    for (guint i = 0; i < t->notes->len; i++) {
        aperta_note *note = &g_array_index(t->notes, aperta_note, i);
        keep_within(&note->span, r->from_s, r->to_s);
        keep_within(&note->steady, r->from_s, r->to_s);
    }
    result_warn_about_sound(r, info, &t->health);
    return TRUE;
}

static void name_notes(take *t)
{
    aperta_result *r = t->result;
    const aperta_note *notes = (const aperta_note *)(void *)t->notes->data;

    r->a4_given = t->options->a4_hz > 0.0;
    guint n_tuned = t->noticed.spoken ? 0 : t->notes->len; /* speech has neither tuning nor key */
    r->a4_hz = r->a4_given ? t->options->a4_hz : aperta_pitch_tuning_hz(notes, n_tuned);
    r->key = aperta_pitch_key(notes, n_tuned, r->a4_hz);
    r->notes = g_ptr_array_new_with_free_func((GDestroyNotify)result_note_free);
    for (guint i = 0; i < t->notes->len; i++)
        g_ptr_array_add(r->notes, result_note_new((int)i + 1, &notes[i], r));
    if (r->settings.voice == APERTA_VOICE_UNKNOWN)
        r->settings.voice = result_guess_voice(notes, t->notes->len, &t->doubt);
}

/* ---- second reading: tract ----------------------------------------------------------------------------------- */

static gboolean go_on_reading(double share, void *data, GError **error)
{
    return go_on(data, PITCH_SHARE + (1.0 - PITCH_SHARE) * share, error);
}

static gboolean read_tract(take *t, GError **error)
{
    return aperta_audio_rewind(t->audio, error) &&
           result_read_tract(t->result, t->audio, t->options->jobs, go_on_reading, t, error);
}

static gboolean make_ear(take *t, GError **error)
{
    aperta_result *r = t->result;

    if (!result_choose_table(&r->settings, error))
        return FALSE;
    t->ear = result_ear_new(r, t->options->table == NULL, t->doubt, error);
    return t->ear != NULL;
}

/* The resonances may show that a guess was wrong; then the other voice is tried. */
static gboolean find_resonances(take *t, GError **error)
{
    aperta_result *r = t->result;

    if (t->options->keep_frames)
        r->frames = g_new0(aperta_tract_frame, r->track->n_frames + 1);
    if (!read_tract(t, error) || !make_ear(t, error))
        return FALSE;
    aperta_voice heard = aperta_vowel_ear_voice(t->ear);
    if (!r->settings.voice_guessed || heard == r->settings.voice)
        return TRUE;
    r->settings.voice = heard;
    t->doubt = 1.0 - t->doubt;
    g_clear_pointer(&r->settings.table, aperta_vowel_table_free);
    g_clear_pointer(&t->ear, aperta_vowel_ear_free);
    return read_tract(t, error) && make_ear(t, error);
}

/* ---- vowels and advice ----------------------------------------------------------------------------------------- */

static gboolean hear_and_advise(take *t, GError **error)
{
    aperta_result *r = t->result;

    for (guint i = 0; i < r->notes->len; i++)
        result_hear_vowel(g_ptr_array_index(r->notes, i), t->ear);
    if (t->corrections != NULL && !result_correct(r, t->corrections, t->options->corrections, error))
        return FALSE;
    if (result_all_removed(r)) /* what the key was heard in were no notes */
        r->key = (aperta_key){0};
    if (t->sung != NULL && !result_sung_lay(r, t->sung, error))
        return FALSE;
    for (guint i = 0; i < r->notes->len; i++)
        result_sharpen(g_ptr_array_index(r->notes, i), t->ear);
    if (t->noticed.voice == APERTA_VOICE_DOUBTED)
        result_doubt_vowels(r);
    result_judge_notes(r, t->rules, t->ear, t->options->explain);
    return TRUE;
}

aperta_result *aperta_take(const char *path, const aperta_take_options *options, GError **error)
{
    g_auto(take) t = {.path = path, .options = options, .result = g_new0(aperta_result, 1)};
    aperta_result *r = t.result;

    r->file = g_strdup(path);
    r->warnings = result_warnings_new();
    if (!load_settings(&t, error) || !open_audio(&t, error) || !find_notes(&t, error))
        return NULL;
    name_notes(&t);
    if (!find_resonances(&t, error) || !hear_and_advise(&t, error))
        return NULL;
    result_find_groups(r);
    result_find_first(r);
    result_warn_about_singing(r, &t.health, &t.noticed);
    result_trust(r);
    if (!go_on(&t, 1.0, error))
        return NULL;
    return g_steal_pointer(&t.result);
}
