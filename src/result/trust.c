/* trust.c - how far a take is to be trusted, in one sentence for a singer.
 *
 * What harms the recording was noticed while it was read (the codes of the warnings). Noise and the room are heard in
 * the rests: how far the level falls there, and how fast. What became of the notes is counted. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include "dsp/dsp.h"

#include <math.h>
#include <string.h>

/* ---- the room ---------------------------------------------------------------------------------------------------- */

static double level_at(const aperta_f0_track *track, double time_s)
{
    return track->frames[aperta_f0_track_frame_at(track, time_s)].level_db;
}

static double level_of_note(const aperta_f0_track *track, const aperta_note *note)
{
    return level_at(track, 0.5 * (note->steady.start_s + note->steady.end_s));
}

/* When, between two times, the level last stood at that height, and when it first fell to it; FALSE: never. */
static gboolean last_above(const aperta_f0_track *track, double from_s, double to_s, double level_db, double *time_s)
{
    for (double t = to_s; t >= from_s; t -= track->hop_s)
        if (level_at(track, t) >= level_db) {
            *time_s = t;
            return TRUE;
        }
    return FALSE;
}

static gboolean first_below(const aperta_f0_track *track, double from_s, double to_s, double level_db, double *time_s)
{
    for (double t = from_s; t <= to_s; t += track->hop_s)
        if (level_at(track, t) <= level_db) {
            *time_s = t;
            return TRUE;
        }
    return FALSE;
}

static double loudest(const aperta_f0_track *track, aperta_span span)
{
    double most_db = -HUGE_VAL;

    for (double t = span.start_s; t <= span.end_s; t += track->hop_s)
        most_db = fmax(most_db, level_at(track, t));
    return most_db;
}

/* The fall after a note as the time of 60 dB, from below the note on over 20 dB (as ISO 3382 has it), or as far as the
 * noise or the next note let it be seen; FALSE: it is not seen. An echo may have been taken for the end of the note, so
 * the level decides where the fall begins. */
static gboolean fall_after(const aperta_result *result, guint i, double floor_db, double *fall_s)
{
    const aperta_f0_track *track = result->track;
    const aperta_sung_note *note = g_ptr_array_index(result->notes, i);
    const aperta_sung_note *next = i + 1 < result->notes->len ? g_ptr_array_index(result->notes, i + 1) : NULL;
    double rest_end_s = (next != NULL ? next->note.span.start_s : result->to_s) - RESULT_FALL_BEFORE_S;
    double top_db = loudest(track, note->note.steady) - RESULT_FALL_FROM_DB;
    double low_db = fmax(top_db - RESULT_FALL_DB, floor_db + RESULT_FALL_FLOOR_DB);
    double from_s, to_s;

    if (top_db - low_db < RESULT_FALL_LEAST_DB ||
        !last_above(track, note->note.steady.start_s, rest_end_s, top_db, &from_s) ||
        rest_end_s - from_s < RESULT_FALL_REST_S)
        return FALSE;
    if (!first_below(track, from_s, rest_end_s, low_db, &to_s)) {
        to_s = rest_end_s;
        low_db = fmin(level_at(track, to_s), top_db - RESULT_FALL_SEEN_DB);
    }
    *fall_s = (to_s - from_s) * 60.0 / (top_db - low_db);
    return TRUE;
}

/* A voice stops no faster than its room lets it, but often more slowly: the quick falls tell the room. */
static gboolean echo_s(const aperta_result *result, double floor_db, double *seconds)
{
    g_autoptr(GArray) falls = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < result->notes->len; i++) {
        double fall_s;
        if (fall_after(result, i, floor_db, &fall_s))
            g_array_append_val(falls, fall_s);
    }
    if (falls->len == 0)
        return FALSE;
    *seconds = dsp_quantile((double *)(void *)falls->data, falls->len, RESULT_FALL_QUICK);
    return TRUE;
}

/* ---- what became of the notes ------------------------------------------------------------------------------------ */

typedef struct {
    guint told;    /* vowel and F1 */
    guint roughly; /* only a limit or a wide range of F1, or an unsure vowel */
    guint untold;  /* withheld, or nothing of F1 could be told */
} note_counts;

static gboolean is_narrow(const aperta_resonance *r)
{
    return r->status == APERTA_MEASURED && aperta_semitones_between(r->low_hz, r->high_hz) <= RESULT_NARROW_ST;
}

static gboolean is_named(const aperta_sung_note *note)
{
    return note->intended != NULL || (note->vowel.heard != NULL && note->vowel.confidence >= RESULT_NAMED);
}

static note_counts count_notes(const aperta_result *result)
{
    note_counts counts = {0};

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = g_ptr_array_index(result->notes, i);
        const aperta_resonance *f1 = aperta_sung_note_resonances(note);
        if (f1->status == APERTA_UNKNOWN)
            counts.untold++;
        else if (is_narrow(f1) && is_named(note))
            counts.told++;
        else
            counts.roughly++;
    }
    return counts;
}

/* ---- what harms the recording ------------------------------------------------------------------------------------ */

typedef struct {
    GPtrArray *reasons; /* char * */
    aperta_trust level;
    gboolean rests; /* there are some that tell of noise */
} judgement;

static void doubt(judgement *j, aperta_trust level, const char *reason)
{
    g_ptr_array_add(j->reasons, g_strdup(reason));
    j->level = MAX(j->level, level);
}

static gboolean warned(const aperta_result *result, const char *code)
{
    for (guint i = 0; result->warnings != NULL && i < result->warnings->len; i++)
        if (strcmp(((const aperta_warning *)g_ptr_array_index(result->warnings, i))->code, code) == 0)
            return TRUE;
    return FALSE;
}

static void doubt_file(judgement *j, const aperta_result *result)
{
    static const struct {
        const char *code;
        aperta_trust level;
        const char *reason;
    } rows[] = {
        {"not-voice", APERTA_TRUST_CARE, "what sounds can hardly be a voice"},
        {"perhaps-spoken", APERTA_TRUST_PARTLY, "it may be spoken"},
        {"spoken", APERTA_TRUST_CARE, "it seems to be spoken, not sung"},
        {"no-voice", APERTA_TRUST_CARE, "no voice is heard in it"},
        {"voice-doubted", APERTA_TRUST_CARE, "it may be an instrument and no voice"},
        {"clipping", APERTA_TRUST_CARE, "the recording was too loud and is clipped"},
        {"strong-compression", APERTA_TRUST_CARE, "the file is strongly compressed"},
        {"low-sample-rate", APERTA_TRUST_CARE, "the sample rate is low"},
        {"channels-differ", APERTA_TRUST_PARTLY, "the channels do not belong together"},
        {"low-level", APERTA_TRUST_PARTLY, "the singing is very soft in the recording"},
        {"hum", APERTA_TRUST_PARTLY, "mains hum lies under the recording"},
    };

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        if (warned(result, rows[i].code))
            doubt(j, rows[i].level, rows[i].reason);
}

static void doubt_company(judgement *j, const aperta_result *result)
{
    guint n = 0, loud = 0;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_note *note = &((const aperta_sung_note *)g_ptr_array_index(result->notes, i))->note;
        n += note->accompanied;
        loud += note->withheld == APERTA_WITHHELD_COMPANY;
    }
    if (n == 0 || warned(result, "no-voice"))
        return;
    const char *what = loud > 0 ? "something else" : "something softer";
    g_autofree char *reason = n == result->notes->len
                                  ? g_strdup_printf("%s sounds with every note", what)
                                  : g_strdup_printf("%s sounds with %u note%s", what, n, n == 1 ? "" : "s");
    doubt(j, 2 * loud >= result->notes->len ? APERTA_TRUST_CARE : APERTA_TRUST_PARTLY, reason);
}

/* The median of the notes' levels; there are notes. */
static double singing_level(const aperta_result *result)
{
    g_autoptr(GArray) levels = g_array_new(FALSE, FALSE, sizeof(double));

    for (guint i = 0; i < result->notes->len; i++) {
        double level_db =
            level_of_note(result->track, &((const aperta_sung_note *)g_ptr_array_index(result->notes, i))->note);
        g_array_append_val(levels, level_db);
    }
    return dsp_quantile((double *)(void *)levels->data, levels->len, 0.5);
}

static void doubt_rests(judgement *j, const aperta_result *result)
{
    double rest_db, fall_s;

    j->rests = result_rest_level(result->track, &rest_db);
    double below_db = j->rests ? singing_level(result) - rest_db : 0.0;
    if (warned(result, "noise-floor"))
        doubt(j, APERTA_TRUST_CARE, "there is much noise or echo between the notes");
    else if (j->rests && below_db < RESULT_SOME_NOISE_DB && !warned(result, "hum"))
        doubt(j, APERTA_TRUST_PARTLY, "there is some noise between the notes");
    else if (j->rests && echo_s(result, rest_db, &fall_s) && fall_s > RESULT_ECHO_S)
        doubt(j, fall_s > RESULT_LONG_ECHO_S ? APERTA_TRUST_CARE : APERTA_TRUST_PARTLY,
              fall_s > RESULT_LONG_ECHO_S ? "the room echoes for long" : "the room echoes");
}

/* ---- the sentence ------------------------------------------------------------------------------------------------ */

static char *joined(const GPtrArray *reasons)
{
    GString *line = g_string_new(NULL);

    for (guint i = 0; i < reasons->len; i++)
        g_string_append_printf(line, "%s%s",
                               i == 0                 ? ""
                               : i + 1 < reasons->len ? ", "
                                                      : " and ",
                               (const char *)g_ptr_array_index(reasons, i));
    return g_string_free(line, FALSE);
}

static char *recording_words(const judgement *j)
{
    static const char *const words[] = {"Well", "In part", "With care"};
    g_autofree char *reasons = joined(j->reasons);

    if (j->reasons->len > 0)
        return g_strdup_printf("%s: %s", words[j->level], reasons);
    return g_strdup_printf("%s: %s", words[j->level],
                           j->rests ? "the recording is clean"
                                    : "nothing is amiss, but no rest tells of noise or echo");
}

/* "told on 29 of 34 notes, on 4 only roughly, on 1 not at all" */
static char *count_words(const note_counts *counts, guint n)
{
    GString *line = g_string_new(NULL);

    if (counts->told == n)
        g_string_append_printf(line,
                               n == 1   ? "told on the one note"
                               : n == 2 ? "told on both notes"
                                        : "told on all %u notes",
                               n);
    else if (counts->told == 0)
        g_string_append_printf(line, n == 1 ? "not told surely on the one note" : "told surely on none of %u notes", n);
    else
        g_string_append_printf(line, "told on %u of %u notes", counts->told, n);
    if (counts->roughly > 0 && counts->roughly < n)
        g_string_append_printf(line, ", on %u only roughly", counts->roughly);
    else if (counts->roughly == n)
        g_string_append(line, ", only roughly");
    if (counts->untold > 0 && counts->untold < n)
        g_string_append_printf(line, ", on %u not at all", counts->untold);
    return g_string_free(line, FALSE);
}

void result_trust(aperta_result *result)
{
    g_autoptr(GPtrArray) reasons = g_ptr_array_new_with_free_func(g_free);
    judgement j = {.reasons = reasons, .level = APERTA_TRUST_WELL};
    guint n = result->notes->len;

    result->trust_level = APERTA_TRUST_NOTHING;
    if (n == 0) {
        result->trust = g_strdup("There is nothing to trust: no singing was found.");
        return;
    }
    note_counts counts = count_notes(result);
    doubt_file(&j, result);
    doubt_company(&j, result);
    doubt_rests(&j, result);
    if (n < RESULT_FEW_NOTES)
        doubt(&j, APERTA_TRUST_PARTLY, n == 1 ? "one note is little to go by" : "two notes are little to go by");
    if (2 * counts.told < n)
        j.level = MAX(j.level, APERTA_TRUST_PARTLY);
    g_autofree char *recording = recording_words(&j), *told = count_words(&counts, n);
    const char *but = j.reasons->len == 0 && j.level > APERTA_TRUST_WELL ? ", but" : ";";
    result->trust_level = j.level;
    result->trust = g_strdup_printf("%s%s vowel and F1 are %s.", recording, but, told);
}
