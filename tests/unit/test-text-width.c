/* test-text-width.c - the widths that pictures count on, against cairo's own text, which knows nothing of pango: it
 * sets letter by letter, without the kerning that pango adds. */
#include "report/draw/svg.h"
#include "report/draw/text-width.h"

#include <cairo.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define TOLERANCE 0.005 /* of a width; the texts have no pair that the face kerns */

static double cairo_width_em(const char *text, gboolean bold)
{
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
    cairo_t *cairo = cairo_create(surface);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_text_extents_t extents;

    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(cairo, options);
    cairo_select_font_face(cairo, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo, 200.0);
    cairo_text_extents(cairo, text, &extents);
    cairo_font_options_destroy(options);
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
    return extents.x_advance / 200.0;
}

static void test_against_cairo(void **state)
{
    static const char *const texts[] = {"nimm",        "ih",      "ɛ, jaw wide", "æ aa",
                                        "a bright-ah", "vɛrlasn", "G♯5",         "90 % interval of F1 and F2"};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
        for (int bold = 0; bold < 2; bold++) {
            double expected = cairo_width_em(texts[i], bold != 0), width = text_width_em(texts[i], bold != 0);
            if (fabs(width - expected) > TOLERANCE * expected)
                print_error("%s%s: %.3f, cairo says %.3f\n", texts[i], bold != 0 ? " (bold)" : "", width, expected);
            assert_true(fabs(width - expected) <= TOLERANCE * expected);
            assert_true(text_width_em(texts[i], bold != 0) == width); /* what is kept is what was measured */
        }
    }
}

static void test_of_a_picture(void **state)
{
    (void)state;

    assert_true(svg_text_width("", "", 12.0) == 0.0);
    assert_true(svg_text_width("ap-table ap-strong", "uh", 12.0) > svg_text_width("ap-table", "uh", 12.0));
    assert_true(fabs(svg_text_width("", "uh", 24.0) - 2.0 * svg_text_width("", "uh", 12.0)) < 1e-9);
    assert_true(svg_text_width("", "\xff\n", 12.0) > 0.0); /* as it is drawn: a sign for what is no letter, a blank */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_against_cairo),
        cmocka_unit_test(test_of_a_picture),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
