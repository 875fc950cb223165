/* shape.c - the search for a way to sing a vowel that brings F1 up to an aim.
 *
 * The vowel moves as little as possible in the F1-F2 plane (Bark). First it is opened along its own jaw direction: F1
 * up by at most the setting "opening" above its spoken mean, F2 toward the middle of the table by a little ("inward").
 * Where that does not reach the aim, it moves toward a more open neighbour: on the straight line to the neighbour's
 * spoken place, or, if that is still too low, to the neighbour opened in the same way. A neighbour of the same place
 * and rounding comes first ("oo" goes to "aw", "ee" to "eh"; common practice, no source), then one that shares the
 * place, then any other; among these, the one that takes the singer the least way off: by the distance to the shape, or
 * to its spoken place where that lies farther, since a singer who hears "ah" sings an ah. Bounds: the voice's F1
 * ceiling, and how far F2 may wander before it is another word ("sideways"). All settings are the style's. (Opening the
 * jaw raises F1 mainly: Fant 1960; Lindblom & Sundberg 1971, JASA 50:1166-1179.)
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>

typedef struct {
    const aperta_vowel_table *table;
    const aperta_vowel *vowel;
    const aperta_vowel_row *row;      /* its spoken mean; NULL: not in the table */
    const aperta_vowel *const *avoid; /* NULL-terminated, or NULL */
    double f1_hz, f2_hz;              /* as sung, or as expected */
    double edge_hz;                   /* F1 must reach this */
    double opening;                   /* share */
    double inward;                    /* share of the way to the middle, at full opening */
    double sideways_bark;
    double middle_hz; /* F2 of the table's middle */
} shape_search;

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

static gboolean place_search(const advice_case *which, shape_search *search)
{
    const aperta_situation *situation = which->situation;

    *search = (shape_search){
        .table = which->table,
        .vowel = situation->vowel,
        .avoid = situation->avoid,
        .opening = search_setting(which, "opening") / 100.0,
        .inward = search_setting(which, "inward") / 100.0,
        .sideways_bark = search_setting(which, "sideways"),
    };
    if (situation->vowel == NULL || which->table->n_rows == 0 || !advice_limit_hz(which->aim, which, &search->edge_hz))
        return FALSE;
    search->row = aperta_vowel_table_row(which->table, situation->vowel);
    search->middle_hz = middle_f2_hz(which->table);
    return place_f1(&situation->resonances[0], search->row, &search->f1_hz) &&
           place_f2(&situation->resonances[1], search->row, &search->f2_hz);
}

/* ---- candidates -------------------------------------------------------------------------------------------------- */

static candidate new_candidate(const shape_search *search, const aperta_vowel *vowel, double spoken_f1_hz, double f2_hz)
{
    candidate it = {.vowel = vowel, .way = 1.0, .f1_hz = search->edge_hz, .f2_hz = f2_hz};

    it.jaw_wide = it.f1_hz > spoken_f1_hz * (1.0 + ADVICE_JAW_WIDE_FROM);
    it.moved_bark = aperta_vowel_distance_bark(search->f1_hz, search->f2_hz, it.f1_hz, it.f2_hz);
    it.cost_bark = it.moved_bark;
    if (fabs(aperta_hz_to_bark(it.f2_hz) - aperta_hz_to_bark(search->f2_hz)) > search->sideways_bark)
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

/* More open, meant for singing, and no lips or tongue tip to learn anew. */
static gboolean is_open_neighbour(const shape_search *search, const aperta_vowel_row *row)
{
    double own_f1_hz = search->row != NULL ? search->row->hz[0] : search->f1_hz;

    return row->open_target && !is_avoided(search, row->vowel) && row->vowel != search->vowel &&
           row->hz[0] > own_f1_hz && !row->vowel->r_coloured && (!row->vowel->rounded || search->vowel->rounded);
}

/* How strange a neighbour is: 0 when tongue and lips stay where they are, 1 when the lips change, 2 for another place.
 */
static int strangeness(const shape_search *search, const aperta_vowel *vowel)
{
    if (vowel->place != search->vowel->place)
        return 2;
    return vowel->rounded == search->vowel->rounded ? 0 : 1;
}

static gboolean is_better(const shape_search *search, const candidate *it, const candidate *than)
{
    if (than->vowel == NULL)
        return TRUE;
    int first = strangeness(search, it->vowel), second = strangeness(search, than->vowel);
    return first < second || (first == second && it->cost_bark < than->cost_bark);
}

static candidate nearest_neighbour(const shape_search *search)
{
    candidate best = {NULL};

    for (guint i = 0; i < search->table->n_rows; i++) {
        const aperta_vowel_row *row = &search->table->rows[i];
        if (!is_open_neighbour(search, row))
            continue;
        candidate it =
            row->hz[0] > search->edge_hz ? toward(search, row) : opened(search, row->vowel, row->hz[0], row->hz[1]);
        if (it.vowel != NULL && is_better(search, &it, &best))
            best = it;
    }
    return best;
}

/* F1 was taken to be there already, and a rule may still hold: where only a limit is known, or other values fit too. */
static candidate as_it_is(const shape_search *search)
{
    return (candidate){.vowel = search->vowel, .way = 1.0, .f1_hz = search->edge_hz, .f2_hz = search->f2_hz};
}

static candidate best_candidate(const shape_search *search)
{
    double spoken_f1_hz = search->row != NULL ? search->row->hz[0] : search->f1_hz;
    candidate own = opened(search, search->vowel, spoken_f1_hz, search->f2_hz);

    return own.vowel != NULL ? own : nearest_neighbour(search);
}

/* ---- words for the singer ---------------------------------------------------------------------------------------- */

static gboolean is_halfway(const candidate *it, const aperta_vowel *from)
{
    return it->vowel != from && it->way < ADVICE_NAMED_FROM;
}

static char *shape_name(const candidate *it, const aperta_vowel *from)
{
    if (is_halfway(it, from))
        return g_strdup_printf("between %s and %s", from->respelling, it->vowel->respelling);
    return g_strconcat(it->vowel->respelling,
                       it->jaw_wide        ? ", jaw wide"
                       : it->vowel == from ? ", jaw a little wider"
                                           : "",
                       NULL);
}

static char *jaw_words(const candidate *it, const aperta_vowel *from)
{
    if (it->jaw_wide)
        return g_strdup("Let the jaw drop further than in speech, easily and without pushing it forward.");
    if (it->vowel != from)
        return g_strdup_printf("Let the jaw fall from “%s” toward “%s”.", from->respelling, it->vowel->respelling);
    return g_strdup("Let the jaw hang a touch lower than in speech.");
}

static const char *tongue_words(const candidate *it, const aperta_vowel *from)
{
    if (from->r_coloured)
        return "Let the tongue come down out of the r and lie easy; the r may return at the very end.";
    switch (it->vowel->place) {
    case APERTA_PLACE_FRONT:
        return "Keep the tongue forward, its tip resting behind the lower teeth, and let its middle lie lower.";
    case APERTA_PLACE_CENTRAL:
        return "Let the tongue lie flat and easy.";
    default:
        return "Let the tongue lie low and easy, a little back.";
    }
}

/* A smile does not raise F1 of i or u (Fagel 2009), so none is promised. */
static const char *lips_words(const candidate *it, const aperta_vowel *from)
{
    if (from->rounded)
        return it->vowel->rounded ? "Keep the lips softly round, the opening larger."
                                  : "Let the lips come out of the rounding.";
    if (from->height == APERTA_HEIGHT_CLOSE)
        return "Leave the lips easy: a smile does not open this vowel.";
    return "Leave the lips easy.";
}

static aperta_shape *new_shape(const candidate *it, const aperta_vowel *from)
{
    aperta_shape *shape = g_new0(aperta_shape, 1);
    g_autofree char *jaw = jaw_words(it, from);

    shape->vowel = it->vowel;
    shape->halfway = is_halfway(it, from);
    shape->jaw_wide = it->jaw_wide;
    shape->name = shape_name(it, from);
    shape->how = g_strjoin(
        " ", jaw, tongue_words(it, from), lips_words(it, from),
        it->vowel != from ? "In your mind stay on the vowel of the word; the words around it carry the meaning." : NULL,
        NULL);
    shape->f1_hz = it->f1_hz;
    shape->f2_hz = it->f2_hz;
    shape->moved_bark = it->moved_bark;
    return shape;
}

void advice_shape_free(aperta_shape *shape)
{
    if (shape == NULL)
        return;
    g_free(shape->name);
    g_free(shape->how);
    g_free(shape);
}

/* ---- the search -------------------------------------------------------------------------------------------------- */

advice_search_outcome advice_search(const advice_case *which, aperta_shape **shape)
{
    shape_search search;

    *shape = NULL;
    if (!place_search(which, &search))
        return ADVICE_SEARCH_IMPOSSIBLE;
    gboolean there = search.f1_hz >= search.edge_hz;
    if (!there && search.edge_hz > search_setting(which, "f1_ceiling"))
        return ADVICE_SEARCH_NONE;
    candidate best = there ? as_it_is(&search) : best_candidate(&search);
    if (best.vowel == NULL)
        return ADVICE_SEARCH_NONE;
    *shape = new_shape(&best, search.vowel);
    return ADVICE_SEARCH_FOUND;
}
