/* company.c - what sounds beside the voice: an instrument, another singer, mains hum, or the room's echo of earlier
 * notes.
 *
 * The partials of the long windows are joined over time into chains (the partial tracks of McAulay & Quatieri 1986). A
 * partial is foreign where no harmonic of the pitch that is sung about then can have made it; an instrument's partials
 * stand still and stay foreign for a while, breath and the splash of consonants do not. A room echoes what was sung
 * before, softer the longer ago it was: a foreign partial is excused where the voice itself sounded there a short time
 * ago and has since fallen as a room lets it fall. The method is our own; its numbers were chosen on
 * tests/bench/company. */
#include "pitch/pitch-private.h"

#include <math.h>

/* A chain that may go on. */
typedef struct {
    guint32 index;       /* its verdict's */
    guint last;          /* slice */
    guint n;             /* partials in it */
    guint n_foreign;     /* of them no harmonics of the voice */
    guint n_under;       /* of these while a pitch is sung */
    guint n_echo;        /* and left over from the voice */
    double hz, moved_hz; /* of the last partial; sum of all its steps */
    double foreign_hz;   /* sum over the foreign ones */
    double foreign_db;   /* sum over the foreign ones */
} chain;

/* What is kept of a chain when it has ended: an hour has millions of partials. */
typedef struct {
    guint8 lasts; /* long enough, and still enough, to be company */
    guint8 is_echo;
    guint8 mains_hz;
    gint16 tenth_db; /* mean of the foreign partials; 0 where there are none */
} verdict;

typedef enum { KIND_OWN, KIND_FOREIGN, KIND_ECHO } kind;

typedef struct {
    guint32 kind : 2;
    guint32 chain : 30;
} membership;

typedef struct {
    const pitch_slices *slices;
    const aperta_f0_track *track;
    guint frames_per_slice;
    membership *of;   /* of each partial */
    GArray *chains;   /* those that may go on */
    GArray *verdicts; /* of all chains, by their index */
} company;

static double hz_of(const pitch_partial *p)
{
    return p->tenth_hz / 10.0;
}

static double db_of(const pitch_partial *p)
{
    return p->tenth_db / 10.0;
}

static guint first_of(const company *c, guint slice)
{
    return g_array_index(c->slices->starts, guint32, slice);
}

static guint end_of(const company *c, guint slice)
{
    return slice + 1 < c->slices->starts->len ? first_of(c, slice + 1) : c->slices->partials->len;
}

static const pitch_partial *partial_at(const company *c, guint i)
{
    return &g_array_index(c->slices->partials, pitch_partial, i);
}

static const aperta_f0 *frame_of(const company *c, guint slice)
{
    return &c->track->frames[MIN(slice * c->frames_per_slice, c->track->n_frames - 1)];
}

/* ---- whose partial it is ----------------------------------------------------------------------------------------- */

static gboolean is_multiple(double hz, double of_hz)
{
    double number = floor(hz / of_hz + 0.5);

    return number >= 1.0 && fabs(hz - number * of_hz) < PARTIAL_OWN_HZ + PARTIAL_OWN_SHARE * hz;
}

/* A harmonic of a pitch that is sung within the window, or of half of it (rough voices sound so). */
static gboolean is_own(const company *c, guint slice, double hz)
{
    int at = (int)(slice * c->frames_per_slice);
    int reach = (int)(PARTIAL_OWN_REACH_S / c->track->hop_s + 0.5);

    for (int i = MAX(at - reach, 0); i <= MIN(at + reach, (int)c->track->n_frames - 1); i++) {
        const aperta_f0 *f = &c->track->frames[i];
        if (f->voiced && is_multiple(hz, f->f0_hz > PARTIAL_HALF_FROM_HZ ? f->f0_hz / 2.0 : f->f0_hz))
            return TRUE;
    }
    return FALSE;
}

/* The voice sounded here before, and what is left has fallen since. */
static gboolean is_echo(const company *c, guint slice, const pitch_partial *p)
{
    guint memory = (guint)(ECHO_MEMORY_S / PARTIAL_HOP_S), from = slice > memory ? slice - memory : 0;
    double tolerance_hz = MAX(ECHO_NEAR_HZ, ECHO_NEAR_SHARE * hz_of(p));

    for (guint s = from; s < slice; s++) {
        double fallen_db = ECHO_FALL_DB_PER_S * PARTIAL_HOP_S * (slice - s);
        for (guint i = first_of(c, s); i < end_of(c, s); i++) {
            const pitch_partial *before = partial_at(c, i);
            if (c->of[i].kind == KIND_OWN && fabs(hz_of(before) - hz_of(p)) < tolerance_hz &&
                db_of(before) - db_of(p) > fallen_db)
                return TRUE;
        }
    }
    return FALSE;
}

/* ---- chains ------------------------------------------------------------------------------------------------------ */

static gboolean lasts(const chain *ch)
{
    return ch->n_foreign * PARTIAL_HOP_S >= COMPANY_LASTS_S && ch->n_under * PARTIAL_HOP_S >= COMPANY_UNDER_S &&
           ch->moved_hz <= COMPANY_STILL_HZ * ch->n;
}

/* 50 or 60 where the chain stands at a multiple of that, as mains do within a few thousandths; 0: it does not. */
static int mains_of(const chain *ch)
{
    static const int MAINS_HZ[] = {50, 60};
    double hz = ch->foreign_hz / ch->n_foreign;

    for (gsize i = 0; i < G_N_ELEMENTS(MAINS_HZ); i++) {
        double number = floor(hz / MAINS_HZ[i] + 0.5);
        if (number <= HUM_HARMONICS && fabs(hz - number * MAINS_HZ[i]) < HUM_NEAR_HZ + HUM_NEAR_SHARE * hz)
            return MAINS_HZ[i];
    }
    return 0;
}

static verdict judge(const chain *ch)
{
    if (ch->n_foreign == 0)
        return (verdict){0};
    return (verdict){.lasts = lasts(ch),
                     .is_echo = ch->n_echo > ECHO_SHARE * ch->n_foreign,
                     .mains_hz = (guint8)mains_of(ch),
                     .tenth_db = (gint16)floor(10.0 * ch->foreign_db / ch->n_foreign + 0.5)};
}

/* Chains that have not gone on up to slice go on no more. */
static void end_chains(company *c, guint slice)
{
    guint kept = 0;

    for (guint a = 0; a < c->chains->len; a++) {
        chain ch = g_array_index(c->chains, chain, a);
        if (ch.last + PARTIAL_GAP_SLICES >= slice)
            g_array_index(c->chains, chain, kept++) = ch;
        else
            g_array_index(c->verdicts, verdict, ch.index) = judge(&ch);
    }
    g_array_set_size(c->chains, kept);
}

/* The chain that goes on with p and is nearest to it; a new one if there is none. */
static chain *chain_of(company *c, guint slice, const pitch_partial *p)
{
    double nearest_hz = MAX(PARTIAL_STEP_HZ, PARTIAL_STEP_SHARE * hz_of(p));
    chain *best = NULL;

    for (guint a = 0; a < c->chains->len; a++) {
        chain *ch = &g_array_index(c->chains, chain, a);
        if (ch->last < slice && fabs(ch->hz - hz_of(p)) < nearest_hz) {
            nearest_hz = fabs(ch->hz - hz_of(p));
            best = ch;
        }
    }
    if (best != NULL)
        return best;
    chain fresh = {.index = c->verdicts->len, .hz = hz_of(p)};
    g_array_append_val(c->chains, fresh);
    g_array_set_size(c->verdicts, c->verdicts->len + 1);
    return &g_array_index(c->chains, chain, c->chains->len - 1);
}

static void join_slice(company *c, guint slice)
{
    gboolean voiced = frame_of(c, slice)->voiced;

    end_chains(c, slice);
    for (guint i = first_of(c, slice); i < end_of(c, slice); i++) {
        const pitch_partial *p = partial_at(c, i);
        chain *ch = chain_of(c, slice, p);
        kind what = is_own(c, slice, hz_of(p)) ? KIND_OWN : is_echo(c, slice, p) ? KIND_ECHO : KIND_FOREIGN;
        ch->last = slice;
        ch->n++;
        ch->moved_hz += fabs(ch->hz - hz_of(p));
        ch->hz = hz_of(p);
        ch->n_foreign += what != KIND_OWN;
        ch->n_under += what != KIND_OWN && voiced;
        ch->n_echo += what == KIND_ECHO;
        ch->foreign_hz += what != KIND_OWN ? hz_of(p) : 0.0;
        ch->foreign_db += what != KIND_OWN ? db_of(p) : 0.0;
        c->of[i] = (membership){what, ch->index};
    }
}

/* ---- what it means ----------------------------------------------------------------------------------------------- */

static float ratio_db(double part, double whole)
{
    return part > 0.0 && whole > 0.0 ? (float)aperta_power_to_db(part / whole) : -200.0f;
}

typedef struct {
    double all, own, other, echo, borrowed;
    guint n_other;
    double hum[2]; /* at 50 and at 60 Hz */
} powers;

static void count_partial(powers *sum, const company *c, guint i, double f0_hz)
{
    const pitch_partial *p = partial_at(c, i);
    const verdict *v = &g_array_index(c->verdicts, verdict, c->of[i].chain);
    double power = pow(10.0, db_of(p) / 10.0);

    sum->all += power;
    if (f0_hz > 0.0 && is_multiple(hz_of(p), f0_hz))
        sum->own += power;
    if (!v->lasts)
        return;
    if (f0_hz > 0.0 && is_multiple(hz_of(p), f0_hz) && !v->is_echo && db_of(p) < v->tenth_db / 10.0 + COMPANY_LOUDER_DB)
        sum->borrowed += power;
    sum->n_other += c->of[i].kind != KIND_OWN && !v->is_echo && v->mains_hz == 0;
    if (c->of[i].kind != KIND_OWN)
        *(v->mains_hz > 0 ? &sum->hum[v->mains_hz == 60] : v->is_echo ? &sum->echo : &sum->other) += power;
}

/* What the partials of one slice tell of the frames about it. */
static void tell(const company *c, guint slice, aperta_pitch_feature *feature)
{
    double f0_hz = frame_of(c, slice)->f0_hz;
    powers sum = {0};

    for (guint i = first_of(c, slice); i < end_of(c, slice); i++)
        count_partial(&sum, c, i, f0_hz);
    feature->other_db = ratio_db(sum.other, sum.all);
    feature->n_others = (guint8)sum.n_other;
    feature->echo_db = ratio_db(sum.echo, sum.all);
    feature->hum_db = ratio_db(sum.hum[0] + sum.hum[1], sum.all);
    feature->mains_hz = sum.hum[0] + sum.hum[1] <= 0.0 ? 0 : sum.hum[1] > sum.hum[0] ? 60 : 50;
    feature->borrowed = sum.own > 0.0 ? (float)(sum.borrowed / sum.own) : 0.0f;
}

void pitch_find_company(const pitch_slices *slices, const aperta_f0_track *track, aperta_pitch_feature *features)
{
    company c = {.slices = slices,
                 .track = track,
                 .frames_per_slice = (guint)(PARTIAL_HOP_S / track->hop_s + 0.5),
                 .of = g_new(membership, slices->partials->len + 1),
                 .chains = g_array_new(FALSE, FALSE, sizeof(chain)),
                 .verdicts = g_array_new(FALSE, TRUE, sizeof(verdict))};

    for (guint s = 0; s < slices->starts->len; s++)
        join_slice(&c, s);
    end_chains(&c, G_MAXUINT);
    for (guint s = 0; s < slices->starts->len; s++) {
        guint from = s * c.frames_per_slice, to = MIN(from + c.frames_per_slice, track->n_frames);
        aperta_pitch_feature found = {0};
        tell(&c, s, &found);
        for (guint i = from; i < to; i++) {
            features[i].other_db = found.other_db;
            features[i].n_others = found.n_others;
            features[i].echo_db = found.echo_db;
            features[i].hum_db = found.hum_db;
            features[i].mains_hz = found.mains_hz;
            features[i].borrowed = found.borrowed;
        }
    }
    g_free(c.of);
    g_array_unref(c.chains);
    g_array_unref(c.verdicts);
}
