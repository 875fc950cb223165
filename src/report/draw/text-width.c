/* text-width.c - how much room text takes in a picture, measured with pango as librsvg and the reader's browser do. */
#include "report/draw/text-width.h"
#include "words/words.h"

#include <pango/pangocairo.h>

#define MEASURED_AT_PX 100  /* widths are proportional to the size where nothing is hinted; a round number */
#define KEPT_MAX       4096 /* widths; a long song has some hundred syllables, sounds and pitches */

typedef struct {
    PangoLayout *layouts[2]; /* plain, bold */
    GHashTable *kept[2];     /* char * -> double *, in em */
} ruler;

static void ruler_free(gpointer data)
{
    ruler *one = data;

    for (int bold = 0; bold < 2; bold++) {
        g_object_unref(one->layouts[bold]);
        g_hash_table_unref(one->kept[bold]);
    }
    g_free(one);
}

/* One a thread: pango's objects are not shared. */
static GPrivate own_ruler = G_PRIVATE_INIT(ruler_free);

static PangoLayout *layout_new(PangoContext *context, gboolean bold)
{
    PangoLayout *layout = pango_layout_new(context);
    PangoFontDescription *font = pango_font_description_from_string(TEXT_FAMILY);

    pango_font_description_set_absolute_size(font, MEASURED_AT_PX * PANGO_SCALE);
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_font_description_free(font);
    return layout;
}

static ruler *ruler_of_thread(void)
{
    ruler *one = g_private_get(&own_ruler);

    if (one != NULL)
        return one;
    one = g_new0(ruler, 1);
    PangoContext *context = pango_font_map_create_context(pango_cairo_font_map_get_default());
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(context, options);
    pango_context_set_round_glyph_positions(context, FALSE);
    for (int bold = 0; bold < 2; bold++) {
        one->layouts[bold] = layout_new(context, bold);
        one->kept[bold] = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    }
    cairo_font_options_destroy(options);
    g_object_unref(context);
    g_private_set(&own_ruler, one);
    return one;
}

static double measure(PangoLayout *layout, const char *text)
{
    g_autofree char *clean = aperta_shown(text); /* as it is drawn */
    PangoRectangle extents;

    pango_layout_set_text(layout, clean, -1);
    pango_layout_get_extents(layout, NULL, &extents);
    return (double)extents.width / (PANGO_SCALE * MEASURED_AT_PX);
}

double text_width_em(const char *text, gboolean bold)
{
    ruler *one = ruler_of_thread();
    GHashTable *kept = one->kept[bold ? 1 : 0];
    double *known = g_hash_table_lookup(kept, text);

    if (known != NULL)
        return *known;
    if (g_hash_table_size(kept) >= KEPT_MAX)
        g_hash_table_remove_all(kept);
    known = g_new(double, 1);
    *known = measure(one->layouts[bold ? 1 : 0], text);
    g_hash_table_insert(kept, g_strdup(text), known);
    return *known;
}
