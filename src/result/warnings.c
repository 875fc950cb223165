/* warnings.c - what a singer should know about the recording before believing the report. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include "dsp/dsp.h"

#include <math.h>
#include <string.h>

/* "0:12.3" */
static char *clock_of(double seconds)
{
    double tenths = floor(seconds * 10.0 + 0.5);

    return g_strdup_printf("%d:%04.1f", (int)(tenths / 600.0), fmod(tenths, 600.0) / 10.0);
}

static void warn_about_end(aperta_result *result, double promised_s)
{
    g_autofree char *end = clock_of(result->seconds);
    g_autofree char *promised = clock_of(promised_s);

    if (promised_s > 0.0)
        result_warn(
            result, "truncated",
            "The file breaks off at %s, but says of itself that it lasts until %s; what is there was read. Was it "
            "copied or downloaded to its end?",
            end, promised);
    else
        result_warn(
            result, "truncated",
            "The file was never finished, or its end is missing; what is there, up to %s, was read. Was it copied or "
            "downloaded to its end, or was the recorder stopped by force?",
            end);
}

void result_warn_about_sound(aperta_result *result, const aperta_audio_info *info, const aperta_audio_health *health)
{
    if (health->truncated)
        warn_about_end(result, health->promised_s);
    if (health->damaged)
        result_warn(
            result, "damaged",
            "Parts of the file are damaged and were taken as silence: notes may be missing or cut short there.");
    if (health->n_not_numbers > 0)
        result_warn(result, "not-numbers", "%" G_GUINT64_FORMAT " samples are not numbers and were taken as silence.",
                    health->n_not_numbers);
    if (health->n_clipped >= RESULT_CLIPPED_MIN)
        result_warn(result, "clipping",
                    "The recording is clipped: %" G_GUINT64_FORMAT
                    " samples are at the limit. Clipping adds overtones of its own, so do not trust the vowels and "
                    "resonances of loud notes; record with a lower level.",
                    health->n_clipped);
    if (health->channels_differ && info->channel == APERTA_AUDIO_MIX)
        result_warn(
            result, "channels-differ",
            "The channels are very different (is one of them not a microphone?). Their mix was read; choose one "
            "with --channel.");
    if (info->bits_per_s > 0.0 && info->bits_per_s < RESULT_BITS_PER_S_MIN)
        result_warn(
            result, "strong-compression",
            "The file is compressed to %.0f kbit/s, which leaves out and smears much of the sound: do not trust "
            "vowels and resonances. Record or export as WAV or FLAC.",
            info->bits_per_s / 1000.0);
    if (info->sample_rate_hz < RESULT_LOW_RATE_HZ)
        result_warn(result, "low-sample-rate",
                    "The sample rate is only %d Hz: F3 may lie above what was recorded, and F2 of \"ee\" near its end.",
                    info->sample_rate_hz);
}

static gboolean singing_level(const aperta_result *result, double *level_db)
{
    g_autoptr(GArray) levels = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = g_ptr_array_index(result->notes, i);
        double middle_s = (note->note.steady.start_s + note->note.steady.end_s) / 2.0;
        double level = result->track->frames[aperta_f0_track_frame_at(result->track, middle_s)].level_db;
        g_array_append_val(levels, level);
    }
    if (levels->len == 0)
        return FALSE;
    *level_db = dsp_quantile((double *)(void *)levels->data, levels->len, 0.5);
    return TRUE;
}

/* Level between the notes: the quieter half of the frames well away from any voice. FALSE when there are too few rests.
 */
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
        result_warn(
            result, "hum",
            "There is mains hum (%d Hz and its multiples) under the recording. It hides the lowest harmonic of low "
            "notes; try another cable or socket, or record on battery.",
            mains_hz);
    else if (has_rests && rest_db > level_db - RESULT_FLOOR_MARGIN_DB)
        result_warn(
            result, "noise-floor",
            "Between the notes the recording is only %.0f dB softer than the singing: noise, a long echo, or something "
            "that plays along. Weak harmonics are lost in that; find a quieter, softer room, or sing closer to the "
            "microphone.",
            MAX(level_db - rest_db, 0.0));
}

/* Share of the time of the notes in sounds that can hardly be a voice; bare ones and others apart. */
static void share_of_sounds(const aperta_result *result, double *bare, double *others)
{
    double all_s = 0.0, bare_s = 0.0, others_s = 0.0;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = g_ptr_array_index(result->notes, i);
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
        result_warn(
            result, "not-voice",
            "What sounds here can hardly be a voice: most of it has no resonances, as clicks, buzzers and test "
            "tones have none. No vowel is told of it, and its pitches are those of the sound, not of a singer.");
    else if (bare + others > RESULT_NOT_VOICE_SHARE)
        result_warn(result, "not-voice",
                    "Hardly an overtone is heard in most of these notes, as in whistling, a flute or a test tone: no "
                    "vowel can be told. If it is a voice, record it closer and louder.");
}

/* The words of a table of one's own are quoted. */
static char *status_words(const aperta_vowel_table *table)
{
    if (strcmp(table->status, "secondary") == 0)
        return g_strdup_printf("The figures of the table %s are from other people's copies of the source, not from the "
                               "source itself.",
                               table->name);
    if (g_str_has_prefix(table->status, "from memory"))
        return g_strdup_printf("The figures of the table %s are %s.", table->name, table->status);
    return g_strdup_printf("The table %s says of its figures: “%s”.", table->name, table->status);
}

static void warn_about_status(GPtrArray *warnings, const aperta_vowel_table *table)
{
    if (!g_str_has_prefix(table->status, "from the source") && strcmp(table->status, "not given") != 0)
        result_warnings_add(warnings, "table-status", status_words(table));
}

static void warn_about_table_voice(GPtrArray *warnings, const aperta_vowel_table *table, aperta_voice voice)
{
    static const struct {
        aperta_voice voice;
        const char *people;
    } groups[] = {{APERTA_VOICE_WOMAN, "women"}, {APERTA_VOICE_MAN, "men"}, {APERTA_VOICE_CHILD, "children"}};
    aperta_voice group = aperta_voice_group(voice);

    for (gsize i = 0; i < G_N_ELEMENTS(groups); i++)
        if (groups[i].voice == table->voice && group != table->voice && group != APERTA_VOICE_UNKNOWN)
            result_warnings_add(
                warnings, "table-voice",
                g_strdup_printf(
                    "The table %s is of %s, but the voice was given as %s. A woman's resonances lie about three "
                    "semitones above a man's, and a child's higher still, so the advice may be off by as "
                    "much; leave --table away, or name one such as %s.",
                    table->name, groups[i].people, aperta_voice_word(voice), aperta_vowel_table_for_voice(voice)));
}

void result_warn_about_table(GPtrArray *warnings, const aperta_vowel_table *table, aperta_voice voice)
{
    warn_about_status(warnings, table);
    warn_about_table_voice(warnings, table, voice);
}

void result_warn_about_singing(aperta_result *result, const aperta_audio_health *health, const result_noticed *noticed)
{
    double level_db = 0.0;

    if (!singing_level(result, &level_db)) {
        result_warn(result, "no-singing", "No singing was found: %s",
                    health->peak < 1e-4                    ? "the recording is silent."
                    : result->to_s - result->from_s < 0.15 ? "the recording is too short to hold a note."
                    : health->hum_hz > 0 ? "what sounds is mains hum (move away from lamps, chargers and long cables)."
                                         : "no stretch of it has one steady pitch (or other sounds cover the voice).");
        return;
    }
    if (level_db < RESULT_LOW_LEVEL_DB)
        result_warn(result, "low-level",
                    "The singing is very soft in the recording (%.0f dB below full scale). Raise the recording level.",
                    -level_db);
    if (noticed->spoken)
        result_warn(result, "spoken",
                    "This seems to be spoken, not sung: the pitch hardly ever rests. What is listed as notes are "
                    "stretches of speech, and neither tuning nor key is told from them.");
    if (noticed->perhaps_spoken)
        result_warn(result, "perhaps-spoken",
                    "It is not sure whether this is sung: the pitch rests little, as in speech or in very short notes. "
                    "If it is spoken, what is listed as notes are stretches of speech.");
    warn_about_sounds(result);
    warn_about_floor(result, level_db, health, noticed);
    result_warn_about_company(result, noticed);
    if (result->warnings == NULL)
        result->warnings = result_warnings_new();
    result_warn_about_table(result->warnings, result->table, result->voice);
}
