/* take-warnings.c - what a singer should know about the recording before believing the report. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <math.h>

void result_warn_about_sound(aperta_result *result, const aperta_audio_info *info, const aperta_audio_health *health)
{
    if (health->truncated)
        result_warn(result->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_TRUNCATED, .end = {result->seconds, health->promised_s}});
    if (health->damaged)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_DAMAGED});
    if (health->n_not_numbers > 0)
        result_warn(result->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_NOT_NUMBERS, .n_samples = health->n_not_numbers});
    if (health->n_clipped >= RESULT_CLIPPED_MIN)
        result_warn(result->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_CLIPPING, .n_samples = health->n_clipped});
    if (health->channels_differ && info->channel == APERTA_AUDIO_MIX)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_CHANNELS_DIFFER});
    if (info->bits_per_s > 0.0 && info->bits_per_s < RESULT_BITS_PER_S_MIN)
        result_warn(result->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_STRONG_COMPRESSION, .bits_per_s = info->bits_per_s});
    if (info->sample_rate_hz < RESULT_LOW_RATE_HZ)
        result_warn(result->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_LOW_SAMPLE_RATE, .hz = info->sample_rate_hz});
}

/* Fast songs rest little too, but their notes lie on a scale. */
static void notice_speech(const aperta_f0_track *track, const aperta_note *notes, guint n_notes,
                          result_noticed *noticed)
{
    double rest = aperta_pitch_resting_share(track);

    if (rest >= RESULT_DOUBTED_REST || aperta_pitch_on_scale(notes, n_notes) >= RESULT_ON_SCALE)
        return;
    noticed->spoken = rest < RESULT_SPOKEN_REST;
    noticed->perhaps_spoken = !noticed->spoken;
}

result_noticed result_notice(const aperta_f0_track *track, const aperta_pitch_feature *features,
                             const aperta_note *notes, guint n_notes)
{
    result_noticed noticed = {0};
    guint hum = 0, at_60 = 0, other = 0;

    notice_speech(track, notes, n_notes, &noticed);
    for (guint i = 0; i < track->n_frames; i++) {
        const aperta_pitch_feature *f = &features[i];
        other += f->other_db > RESULT_HUM_DB;
        if (f->hum_db < RESULT_HUM_DB || f->hum_db < f->other_db) /* an instrument has partials there too */
            continue;
        hum++;
        at_60 += f->mains_hz == 60;
    }
    if (hum > MAX(RESULT_HUM_SHARE * track->n_frames, other))
        noticed.mains_hz = at_60 > hum / 2 ? 60 : 50;
    return noticed;
}

/* Hum under the voice, or alone in the rests. */
static int hum_hz(const result_noticed *noticed, double level_db, double rest_db, const aperta_audio_health *health)
{
    if (noticed->mains_hz > 0)
        return noticed->mains_hz;
    gboolean floor_is_hum = rest_db >= RESULT_FLOOR_SILENT_DB && health->floor_db < level_db - RESULT_HUM_BELOW_DB;
    return floor_is_hum ? health->hum_hz : 0;
}

static void warn_about_floor(aperta_result *result, double level_db, const aperta_audio_health *health,
                             const result_noticed *noticed)
{
    double rest_db = -HUGE_VAL;
    gboolean has_rests = result_rest_level(result->track, &rest_db);
    int mains_hz = hum_hz(noticed, level_db, rest_db, health);

    if (mains_hz > 0)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_HUM, .hz = mains_hz});
    else if (has_rests && rest_db > level_db - RESULT_FLOOR_MARGIN_DB)
        result_warn(result->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_NOISE_FLOOR, .db = MAX(level_db - rest_db, 0.0)});
}

/* Share of the time of the notes in sounds that can hardly be a voice; bare ones and others apart. */
static void share_of_sounds(const aperta_result *result, double *bare, double *others)
{
    double all_s = 0.0, bare_s = 0.0, others_s = 0.0;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = aperta_sung_note_at(result->notes, i);
        double length_s = note->note.span.end_s - note->note.span.start_s;
        all_s += length_s;
        bare_s += note->tract.sound == APERTA_SOUND_BARE ? length_s : 0.0;
        others_s += note->tract.sound > APERTA_SOUND_BARE ? length_s : 0.0;
    }
    *bare = all_s > 0.0 ? bare_s / all_s : 0.0;
    *others = all_s > 0.0 ? others_s / all_s : 0.0;
}

static void warn_about_sounds(aperta_result *result)
{
    double bare, others;

    share_of_sounds(result, &bare, &others);
    if (others > RESULT_NOT_VOICE_SHARE)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_NO_RESONANCES});
    else if (bare + others > RESULT_NOT_VOICE_SHARE)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_NO_OVERTONES});
}

/* Why there is none. */
static aperta_warning_kind no_singing(const aperta_result *result, const aperta_audio_health *health)
{
    if (result_all_removed(result))
        return APERTA_WARNING_ALL_REMOVED;
    if (health->peak < RESULT_SILENT_PEAK)
        return APERTA_WARNING_SILENT;
    if (result->to_s - result->from_s < RESULT_NOTE_FITS_S)
        return APERTA_WARNING_TOO_SHORT;
    return health->hum_hz > 0 ? APERTA_WARNING_ONLY_HUM : APERTA_WARNING_UNPITCHED;
}

void result_warn_about_singing(aperta_result *result, const aperta_audio_health *health, const result_noticed *noticed)
{
    double level_db = 0.0;

    if (!result_singing_level(result, &level_db)) {
        result_warn(result->warnings, (aperta_warning){.kind = no_singing(result, health)});
        return;
    }
    if (level_db < RESULT_LOW_LEVEL_DB)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_LOW_LEVEL, .db = -level_db});
    if (noticed->spoken)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_SPOKEN});
    if (noticed->perhaps_spoken)
        result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_PERHAPS_SPOKEN});
    warn_about_sounds(result);
    warn_about_floor(result, level_db, health, noticed);
    result_warn_about_others(result, noticed);
    result_warn_about_table(result->warnings, result->settings.table, result->settings.voice);
}
