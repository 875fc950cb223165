/* notes.c - from the pitch track to notes.
 *
 * Each voiced run is segmented by dynamic programming (Bellman 1961) into notes and glides so that the sum of
 *     the squared distance of the vibrato-free pitch from each note's mean,
 *     a price for each note, lower where level or spectrum show a consonant,
 *     a price a frame for glides, which belong to no pitch (portamento, scoops)
 * is least. Vibrato is taken out first (smooth.c), so that its swings are not taken for notes. */
#include "dsp/dsp.h"
#include "pitch/pitch-private.h"

#include <math.h>
#include <string.h>

/* Segments: note if pitch is known. Frames are those of the run. */
typedef struct {
    guint from, to; /* to is one past the end */
    gboolean is_note;
} segment;

typedef struct {
    const aperta_f0_track *track;
    const aperta_pitch_feature *features; /* may be NULL */
    guint first;                          /* frame of the track */
    guint n;
    double *sung_st;  /* as sung */
    double *pitch_st; /* vibrato-free */
    double *level_db; /* vibrato-free */
    double *quick_db; /* level lightly smoothed */
    double *vowel_db; /* sonority, likewise; the level where there are no features */
    pitch_stretch *vibrato;
    double *evidence;                                /* 0.. : what a cut here is worth; 0 but at its local maxima */
    double *glide_cost;                              /* of the frames before, were they all glides; n + 1 */
    double per_frame;                                /* costs are per 10 ms */
    guint note_min, note_short, note_max, glide_max; /* frames */
} run;

/* ---- runs --------------------------------------------------------------------------------------------------- */

/* Next voiced run at or after *at; short gaps are bridged. */
static gboolean next_run(const aperta_f0_track *track, guint *at, guint *first, guint *n)
{
    guint i = *at, gap_max = (guint)(NOTE_GAP_BRIDGE_S / track->hop_s + 0.5);

    while (i < track->n_frames && !track->frames[i].voiced)
        i++;
    if (i == track->n_frames)
        return FALSE;
    *first = i;
    guint last = i;
    for (; i < track->n_frames && i - last <= gap_max; i++)
        if (track->frames[i].voiced)
            last = i;
    *n = last - *first + 1;
    *at = last + 1;
    return TRUE;
}

static void fill_curves(run *r)
{
    g_autofree double *cents = g_new(double, r->n);
    double last = 0.0;

    for (guint i = 0; i < r->n; i++) {
        const aperta_f0 *f = &r->track->frames[r->first + i];
        if (f->voiced)
            last = 100.0 * aperta_hz_to_midi(f->f0_hz, 440.0);
        cents[i] = last;
        r->sung_st[i] = r->pitch_st[i] = last / 100.0;
        r->level_db[i] = MAX(f->level_db, NOTE_LEVEL_LEAST_DB);
    }
    r->vibrato = pitch_find_vibrato(cents, r->n, r->track->hop_s);
    memcpy(r->quick_db, r->level_db, r->n * sizeof *r->quick_db);
    for (guint i = 0; i < r->n; i++)
        r->vowel_db[i] = r->features != NULL ? r->features[r->first + i].sonority_db : r->level_db[i];
    pitch_smooth(r->pitch_st, r->n, r->track->hop_s, r->vibrato);
    pitch_smooth(r->level_db, r->n, r->track->hop_s, r->vibrato);
    pitch_smooth(r->quick_db, r->n, r->track->hop_s, NULL);
    pitch_smooth(r->vowel_db, r->n, r->track->hop_s, NULL);
}

/* ---- evidence of consonants ---------------------------------------------------------------------------------- */

static double highest(const double *x, guint from, guint to)
{
    double best = -HUGE_VAL;

    for (guint i = from; i < to; i++)
        best = MAX(best, x[i]);
    return best;
}

/* How far a curve lies below both sides at frame i. */
static double dip_db(const run *r, const double *curve_db, guint i)
{
    guint reach = (guint)(NOTE_DIP_REACH_S / r->track->hop_s);
    double left = highest(curve_db, i > reach ? i - reach : 0, i + 1);
    double right = highest(curve_db, i, MIN(i + reach + 1, r->n));

    return MIN(left, right) - curve_db[i];
}

/* The deepest dip near frame at, which may lie outside of the run. */
static double dip_near_db(const run *r, const double *curve_db, double at)
{
    double deepest = 0.0;

    for (double i = at - NOTE_CYCLE_SLACK; i <= at + NOTE_CYCLE_SLACK; i += 1.0)
        if (i >= 0.0 && i < r->n)
            deepest = MAX(deepest, dip_db(r, curve_db, (guint)i));
    return deepest;
}

/* How much deeper a dip is than those one vibrato cycle away: a resonance or a room that the harmonics swing through
 * makes dips too, but it makes them every time. */
static double own_dip_db(const run *r, const double *curve_db, guint i)
{
    double dip = dip_db(r, curve_db, i), cycle = r->vibrato[i].cycle;

    if (cycle <= 0.0f || dip <= NOTE_DIP_FREE_DB)
        return dip;
    return dip - MAX(dip_near_db(r, curve_db, i - cycle), dip_near_db(r, curve_db, i + cycle));
}

static double change_at(const run *r, guint i)
{
    return r->features != NULL ? r->features[r->first + i].change : 0.0;
}

static double raw_evidence(const run *r, guint i)
{
    double sum = NOTE_DIP_VALUE_PER_DB * MAX(0.0, own_dip_db(r, r->quick_db, i) - NOTE_DIP_FREE_DB);

    sum += NOTE_SONORITY_VALUE * MAX(0.0, own_dip_db(r, r->vowel_db, i) - NOTE_SONORITY_FREE_DB);
    sum += NOTE_CHANGE_VALUE * MAX(0.0, change_at(r, i) - NOTE_CHANGE_FREE);
    return MIN(sum, NOTE_EVIDENCE_MAX);
}

/* Keeps only the maxima, one in each stretch of the shortest note. */
static void fill_evidence(run *r)
{
    g_autofree double *raw = g_new(double, r->n);

    for (guint i = 0; i < r->n; i++)
        raw[i] = raw_evidence(r, i);
    for (guint i = 0; i < r->n; i++) {
        guint from = i > r->note_min ? i - r->note_min : 0;
        guint to = MIN(i + r->note_min + 1, r->n);
        gboolean top = raw[i] > 0.0 && raw[i] >= highest(raw, from, to);
        r->evidence[i] = top ? raw[i] : 0.0;
    }
}

static gboolean stands_still(const run *r, guint i)
{
    double moved = fabs(r->pitch_st[MIN(i + 1, r->n - 1)] - r->pitch_st[i > 0 ? i - 1 : 0]) / 2.0;

    return moved < NOTE_GLIDE_STILL_ST * r->per_frame;
}

/* A glide moves: a frame that stands still costs more as a part of one. */
static void fill_glide_cost(run *r)
{
    r->glide_cost[0] = 0.0;
    for (guint i = 0; i < r->n; i++) {
        double cost = stands_still(r, i) ? NOTE_GLIDE_STILL_COST : NOTE_GLIDE_COST;
        r->glide_cost[i + 1] = r->glide_cost[i] + r->per_frame * cost;
    }
}

/* ---- segmentation -------------------------------------------------------------------------------------------- */

typedef struct {
    double cost[2];   /* best cost of frames 0 .. j-1 when the last segment is a glide [0] or a note [1] */
    guint from[2];    /* where that segment starts */
    guint8 before[2]; /* kind of the segment before it */
} cut;

static double note_price(const run *r, guint at)
{
    return MAX(NOTE_CHANGE_COST - r->evidence[at], -0.5);
}

static void consider(cut *to, int kind, double cost, guint from, int before)
{
    if (cost < to->cost[kind]) {
        to->cost[kind] = cost;
        to->from[kind] = from;
        to->before[kind] = (guint8)before;
    }
}

static void best_cuts(const run *r, cut *cuts)
{
    g_autofree double *sum = g_new0(double, r->n + 1);
    g_autofree double *square = g_new0(double, r->n + 1);
    double origin = r->pitch_st[0]; /* keeps the squares small */

    for (guint i = 0; i < r->n; i++) {
        double p = r->pitch_st[i] - origin;
        sum[i + 1] = sum[i] + p;
        square[i + 1] = square[i] + p * p;
    }
    cuts[0] = (cut){.cost = {0.0, HUGE_VAL}};
    for (guint j = 1; j <= r->n; j++) {
        cuts[j] = (cut){.cost = {HUGE_VAL, HUGE_VAL}};
        for (guint i = j > r->note_max ? j - r->note_max : 0; i + r->note_min <= j; i++) {
            double mean = (sum[j] - sum[i]) / (j - i);
            double missing = MAX(0.0, 1.0 - (j - i) / (double)r->note_short);
            double cost = NOTE_SHORT_COST * missing +
                          r->per_frame * (square[j] - square[i] - mean * (sum[j] - sum[i])) + note_price(r, i);
            consider(&cuts[j], 1, cuts[i].cost[0] + cost, i, 0);
            consider(&cuts[j], 1, cuts[i].cost[1] + cost, i, 1);
        }
        for (guint i = j > r->glide_max ? j - r->glide_max : 0; i < j; i++)
            consider(&cuts[j], 0, cuts[i].cost[1] + r->glide_cost[j] - r->glide_cost[i], i, 1);
        if (j <= r->glide_max)
            consider(&cuts[j], 0, r->glide_cost[j], 0, 0);
    }
}

static GArray *read_cuts(const run *r, const cut *cuts)
{
    GArray *segments = g_array_new(FALSE, FALSE, sizeof(segment));
    guint j = r->n;
    int kind = cuts[j].cost[1] <= cuts[j].cost[0] ? 1 : 0;

    while (j > 0) {
        segment s = {cuts[j].from[kind], j, kind == 1};
        int before = cuts[j].before[kind];
        g_array_prepend_val(segments, s);
        j = s.from;
        kind = before;
    }
    return segments;
}

/* ---- from segments to notes ----------------------------------------------------------------------------------- */

static double mean_of(const double *x, guint from, guint to)
{
    double sum = 0.0;

    for (guint i = from; i < to; i++)
        sum += x[i];
    return sum / (to - from);
}

/* Half of the way over which the pitch swings between two frames, where that is vibrato. */
static double swing_st(const run *r, guint from, guint to)
{
    double low = HUGE_VAL, high = -HUGE_VAL;
    guint swinging = 0;

    for (guint i = from; i < to; i++) {
        low = MIN(low, r->sung_st[i]);
        high = MAX(high, r->sung_st[i]);
        swinging += r->vibrato[i].cycle > 0.0f;
    }
    return 2 * swinging > to - from ? (high - low) / 2.0 : 0.0;
}

/* Less than a cycle of a vibrato, whose mean is anywhere within its swing, and which passes the other pitch. */
static gboolean is_part_cycle(const run *r, const segment *part, double other_st)
{
    guint middle = (part->from + part->to) / 2;
    double low = HUGE_VAL, high = -HUGE_VAL;

    if (part->to - part->from > NOTE_PART_CYCLES * r->vibrato[middle].cycle)
        return FALSE;
    for (guint i = part->from; i < part->to; i++) {
        low = MIN(low, r->sung_st[i]);
        high = MAX(high, r->sung_st[i]);
    }
    return low < other_st && high > other_st;
}

/* Two neighbours of one pitch with nothing between them are one note. The wider the vibrato, the less its mean stays,
 * and the more its harmonics move the spectrum. */
static gboolean same_note(const run *r, const segment *a, const segment *b)
{
    guint reach = (guint)(NOTE_SWING_REACH_S / r->track->hop_s);

    if (a->to != b->from)
        return FALSE;
    double swing = MIN(swing_st(r, MAX(a->from, b->from - MIN(reach, b->from)), b->from),
                       swing_st(r, b->from, MIN(b->to, b->from + reach)));
    double wide = MIN(swing / NOTE_SAME_SWING_ST, 1.0);
    if (r->evidence[b->from] > NOTE_SAME_EVIDENCE * wide)
        return FALSE;
    double a_st = mean_of(r->pitch_st, a->from, a->to), b_st = mean_of(r->pitch_st, b->from, b->to);
    return fabs(a_st - b_st) < NOTE_SAME_ST + NOTE_SAME_WIDE_ST * wide || is_part_cycle(r, a, b_st) ||
           is_part_cycle(r, b, a_st);
}

/* A glide through a consonant ends one note there, any other in its middle. */
static guint border_in(const run *r, guint from, guint to)
{
    guint best = (from + to) / 2;
    double most = NOTE_GLIDE_BORDER;

    for (guint i = from; i < to; i++)
        if (r->evidence[i] > most) {
            most = r->evidence[i];
            best = i;
        }
    return best;
}

/* Gives each glide to its neighbours: a share of each between two notes, whole at the ends; merges what is one note. */
static GArray *note_segments(const run *r, const GArray *segments)
{
    GArray *notes = g_array_new(FALSE, FALSE, sizeof(segment));
    guint glide_from = 0, glide_to = 0;

    for (guint k = 0; k < segments->len; k++) {
        segment s = g_array_index(segments, segment, k);
        segment *last = notes->len > 0 ? &g_array_index(notes, segment, notes->len - 1) : NULL;
        if (!s.is_note) {
            glide_from = s.from;
            glide_to = s.to;
            if (k + 1 == segments->len && last != NULL)
                last->to = s.to;
            continue;
        }
        if (glide_to == s.from && glide_to > glide_from) {
            guint middle = last != NULL ? border_in(r, glide_from, glide_to) : glide_from;
            if (last != NULL)
                last->to = middle;
            s.from = middle;
        }
        if (last != NULL && same_note(r, last, &s))
            last->to = s.to;
        else
            g_array_append_val(notes, s);
    }
    return notes;
}

/* A consonant's dip belongs to neither vowel: the note starts where the level has risen half of the way again. */
static guint after_dip(const run *r, const segment *s)
{
    double depth = dip_db(r, r->quick_db, s->from);
    guint i = s->from;

    if (depth < NOTE_DIP_FREE_DB)
        return i;
    while (i + 1 < s->to && r->quick_db[i] < r->quick_db[s->from] + depth / 2.0)
        i++;
    return i;
}

/* Whether the spectrum moved, stood and moves again at i: into a consonant and out of it, or out of silence. */
static gboolean moves_again(const run *r, guint i)
{
    guint longest = (guint)(NOTE_CONSONANT_MAX_S / r->track->hop_s), from = i > longest ? i - longest : 0;
    double lowest = change_at(r, i);

    for (guint k = i; k-- > from;) {
        lowest = MIN(lowest, change_at(r, k));
        if (change_at(r, k) > NOTE_STEP_CHANGE && lowest < NOTE_STEP_STILL * MIN(change_at(r, k), change_at(r, i)))
            return TRUE;
    }
    return FALSE;
}

/* A voiced consonant (m, n, l) sounds before its vowel: when level and spectrum step up together soon after the start,
 * the note begins there, where singers and listeners place the beat (Sundberg & Bauer-Huppmann 2007, J. Voice
 * 21:285-293; from memory, unchecked). */
static guint vowel_start(const run *r, guint from, guint to)
{
    guint last = MIN(from + (guint)(NOTE_CONSONANT_MAX_S / r->track->hop_s), from + (to - from) / 2);
    guint reach = (guint)(NOTE_VOWEL_REACH_S / r->track->hop_s);
    guint best = from;
    double best_change = NOTE_STEP_CHANGE;

    if (r->first + from == 0) /* the recording begins within the note */
        return from;
    for (guint i = from + reach; i < last && i + reach < to; i++) {
        double step_db = r->level_db[i + reach - 1] - r->level_db[i - reach];
        double quick_step_db = r->quick_db[i + reach - 1] - r->quick_db[i - reach];
        if (MIN(step_db, quick_step_db) > NOTE_STEP_DB && change_at(r, i) > best_change && moves_again(r, i)) {
            best_change = change_at(r, i);
            best = i;
        }
    }
    return best;
}

static guint before_tail(const run *r, guint from, guint to)
{
    double loudest = highest(r->level_db, from, to);

    while (to > from + r->note_min && r->level_db[to - 1] < loudest - NOTE_TAIL_DB)
        to--;
    return to;
}

static double median_of(const double *x, guint from, guint to)
{
    g_autofree double *copy = g_memdup2(x + from, (to - from) * sizeof *x);

    return dsp_quantile(copy, to - from, 0.5);
}

/* The longest stretch near the note's pitch and level, away from its edges. */
static void find_steady(const run *r, guint from, guint to, guint *steady_from, guint *steady_to)
{
    guint edge = (guint)(NOTE_STEADY_EDGE_S / r->track->hop_s);
    edge = MIN(edge, (to - from) / 4);
    double pitch = median_of(r->pitch_st, from, to);
    double level = median_of(r->level_db, from, to);
    guint best = 0, length = 0;

    for (guint i = from + edge; i < to - edge; i++) {
        gboolean steady = fabs(r->pitch_st[i] - pitch) < NOTE_STEADY_ST && r->level_db[i] > level - NOTE_STEADY_DB;
        length = steady ? length + 1 : 0;
        if (length > best) {
            best = length;
            *steady_from = i + 1 - length;
            *steady_to = i + 1;
        }
    }
    if (best == 0) {
        *steady_from = from + edge;
        *steady_to = MAX(to - edge, from + edge + 1);
    }
}

static gboolean near_mains(double f0_hz)
{
    static const double mains_hz[] = {50.0, 60.0};

    for (gsize i = 0; i < G_N_ELEMENTS(mains_hz); i++)
        for (int k = 1; k <= NOTE_MAINS_HARMONICS; k++)
            if (fabs(aperta_cents_between(k * mains_hz[i], f0_hz)) < NOTE_MAINS_CENTS)
                return TRUE;
    return FALSE;
}

/* Mains hum stands where the mains do, and stiller than any voice. */
static gboolean is_hum(const run *r, guint from, guint to)
{
    double sum = 0.0, square = 0.0;

    if ((to - from) * r->track->hop_s < NOTE_MAINS_MIN_S)
        return FALSE;
    for (guint i = from; i < to; i++) {
        double cents = 100.0 * (r->pitch_st[i] - r->pitch_st[from]);
        sum += cents / (to - from);
        square += cents * cents / (to - from);
    }
    return square - sum * sum < NOTE_MAINS_STILL_CENTS * NOTE_MAINS_STILL_CENTS &&
           near_mains(aperta_midi_to_hz(r->pitch_st[from] + sum / 100.0, 440.0));
}

static guint note_start(const run *r, const segment *s)
{
    return vowel_start(r, after_dip(r, s), s->to);
}

/* The longest time that the pitch stands still, frames. */
static guint longest_stand(const run *r, guint from, guint to)
{
    guint longest = 0, n = 0;

    for (guint i = from; i < to; i++) {
        n = stands_still(r, i) ? n + 1 : 0;
        longest = MAX(longest, n);
    }
    return longest;
}

/* Whether there is nothing between two segments but a way from one pitch to the other. */
static gboolean leads_on(const run *r, const segment *a, const segment *b, double *up_st)
{
    if (a->to != b->from || r->evidence[b->from] >= NOTE_GLIDE_BORDER)
        return FALSE;
    *up_st = mean_of(r->pitch_st, b->from, b->to) - mean_of(r->pitch_st, note_start(r, a), a->to);
    return fabs(*up_st) < NOTE_SCOOP_MAX_ST;
}

/* What only slides is no note: a scoop up belongs to the note that it leads to, a fall at the end to the one before. */
static void join_slides(const run *r, GArray *notes)
{
    guint stand = (guint)(NOTE_SCOOP_STANDS_S / r->track->hop_s), longest = (guint)(NOTE_SCOOP_MAX_S / r->track->hop_s);

    for (guint k = 0; k < notes->len; k++) {
        segment *s = &g_array_index(notes, segment, k);
        gboolean followed = k + 1 < notes->len && (s + 1)->from == s->to;
        guint start = note_start(r, s);
        double up_st;
        if (s->to - start > longest || longest_stand(r, start, s->to) >= stand)
            continue;
        if (followed && leads_on(r, s, s + 1, &up_st) && up_st > 0.0)
            (s + 1)->from = s->from;
        else if (!followed && k > 0 && leads_on(r, s - 1, s, &up_st))
            (s - 1)->to = s->to;
        else
            continue;
        g_array_remove_index(notes, k--);
    }
}

static void add_note(const run *r, const segment *s, GArray *notes, GArray *levels)
{
    guint from = note_start(r, s);
    guint to = before_tail(r, from, s->to);
    guint steady_from = from, steady_to = to;
    double half = r->track->hop_s / 2.0;

    if (to - from < r->note_min)
        return;
    find_steady(r, from, to, &steady_from, &steady_to);
    if (is_hum(r, steady_from, steady_to))
        return;
    aperta_note note = {
        .span = {aperta_f0_track_time_s(r->track, r->first + from) - half,
                 aperta_f0_track_time_s(r->track, r->first + to - 1) + half},
        .steady = {aperta_f0_track_time_s(r->track, r->first + steady_from) - half,
                   aperta_f0_track_time_s(r->track, r->first + steady_to - 1) + half},
        .f0_hz = aperta_midi_to_hz(median_of(r->pitch_st, steady_from, steady_to), 440.0),
    };
    note.vibrato = pitch_vibrato(r->track, note.steady);
    double level = median_of(r->level_db, from, to);
    g_array_append_val(notes, note);
    g_array_append_val(levels, level);
}

static void read_run(run *r, GArray *notes, GArray *levels)
{
    if (r->n < r->note_min)
        return;

    g_autofree double *sung_st = r->sung_st = g_new(double, r->n);
    g_autofree double *pitch_st = r->pitch_st = g_new(double, r->n);
    g_autofree double *level_db = r->level_db = g_new(double, r->n);
    g_autofree double *quick_db = r->quick_db = g_new(double, r->n);
    g_autofree double *vowel_db = r->vowel_db = g_new(double, r->n);
    g_autofree double *evidence = r->evidence = g_new(double, r->n);
    g_autofree double *glide_cost = r->glide_cost = g_new(double, r->n + 1);
    g_autofree cut *cuts = g_new(cut, r->n + 1);
    fill_curves(r);
    fill_evidence(r);
    fill_glide_cost(r);
    best_cuts(r, cuts);
    g_autofree pitch_stretch *vibrato = r->vibrato;
    g_autoptr(GArray) segments = read_cuts(r, cuts);
    g_autoptr(GArray) found = note_segments(r, segments);
    join_slides(r, found);
    for (guint k = 0; k < found->len; k++)
        add_note(r, &g_array_index(found, segment, k), notes, levels);
}

GArray *aperta_pitch_notes(const aperta_f0_track *track, const aperta_pitch_feature *features)
{
    GArray *notes = g_array_new(FALSE, FALSE, sizeof(aperta_note));
    g_autoptr(GArray) levels = g_array_new(FALSE, FALSE, sizeof(double));
    run r = {.track = track,
             .features = features,
             .per_frame = track->hop_s / PITCH_PER_S,
             .note_min = (guint)ceil(NOTE_MIN_S / track->hop_s),
             .note_short = (guint)(NOTE_SHORT_S / track->hop_s),
             .note_max = (guint)(NOTE_MAX_S / track->hop_s),
             .glide_max = (guint)(NOTE_GLIDE_MAX_S / track->hop_s)};
    guint at = 0;

    while (next_run(track, &at, &r.first, &r.n))
        read_run(&r, notes, levels);
    pitch_drop_strays(track, notes, levels);
    if (features != NULL)
        pitch_judge_company(notes, track, features);
    return notes;
}
