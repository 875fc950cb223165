/* verdicts.c - the rules of a style over the notes of a take.
 *
 * Verdicts differ only where measurements do. Notes that may be on one vowel, lie within a semitone, and whose F1 and
 * F2 differ by no more than chance (chi-squared, 5 %) are judged once, by what they tell together (pool.c). Notes whose
 * vowel somebody told go only with notes that were told the same. A note on which the vowel moves is judged by the part
 * that stands for it. */
#include "result/result-private.h"
#include "result/result-tuning.h"

#include <math.h>
#include <string.h>

/* Notes that are judged together. */
typedef struct {
    GPtrArray *notes; /* aperta_sung_note */
    double low_hz, high_hz;
    result_spread spread;
} group;

static void group_free(void *data)
{
    group *g = data;

    g_ptr_array_unref(g->notes);
    g_free(g);
}

/* ---- who goes with whom ------------------------------------------------------------------------------------------ */

/* How much of the probability two notes share, vowel by vowel: 1 for the same, 0 for vowels that cannot be one. */
static double shared_vowels(const aperta_vowel_hearing *a, const aperta_vowel_hearing *b)
{
    double shared = 0.0;

    for (guint i = 0; i < a->n_shares; i++)
        for (guint k = 0; k < b->n_shares; k++)
            if (a->shares[i].vowel == b->shares[k].vowel)
                shared += fmin(a->shares[i].share, b->shares[k].share);
    return shared;
}

/* Names that are told must be the same; where one is not, the vowels it may be must be nearly those of the other. */
static gboolean are_heard_alike(const aperta_sung_note *a, const aperta_sung_note *b)
{
    const aperta_vowel *first = aperta_sung_note_heard(a), *second = aperta_sung_note_heard(b);

    if (first != NULL && second != NULL)
        return first == second;
    return shared_vowels(&a->vowel, &b->vowel) >= RESULT_ONE_VOWEL;
}

/* By what was heard alone, or by what somebody told as well. */
typedef gboolean (*alike)(const aperta_sung_note *a, const aperta_sung_note *b);

static gboolean may_be_one_vowel(const aperta_sung_note *a, const aperta_sung_note *b)
{
    if (a->intended != NULL || b->intended != NULL)
        return a->intended == b->intended;
    return are_heard_alike(a, b);
}

static gboolean goes_with(const group *g, const aperta_sung_note *note, alike are_alike)
{
    double hz = note->note.f0_hz, low_hz = fmin(g->low_hz, hz), high_hz = fmax(g->high_hz, hz);
    result_spread spread = g->spread;

    if (aperta_semitones_between(low_hz, high_hz) > RESULT_TOGETHER_ST)
        return FALSE;
    for (guint i = 0; i < g->notes->len; i++)
        if (!are_alike(g_ptr_array_index(g->notes, i), note))
            return FALSE;
    result_spread_add(&spread, result_posterior(note));
    return result_spread_is_chance(&spread);
}

static gboolean can_be_pooled(const aperta_sung_note *note)
{
    return note->note.withheld == APERTA_WITHHELD_NOT && result_posterior(note)->n_modes > 0;
}

static void join(group *g, aperta_sung_note *note)
{
    double hz = note->note.f0_hz;

    g->low_hz = g->notes->len == 0 ? hz : fmin(g->low_hz, hz);
    g->high_hz = g->notes->len == 0 ? hz : fmax(g->high_hz, hz);
    if (can_be_pooled(note))
        result_spread_add(&g->spread, result_posterior(note));
    g_ptr_array_add(g->notes, note);
}

/* The group of the nearest pitch that the note goes with; NULL: none. */
static group *nearest_group(const GPtrArray *groups, const aperta_sung_note *note, alike are_alike)
{
    group *nearest = NULL;
    double least_st = HUGE_VAL;

    for (guint i = 0; can_be_pooled(note) && i < groups->len; i++) {
        group *g = g_ptr_array_index(groups, i);
        double st = fabs(aperta_semitones_between(sqrt(g->low_hz * g->high_hz), note->note.f0_hz));
        if (st < least_st && goes_with(g, note, are_alike)) {
            nearest = g;
            least_st = st;
        }
    }
    return nearest;
}

/* In order of time, each note with the nearest that it goes with. */
static GPtrArray *groups_of(const aperta_result *r, alike are_alike)
{
    GPtrArray *groups = g_ptr_array_new_with_free_func(group_free);

    for (guint i = 0; i < r->notes->len; i++) {
        aperta_sung_note *note = aperta_sung_note_at(r->notes, i);
        if (note->note.withheld != APERTA_WITHHELD_NOT)
            continue;
        group *g = nearest_group(groups, note, are_alike);
        if (g == NULL) {
            g = g_new0(group, 1);
            g->notes = g_ptr_array_new();
            g_ptr_array_add(groups, g);
        }
        join(g, note);
    }
    return groups;
}

/* ---- what they tell together ------------------------------------------------------------------------------------- */

/* What a note, or several together, put before the rules. */
typedef struct {
    aperta_posterior posterior;
    aperta_resonance resonances[APERTA_N_RESONANCES];
    const aperta_sung_note *middle; /* the note nearest to the middle of their pitches */
    double f0_hz, duration_s;
    guint n_notes;
    const char *pitch, *other_pitch; /* names of their pitches; other_pitch NULL: there is one */
} evidence;

static const aperta_sung_note *note_of(const group *g, guint i)
{
    return g_ptr_array_index(g->notes, i);
}

static void find_middle(const group *g, evidence *e)
{
    const aperta_sung_note *low = note_of(g, 0), *high = low;
    double ln = 0.0, least = HUGE_VAL;

    for (guint i = 0; i < g->notes->len; i++) {
        const aperta_sung_note *note = note_of(g, i);
        ln += log(note->note.f0_hz) / g->notes->len;
        low = note->midi < low->midi ? note : low;
        high = note->midi > high->midi ? note : high;
        e->duration_s = fmax(e->duration_s, note->note.span.end_s - note->note.span.start_s);
    }
    for (guint i = 0; i < g->notes->len; i++) {
        double apart = fabs(log(note_of(g, i)->note.f0_hz) - ln);
        e->middle = apart < least ? note_of(g, i) : e->middle;
        least = fmin(least, apart);
    }
    e->f0_hz = exp(ln);
    e->pitch = low->name;
    e->other_pitch = low->midi == high->midi ? NULL : high->name;
}

/* As most of the notes have it: measured, only bounded, or unknown. */
static aperta_status status_of_most(const group *g, int resonance)
{
    guint n[3] = {0};
    aperta_status most = APERTA_UNKNOWN;

    for (guint i = 0; i < g->notes->len; i++)
        n[aperta_sung_note_resonances(note_of(g, i))[resonance].status]++;
    for (int s = 0; s < 3; s++)
        most = n[s] > n[most] ? (aperta_status)s : most;
    return most;
}

/* FALSE: what they tell together is no distribution, and each is judged for itself. */
static gboolean gather(const group *g, evidence *e)
{
    g_autofree const aperta_posterior **posteriors = g_new(const aperta_posterior *, g->notes->len);

    *e = (evidence){.middle = note_of(g, 0), .n_notes = g->notes->len};
    find_middle(g, e);
    if (g->notes->len == 1) {
        e->posterior = *result_posterior(e->middle);
        memcpy(e->resonances, aperta_sung_note_resonances(e->middle), sizeof e->resonances);
        return TRUE;
    }
    for (guint i = 0; i < g->notes->len; i++)
        posteriors[i] = result_posterior(note_of(g, i));
    if (!result_pool(posteriors, g->notes->len, &e->posterior))
        return FALSE;
    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        e->resonances[i] = aperta_posterior_resonance(&e->posterior, i, status_of_most(g, i));
    return TRUE;
}

/* ---- verdicts ---------------------------------------------------------------------------------------------------- */

typedef struct {
    aperta_result *result;
    result_judge *judge;
    gboolean explain;
} verdicts;

static void judge_note(const verdicts *v, const evidence *e, aperta_sung_note *note)
{
    result_question question = {.situation = {.f0_hz = e->f0_hz,
                                              .midi = e->middle->midi,
                                              .duration_s = e->duration_s,
                                              .vowel = aperta_sung_note_told(note),
                                              .vowel_class = aperta_sung_note_told_class(note),
                                              .shares = note->vowel.shares,
                                              .n_shares = note->intended != NULL ? 0 : note->vowel.n_shares,
                                              .vibrato = note->note.vibrato,
                                              .posterior = &e->posterior,
                                              .pitch_name = e->pitch,
                                              .other_pitch_name = e->other_pitch,
                                              .n_notes = (int)e->n_notes},
                                .ground = v->result->settings.table};

    memcpy(question.situation.resonances, e->resonances, sizeof e->resonances);
    g_ptr_array_unref(note->advice);
    note->advice = result_judge_advise(v->judge, &question, v->explain ? &note->explanations : NULL);
    if (note->advice->len == 0)
        note->silence = result_judge_silence(v->judge, &question, &note->reach_midi);
}

static void judge_group(const verdicts *v, const group *g, int number);

static void judge_each(const verdicts *v, const group *g)
{
    for (guint i = 0; i < g->notes->len; i++) {
        g_autoptr(GPtrArray) alone = g_ptr_array_new();
        g_ptr_array_add(alone, g_ptr_array_index(g->notes, i));
        judge_group(v, &(group){.notes = alone}, 0);
    }
}

static void judge_group(const verdicts *v, const group *g, int number)
{
    gboolean together = g->notes->len > 1;
    evidence e;

    if (!gather(g, &e)) {
        judge_each(v, g);
        return;
    }
    for (guint i = 0; i < g->notes->len; i++) {
        aperta_sung_note *note = aperta_sung_note_at(g->notes, i);
        note->judged_with = together ? number : 0;
        judge_note(v, &e, note);
    }
}

/* ---- what they share --------------------------------------------------------------------------------------------- */

/* The hearing of the note that is surest of its name, of those that tell one; NULL: none does. Theirs are all the same.
 */
static const aperta_vowel_hearing *surest(const group *g)
{
    const aperta_vowel_hearing *best = NULL;

    for (guint i = 0; i < g->notes->len; i++) {
        const aperta_sung_note *note = note_of(g, i);
        if (aperta_sung_note_heard(note) != NULL && (best == NULL || note->vowel.confidence > best->confidence))
            best = &note->vowel;
    }
    return best;
}

/* The notes of a group are one vowel to us: they share what is heard. A name comes from a note
 * that tells it by itself, never from the pooling: errors that repeat would make it sure of a wrong one. */
static aperta_vowel_hearing hear_together(const group *g, const aperta_vowel_ear *ear, const evidence *e)
{
    const aperta_vowel_hearing *own = surest(g);
    aperta_vowel_hearing together = aperta_vowel_hear(ear, &e->posterior, e->f0_hz);
    double most = 0.0;

    if (own != NULL || together.heard == NULL)
        return own != NULL ? *own : note_of(g, 0)->vowel;
    for (guint i = 0; i < g->notes->len; i++)
        most = fmax(most, note_of(g, i)->vowel.confidence);
    together.confidence = fmin(together.confidence, most);
    return together;
}

/* Groups by what was heard share a hearing, whatever somebody told. */
static void share_hearings(aperta_result *r, const aperta_vowel_ear *ear)
{
    g_autoptr(GPtrArray) groups = groups_of(r, are_heard_alike);

    for (guint i = 0; i < groups->len; i++) {
        const group *g = g_ptr_array_index(groups, i);
        evidence e;
        if (g->notes->len == 1 || !gather(g, &e))
            continue;
        aperta_vowel_hearing hearing = hear_together(g, ear, &e);
        for (guint k = 0; k < g->notes->len; k++)
            aperta_sung_note_at(g->notes, k)->vowel = hearing;
    }
}

void result_judge_notes(aperta_result *result, const aperta_rules *rules, const aperta_vowel_ear *ear, gboolean explain)
{
    share_hearings(result, ear);
    g_autoptr(result_judge) judge = result_judge_new(rules, &result->settings, &result->key);
    const verdicts v = {result, judge, explain};
    g_autoptr(GPtrArray) groups = groups_of(result, may_be_one_vowel);

    for (guint i = 0; i < groups->len; i++)
        judge_group(&v, g_ptr_array_index(groups, i), (int)i + 1);
}
