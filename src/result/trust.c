/* trust.c - how far a take is to be trusted, and what there is against it.
 *
 * What harms the recording was noticed while it was read (the kinds of the warnings). Noise and the room are heard in
 * the rests: how far the level falls there, and how fast. What became of the notes is counted. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include "dsp/dsp.h"

#include <math.h>

/* ---- the room ---------------------------------------------------------------------------------------------------- */

/* When, between two times, the level last stood at that height, and when it first fell to it; FALSE: never. */
static gboolean last_above(const aperta_f0_track *track, double from_s, double to_s, double level_db, double *time_s)
{
    for (double t = to_s; t >= from_s; t -= track->hop_s)
        if (result_level_at(track, t) >= level_db) {
            *time_s = t;
            return TRUE;
        }
    return FALSE;
}

static gboolean first_below(const aperta_f0_track *track, double from_s, double to_s, double level_db, double *time_s)
{
    for (double t = from_s; t <= to_s; t += track->hop_s)
        if (result_level_at(track, t) <= level_db) {
            *time_s = t;
            return TRUE;
        }
    return FALSE;
}

static double loudest(const aperta_f0_track *track, aperta_span span)
{
    double most_db = -HUGE_VAL;

    for (double t = span.start_s; t <= span.end_s; t += track->hop_s)
        most_db = fmax(most_db, result_level_at(track, t));
    return most_db;
}

/* The fall after a note as the time of 60 dB, from below the note on over 20 dB (as ISO 3382 has it), or as far as the
 * noise or the next note let it be seen; FALSE: it is not seen. An echo may have been taken for the end of the note, so
 * the level decides where the fall begins. */
static gboolean fall_after(const aperta_result *result, guint i, double floor_db, double *fall_s)
{
    const aperta_f0_track *track = result->track;
    const aperta_sung_note *note = aperta_sung_note_at(result->notes, i);
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
        low_db = fmin(result_level_at(track, to_s), top_db - RESULT_FALL_SEEN_DB);
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

static gboolean is_narrow(const aperta_resonance *r)
{
    return r->status == APERTA_MEASURED && aperta_semitones_between(r->low_hz, r->high_hz) <= RESULT_NARROW_ST;
}

static gboolean is_named(const aperta_sung_note *note)
{
    return note->intended != NULL || (note->vowel.heard != NULL && note->vowel.confidence >= RESULT_NAMED);
}

static void count_notes(const aperta_result *result, aperta_trust *trust)
{
    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        const aperta_resonance *f1 = aperta_sung_note_resonances(note);
        if (f1->status == APERTA_UNKNOWN)
            trust->n_untold++;
        else if (is_narrow(f1) && is_named(note))
            trust->n_told++;
        else
            trust->n_roughly++;
    }
}

/* ---- what harms the recording ------------------------------------------------------------------------------------ */

static void add_doubt(aperta_trust *trust, aperta_trust_level level, aperta_doubt doubt)
{
    trust->doubts[trust->n_doubts++] = doubt;
    trust->level = MAX(trust->level, level);
}

static void doubt_file(aperta_trust *trust, const GPtrArray *warnings)
{
    static const struct {
        aperta_warning_kind kind, or ;
        aperta_trust_level level;
        aperta_doubt doubt;
    } rows[] = {
        {APERTA_WARNING_NO_RESONANCES, APERTA_WARNING_NO_OVERTONES, APERTA_TRUST_CARE, APERTA_DOUBT_NOT_VOICE},
        {APERTA_WARNING_PERHAPS_SPOKEN, APERTA_WARNING_PERHAPS_SPOKEN, APERTA_TRUST_PARTLY,
         APERTA_DOUBT_PERHAPS_SPOKEN},
        {APERTA_WARNING_SPOKEN, APERTA_WARNING_SPOKEN, APERTA_TRUST_CARE, APERTA_DOUBT_SPOKEN},
        {APERTA_WARNING_STILL_NOTES, APERTA_WARNING_ONLY_CHORDS, APERTA_TRUST_CARE, APERTA_DOUBT_NO_VOICE},
        {APERTA_WARNING_VOICE_DOUBTED, APERTA_WARNING_VOICE_DOUBTED, APERTA_TRUST_CARE, APERTA_DOUBT_INSTRUMENT},
        {APERTA_WARNING_CLIPPING, APERTA_WARNING_CLIPPING, APERTA_TRUST_CARE, APERTA_DOUBT_CLIPPED},
        {APERTA_WARNING_STRONG_COMPRESSION, APERTA_WARNING_STRONG_COMPRESSION, APERTA_TRUST_CARE,
         APERTA_DOUBT_COMPRESSED},
        {APERTA_WARNING_LOW_SAMPLE_RATE, APERTA_WARNING_LOW_SAMPLE_RATE, APERTA_TRUST_CARE, APERTA_DOUBT_SAMPLE_RATE},
        {APERTA_WARNING_CHANNELS_DIFFER, APERTA_WARNING_CHANNELS_DIFFER, APERTA_TRUST_PARTLY, APERTA_DOUBT_CHANNELS},
        {APERTA_WARNING_LOW_LEVEL, APERTA_WARNING_LOW_LEVEL, APERTA_TRUST_PARTLY, APERTA_DOUBT_SOFT},
        {APERTA_WARNING_HUM, APERTA_WARNING_HUM, APERTA_TRUST_PARTLY, APERTA_DOUBT_HUM},
    };

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        if (result_warned(warnings, rows[i].kind) || result_warned(warnings, rows[i].or))
            add_doubt(trust, rows[i].level, rows[i].doubt);
}

static void doubt_others(aperta_trust *trust, const aperta_result *result)
{
    result_others others = result_count_others(result);
    guint n_loud = others.n_withheld[APERTA_WITHHELD_COMPANY];

    trust->n_accompanied = others.n_accompanied;
    if (others.n_accompanied > 0 && !result_warned(result->warnings, APERTA_WARNING_STILL_NOTES) &&
        !result_warned(result->warnings, APERTA_WARNING_ONLY_CHORDS))
        add_doubt(trust, 2 * n_loud >= others.n_notes ? APERTA_TRUST_CARE : APERTA_TRUST_PARTLY,
                  n_loud > 0 ? APERTA_DOUBT_COMPANY : APERTA_DOUBT_SOFT_COMPANY);
}

static void doubt_rests(aperta_trust *trust, const aperta_result *result)
{
    double rest_db, fall_s, singing_db = 0.0;

    trust->rests = result_rest_level(result->track, &rest_db);
    if (trust->rests)
        result_singing_level(result, &singing_db); /* there are notes */
    double below_db = trust->rests ? singing_db - rest_db : 0.0;
    if (result_warned(result->warnings, APERTA_WARNING_NOISE_FLOOR))
        add_doubt(trust, APERTA_TRUST_CARE, APERTA_DOUBT_MUCH_NOISE);
    else if (trust->rests && below_db < RESULT_SOME_NOISE_DB && !result_warned(result->warnings, APERTA_WARNING_HUM))
        add_doubt(trust, APERTA_TRUST_PARTLY, APERTA_DOUBT_SOME_NOISE);
    else if (trust->rests && echo_s(result, rest_db, &fall_s) && fall_s > RESULT_ECHO_S)
        add_doubt(trust, fall_s > RESULT_LONG_ECHO_S ? APERTA_TRUST_CARE : APERTA_TRUST_PARTLY,
                  fall_s > RESULT_LONG_ECHO_S ? APERTA_DOUBT_LONG_ECHO : APERTA_DOUBT_ECHO);
}

void result_trust(aperta_result *result)
{
    aperta_trust *trust = &result->trust;
    guint n = result->notes->len;

    *trust = (aperta_trust){.level = n > 0 ? APERTA_TRUST_WELL : APERTA_TRUST_NOTHING,
                            .all_removed = result_all_removed(result),
                            .n_notes = n};
    if (n == 0)
        return;
    count_notes(result, trust);
    doubt_file(trust, result->warnings);
    doubt_others(trust, result);
    doubt_rests(trust, result);
    if (n < RESULT_FEW_NOTES)
        add_doubt(trust, APERTA_TRUST_PARTLY, n == 1 ? APERTA_DOUBT_ONE_NOTE : APERTA_DOUBT_TWO_NOTES);
    if (2 * trust->n_told < n)
        trust->level = MAX(trust->level, APERTA_TRUST_PARTLY);
}
