/* own-notes.c - which notes are the singer's, when an instrument or another voice sounds too.
 *
 * A pitch tracker follows whatever is loudest, and finds common undertones of chords. Notes made of partials that go on
 * under other pitches are dropped; of the notes that have company, also those that are unclear, much softer than the
 * others, or stiller than a voice. What is left is marked, so that its vowel is not judged. The method is our own; its
 * numbers were chosen on tests/bench/company. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>

typedef struct {
    const aperta_f0_track *track;
    const aperta_pitch_feature *features;
    guint from, to; /* frames */
} stretch;

static stretch frames_of(const aperta_f0_track *track, const aperta_pitch_feature *features, aperta_span span)
{
    stretch s = {.track = track, .features = features};

    pitch_span_frames(track, span, &s.from, &s.to);
    return s;
}

/* The frames within reach_s of a stretch. */
static stretch about(const stretch *s, double reach_s)
{
    guint reach = (guint)(reach_s / s->track->hop_s);

    return (stretch){s->track, s->features, s->from > reach ? s->from - reach : 0,
                     MIN(s->to + reach, s->track->n_frames)};
}

/* Share of the frames that hold company; hum: mains hum counts too. */
static double company_share(const stretch *s, gboolean hum)
{
    guint loud = 0;

    for (guint i = s->from; i < s->to; i++)
        loud += MAX(s->features[i].other_db, hum ? s->features[i].hum_db : -HUGE_VALF) > OWN_COMPANY_DB;
    return (double)loud / (s->to - s->from);
}

static gboolean has_several(const stretch *s)
{
    guint several = 0;

    for (guint i = s->from; i < s->to; i++)
        several += s->features[i].n_others >= 2 && s->features[i].other_db > OWN_COMPANY_DB;
    return several * s->track->hop_s >= OWN_COMPANY_SEVERAL_S;
}

static gboolean has_company(const stretch *s)
{
    stretch near = about(s, OWN_COMPANY_NEAR_S), wide = about(s, OWN_COMPANY_WIDE_S);
    double near_share = company_share(&near, FALSE), wide_share = company_share(&wide, FALSE);

    if (has_several(&wide))
        return near_share > OWN_COMPANY_SHARE || wide_share > OWN_COMPANY_WIDE_SHARE;
    return wide_share > OWN_COMPANY_SINGLE_SHARE;
}

static gboolean has_hum(const stretch *s)
{
    stretch near = about(s, OWN_COMPANY_NEAR_S);

    return company_share(&near, TRUE) > OWN_COMPANY_SHARE;
}

static double mean_level_db(const stretch *s)
{
    double sum = 0.0;

    for (guint i = s->from; i < s->to; i++)
        sum += s->track->frames[i].level_db;
    return sum / (s->to - s->from);
}

static double mean_confidence(const stretch *s)
{
    double sum = 0.0;

    for (guint i = s->from; i < s->to; i++)
        sum += s->track->frames[i].confidence;
    return sum / (s->to - s->from);
}

static double borrowed_share(const stretch *s)
{
    double sum = 0.0;

    for (guint i = s->from; i < s->to; i++)
        sum += s->features[i].borrowed;
    return sum / (s->to - s->from);
}

static gboolean has_several_tones(const stretch *s)
{
    guint several = 0, voiced = 0;

    for (guint i = s->from; i < s->to; i++) {
        several += s->features[i].several;
        voiced += s->track->frames[i].voiced;
    }
    return several > SEVERAL_SHARE * voiced;
}

/* Level of the company's partials in the note, re all. */
static double company_db(const stretch *s)
{
    double power = 0.0;

    for (guint i = s->from; i < s->to; i++)
        power += pow(10.0, (double)s->features[i].other_db / 10.0) / (s->to - s->from);
    return aperta_power_to_db(power);
}

static gboolean is_clear(const stretch *whole, const stretch *steady, double loud_db)
{
    double confidence = mean_confidence(steady);

    if (confidence >= OWN_SURELY_CLEAR)
        return TRUE;
    return confidence >= OWN_CLEAR && mean_level_db(whole) >= loud_db - OWN_SOFTER_DB &&
           pitch_wavering_cents(steady->track, steady->from, steady->to) >= OWN_STILL_CENTS;
}

/* The louder quarter of the notes begins here. */
static double loud_level_db(const GArray *notes, const aperta_f0_track *track)
{
    g_autofree double *levels = g_new(double, notes->len);

    for (guint i = 0; i < notes->len; i++) {
        stretch s = frames_of(track, NULL, g_array_index(notes, aperta_note, i).span);
        levels[i] = mean_level_db(&s);
    }
    return dsp_quantile(levels, notes->len, OWN_LOUD_SHARE);
}

static double seconds_of(const aperta_note *note)
{
    return note->span.end_s - note->span.start_s;
}

static aperta_withheld withheld_of(const stretch *whole, gboolean several, gboolean accompanied)
{
    if (several)
        return APERTA_WITHHELD_SEVERAL;
    return accompanied && company_db(whole) > OWN_COMPANY_AS_LOUD_DB ? APERTA_WITHHELD_COMPANY : APERTA_WITHHELD_NOT;
}

/* Marks a note; FALSE if it is not clearly the singer's. */
static gboolean judge_note(aperta_note *note, const aperta_f0_track *track, const aperta_pitch_feature *features,
                           double loud_db)
{
    stretch whole = frames_of(track, features, note->span), steady = frames_of(track, features, note->steady);
    gboolean several = has_several_tones(&whole), company = has_company(&whole);

    note->accompanied = company; /* several tones may be the echo of the notes before */
    note->withheld = withheld_of(&whole, several, company);
    return borrowed_share(&whole) < OWN_BORROWED_SHARE &&
           ((!company && !has_hum(&whole)) || is_clear(&whole, &steady, loud_db));
}

void pitch_judge_company(GArray *notes, const aperta_f0_track *track, const aperta_pitch_feature *features)
{
    double loud_db = notes->len > 0 ? loud_level_db(notes, track) : 0.0, all_s = 0.0, lost_s = 0.0;
    guint kept = 0;

    for (guint i = 0; i < notes->len; i++) {
        aperta_note note = g_array_index(notes, aperta_note, i);
        gboolean own = judge_note(&note, track, features, loud_db);
        all_s += seconds_of(&note);
        lost_s += own && note.withheld == APERTA_WITHHELD_NOT ? 0.0 : seconds_of(&note);
        if (own)
            g_array_index(notes, aperta_note, kept++) = note;
    }
    g_array_set_size(notes, kept);
    gboolean no_voice =
        aperta_pitch_voice_heard(track, (const aperta_note *)(void *)notes->data, kept) == APERTA_NO_VOICE;
    for (guint i = 0; i < kept; i++) {
        aperta_note *note = &g_array_index(notes, aperta_note, i);
        if (lost_s > OWN_LOST_SHARE * all_s && note->accompanied && note->withheld == APERTA_WITHHELD_NOT)
            note->withheld = APERTA_WITHHELD_COMPANY;
        if (no_voice)
            note->withheld = APERTA_WITHHELD_NO_VOICE;
    }
}
