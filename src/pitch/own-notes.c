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

/* RMS of the pitch about its best straight line. */
static double wavering_cents(const stretch *s)
{
    double n = 0.0, t = 0.0, y = 0.0, tt = 0.0, ty = 0.0, yy = 0.0;

    for (guint i = s->from; i < s->to; i++) {
        if (!s->track->frames[i].voiced)
            continue;
        double x = i - s->from, cents = aperta_cents_between(440.0, s->track->frames[i].f0_hz);
        n += 1.0;
        t += x;
        y += cents;
        tt += x * x;
        ty += x * cents;
        yy += cents * cents;
    }
    if (n < 3.0)
        return HUGE_VAL;
    double slope = (ty - t * y / n) / (tt - t * t / n);
    return sqrt(MAX(yy - y * y / n - slope * (ty - t * y / n), 0.0) / n);
}

static gboolean is_clear(const stretch *whole, const stretch *steady, double loud_db)
{
    double confidence = mean_confidence(steady);

    if (confidence >= OWN_SURELY_CLEAR)
        return TRUE;
    return confidence >= OWN_CLEAR && mean_level_db(whole) >= loud_db - OWN_SOFTER_DB &&
           wavering_cents(steady) >= OWN_STILL_CENTS;
}

/* The louder quarter of the notes begins here. */
static double loud_level_db(const GArray *notes, const aperta_f0_track *track)
{
    g_autofree double *levels = g_new(double, notes->len);

    for (guint i = 0; i < notes->len; i++) {
        stretch s = frames_of(track, NULL, g_array_index(notes, aperta_note, i).span);
        levels[i] = mean_level_db(&s);
    }
    return dsp_quantile(levels, notes->len, 0.75);
}

void pitch_judge_company(GArray *notes, const aperta_f0_track *track, const aperta_pitch_feature *features)
{
    double loud_db = notes->len > 0 ? loud_level_db(notes, track) : 0.0;
    guint kept = 0;

    for (guint i = 0; i < notes->len; i++) {
        aperta_note note = g_array_index(notes, aperta_note, i);
        stretch whole = frames_of(track, features, note.span), steady = frames_of(track, features, note.steady);
        note.accompanied = has_company(&whole);
        if (borrowed_share(&whole) < OWN_BORROWED_SHARE &&
            ((!note.accompanied && !has_hum(&whole)) || is_clear(&whole, &steady, loud_db)))
            g_array_index(notes, aperta_note, kept++) = note;
    }
    g_array_set_size(notes, kept);
}
