/* sheet-pdf.c - a sheet as pages: text set with pango, pictures drawn from the same SVG as in the HTML page. A picture
 * is never cut, and a paragraph only where it is long. */
#include "report/draw/picture.h"
#include "report/draw/text-width.h"
#include "report/sheet/sheet-pictures.h"
#include "result/sheet-query.h"

#include <aperta/report.h>

#include <cairo-pdf.h>
#include <math.h>
#include <pango/pangocairo.h>

#define POINTS_PER_MM (72.0 / 25.4)
#define MARGIN        (15.0 * POINTS_PER_MM)
#define FOOT          (8.0 * POINTS_PER_MM) /* below the text, for the number of the page */
#define GAP           3.0                   /* points, between paragraphs */
#define KEPT_WHOLE    0.25                  /* of a page: a longer paragraph may go on on the next; chosen */
#define CHART_LEAST   0.68 /* of the width: as small as the chart of vowels may get to stay on a page */

typedef struct {
    double width, height; /* points */
} paper_size;

static const paper_size papers[] = {
    [APERTA_PAPER_A4] = {210.0 * POINTS_PER_MM, 297.0 * POINTS_PER_MM}, /* ISO 216 */
    [APERTA_PAPER_LETTER] = {612.0, 792.0},                             /* ANSI A: 8.5 x 11 inches */
};

typedef struct {
    cairo_surface_t *surface;
    cairo_t *cairo;
    paper_size paper;
    double y;
    int page;
    char *title;
    GError *error; /* of the first picture that failed */
} pages;

typedef struct {
    double size; /* points */
    gboolean bold;
    double grey; /* 0: black */
    double indent;
} text_style;

static const text_style heading = {13.0, TRUE, 0.0, 0.0}, subheading = {10.5, TRUE, 0.0, 0.0},
                        body = {9.0, FALSE, 0.0, 0.0}, inset = {9.0, FALSE, 0.0, 12.0}, quiet = {8.5, FALSE, 0.33, 0.0};

/* ---- pages ------------------------------------------------------------------------------------------------------- */

static PangoLayout *layout_of(const pages *p, const text_style *style, const char *text)
{
    g_autofree char *clean = aperta_shown(text);
    PangoLayout *layout = pango_cairo_create_layout(p->cairo);
    PangoFontDescription *font = pango_font_description_from_string(TEXT_FAMILY);

    pango_font_description_set_absolute_size(font, style->size * PANGO_SCALE);
    pango_font_description_set_weight(font, style->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_layout_set_width(layout, (int)((p->paper.width - 2.0 * MARGIN - style->indent) * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(layout, clean, -1);
    pango_font_description_free(font);
    return layout;
}

static void end_page(pages *p)
{
    const text_style small = {8.0, FALSE, 0.33, 0.0};
    g_autofree char *line = g_strdup_printf("%s – %d", p->title, p->page);
    PangoLayout *layout = layout_of(p, &small, line);

    pango_layout_set_alignment(layout, PANGO_ALIGN_CENTER);
    cairo_set_source_rgb(p->cairo, small.grey, small.grey, small.grey);
    cairo_move_to(p->cairo, MARGIN, p->paper.height - MARGIN);
    pango_cairo_show_layout(p->cairo, layout);
    g_object_unref(layout);
    cairo_show_page(p->cairo);
}

static double bottom(const pages *p)
{
    return p->paper.height - MARGIN - FOOT;
}

/* Begins a new page where height does not fit any more. */
static void need(pages *p, double height)
{
    if (p->y + height <= bottom(p) || p->y <= MARGIN)
        return;
    end_page(p);
    p->page++;
    p->y = MARGIN;
}

static void put_text(pages *p, const text_style *style, const char *text)
{
    PangoLayout *layout = layout_of(p, style, text);

    PangoRectangle whole;
    pango_layout_get_extents(layout, NULL, &whole);
    double all = (double)whole.height / PANGO_SCALE;
    if (all < KEPT_WHOLE * (bottom(p) - MARGIN))
        need(p, all);
    for (GSList *at = pango_layout_get_lines_readonly(layout); at != NULL; at = at->next) {
        PangoRectangle extents;
        pango_layout_line_get_extents(at->data, NULL, &extents);
        double height = (double)extents.height / PANGO_SCALE;
        need(p, height);
        cairo_set_source_rgb(p->cairo, style->grey, style->grey, style->grey);
        cairo_move_to(p->cairo, MARGIN + style->indent, p->y - (double)extents.y / PANGO_SCALE);
        pango_cairo_show_layout_line(p->cairo, at->data);
        p->y += height;
    }
    p->y += GAP;
    g_object_unref(layout);
}

/* A heading stays with at least follows points of what comes after it. */
static void put_heading(pages *p, const text_style *style, const char *text, double follows)
{
    if (p->y > MARGIN)
        p->y += style->size;
    need(p, style->size * 1.5 + follows);
    put_text(p, style, text);
}

/* Of a picture that is drawn at a share of the full width. */
static double picture_height(const pages *p, double height_px, double share)
{
    return share * height_px * (p->paper.width - 2.0 * MARGIN) / SHEET_PICTURE_WIDTH;
}

static void put_picture(pages *p, const char *svg, double height_px, double share)
{
    double width = share * (p->paper.width - 2.0 * MARGIN), height = picture_height(p, height_px, share);

    need(p, height);
    if (p->error == NULL)
        picture_draw(svg, p->cairo, (svg_box){MARGIN, p->y, width, height}, &p->error);
    p->y += height + GAP;
}

/* ---- parts ------------------------------------------------------------------------------------------------------- */

static void put_head(pages *p, const aperta_sheet *sheet)
{
    const text_style large = {18.0, TRUE, 0.0, 0.0};
    g_autofree char *authors = words_sheet_authors(sheet), *summary = words_sheet_summary(sheet);
    g_autoptr(GArray) facts = words_sheet_facts(sheet, WORDS_ON_PAPER);

    put_text(p, &large, p->title);
    if (authors != NULL)
        put_text(p, &body, authors);
    for (guint i = 0; i < facts->len; i++) {
        const words_fact *fact = &g_array_index(facts, words_fact, i);
        g_autofree char *line = g_strdup_printf("%s: %s", fact->label, fact->text);
        put_text(p, &quiet, line);
        p->y -= GAP / 2.0;
    }
    p->y += GAP;
    if (sheet->score->n_verses > 0)
        put_text(p, &body, summary);
}

static void put_first(pages *p, const aperta_sheet *sheet)
{
    if (sheet->weight_s <= 0.0)
        return;
    put_heading(p, &heading, words_try_heading(sheet->first->len), 5.0 * body.size);
    for (guint i = 0; i < sheet->first->len; i++) {
        g_autofree char *where = words_try_on_sheet(sheet, g_ptr_array_index(sheet->first, i));
        g_autofree char *title = g_strdup_printf("%u. %s", i + 1, where);
        g_autoptr(words_first) first = words_first_on_sheet(sheet, i);
        g_auto(GStrv) paragraphs = words_first_paragraphs(first);
        put_text(p, &subheading, title);
        for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
            put_text(p, &inset, *paragraph);
    }
}

static void put_rows(pages *p, const aperta_sheet *sheet)
{
    g_autoptr(GArray) rows = sheet_rows(sheet, SHEET_PICTURE_WIDTH, FALSE);
    g_autofree char *legend = words_sheet_legend(sheet);

    if (*legend != '\0' && rows->len > 0)
        put_text(p, &quiet, legend);
    for (guint i = 0; i < rows->len; i++) {
        const sheet_row *row = &g_array_index(rows, sheet_row, i);
        g_autofree char *verse = words_sheet_verse_title(sheet, result_sheet_verse(sheet, row->verse));
        if (row->verse_begins && verse != NULL)
            put_heading(p, &heading, verse, row->height);
        put_picture(p, row->svg, row->height, 1.0);
    }
}

static void put_risks(pages *p, const aperta_group *group)
{
    g_auto(GStrv) risks = words_sheet_group_risks(group);

    for (char **risk = risks; *risk != NULL; risk++) {
        g_autofree char *line = g_strdup_printf("? %s", *risk);
        put_text(p, &inset, line);
    }
}

/* A brief one is told without the words of its rule, which stand at a heavier group. */
static void put_group(pages *p, const aperta_sheet *sheet, const aperta_group *group, gboolean is_brief,
                      GHashTable *told)
{
    g_autofree char *change = words_sheet_group_change(group), *aim = words_sheet_group_aim(group);
    g_autofree char *title = g_strdup_printf("%s: %s", words_sheet_group_word(group), change);
    g_autofree char *places = words_sheet_group_where_and_share(sheet, group);
    g_autofree char *where = aim != NULL ? g_strdup_printf("%s %s", places, aim) : g_strdup(places);
    const words_whom whom = words_sheet_group_whom(group);

    put_heading(p, &subheading, title, 5.0 * body.size);
    put_text(p, &inset, where);
    if (!is_brief) {
        g_auto(GStrv) paragraphs = words_tell(told, group->finding, &whom);
        for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
            put_text(p, &inset, *paragraph);
    }
    put_risks(p, group);
}

static void put_advice(pages *p, const aperta_sheet *sheet)
{
    g_autoptr(GPtrArray) reasons = words_sheet_reasons(sheet);
    g_autoptr(GHashTable) told = words_told_new();

    if (sheet->groups->len == 0)
        return;
    put_heading(p, &heading, words_sheet_heading(WORDS_SHEET_ADVICE), 8.0 * body.size);
    for (guint i = 0; i < sheet->groups->len; i++)
        put_group(p, sheet, g_ptr_array_index(sheet->groups, i), result_sheet_group_is_brief(sheet, i), told);
    put_heading(p, &subheading, words_sheet_heading(WORDS_SHEET_REASONS), 3.0 * body.size);
    for (guint i = 0; i < reasons->len; i++)
        put_text(p, &quiet, g_ptr_array_index(reasons, i));
}

/* The share of the width at which the chart fits below what stands on this page; in full, on the next, where that would
 * be too small. */
static double chart_share(const pages *p, double height_px)
{
    double room = bottom(p) - p->y - 3.0 * heading.size; /* below its heading */
    double share = room / picture_height(p, height_px, 1.0);

    return share >= CHART_LEAST ? fmin(share, 1.0) : 1.0;
}

static void put_pictures(pages *p, const aperta_sheet *sheet)
{
    double height = 0.0;
    g_autofree char *keys = sheet_keys_svg(sheet, FALSE, &height),
                    *summary = words_sheet_keys_summary(sheet, WORDS_ON_PAPER);

    if (keys != NULL) {
        put_heading(p, &heading, words_sheet_heading(WORDS_SHEET_KEYS),
                    picture_height(p, height, 1.0) + 3.0 * body.size);
        put_text(p, &body, summary);
        put_picture(p, keys, height, 1.0);
    }
    g_autofree char *chart = sheet_chart_svg(sheet, FALSE, &height);
    if (chart != NULL) {
        double share = chart_share(p, height);
        put_heading(p, &heading, words_sheet_heading(WORDS_SHEET_VOWELS), picture_height(p, height, share));
        put_picture(p, chart, height, share);
    }
}

/* Before the pictures: the cautions belong to the advice, and do not end alone on a page. */
static void put_cautions(pages *p, const aperta_sheet *sheet)
{
    if (sheet->warnings->len > 0)
        put_heading(p, &heading, words_sheet_heading(WORDS_SHEET_REMARKS), 2.0 * body.size);
    for (guint i = 0; i < sheet->warnings->len; i++) {
        g_autofree char *text = words_warning_on_paper(g_ptr_array_index(sheet->warnings, i));
        put_text(p, &body, text);
    }
    put_heading(p, &heading, words_sheet_heading(WORDS_SHEET_CARE), 10.0 * body.size);
    for (const char *const *caution = aperta_cautions(); *caution != NULL; caution++)
        put_text(p, &body, *caution);
}

GBytes *aperta_report_sheet_pdf(const aperta_sheet *sheet, aperta_paper paper, GError **error)
{
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    pages p = {.paper = papers[paper], .y = MARGIN, .page = 1, .title = words_sheet_title(sheet)};

    p.surface = picture_pdf_new(bytes, p.paper.width, p.paper.height);
    p.cairo = cairo_create(p.surface);
    cairo_pdf_surface_set_metadata(p.surface, CAIRO_PDF_METADATA_TITLE, p.title);
    put_head(&p, sheet);
    put_first(&p, sheet);
    put_rows(&p, sheet);
    put_advice(&p, sheet);
    put_cautions(&p, sheet);
    put_pictures(&p, sheet);
    end_page(&p);
    cairo_status_t status = cairo_status(p.cairo);
    cairo_destroy(p.cairo);
    cairo_surface_finish(p.surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(p.surface);
    cairo_surface_destroy(p.surface);
    g_free(p.title);
    if (p.error == NULL)
        picture_check(status, &p.error);
    if (p.error != NULL) {
        g_propagate_error(error, p.error);
        return NULL;
    }
    return g_byte_array_free_to_bytes(g_steal_pointer(&bytes));
}
