/* harmonic-panels.c - one panel a flagged note: its harmonics as measured, where F1 and F2 lie, and where the second
 * harmonic. */
#include "report/draw/svg.h"
#include "result/query.h"
#include "words/captions.h"
#include "words/words.h"

#include <aperta/report.h>

#include <math.h>
#include <string.h>

#define PANELS_MAX   12
#define PANEL_WIDTH  320.0 /* px, as all below */
#define PANEL_HEIGHT 258.0
#define BOTTOM       34.0
#define PLOT_LEFT    46.0
#define PLOT_TOP     88.0 /* in the panel; captions and the labels of F1, F2 and 2f0 stand above */
#define PLOT_WIDTH   250.0
#define PLOT_HEIGHT  130.0
#define TOP_HZ       5000.0
#define RANGE_DB     60.0 /* shown below the strongest harmonic */
#define ARROW        26.0 /* from a limit to the side where the resonance lies */

typedef struct {
    svg_picture *svg;
    double x, y; /* of the panel's plot */
} panel;

typedef struct {
    double hz;
    char *text;
    const char *css_class;
    gboolean above; /* no line through the plot */
} mark;

static double x_of(const panel *p, double hz)
{
    return p->x + PLOT_WIDTH * CLAMP(hz, 0.0, TOP_HZ) / TOP_HZ;
}

static double y_of(const panel *p, double below_db)
{
    return p->y + PLOT_HEIGHT * CLAMP(below_db, 0.0, RANGE_DB) / RANGE_DB;
}

static void draw_axes(const panel *p)
{
    for (int khz = 0; khz <= 5; khz++) {
        double x = x_of(p, 1000.0 * khz);
        g_autofree char *label = g_strdup_printf(khz == 5 ? "%d kHz" : "%d", khz);
        svg_shape(p->svg, "line", "ap-grid", "x1", x, "y1", p->y, "x2", x, "y2", p->y + PLOT_HEIGHT, NULL);
        svg_text(p->svg, "ap-quiet", x, p->y + PLOT_HEIGHT + 15.0, 11.0, SVG_MIDDLE, label);
    }
    for (int db = 0; db <= (int)RANGE_DB; db += 20) {
        double y = y_of(p, db);
        g_autofree char *label = g_strdup_printf(db == 0 ? "0 dB" : "−%d", db);
        svg_shape(p->svg, "line", "ap-grid", "x1", p->x, "y1", y, "x2", p->x + PLOT_WIDTH, "y2", y, NULL);
        svg_text(p->svg, "ap-quiet", p->x - 6.0, y + 4.0, 11.0, SVG_END, label);
    }
    svg_shape(p->svg, "rect", "ap-frame", "x", p->x, "y", p->y, "width", PLOT_WIDTH, "height", PLOT_HEIGHT, NULL);
}

static void draw_harmonics(const panel *p, const aperta_tract_reading *tract)
{
    double loudest_db = -HUGE_VAL;

    for (int i = 0; i < tract->n_harmonics; i++)
        loudest_db = fmax(loudest_db, tract->harmonics[i].level_db);
    for (int i = 0; i < tract->n_harmonics; i++) {
        const aperta_harmonic *h = &tract->harmonics[i];
        if (h->hz > TOP_HZ || loudest_db - h->level_db >= RANGE_DB)
            continue;
        svg_shape(p->svg, "line", h->number == 2 ? "ap-second" : "ap-stem", "x1", x_of(p, h->hz), "y1",
                  p->y + PLOT_HEIGHT, "x2", x_of(p, h->hz), "y2", y_of(p, loudest_db - h->level_db), NULL);
    }
}

/* How a resonance is drawn, by its number. */
static const struct {
    const char *band, *bound, *line, *other, *limit;
} looks[] = {{"ap-f1-band", "ap-f1-band ap-bound", "ap-f1", "ap-f1 ap-other", "ap-f1 ap-limit"},
             {"ap-f2-band", "ap-f2-band ap-bound", "ap-f2", "ap-f2 ap-other", "ap-f2 ap-limit"}};

/* Only one side is known: a pale band, the limit as a broken line, and an arrow to the side where the resonance lies.
 */
static mark draw_limit(const panel *p, const aperta_resonance *r, int index)
{
    double hz = r->has_high ? r->high_hz : r->low_hz, x = x_of(p, hz), y = p->y + 8.0;
    double end = x_of(p, r->has_high ? 0.0 : TOP_HZ);
    double tip = r->has_high ? fmax(x - ARROW, end) : fmin(x + ARROW, end);

    svg_shape(p->svg, "rect", looks[index].bound, "x", fmin(x, end), "y", p->y, "width", fabs(x - end), "height",
              PLOT_HEIGHT, NULL);
    svg_shape(p->svg, "line", "ap-arrow-tip", "x1", x, "y1", y, "x2", tip, "y2", y, NULL);
    svg_tip(p->svg, "ap-arrow-tip", x, y, tip, y);
    return (mark){hz, words_place_limit(index, r), looks[index].limit, FALSE};
}

/* A wide interval in which no place stands out: a bracket over it, and no line. */
static mark draw_range(const panel *p, const aperta_resonance *r, int index)
{
    double low = x_of(p, r->low_hz), high = x_of(p, r->high_hz);

    svg_path(p->svg, looks[index].line, "MLLL",
             (const double[]){low, p->y + 9.0, low, p->y + 3.0, high, p->y + 3.0, high, p->y + 9.0});
    return (mark){r->low_hz, words_place_range(index, r), looks[index].line, TRUE};
}

static int by_place(gconstpointer a, gconstpointer b)
{
    double d = ((const aperta_alternative *)a)->hz - ((const aperta_alternative *)b)->hz;

    return d < 0.0 ? -1 : d > 0.0;
}

/* The places that are told, the value first, or in order of frequency where none holds half of the probability. */
static guint told_places(const aperta_resonance *r, aperta_alternative places[APERTA_ALTERNATIVES_MAX + 1])
{
    guint n = 1;

    places[0] = (aperta_alternative){r->hz, 1.0};
    for (int a = 0; a < r->n_alternatives; a++) {
        places[0].weight -= r->alternatives[a].weight;
        if (r->alternatives[a].weight >= RESULT_ALTERNATIVE_WEIGHT)
            places[n++] = r->alternatives[a];
    }
    if (places[0].weight < 0.5)
        qsort(places, n, sizeof *places, by_place);
    return n;
}

/* The value, and a thinner line for each other place that fits nearly as well, with its share; all lines are thin and
 * all shares are told where no place stands out. */
static mark draw_places(const panel *p, const aperta_resonance *r, int index)
{
    aperta_alternative places[APERTA_ALTERNATIVES_MAX + 1];
    guint n = told_places(r, places);
    gboolean stands_out = places[0].hz == r->hz && places[0].weight >= 0.5;

    for (guint i = 1; i < n; i++) {
        double x = x_of(p, places[i].hz);
        svg_shape(p->svg, "line", looks[index].other, "x1", x, "y1", p->y, "x2", x, "y2", p->y + PLOT_HEIGHT, NULL);
    }
    return (mark){places[0].hz, words_places(index, places, n, stands_out),
                  stands_out ? looks[index].line : looks[index].other, FALSE};
}

/* What is known of a resonance, and the mark that names it; FALSE when nothing is. */
static gboolean draw_resonance(const panel *p, const aperta_resonance *r, int index, mark *m)
{
    if (r->status == APERTA_UNKNOWN)
        return FALSE;
    if (r->status == APERTA_BOUNDED) {
        *m = draw_limit(p, r, index);
        return TRUE;
    }
    double low = x_of(p, r->low_hz), high = x_of(p, r->high_hz);
    svg_shape(p->svg, "rect", looks[index].band, "x", low, "y", p->y, "width", high - low, "height", PLOT_HEIGHT, NULL);
    *m =
        aperta_resonance_is_wide(r) && !result_has_other_places(r) ? draw_range(p, r, index) : draw_places(p, r, index);
    return TRUE;
}

static int by_hz(gconstpointer a, gconstpointer b)
{
    double d = ((const mark *)a)->hz - ((const mark *)b)->hz;

    return d < 0.0 ? -1 : d > 0.0;
}

/* Lines up to their labels. The leftmost has the highest label, so that no line runs through the text of another. */
static void draw_marks(const panel *p, GArray *marks)
{
    g_array_sort(marks, by_hz);
    for (guint i = 0; i < marks->len; i++) {
        mark *m = &g_array_index(marks, mark, i);
        double x = x_of(p, m->hz), y = p->y - 5.0 - 13.0 * (marks->len - 1 - i);
        double width = svg_text_width("ap-label", m->text, 11.0);
        gboolean flip = x + 4.0 + width > p->x + PLOT_WIDTH + 20.0;
        svg_shape(p->svg, "line", m->css_class, "x1", x, "y1", y - 9.0, "x2", x, "y2",
                  p->y + (m->above ? 3.0 : PLOT_HEIGHT), NULL);
        svg_text(p->svg, "ap-label", flip ? x - 4.0 : x + 4.0, y, 11.0, flip ? SVG_END : SVG_START, m->text);
        g_free(m->text);
    }
}

static void draw_captions(const panel *p, const aperta_sung_note *note)
{
    g_autofree char *first = words_harmonics_note(note), *second = words_harmonics_advice(note);
    double left = p->x - PLOT_LEFT + 8.0, y = p->y - PLOT_TOP;

    svg_marker(p->svg, (svg_mark)(SVG_FINE + aperta_sung_note_level(note)), FALSE, left + 6.0, y + 15.0, 5.0);
    svg_text(p->svg, "ap-strong", left + 18.0, y + 20.0, 13.0, SVG_START, first);
    svg_text(p->svg, "ap-label", left + 18.0, y + 37.0, 12.0, SVG_START, second);
}

static void draw_panel(svg_picture *svg, const aperta_sung_note *note, double x, double y)
{
    panel p = {svg, x + PLOT_LEFT, y + PLOT_TOP};
    g_autoptr(GArray) marks = g_array_new(FALSE, FALSE, sizeof(mark));
    g_autofree char *title = words_harmonics_hover(note);
    mark second = {2.0 * note->note.f0_hz, words_harmonics_second(note), "ap-second-mark", FALSE};
    mark m;

    svg_open_group(svg, "ap-panel", title);
    draw_axes(&p);
    for (int r = 0; r < 2; r++) {
        if (draw_resonance(&p, &aperta_sung_note_resonances(note)[r], r, &m))
            g_array_append_val(marks, m);
    }
    g_array_append_val(marks, second);
    draw_harmonics(&p, &note->tract);
    draw_marks(&p, marks);
    draw_captions(&p, note);
    svg_close_group(svg);
}

static gboolean same_class(const aperta_vowel_class *a, const aperta_vowel_class *b)
{
    return a->known == b->known &&
           (!a->known || (a->has_height == b->has_height && (!a->has_height || a->height == b->height) &&
                          a->has_place == b->has_place && (!a->has_place || a->place == b->place)));
}

/* Whether two notes are told one vowel: by its name, else by its class, else that it is unsure or not known. */
static gboolean same_vowel(const aperta_sung_note *a, const aperta_sung_note *b)
{
    const aperta_vowel *told = aperta_sung_note_told(a);

    if (told != NULL || aperta_sung_note_told(b) != NULL)
        return told == aperta_sung_note_told(b);
    return same_class(&a->vowel.vowel_class, &b->vowel.vowel_class) &&
           (a->vowel.heard == NULL) == (b->vowel.heard == NULL);
}

/* Whether the first advice of two notes is of one kind, on one vowel and pitch. */
static gboolean told_alike(const aperta_sung_note *a, const aperta_sung_note *b)
{
    const aperta_finding *first = aperta_finding_at(a->advice, 0), *second = aperta_finding_at(b->advice, 0);

    return strcmp(first->rule, second->rule) == 0 && strcmp(a->name, b->name) == 0 && same_vowel(a, b);
}

/* Adds the notes of a level whose harmonics are known: the first of each kind of advice on each vowel and pitch;
 * returns how many others there are. */
static guint add_level(GPtrArray *notes, const aperta_result *result, aperta_level level)
{
    guint n_others = 0, first = notes->len;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (aperta_sung_note_level(note) != level || note->tract.n_harmonics == 0)
            continue;
        gboolean known = FALSE;
        for (guint k = first; k < notes->len && !known; k++)
            known = told_alike(g_ptr_array_index(notes, k), note);
        if (known)
            n_others++;
        else
            g_ptr_array_add(notes, (gpointer)note);
    }
    return n_others;
}

static int by_number(gconstpointer a, gconstpointer b)
{
    return (*(const aperta_sung_note *const *)a)->number - (*(const aperta_sung_note *const *)b)->number;
}

/* The flagged notes that are shown, in order of time. Where there is no room for all, those to change go before those
 * to watch; each kind of advice is shown once. */
static GPtrArray *choose(const aperta_result *result, guint *n_left_out)
{
    GPtrArray *notes = g_ptr_array_new();
    guint n_others = 0;

    for (aperta_level level = APERTA_LEVEL_CHANGE; level > APERTA_LEVEL_FINE; level--)
        n_others += add_level(notes, result, level);
    guint shown = MIN(notes->len, PANELS_MAX);
    *n_left_out = notes->len - shown + n_others;
    g_ptr_array_set_size(notes, (gint)shown);
    g_ptr_array_sort(notes, by_number);
    return notes;
}

char *aperta_report_harmonics_svg(const aperta_result *result)
{
    guint n_left_out;
    g_autoptr(GPtrArray) notes = choose(result, &n_left_out);
    guint shown = notes->len;
    guint columns = CLAMP(shown, 2, 3), rows = (shown + columns - 1) / columns;
    double width = columns * PANEL_WIDTH + 16.0;

    if (shown == 0)
        return NULL;
    const char *legend = words_harmonics_legend();
    g_autofree char *title = words_harmonics_title(result);
    double top = svg_paragraph(NULL, "ap-quiet", 20.0, 54.0, 12.0, width - 40.0, legend) + 8.0;
    svg_picture svg = svg_begin(width, top + rows * PANEL_HEIGHT + BOTTOM, title, words_harmonics_description());
    svg_text(&svg, "ap-strong", 20.0, 32.0, 19.0, SVG_START, title);
    svg_paragraph(&svg, "ap-quiet", 20.0, 54.0, 12.0, width - 40.0, legend);
    for (guint i = 0; i < shown; i++)
        draw_panel(&svg, g_ptr_array_index(notes, i), 8.0 + (i % columns) * PANEL_WIDTH,
                   top + (i / columns) * PANEL_HEIGHT);
    if (n_left_out > 0) {
        g_autofree char *more = words_harmonics_more(n_left_out);
        svg_text(&svg, "ap-quiet", 20.0, top + rows * PANEL_HEIGHT + 20.0, 12.0, SVG_START, more);
    }
    return svg_end(&svg);
}
