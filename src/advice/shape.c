/* shape.c - the search for a way to sing a vowel that brings F1 up to an aim.
 *
 * The vowel moves as little as possible in the F1-F2 plane (Bark). First it is opened along its own jaw direction: F1
 * up by at most the setting "opening" above its spoken mean, F2 toward the middle of the table by a little ("inward").
 * Where that does not reach the aim, it moves toward a more open neighbour: on the straight line to the neighbour's
 * spoken place, or, if that is still too low, to the neighbour opened in the same way. A neighbour of the same place
 * and rounding comes first ("oo" goes to "oh" and "aw", "ee" to "ay" and "eh"; common practice, no source), then one
 * that shares the place, then any other; among these, the one that takes the singer the least way off: by the distance
 * to the shape, or to its spoken place where that lies farther, since a singer who hears "ah" sings an ah. Bounds: the
 * voice's F1 ceiling, and how far F2 may wander in one step before it is another word ("sideways"; open vowels
 * excepted, and a vowel that goes the way of its neighbour starts anew from there). Before a vowel changes its lips or
 * the place of the tongue, one of its own may open by a little more ("stretch"): a singer's "eh" that falls short is
 * nearer to the word than an "ah". Where no neighbour lies near enough, the vowel goes the way of the nearest one that
 * can still open: vowels that have met on the way up stay together, and one pitch asks the same of all. All settings
 * are the style's. (Opening the jaw raises F1 mainly: Fant 1960; Lindblom & Sundberg 1971, JASA 50:1166-1179.)
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"
#include "advice/shape-private.h"

#include <math.h>
#include <string.h>

typedef struct {
    const aperta_vowel *vowel; /* NULL: nothing */
    gboolean jaw_wide;
    double way; /* share of the way to a neighbour; 1: there */
    double f1_hz, f2_hz;
    double moved_bark;
    double cost_bark; /* what the nearest neighbour is chosen by */
} candidate;

/* ---- where the vowel stands -------------------------------------------------------------------------------------- */

static gboolean place_f1(const aperta_resonance *what, const aperta_vowel_row *row, double *hz)
{
    if (what->status == APERTA_MEASURED) {
        *hz = what->hz;
        return TRUE;
    }
    if (row != NULL)
        *hz = row->hz[0];
    if (what->status == APERTA_BOUNDED && what->has_high) {
        *hz = row == NULL ? what->high_hz : fmin(what->high_hz, *hz);
        return TRUE;
    }
    return row != NULL;
}

static gboolean place_f2(const aperta_resonance *what, const aperta_vowel_row *row, double *hz)
{
    if (what->status == APERTA_MEASURED)
        *hz = what->hz;
    else if (row != NULL)
        *hz = row->hz[1];
    return what->status == APERTA_MEASURED || row != NULL;
}

static double middle_f2_hz(const aperta_vowel_table *table)
{
    double sum = 0.0;

    for (guint i = 0; i < table->n_rows; i++)
        sum += log(table->rows[i].hz[1]);
    return exp(sum / table->n_rows);
}

static double search_setting(const advice_case *which, const char *name)
{
    return advice_setting_for(which->rules, name, which->voice)->number; /* checked when the file was read */
}

static double optional_setting(const advice_case *which, const char *name)
{
    const advice_setting *setting = advice_setting_for(which->rules, name, which->voice);

    return setting == NULL ? 0.0 : setting->number;
}

gboolean shape_place_search(const advice_case *which, shape_search *search)
{
    const aperta_situation *situation = which->situation;

    *search = (shape_search){
        .table = which->table,
        .from = situation->vowel,
        .vowel = situation->vowel,
        .avoid = situation->avoid,
        .opening = search_setting(which, "opening") / 100.0,
        .inward = search_setting(which, "inward") / 100.0,
        .sideways_bark = search_setting(which, "sideways"),
    };
    if (situation->vowel == NULL || which->table->n_rows == 0 || !advice_limit_hz(which->aim, which, &search->edge_hz))
        return FALSE;
    search->row = aperta_vowel_table_row(which->table, situation->vowel);
    search->stretch = exp2(optional_setting(which, "stretch") / 12.0);
    search->middle_hz = middle_f2_hz(which->table);
    if (!place_f1(&situation->resonances[0], search->row, &search->f1_hz) ||
        !place_f2(&situation->resonances[1], search->row, &search->f2_hz))
        return FALSE;
    search->sung_f1_hz = search->f1_hz;
    search->sung_f2_hz = search->f2_hz;
    if (search->row != NULL && !search->row->open_target)
        search->row = NULL; /* a region's vowel is no place to open from */
    return TRUE;
}

/* ---- candidates -------------------------------------------------------------------------------------------------- */

/* Whether F2 lies too far from the vowel's for the word: from where it is sung and, since that may be misread, from
 * where it is spoken. High up the open vowels are one family: "aa" may become "ah". */
gboolean shape_is_far(const shape_search *search, const aperta_vowel *vowel, double f2_hz)
{
    if (vowel->height == APERTA_HEIGHT_OPEN && search->vowel->height == APERTA_HEIGHT_OPEN)
        return FALSE;
    double bark = aperta_hz_to_bark(f2_hz), away = fabs(bark - aperta_hz_to_bark(search->f2_hz));
    if (search->row != NULL)
        away = fmin(away, fabs(bark - aperta_hz_to_bark(search->row->hz[1])));
    return away > search->sideways_bark;
}

static candidate new_candidate(const shape_search *search, const aperta_vowel *vowel, double spoken_f1_hz, double f2_hz)
{
    candidate it = {.vowel = vowel, .way = 1.0, .f1_hz = search->edge_hz, .f2_hz = f2_hz};

    it.jaw_wide = it.f1_hz > spoken_f1_hz * (1.0 + ADVICE_JAW_WIDE_FROM);
    it.moved_bark = aperta_vowel_distance_bark(search->sung_f1_hz, search->sung_f2_hz, it.f1_hz, it.f2_hz);
    it.cost_bark = aperta_vowel_distance_bark(search->f1_hz, search->f2_hz, it.f1_hz, it.f2_hz);
    if (shape_is_far(search, vowel, f2_hz))
        it.vowel = NULL;
    return it;
}

/* A vowel opened from its spoken F1 to the edge; nothing when that is farther than a jaw goes. */
static candidate opened(const shape_search *search, const aperta_vowel *vowel, double f1_hz, double f2_hz)
{
    double rise = search->edge_hz / f1_hz - 1.0;
    if (rise > search->opening)
        return (candidate){NULL};
    double inward = search->opening > 0.0 ? search->inward * fmax(rise, 0.0) / search->opening : 0.0;
    return new_candidate(search, vowel, f1_hz, f2_hz * pow(search->middle_hz / f2_hz, inward));
}

/* On the line from the vowel as sung to a neighbour whose spoken F1 lies beyond the edge. */
static candidate toward(const shape_search *search, const aperta_vowel_row *row)
{
    double from1 = aperta_hz_to_bark(search->f1_hz);
    double from2 = aperta_hz_to_bark(search->f2_hz);
    double way = (aperta_hz_to_bark(search->edge_hz) - from1) / (aperta_hz_to_bark(row->hz[0]) - from1);
    double f2_hz = aperta_bark_to_hz(from2 + way * (aperta_hz_to_bark(row->hz[1]) - from2));
    candidate it = new_candidate(search, row->vowel, row->hz[0], f2_hz);

    it.way = way;
    it.cost_bark = aperta_vowel_distance_bark(search->f1_hz, search->f2_hz, row->hz[0], row->hz[1]);
    return it;
}

static gboolean is_avoided(const shape_search *search, const aperta_vowel *vowel)
{
    for (const aperta_vowel *const *one = search->avoid; one != NULL && *one != NULL; one++)
        if (*one == vowel)
            return TRUE;
    return FALSE;
}

static gboolean is_one_of(const aperta_vowel *vowel, const char *const *ipa)
{
    for (; *ipa != NULL; ipa++)
        if (strcmp(vowel->ipa, *ipa) == 0)
            return TRUE;
    return FALSE;
}

/* A schwa is what is left of a vowel, and the others are strange to most singers: nobody aims at them. */
gboolean shape_is_aimed_at(const aperta_vowel *vowel)
{
    static const char *const never[] = {"ə", "ɨ", "ʉ", "ɯ", "ɤ", "ɶ", NULL};

    return !is_one_of(vowel, never);
}

/* Tense vowels, in the phonologist's sense: a lax one that turns into them ("book" into "boke") sounds closer, whatever
 * F1 says. */
static gboolean is_tense(const aperta_vowel *vowel)
{
    static const char *const tense[] = {"i", "y", "u", "e", "ø", "o", NULL};

    return is_one_of(vowel, tense);
}

/* More open in the table and on the chart, meant for singing, and no lips or tongue tip to learn anew. */
gboolean shape_is_open_neighbour(const shape_search *search, const aperta_vowel_row *row)
{
    const aperta_vowel *own = search->vowel;
    double own_f1_hz = search->row != NULL ? search->row->hz[0] : search->f1_hz;

    if (row->vowel == own || !row->open_target || is_avoided(search, row->vowel) || !shape_is_aimed_at(row->vowel))
        return FALSE;
    return row->hz[0] > own_f1_hz && row->vowel->height >= own->height && (is_tense(own) || !is_tense(row->vowel)) &&
           !row->vowel->r_coloured && (!row->vowel->rounded || own->rounded);
}

/* How strange a neighbour is, the most telling difference first: place of the tongue, lips, tenseness. */
int shape_strangeness(const shape_search *search, const aperta_vowel *vowel)
{
    if (vowel->place != search->vowel->place)
        return STRANGE_PLACE;
    if (vowel->rounded != search->vowel->rounded)
        return STRANGE_LIPS;
    return is_tense(vowel) == is_tense(search->vowel) ? 0 : STRANGE_TENSENESS;
}

static gboolean is_better(const shape_search *search, const candidate *it, const candidate *than)
{
    if (than->vowel == NULL)
        return TRUE;
    int first = shape_strangeness(search, it->vowel), second = shape_strangeness(search, than->vowel);
    return first < second || (first == second && it->cost_bark < than->cost_bark);
}

static candidate nearest_neighbour(const shape_search *search)
{
    candidate best = {NULL};

    for (guint i = 0; i < search->table->n_rows; i++) {
        const aperta_vowel_row *row = &search->table->rows[i];
        if (!shape_is_open_neighbour(search, row))
            continue;
        candidate it =
            row->hz[0] > search->edge_hz ? toward(search, row) : opened(search, row->vowel, row->hz[0], row->hz[1]);
        if (it.vowel != NULL && is_better(search, &it, &best))
            best = it;
    }
    return best;
}

/* The nearest vowel on the way up, whether or not it reaches the edge; NULL: none. */
static const aperta_vowel_row *next_on_the_way(const shape_search *search)
{
    const aperta_vowel_row *next = NULL;
    candidate best = {NULL};

    for (guint i = 0; i < search->table->n_rows; i++) {
        const aperta_vowel_row *row = &search->table->rows[i];
        if (!shape_is_open_neighbour(search, row) || shape_is_far(search, row->vowel, row->hz[1]))
            continue;
        candidate it = {.vowel = row->vowel};
        it.cost_bark = aperta_vowel_distance_bark(search->f1_hz, search->f2_hz, row->hz[0], row->hz[1]);
        if (is_better(search, &it, &best)) {
            best = it;
            next = row;
        }
    }
    return next;
}

/* F1 was taken to be there already, and a rule may still hold: where only a limit is known, or other values fit too. */
static candidate as_it_is(const shape_search *search)
{
    return (candidate){.vowel = search->vowel, .way = 1.0, .f1_hz = search->edge_hz, .f2_hz = search->f2_hz};
}

/* The vowel itself opened, else a neighbour. */
static candidate nearest_within(const shape_search *search)
{
    double spoken_f1_hz = search->row != NULL ? search->row->hz[0] : search->f1_hz;
    candidate own = {NULL};

    if (shape_is_aimed_at(search->vowel))
        own = opened(search, search->vowel, spoken_f1_hz, search->f2_hz);
    return own.vowel != NULL ? own : nearest_neighbour(search);
}

static candidate nearest_shape(const shape_search *search)
{
    candidate best = nearest_within(search);
    int strange = best.vowel != NULL ? shape_strangeness(search, best.vowel) : G_MAXINT;
    if (strange < STRANGE_LIPS || search->stretch <= 1.0)
        return best;
    shape_search further = *search;
    further.opening = (1.0 + search->opening) * search->stretch - 1.0;
    candidate stretched = nearest_within(&further);
    return stretched.vowel != NULL && shape_strangeness(search, stretched.vowel) < strange ? stretched : best;
}

/* Leaves search at the vowel that the shape was found from. */
static candidate best_candidate(shape_search *search)
{
    candidate best = nearest_shape(search);

    while (best.vowel == NULL) { /* ends: every step leads to a more open vowel of the table */
        const aperta_vowel_row *next = next_on_the_way(search);
        if (next == NULL)
            break;
        search->vowel = next->vowel;
        search->row = next;
        search->f1_hz = next->hz[0];
        search->f2_hz = next->hz[1];
        best = nearest_shape(search);
    }
    return best;
}

/* ---- the way there ----------------------------------------------------------------------------------------------- */

/* The vowel that lies behind a shape which is on its way to another: "oh" between "oo" and "aw"; NULL where the shape
 * is there, or comes from a vowel that has no sound of its own. */
static const aperta_vowel *vowel_before(const shape_search *search, const candidate *it)
{
    const aperta_vowel_row *before = NULL;

    if (it->way >= ADVICE_NAMED_FROM || !shape_is_aimed_at(search->vowel))
        return NULL;
    for (guint i = 0; i < search->table->n_rows; i++) {
        const aperta_vowel_row *row = &search->table->rows[i];
        if (shape_is_open_neighbour(search, row) && row->hz[0] < it->f1_hz &&
            shape_strangeness(search, row->vowel) == 0 && row->vowel != it->vowel &&
            (before == NULL || row->hz[0] > before->hz[0]))
            before = row;
    }
    return before != NULL ? before->vowel : search->vowel;
}

static aperta_jaw jaw_of(const aperta_shape *shape, const aperta_vowel *from)
{
    if (shape->jaw_wide)
        return APERTA_JAW_WIDE;
    if (shape->vowel == from)
        return APERTA_JAW_A_TOUCH;
    return shape_is_aimed_at(from) ? APERTA_JAW_FALLS : APERTA_JAW_FALLS_TO;
}

static aperta_tongue tongue_of(const aperta_vowel *aim, const aperta_vowel *from)
{
    if (from->r_coloured)
        return APERTA_TONGUE_OUT_OF_R;
    switch (aim->place) {
    case APERTA_PLACE_FRONT:
        return APERTA_TONGUE_FORWARD;
    case APERTA_PLACE_CENTRAL:
        return APERTA_TONGUE_FLAT;
    default:
        return APERTA_TONGUE_LOW;
    }
}

/* A smile does not raise F1 of i or u (Fagel 2009), so none is promised. */
static aperta_lips lips_of(const aperta_vowel *aim, const aperta_vowel *from)
{
    if (from->rounded)
        return aim->rounded ? APERTA_LIPS_ROUND : APERTA_LIPS_UNROUND;
    return from->height == APERTA_HEIGHT_CLOSE ? APERTA_LIPS_NO_SMILE : APERTA_LIPS_EASY;
}

void shape_set_way(aperta_shape *shape, const aperta_vowel *from)
{
    shape->jaw = jaw_of(shape, from);
    shape->tongue = tongue_of(shape->vowel, from);
    shape->lips = lips_of(shape->vowel, from);
}

static aperta_shape *new_shape(const shape_search *search, const candidate *it, const advice_case *which)
{
    aperta_shape *shape = g_new0(aperta_shape, 1);

    shape->vowel = it->vowel;
    shape->from = search->from;
    shape->before = vowel_before(search, it);
    shape->jaw_wide = it->jaw_wide;
    shape_set_way(shape, search->from);
    shape->jaw_last = advice_setting_for(which->rules, "jaw_last", which->voice) != NULL;
    shape->f1_hz = it->f1_hz;
    shape->f2_hz = it->f2_hz;
    shape->moved_bark = it->moved_bark;
    return shape;
}

aperta_shape *aperta_shape_copy(const aperta_shape *shape)
{
    return g_memdup2(shape, sizeof *shape);
}

void aperta_shape_free(aperta_shape *shape)
{
    g_free(shape);
}

/* ---- the search -------------------------------------------------------------------------------------------------- */

static advice_search_outcome search_vowel(const advice_case *which, aperta_shape **shape)
{
    shape_search search;

    *shape = NULL;
    if (!shape_place_search(which, &search))
        return ADVICE_SEARCH_IMPOSSIBLE;
    if (search.row != NULL && search.row->hz[0] * (1.0 + search.opening) * search.stretch < search.edge_hz)
        search.f1_hz =
            fmin(search.f1_hz, search.row->hz[0]); /* no jaw takes the vowel there: what was read is another */
    gboolean there = search.f1_hz >= search.edge_hz;
    if (!there && search.edge_hz > search_setting(which, "f1_ceiling"))
        return ADVICE_SEARCH_NONE;
    candidate best = there ? as_it_is(&search) : best_candidate(&search);
    if (best.vowel == NULL)
        return ADVICE_SEARCH_NONE;
    *shape = new_shape(&search, &best, which);
    return ADVICE_SEARCH_FOUND;
}

/* The shape without the vowel it starts from: nothing in it depends on one. */
static void unname(aperta_shape *shape)
{
    const aperta_vowel *aim = shape->vowel;

    shape->from = NULL;
    shape->before = NULL;
    shape->jaw = shape->jaw_wide ? APERTA_JAW_WIDE : APERTA_JAW_FALLS_TO;
    shape->tongue = tongue_of(aim, aim);
    shape->lips = aim->rounded ? APERTA_LIPS_ROUND : APERTA_LIPS_EASY;
}

static advice_search_outcome search_one(const advice_case *which, const aperta_vowel *vowel, aperta_shape **shape)
{
    aperta_situation one = *which->situation;
    advice_case as_one = *which;

    one.vowel = vowel;
    one.vowel_class.known = FALSE;
    one.n_shares = 0;
    as_one.situation = &one;
    return search_vowel(&as_one, shape);
}

/* Where the name is not told: the one shape that all vowels it may be come to, the likeliest of them telling where it
 * lies. */
static advice_search_outcome search_candidates(const advice_case *which, aperta_shape **shape)
{
    const aperta_vowel *candidates[ADVICE_CANDIDATES_MAX];
    guint n = advice_candidates(which, candidates);
    advice_search_outcome outcome = n > 0 ? search_one(which, candidates[0], shape) : ADVICE_SEARCH_IMPOSSIBLE;
    gboolean agree = TRUE;

    for (guint i = 1; i < n && agree; i++) {
        aperta_shape *other = NULL;
        agree = search_one(which, candidates[i], &other) == outcome;
        agree = agree && (other == NULL || other->vowel == (*shape)->vowel);
        if (agree && other != NULL)
            (*shape)->jaw_wide = (*shape)->jaw_wide && other->jaw_wide;
        aperta_shape_free(other);
    }
    if (!agree) {
        g_clear_pointer(shape, aperta_shape_free);
        return ADVICE_SEARCH_IMPOSSIBLE;
    }
    if (*shape != NULL)
        unname(*shape);
    return outcome;
}

advice_search_outcome advice_search(const advice_case *which, aperta_shape **shape)
{
    *shape = NULL;
    return advice_named_vowel(which) == NULL ? search_candidates(which, shape) : search_vowel(which, shape);
}
