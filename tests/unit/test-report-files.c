/* test-report-files.c - pictures of made-up takes, and output that is there whole or not at all. */
#include "expect.h"
#include "report-fixture.h"
#include "sheet-of.h"

#include <aperta/report.h>
#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define assert_has(text, part) assert_non_null(strstr((text), (part)))

static guint count(const char *text, const char *part)
{
    guint n = 0;

    for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part))
        n++;
    return n;
}

/* ---- pictures --------------------------------------------------------------------------------------------------- */

/* Well-formed by GLib's own parser of markup (it wants no XML declaration). */
static void assert_well_formed(const char *svg)
{
    static const GMarkupParser parser = {0};
    g_autoptr(GMarkupParseContext) context = g_markup_parse_context_new(&parser, 0, NULL, NULL);
    GError *error = NULL;

    if (!g_markup_parse_context_parse(context, svg, -1, &error) || !g_markup_parse_context_end_parse(context, &error))
        print_error("%s\n", error->message);
    assert_null(error);
    assert_null(strstr(svg, "nan"));
    assert_null(strstr(svg, "\"\""));
}

static void test_chart(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *svg = aperta_report_chart_svg(take);
    (void)state;

    assert_well_formed(svg);
    assert_has(svg, "<title>Vowel chart: Lantern, verse &quot;two&quot;.wav</title>");
    assert_has(svg, "<desc>");
    assert_has(svg, ">Trust: Well: the recording is clean; ");
    assert_has(svg, "prefers-color-scheme:dark");
    assert_int_equal(count(svg, "class=\"ap-vowel\""), take->settings.table->n_rows);
    assert_int_equal(count(svg, "class=\"ap-note\""), 10); /* all but the accompanied and the unknown one */
    assert_has(svg, "notes 7 and 12.");
    assert_int_equal(count(svg, "class=\"ap-aim\""), 4 + 1); /* four shapes, and the legend's */
    assert_has(svg, "class=\"ap-hollow ap-watch\"");
    assert_has(svg, "note 6, E♭5, a vowel too unsure to name: F1 below 702 Hz, F2 1500 Hz (1380–1640); watch");
}

typedef struct {
    double x, y, width, height;
} rect;

static gboolean rects_meet(const rect *a, const rect *b)
{
    return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
}

/* Every label of the chart stands on a small ground of its own: no two of them meet, even in a take of 45 notes. */
static void test_chart_labels_do_not_overlap(void **state)
{
    (void)state;
    for (guint n = 0; n <= 45; n += 15) {
        g_autoptr(aperta_result) take = n == 0 ? fixture_take(FALSE) : fixture_crowd(n);
        g_autofree char *svg = aperta_report_chart_svg(take);
        g_autoptr(GArray) rects = g_array_new(FALSE, FALSE, sizeof(rect));
        for (const char *at = svg; (at = strstr(at, "<rect class=\"ap-under\"")) != NULL; at++) {
            rect r;
            int n_read = sscanf(at, "<rect class=\"ap-under\" x=\"%lf\" y=\"%lf\" width=\"%lf\" height=\"%lf\"", &r.x,
                                &r.y, &r.width, &r.height);
            assert_int_equal(n_read, 4);
            for (guint i = 0; i < rects->len; i++)
                assert_false(rects_meet(&r, &g_array_index(rects, rect, i)));
            g_array_append_val(rects, r);
        }
        assert_true(rects->len >= take->settings.table->n_rows + n); /* each vowel, each note, each kind of shape */
    }
}

/* F2 runs to the left and F1 downward: a vowel with a higher F2 stands further left, with a higher F1 lower. */
static void test_chart_directions(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *svg = aperta_report_chart_svg(take);
    g_autoptr(GRegex) ellipse =
        g_regex_new("<title>spoken (\\S+) .*?<ellipse class=\"ap-spread\" cx=\"([0-9.]+)\" cy=\"([0-9.]+)\"",
                    G_REGEX_DOTALL, 0, NULL);
    double x[2] = {0.0, 0.0}, y[2] = {0.0, 0.0}; /* of i, ɑ */
    GMatchInfo *match;
    (void)state;

    for (g_regex_match(ellipse, svg, 0, &match); g_match_info_matches(match); g_match_info_next(match, NULL)) {
        g_autofree char *ipa = g_match_info_fetch(match, 1);
        g_autofree char *cx = g_match_info_fetch(match, 2);
        g_autofree char *cy = g_match_info_fetch(match, 3);
        for (int v = 0; v < 2; v++) {
            if (g_str_equal(ipa, v == 0 ? "i" : "ɑ")) {
                x[v] = g_ascii_strtod(cx, NULL);
                y[v] = g_ascii_strtod(cy, NULL);
            }
        }
    }
    g_match_info_free(match);
    assert_true(x[0] > 0.0 && x[0] < x[1]);
    assert_true(y[0] > 0.0 && y[0] < y[1]);
}

static void test_chart_of_many_and_of_none(void **state)
{
    g_autoptr(aperta_result) crowd = fixture_crowd(400);
    g_autoptr(aperta_result) silence = fixture_silence();
    g_autofree char *many = aperta_report_chart_svg(crowd);
    g_autofree char *none = aperta_report_chart_svg(silence);
    (void)state;

    assert_well_formed(many);
    assert_well_formed(none);
    assert_int_equal(count(many, "class=\"ap-note\""), 400);
    assert_int_equal(count(many, "class=\"ap-many\""), 1);
    assert_int_equal(count(none, "class=\"ap-note\""), 0);
}

static void test_harmonics(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autoptr(aperta_result) crowd = fixture_crowd(400);
    g_autoptr(aperta_result) silence = fixture_silence();
    g_autofree char *svg = aperta_report_harmonics_svg(take);
    g_autofree char *many = aperta_report_harmonics_svg(crowd);
    (void)state;

    assert_well_formed(svg);
    assert_well_formed(many);
    assert_null(aperta_report_harmonics_svg(silence));
    assert_int_equal(count(svg, "class=\"ap-panel\""), 4); /* two of the five are the same vowel on the same pitch */
    assert_has(svg, "F1 below 702");
    assert_has(svg, "try ɛ “eh, jaw wide”");
    assert_int_equal(count(many, "class=\"ap-panel\""), 12);
    assert_has(many, "more flagged notes are not shown");
}

/* The panel of a note alone. */
static char *panel_of(const aperta_resonance *f1)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    aperta_sung_note *note = aperta_sung_note_at(take->notes, 3); /* C5, flagged */

    note->tract.resonances[0] = *f1;
    g_autofree char *svg = aperta_report_harmonics_svg(take);
    const char *start = strstr(svg, "<title>note 4,");
    assert_non_null(start);
    return g_strndup(start, (gsize)(strstr(start, "</g>") - start));
}

/* What is drawn of F1 says no more than is known of it. */
static void test_harmonics_draw_what_is_known(void **state)
{
    aperta_resonance f1 = {APERTA_MEASURED, 612.0, TRUE, TRUE, 580.0, 641.0, 0, {{0.0, 0.0}}};
    g_autofree char *value = panel_of(&f1);
    (void)state;

    /* one value: its line, and nothing else */
    assert_has(value, ">F1 612<");
    assert_int_equal(count(value, "<line class=\"ap-f1\""), 1);
    assert_int_equal(count(value, "ap-other") + count(value, "ap-limit") + count(value, "ap-arrow-tip"), 0);

    /* a limit: no line as of a value, but a broken one with an arrow to the left, over a pale band */
    f1 = (aperta_resonance){APERTA_BOUNDED, 0.0, FALSE, TRUE, 0.0, 640.0, 0, {{0.0, 0.0}}};
    g_autofree char *below = panel_of(&f1);
    assert_has(below, ">F1 below 640<");
    assert_int_equal(count(below, "<line class=\"ap-f1\""), 0);
    assert_int_equal(count(below, "<line class=\"ap-f1 ap-limit\""), 1);
    assert_int_equal(count(below, "\"ap-f1-band ap-bound\""), 1);
    const char *arrow = strstr(below, "<line class=\"ap-arrow-tip\"");
    double from, y, to;
    assert_non_null(arrow);
    assert_int_equal(sscanf(arrow, "<line class=\"ap-arrow-tip\" x1=\"%lf\" y1=\"%lf\" x2=\"%lf\"", &from, &y, &to), 3);
    assert_true(to < from - 10.0);

    /* a wide interval without a place that stands out: a bracket and no line through the plot */
    f1 = (aperta_resonance){APERTA_MEASURED, 900.0, TRUE, TRUE, 400.0, 1300.0, 0, {{0.0, 0.0}}};
    g_autofree char *range = panel_of(&f1);
    assert_has(range, ">F1 400–1300<");
    assert_null(strstr(range, "F1 900"));
    assert_has(range, "F1 between 400 and 1300 Hz");
    assert_int_equal(count(range, "<path class=\"ap-f1\""), 1);

    /* two places: both, and what the second is worth */
    f1 = (aperta_resonance){APERTA_MEASURED, 507.0, TRUE, TRUE, 480.0, 760.0, 1, {{723.0, 0.34}}};
    g_autofree char *two = panel_of(&f1);
    assert_has(two, ">F1 507 or 723 (34 %)<");
    assert_has(two, "F1 507 Hz or 723 Hz (480–760)");
    assert_int_equal(count(two, "<line class=\"ap-f1\""), 1);
    assert_int_equal(count(two, "<line class=\"ap-f1 ap-other\""), 1);

    /* the likeliest place above 2f0, but more of the probability below it: no place is drawn as the value */
    f1 = (aperta_resonance){APERTA_MEASURED, 1113.0, TRUE, TRUE, 248.0, 1132.0, 2, {{314.0, 0.38}, {659.0, 0.19}}};
    g_autofree char *three = panel_of(&f1);
    assert_has(three, ">F1 314 (38 %), 659 (19 %) or 1113 (43 %)<");
    assert_int_equal(count(three, "<line class=\"ap-f1\""), 0);
    assert_int_equal(count(three, "<line class=\"ap-f1 ap-other\""), 3);
}

static void test_picture_kinds(void **state)
{
    aperta_picture kind;
    (void)state;

    assert_true(aperta_report_picture_kind("a/chart.PNG", &kind));
    assert_int_equal(kind, APERTA_PICTURE_PNG);
    assert_true(aperta_report_picture_kind("chart.pdf", &kind));
    assert_int_equal(kind, APERTA_PICTURE_PDF);
    assert_true(aperta_report_picture_kind("x.svg", &kind));
    assert_int_equal(kind, APERTA_PICTURE_SVG);
    assert_false(aperta_report_picture_kind("chart.jpeg", &kind));
    assert_false(aperta_report_picture_kind("png", &kind));
    assert_false(aperta_report_picture_kind(".svg", &kind));
}

typedef struct {
    const guint8 *bytes;
    gsize left;
} source;

static cairo_status_t take_bytes(void *closure, unsigned char *data, unsigned int length)
{
    source *from = closure;

    if (from->left < length)
        return CAIRO_STATUS_READ_ERROR;
    memcpy(data, from->bytes, length);
    from->bytes += length;
    from->left -= length;
    return CAIRO_STATUS_SUCCESS;
}

static gboolean contains(GBytes *bytes, const char *part)
{
    gsize size, length = strlen(part);
    const char *data = g_bytes_get_data(bytes, &size);

    for (gsize i = 0; i + length <= size; i++) {
        if (memcmp(data + i, part, length) == 0)
            return TRUE;
    }
    return FALSE;
}

static void test_pictures(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *svg = aperta_report_chart_svg(take);
    GError *error = NULL;
    (void)state;

    g_autoptr(GBytes) same = aperta_report_picture(svg, APERTA_PICTURE_SVG, &error);
    assert_int_equal(g_bytes_get_size(same), strlen(svg));
    g_autoptr(GBytes) png = aperta_report_picture(svg, APERTA_PICTURE_PNG, &error);
    assert_non_null(png);
    source from = {g_bytes_get_data(png, NULL), g_bytes_get_size(png)};
    cairo_surface_t *surface = cairo_image_surface_create_from_png_stream(take_bytes, &from);
    assert_int_equal(cairo_image_surface_get_width(surface), 2000); /* twice the SVG's 1000 px */
    /* the ground is white, and something is drawn on it */
    const guint32 *first = (const guint32 *)(const void *)cairo_image_surface_get_data(surface);
    assert_int_equal(first[0] & 0xFFFFFF, 0xFFFFFF);
    guint dark = 0;
    for (int i = 0; i < 2000 * cairo_image_surface_get_height(surface); i++)
        dark += (first[i] & 0xFF) < 0x80;
    assert_true(dark > 5000);
    cairo_surface_destroy(surface);
    g_autoptr(GBytes) pdf = aperta_report_picture(svg, APERTA_PICTURE_PDF, &error);
    assert_non_null(pdf);
    assert_memory_equal(g_bytes_get_data(pdf, NULL), "%PDF-", 5);
    /* text that stays text has fonts with a way back to Unicode */
    assert_true(contains(pdf, "/ToUnicode"));
    assert_null(aperta_report_picture("<svg", APERTA_PICTURE_PNG, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
    g_error_free(error);
}

/* The date is the given one (reproducible-builds.org, SOURCE_DATE_EPOCH 1.1; 1764000000 is 2025-11-24 16:00:00 UTC by
 * date(1) of the coreutils), in pictures and in pages; what is no date is passed over. */
static void test_given_date(void **state)
{
    g_autoptr(aperta_result) take = fixture_take(FALSE);
    g_autofree char *svg = aperta_report_chart_svg(take);
    (void)state;

    g_assert_true(g_setenv("SOURCE_DATE_EPOCH", "1764000000", TRUE));
    g_autoptr(GBytes) dated = aperta_report_picture(svg, APERTA_PICTURE_PDF, NULL);
    g_autoptr(aperta_sheet) sheet = sheet_of("C5:1:see", (aperta_sheet_options){0});
    g_autoptr(GBytes) pages = aperta_report_sheet_pdf(sheet, APERTA_PAPER_A4, NULL);
    assert_true(contains(dated, "/CreationDate (20251124160000Z)"));
    assert_true(contains(pages, "/CreationDate (20251124160000Z)"));

    g_assert_true(g_setenv("SOURCE_DATE_EPOCH", "yesterday", TRUE));
    g_autoptr(GBytes) undated = aperta_report_picture(svg, APERTA_PICTURE_PDF, NULL);
    assert_true(contains(undated, "/CreationDate (D:2"));
    assert_false(contains(undated, "/CreationDate (20251124160000Z)"));
    g_unsetenv("SOURCE_DATE_EPOCH");
}

/* ---- files ------------------------------------------------------------------------------------------------------ */

static int make_folder(void **state)
{
    *state = g_dir_make_tmp("aperta-report-XXXXXX", NULL);
    return *state != NULL ? 0 : -1;
}

static int remove_folder(void **state)
{
    g_autoptr(GDir) dir = g_dir_open(*state, 0, NULL);

    for (const char *name = g_dir_read_name(dir); name != NULL; name = g_dir_read_name(dir)) {
        g_autofree char *path = g_build_filename(*state, name, NULL);
        g_remove(path);
    }
    int gone = g_rmdir(*state);
    g_free(*state);
    return gone;
}

static void assert_holds(const char *path, const char *expected)
{
    g_autofree char *text = NULL;

    assert_true(g_file_get_contents(path, &text, NULL, NULL));
    assert_string_equal(text, expected);
}

static void assert_unwritable(const char *path, const char *why)
{
    GError *error = NULL;

    assert_false(aperta_report_write(path, "new", 3, &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE));
    assert_true(g_str_has_prefix(error->message, path));
    if (strstr(error->message, why) == NULL)
        print_error("%s lacks \"%s\"\n", error->message, why);
    assert_has(error->message, why);
    g_error_free(error);
}

static void test_write(void **state)
{
    g_autofree char *path = g_build_filename(*state, "out.txt", NULL);
    g_autofree char *link_path = g_build_filename(*state, "link.txt", NULL);
    GError *error = NULL;
    GStatBuf info;

    assert_true(aperta_report_write(path, "first", 5, &error));
    assert_holds(path, "first");
    assert_int_equal(g_chmod(path, 0600), 0);
    assert_true(aperta_report_write(path, "", 0, &error));
    assert_holds(path, "");
    assert_int_equal(g_stat(path, &info), 0);
    assert_int_equal(info.st_mode & 0777, 0600); /* a private file stays private */
    assert_int_equal(symlink("out.txt", link_path), 0);
    assert_true(aperta_report_write(link_path, "through", 7, &error));
    assert_true(g_file_test(link_path, G_FILE_TEST_IS_SYMLINK));
    assert_holds(path, "through");
}

static void test_write_fails_whole(void **state)
{
    g_autofree char *nowhere = g_build_filename(*state, "no", "such", "out.txt", NULL);
    g_autofree char *file = g_build_filename(*state, "good.txt", NULL);
    g_autofree char *below_file = g_build_filename(file, "out.txt", NULL);

    assert_true(aperta_report_write(file, "good", 4, NULL));
    assert_unwritable("/dev/full", "free some space");
    assert_unwritable(nowhere, "make the folder first");
    assert_unwritable(below_file, "make the folder first");
    assert_unwritable(*state, "name a file in it");
    assert_holds(file, "good");
}

/* A limit on the size of files stands in for a disk that runs full: what was there stays, nothing half-written does. */
static void test_write_keeps_the_good_one(void **state)
{
    g_autofree char *file = g_build_filename(*state, "good.txt", NULL);
    g_autofree char *script = g_strdup_printf(
        "trap '' XFSZ; ulimit -f 1; exec '%s/tests/unit/test-report-files' --write '%s'", APERTA_BUILD_DIR, file);
    const char *command[] = {"sh", "-c", script, NULL};
    int status = 0;
    guint entries = 0;

    assert_true(aperta_report_write(file, "good", 4, NULL));
    assert_true(g_spawn_sync(NULL, (char **)command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL));
    assert_int_equal(WEXITSTATUS(status), 3);
    assert_holds(file, "good");
    g_autoptr(GDir) dir = g_dir_open(*state, 0, NULL);
    while (g_dir_read_name(dir) != NULL)
        entries++;
    assert_int_equal(entries, 1);
}

static gpointer read_all(gpointer path)
{
    char *text = NULL;

    g_file_get_contents(path, &text, NULL, NULL);
    return text;
}

static void test_write_to_a_pipe(void **state)
{
    g_autofree char *path = g_build_filename(*state, "pipe", NULL);
    GStatBuf info;

    assert_int_equal(mkfifo(path, 0600), 0);
    GThread *reader = g_thread_new("reader", read_all, path);
    assert_true(aperta_report_write(path, "through the pipe", 16, NULL));
    g_autofree char *text = g_thread_join(reader);
    assert_string_equal(text, "through the pipe");
    assert_int_equal(g_stat(path, &info), 0);
    assert_true(S_ISFIFO(info.st_mode));
}

/* What test_write_keeps_the_good_one runs under its limit. */
static int write_too_much(const char *path)
{
    g_autofree char *much = g_strnfill(100000, 'x');
    GError *error = NULL;

    if (aperta_report_write(path, much, 100000, &error))
        return 0;
    return g_error_matches(error, APERTA_ERROR, APERTA_ERROR_UNWRITABLE) ? 3 : 4;
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_chart),
        cmocka_unit_test(test_chart_labels_do_not_overlap),
        cmocka_unit_test(test_chart_directions),
        cmocka_unit_test(test_chart_of_many_and_of_none),
        cmocka_unit_test(test_harmonics),
        cmocka_unit_test(test_harmonics_draw_what_is_known),
        cmocka_unit_test(test_picture_kinds),
        cmocka_unit_test(test_pictures),
        cmocka_unit_test(test_given_date),
        cmocka_unit_test_setup_teardown(test_write, make_folder, remove_folder),
        cmocka_unit_test_setup_teardown(test_write_fails_whole, make_folder, remove_folder),
        cmocka_unit_test_setup_teardown(test_write_keeps_the_good_one, make_folder, remove_folder),
        cmocka_unit_test_setup_teardown(test_write_to_a_pipe, make_folder, remove_folder),
    };

    if (argc == 3 && g_str_equal(argv[1], "--write"))
        return write_too_much(argv[2]);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
