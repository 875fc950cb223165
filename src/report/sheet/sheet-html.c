/* sheet-html.c - a sheet as one page that needs no other file: for screens, light and dark, narrow and wide, for screen
 * readers, and for printing. The pictures are the same as in the PDF; their text can be searched and copied. */
#include "report/draw/svg.h"
#include "report/sheet/sheet-pictures.h"
#include "result/sheet-query.h"

#include <aperta/report.h>

#include <string.h>

static const char page_style[] =
    ":root{color-scheme:light dark;--ink:#1b1b1b;--quiet:#555;--ground:#fff;--line:#ccc;--fine:#007a5a;--watch:#8a5a00;"
    "--change:#b04700}\n"
    "@media (prefers-color-scheme:dark){:root{--ink:#ececec;--quiet:#b4b4b4;--ground:#16181b;--line:#3a3e44;"
    "--fine:#2fc79b;--watch:#e69f00;--change:#ff8a3a}}\n"
    "@media print{:root{color-scheme:light;--ink:#1b1b1b;--quiet:#555;--ground:#fff;--line:#ccc;--fine:#007a5a;"
    "--watch:#8a5a00;--change:#b04700}}\n"
    "*{box-sizing:border-box}\n"
    "body{margin:0 auto;max-width:48rem;padding:1.2rem;background:var(--ground);color:var(--ink);"
    "font:16px/1.45 'DejaVu Sans','Noto Sans',sans-serif}\n"
    "h1{font-size:1.6rem;margin:.2em 0}h2{font-size:1.2rem;margin:1.6em 0 .4em}h3{font-size:1rem;margin:1.2em 0 .2em}\n"
    "p{margin:.3em 0}.quiet{color:var(--quiet);font-size:.88rem}\n"
    "dl.facts{display:grid;grid-template-columns:max-content 1fr;gap:.1rem .9rem;margin:.8rem 0;font-size:.92rem}"
    "dl.facts dt{color:var(--quiet)}dl.facts dd{margin:0}\n"
    "figure{margin:.2rem 0;overflow-x:auto}"
    "figure svg{display:block;width:100%;height:auto;min-width:36rem;overflow:visible}\n"
    "ul{margin:.3em 0;padding-left:1.2rem}li{margin:.15em 0}\n"
    "article{border-left:4px solid var(--line);padding-left:.8rem;margin:1rem 0;break-inside:avoid}\n"
    ".brief{margin:.5em 0}article.change{border-color:var(--change)}article.watch{border-color:var(--watch)}\n"
    ".level{font-weight:bold}.change .level{color:var(--change)}.watch .level{color:var(--watch)}\n"
    ".care{border:1px solid var(--line);padding:.4rem 1rem;margin-top:1.6rem;break-inside:avoid}\n"
    ".spoken{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}\n"
    ".narrow{display:none}@media screen and (max-width:36rem){.wide{display:none}.narrow{display:block}"
    ".narrow svg{min-width:0}}\n"
    "@media print{body{max-width:none;padding:0;font-size:10.5pt}figure{overflow:visible;break-inside:avoid}"
    "figure svg{min-width:0}h2,h3{break-after:avoid}.whole{break-inside:avoid}}\n"
    "@page{margin:15mm}\n";

/* <element class="css_class">text</element>; css_class may be NULL. */
static void element(GString *out, const char *name, const char *css_class, const char *text)
{
    g_string_append_printf(out, "<%s", name);
    if (css_class != NULL)
        g_string_append_printf(out, " class=\"%s\"", css_class);
    g_string_append_c(out, '>');
    svg_append_escaped(out, text);
    g_string_append_printf(out, "</%s>\n", name);
}

static void figure(GString *out, const char *svg)
{
    g_string_append_printf(out, "<figure>\n%s</figure>\n", svg);
}

static void write_head(GString *out, const aperta_sheet *sheet)
{
    g_autofree char *title = words_sheet_title(sheet);

    g_string_append(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    element(out, "title", NULL, title);
    g_string_append_printf(out, "<style>\n%s%s</style>\n</head>\n<body>\n", page_style, svg_style());
}

static void write_facts(GString *out, const aperta_sheet *sheet)
{
    g_autofree char *title = words_sheet_title(sheet), *authors = words_sheet_authors(sheet),
                    *summary = words_sheet_summary(sheet);
    g_autoptr(GArray) facts = words_sheet_facts(sheet, WORDS_ON_PAPER);

    g_string_append(out, "<header>\n");
    element(out, "h1", NULL, title);
    if (authors != NULL)
        element(out, "p", NULL, authors);
    g_string_append(out, "<dl class=\"facts\">\n");
    for (guint i = 0; i < facts->len; i++) {
        element(out, "dt", NULL, g_array_index(facts, words_fact, i).label);
        element(out, "dd", NULL, g_array_index(facts, words_fact, i).text);
    }
    g_string_append(out, "</dl>\n");
    if (sheet->score->n_verses > 0)
        element(out, "p", NULL, summary);
    g_string_append(out, "</header>\n");
}

static void write_list(GString *out, char **items)
{
    g_string_append(out, "<ul>\n");
    for (; *items != NULL; items++)
        element(out, "li", NULL, *items);
    g_string_append(out, "</ul>\n");
}

static void write_first(GString *out, const aperta_sheet *sheet)
{
    if (sheet->weight_s <= 0.0)
        return;
    g_string_append(out, "<section>\n");
    element(out, "h2", NULL, words_try_heading(sheet->first->len));
    g_string_append(out, "<ol>\n");
    for (guint i = 0; i < sheet->first->len; i++) {
        const aperta_try *one = aperta_try_at(sheet->first, i);
        g_autofree char *where = words_try_on_sheet(sheet, one);
        g_autoptr(words_first) first = words_first_on_sheet(sheet, i);
        g_auto(GStrv) paragraphs = words_first_paragraphs(first);
        g_string_append_printf(out, "<li class=\"%s\">", aperta_level_word(one->level));
        element(out, "p", "level", where);
        for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
            element(out, "p", NULL, *paragraph);
        g_string_append(out, "</li>\n");
    }
    g_string_append(out, "</ol>\n</section>\n");
}

/* The rows as set for one width of the screen; what is hidden there is read by nobody. */
static void write_rows_so_wide(GString *out, const aperta_sheet *sheet, double width, const char *css_class)
{
    g_autoptr(GArray) rows = sheet_rows(sheet, width, TRUE);

    g_string_append_printf(out, "<div class=\"%s\">\n", css_class);
    for (guint i = 0; i < rows->len; i++) {
        const sheet_row *row = &g_array_index(rows, sheet_row, i);
        g_autofree char *verse = words_sheet_verse_title(sheet, result_sheet_verse(sheet, row->verse));
        if (row->verse_begins && verse != NULL)
            element(out, "h3", NULL, verse);
        element(out, "p", "spoken", row->spoken);
        g_string_append_printf(out, "<figure aria-hidden=\"true\">\n%s</figure>\n", row->svg);
    }
    g_string_append(out, "</div>\n");
}

static void write_rows(GString *out, const aperta_sheet *sheet)
{
    g_autofree char *legend = words_sheet_legend(sheet);

    if (sheet->notes->len == 0)
        return;
    g_string_append(out, "<main>\n");
    element(out, "h2", NULL, words_sheet_heading(WORDS_SHEET_LINES));
    if (*legend != '\0')
        element(out, "p", "quiet", legend);
    write_rows_so_wide(out, sheet, SHEET_PICTURE_WIDTH, "wide");
    write_rows_so_wide(out, sheet, SHEET_NARROW_WIDTH, "narrow");
    g_string_append(out, "</main>\n");
}

static void write_level(GString *out, const aperta_group *group)
{
    g_string_append_printf(out, "<span class=\"level\">%s:</span> ", words_sheet_group_word(group));
}

static void write_brief_group(GString *out, const aperta_sheet *sheet, const aperta_group *group)
{
    g_autofree char *line = words_sheet_group_line(sheet, group);
    g_auto(GStrv) risks = words_sheet_group_risks(group);

    g_string_append_printf(out, "<div class=\"brief %s\">", aperta_level_word(group->level));
    write_level(out, group);
    svg_append_escaped(out, line);
    if (*risks != NULL)
        write_list(out, risks);
    g_string_append(out, "</div>\n");
}

static void write_group(GString *out, const aperta_sheet *sheet, const aperta_group *group, GHashTable *told)
{
    g_autofree char *change = words_sheet_group_change(group), *aim = words_sheet_group_aim(group);
    g_autofree char *where = words_sheet_group_where_and_share(sheet, group);
    const words_whom whom = words_sheet_group_whom(group);
    g_auto(GStrv) paragraphs = words_tell(told, group->finding, &whom);
    g_auto(GStrv) risks = words_sheet_group_risks(group);

    g_string_append_printf(out, "<article class=\"%s\">\n<h3>", aperta_level_word(group->level));
    write_level(out, group);
    svg_append_escaped(out, change);
    g_string_append(out, "</h3>\n");
    element(out, "p", NULL, where);
    for (char **paragraph = paragraphs; *paragraph != NULL; paragraph++)
        element(out, "p", NULL, *paragraph);
    if (aim != NULL)
        element(out, "p", "quiet", aim);
    if (*risks != NULL)
        write_list(out, risks);
    g_string_append(out, "</article>\n");
}

/* Each rule that flagged something, once. */
static void write_reasons(GString *out, const aperta_sheet *sheet)
{
    g_autoptr(GPtrArray) reasons = words_sheet_reasons(sheet);

    if (reasons->len == 0)
        return;
    element(out, "h3", NULL, words_sheet_heading(WORDS_SHEET_REASONS));
    g_string_append(out, "<ul class=\"quiet\">\n");
    for (guint i = 0; i < reasons->len; i++)
        element(out, "li", NULL, g_ptr_array_index(reasons, i));
    g_string_append(out, "</ul>\n");
}

static void write_advice(GString *out, const aperta_sheet *sheet)
{
    g_autoptr(GHashTable) told = words_told_new();

    if (sheet->groups->len == 0)
        return;
    g_string_append(out, "<section>\n");
    element(out, "h2", NULL, words_sheet_heading(WORDS_SHEET_ADVICE));
    for (guint i = 0; i < sheet->groups->len; i++)
        if (result_sheet_group_is_brief(sheet, i))
            write_brief_group(out, sheet, g_ptr_array_index(sheet->groups, i));
        else
            write_group(out, sheet, g_ptr_array_index(sheet->groups, i), told);
    write_reasons(out, sheet);
    g_string_append(out, "</section>\n");
}

static void write_pictures(GString *out, const aperta_sheet *sheet)
{
    double height;
    g_autofree char *keys = sheet_keys_svg(sheet, TRUE, &height);
    g_autofree char *summary = words_sheet_keys_summary(sheet, WORDS_ON_PAPER);
    g_autofree char *chart = sheet_chart_svg(sheet, TRUE, &height);

    if (keys != NULL) {
        g_string_append(out, "<section class=\"whole\">\n");
        element(out, "h2", NULL, words_sheet_heading(WORDS_SHEET_KEYS));
        element(out, "p", NULL, summary);
        figure(out, keys);
        g_string_append(out, "</section>\n");
    }
    if (chart != NULL) {
        g_string_append(out, "<section class=\"whole\">\n");
        element(out, "h2", NULL, words_sheet_heading(WORDS_SHEET_VOWELS));
        figure(out, chart);
        g_string_append(out, "</section>\n");
    }
}

/* Before the pictures: the cautions belong to the advice, and do not end alone on a printed page. */
static void write_cautions(GString *out, const aperta_sheet *sheet)
{
    if (sheet->warnings->len > 0) {
        g_string_append(out, "<section>\n");
        element(out, "h2", NULL, words_sheet_heading(WORDS_SHEET_REMARKS));
        g_string_append(out, "<ul>\n");
        for (guint i = 0; i < sheet->warnings->len; i++) {
            g_autofree char *text = words_warning_on_paper(g_ptr_array_index(sheet->warnings, i));
            element(out, "li", NULL, text);
        }
        g_string_append(out, "</ul>\n</section>\n");
    }
    g_string_append(out, "<section class=\"care\">\n");
    element(out, "h2", NULL, words_sheet_heading(WORDS_SHEET_CARE));
    g_string_append(out, "<ul>\n");
    for (const char *const *caution = aperta_cautions(); *caution != NULL; caution++)
        element(out, "li", NULL, *caution);
    g_string_append(out, "</ul>\n</section>\n");
}

char *aperta_report_sheet_html(const aperta_sheet *sheet)
{
    GString *out = g_string_new(NULL);

    write_head(out, sheet);
    write_facts(out, sheet);
    write_first(out, sheet);
    write_rows(out, sheet);
    write_advice(out, sheet);
    write_cautions(out, sheet);
    write_pictures(out, sheet);
    g_string_append(out, "</body>\n</html>\n");
    return g_string_free(out, FALSE);
}
