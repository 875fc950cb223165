/* bench.c - what the benches of pitch and notes share. */
#include "bench.h"

#include "dsp/dsp.h"

#include <aperta/audio.h>
#include <math.h>
#include <stdio.h>

#define ONSET_S    0.05
#define NEAR_S     0.15
#define PITCH_C    50.0
#define NOTE(n, i) (&g_array_index((n), aperta_note, (i)))

const char *const bench_cause_names[BENCH_CAUSES] = {"joined", "absent",  "mistimed", "mispitched",
                                                     "cut",    "between", "nowhere"};

GArray *bench_read_notes(const float *samples, gsize n, double hop_s, aperta_f0_track **track)
{
    aperta_pitch_config config = aperta_pitch_config_default(APERTA_AUDIO_RATE_HZ);
    g_autofree aperta_pitch_feature *features = NULL;

    config.hop_s = hop_s;
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&config);
    aperta_pitch_push(pitch, samples, n);
    *track = aperta_pitch_finish(pitch, 0.0, &features);
    return aperta_pitch_notes(*track, features);
}

void bench_score_init(bench_score *s)
{
    *s = (bench_score){.cents = g_array_new(FALSE, FALSE, sizeof(double)),
                       .rate = g_array_new(FALSE, FALSE, sizeof(double)),
                       .extent = g_array_new(FALSE, FALSE, sizeof(double)),
                       .late_s = g_array_new(FALSE, FALSE, sizeof(double))};
}

void bench_score_clear(bench_score *s)
{
    g_array_unref(s->cents);
    g_array_unref(s->rate);
    g_array_unref(s->extent);
    g_array_unref(s->late_s);
}

double bench_median(GArray *values)
{
    return values->len > 0 ? dsp_quantile((double *)(void *)values->data, values->len, 0.5) : NAN;
}

double bench_percent(guint part, guint whole)
{
    return whole > 0 ? 100.0 * part / whole : NAN;
}

/* ---- frames ---------------------------------------------------------------------------------------------------- */

void bench_score_frames(bench_score *s, const synth_take *take, const aperta_f0_track *track)
{
    for (guint i = 0; i < MIN(take->n_frames, track->n_frames); i++) {
        double truth = take->f0_hz[i];
        const aperta_f0 *f = &track->frames[i];
        s->voiced += truth > 0.0;
        s->unvoiced += truth == 0.0;
        s->false_alarm += truth == 0.0 && f->voiced;
        if (truth <= 0.0 || !f->voiced)
            continue;
        double off = fabs(aperta_cents_between(truth, f->f0_hz));
        s->found++;
        s->gross += off > PITCH_C;
        s->octave += off > 600.0;
        g_array_append_val(s->cents, off);
    }
}

/* ---- notes ----------------------------------------------------------------------------------------------------- */

static gboolean right_pitch(const synth_truth *t, const aperta_note *n)
{
    return fabs(aperta_cents_between(t->f0_hz, n->f0_hz)) <= PITCH_C;
}

static double apart_s(const synth_truth *t, const aperta_note *n)
{
    return fabs(t->start_s - n->span.start_s);
}

static void score_vibrato(bench_score *s, const synth_truth *t, const aperta_note *n)
{
    gboolean measured = n->vibrato.status == APERTA_VIBRATO_MEASURED;

    if (t->vibrato_partial) /* too short a part of it is fully grown to know its truth */
        return;
    if (t->vibrato_extent_cents < 20.0) {
        s->straight_called += t->vibrato_extent_cents == 0.0 && measured;
        return;
    }
    if (t->end_s - t->start_s < 0.6)
        return;
    s->vibrato_true++;
    if (!measured)
        return;
    double rate = fabs(n->vibrato.rate_hz - t->vibrato_rate_hz);
    double extent = fabs(n->vibrato.extent_cents - t->vibrato_extent_cents);
    s->vibrato_found++;
    g_array_append_val(s->rate, rate);
    g_array_append_val(s->extent, extent);
}

/* The first unused note that begins with t, and where pitch_too is, has its pitch; -1: none. */
static int match(const synth_truth *t, const GArray *notes, const gboolean *used, gboolean pitch_too)
{
    for (guint i = 0; i < notes->len; i++)
        if (!used[i] && apart_s(t, NOTE(notes, i)) <= ONSET_S && (!pitch_too || right_pitch(t, NOTE(notes, i))))
            return (int)i;
    return -1;
}

static bench_cause why_missed(const synth_truth *t, const GArray *notes, gboolean *used)
{
    gboolean goes_on = FALSE;

    for (guint i = 0; i < notes->len; i++) {
        const aperta_note *n = NOTE(notes, i);
        if (!used[i] && apart_s(t, n) <= ONSET_S) {
            used[i] = TRUE;
            return BENCH_MISPITCHED;
        }
        if (!used[i] && apart_s(t, n) <= NEAR_S && right_pitch(t, n)) {
            used[i] = TRUE;
            return BENCH_MISTIMED;
        }
        goes_on |= n->span.start_s < t->start_s && n->span.end_s > t->start_s + ONSET_S;
    }
    return goes_on ? BENCH_JOINED : BENCH_ABSENT;
}

static bench_cause why_extra(const aperta_note *n, const synth_take *take)
{
    bench_cause cause = BENCH_NOWHERE;

    for (guint k = 0; k < take->n_notes; k++) {
        const synth_truth *t = &take->notes[k];
        if (n->span.start_s > t->end_s || n->span.end_s < t->start_s)
            continue;
        if (right_pitch(t, n))
            return BENCH_CUT;
        cause = BENCH_BETWEEN;
    }
    return cause;
}

static void count_onsets(bench_score *s, const synth_take *take, const GArray *notes)
{
    g_autofree gboolean *used = g_new0(gboolean, notes->len + 1);

    for (guint k = 0; k < take->n_notes; k++) {
        int i = match(&take->notes[k], notes, used, FALSE);
        if (i < 0)
            continue;
        used[i] = TRUE;
        s->onset_only++;
        double late_s = NOTE(notes, i)->span.start_s - take->notes[k].start_s;
        g_array_append_val(s->late_s, late_s);
    }
}

void bench_score_notes(bench_score *s, const synth_take *take, const GArray *notes, const gboolean *optional)
{
    g_autofree gboolean *used = g_new0(gboolean, notes->len + 1);
    g_autofree gboolean *missed = g_new0(gboolean, take->n_notes + 1);

    for (guint k = 0; k < take->n_notes; k++) {
        gboolean may_lack = optional != NULL && optional[k];
        int i = match(&take->notes[k], notes, used, TRUE);
        s->optional += may_lack;
        s->optional_found += may_lack && i >= 0;
        missed[k] = i < 0 && !may_lack;
        if (i >= 0)
            used[i] = TRUE;
        if (i >= 0 && !may_lack)
            score_vibrato(s, &take->notes[k], NOTE(notes, i));
        s->true_notes += i >= 0 || !may_lack;
        s->matched += i >= 0;
    }
    s->found_notes += notes->len;
    for (guint k = 0; k < take->n_notes; k++)
        if (missed[k])
            s->causes[why_missed(&take->notes[k], notes, used)]++;
    for (guint i = 0; i < notes->len; i++)
        if (!used[i])
            s->causes[why_extra(NOTE(notes, i), take)]++;
    count_onsets(s, take, notes);
}

/* ---- by eye ---------------------------------------------------------------------------------------------------- */

void bench_show(const synth_take *take, const GArray *notes)
{
    static const char *const onsets[] = {"vowel", "dip", "stop", "fricative", "h", "nasal", "lateral"};

    for (guint k = 0; k < take->n_notes; k++) {
        const synth_truth *t = &take->notes[k];
        gboolean ok = FALSE;
        for (guint i = 0; i < notes->len; i++)
            ok |= apart_s(t, NOTE(notes, i)) <= ONSET_S && right_pitch(t, NOTE(notes, i));
        printf("  true  %.3f-%.3f %.2f vib %.1f Hz %.0f c %s%s\n", t->start_s, t->end_s, t->midi, t->vibrato_rate_hz,
               t->vibrato_extent_cents, onsets[t->onset], ok ? "" : "   <--");
    }
    for (guint i = 0; i < notes->len; i++) {
        const aperta_note *n = NOTE(notes, i);
        gboolean ok = FALSE;
        for (guint k = 0; k < take->n_notes; k++)
            ok |= apart_s(&take->notes[k], n) <= ONSET_S && right_pitch(&take->notes[k], n);
        printf("  read  %.3f-%.3f %.2f vib %.1f Hz %.0f c%s%s\n", n->span.start_s, n->span.end_s,
               aperta_hz_to_midi(n->f0_hz, 440.0), n->vibrato.rate_hz, n->vibrato.extent_cents, ok ? "" : "   <--",
               n->accompanied ? " accompanied" : "");
    }
}
