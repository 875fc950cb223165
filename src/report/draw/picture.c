/* picture.c - an SVG of ours as a PNG (twice its size in pixels, for sharp screens) or a PDF (text stays text). */
#include "report/draw/picture.h"

#include <aperta/report.h>

#include <cairo-pdf.h>
#include <librsvg/rsvg.h>
#include <string.h>

G_DEFINE_AUTOPTR_CLEANUP_FUNC(RsvgHandle, g_object_unref)

#define PNG_SCALE 2.0
#define PDF_SCALE 0.75 /* points a px: CSS has 96 px an inch, PDF 72 points */

gboolean aperta_report_picture_kind(const char *path, aperta_picture *kind)
{
    static const struct {
        const char *ending;
        aperta_picture kind;
    } endings[] = {{".svg", APERTA_PICTURE_SVG}, {".png", APERTA_PICTURE_PNG}, {".pdf", APERTA_PICTURE_PDF}};
    gsize length = strlen(path);

    for (gsize i = 0; i < G_N_ELEMENTS(endings); i++) {
        gsize n = strlen(endings[i].ending);
        if (length > n && g_ascii_strcasecmp(path + length - n, endings[i].ending) == 0) {
            *kind = endings[i].kind;
            return TRUE;
        }
    }
    return FALSE;
}

cairo_status_t picture_collect(void *closure, const unsigned char *data, unsigned int length)
{
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

static void fail(GError **error, const char *why)
{
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "the picture cannot be drawn: %s", why);
}

gboolean picture_check(cairo_status_t status, GError **error)
{
    if (status == CAIRO_STATUS_SUCCESS)
        return TRUE;
    fail(error, cairo_status_to_string(status));
    return FALSE;
}

static RsvgHandle *open_svg(const char *svg, GError **error)
{
    g_autoptr(GError) cause = NULL;
    RsvgHandle *handle = rsvg_handle_new_from_data((const guint8 *)svg, strlen(svg), &cause);

    if (handle == NULL)
        fail(error, cause->message);
    return handle;
}

static gboolean draw(RsvgHandle *handle, cairo_t *cairo, svg_box box, GError **error)
{
    RsvgRectangle viewport = {box.x, box.y, box.width, box.height};
    g_autoptr(GError) cause = NULL;

    if (!rsvg_handle_render_document(handle, cairo, &viewport, &cause)) {
        fail(error, cause->message);
        return FALSE;
    }
    return picture_check(cairo_status(cairo), error);
}

gboolean picture_draw(const char *svg, cairo_t *cairo, svg_box box, GError **error)
{
    g_autoptr(RsvgHandle) handle = open_svg(svg, error);

    return handle != NULL && draw(handle, cairo, box, error);
}

static gboolean draw_alone(RsvgHandle *handle, cairo_surface_t *surface, double width, double height, GError **error)
{
    cairo_t *cairo = cairo_create(surface);
    gboolean done = draw(handle, cairo, (svg_box){0.0, 0.0, width, height}, error);

    cairo_destroy(cairo);
    return done;
}

static gboolean draw_png(RsvgHandle *handle, double width, double height, GByteArray *bytes, GError **error)
{
    width *= PNG_SCALE;
    height *= PNG_SCALE;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(width + 0.5), (int)(height + 0.5));
    gboolean done = draw_alone(handle, surface, width, height, error) &&
                    picture_check(cairo_surface_write_to_png_stream(surface, picture_collect, bytes), error);

    cairo_surface_destroy(surface);
    return done;
}

/* "2026-11-30T12:00:00Z"; NULL: no date is given, or what is given is none. */
static char *given_date(void)
{
    const char *epoch = g_getenv("SOURCE_DATE_EPOCH");
    gint64 seconds;

    if (epoch == NULL || !g_ascii_string_to_signed(epoch, 10, 0, G_MAXINT64, &seconds, NULL))
        return NULL;
    g_autoptr(GDateTime) date = g_date_time_new_from_unix_utc(seconds);
    return date != NULL ? g_date_time_format(date, "%Y-%m-%dT%H:%M:%SZ") : NULL;
}

cairo_surface_t *picture_pdf_new(GByteArray *bytes, double width, double height)
{
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(picture_collect, bytes, width, height);
    g_autofree char *date = given_date();

    if (date != NULL)
        cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
    return surface;
}

static gboolean draw_pdf(RsvgHandle *handle, double width, double height, GByteArray *bytes, GError **error)
{
    width *= PDF_SCALE;
    height *= PDF_SCALE;
    cairo_surface_t *surface = picture_pdf_new(bytes, width, height);
    gboolean done = draw_alone(handle, surface, width, height, error);

    cairo_surface_finish(surface);
    done = done && picture_check(cairo_surface_status(surface), error);
    cairo_surface_destroy(surface);
    return done;
}

GBytes *aperta_report_picture(const char *svg, aperta_picture kind, GError **error)
{
    double width, height;

    if (kind == APERTA_PICTURE_SVG)
        return g_bytes_new(svg, strlen(svg));
    g_autoptr(RsvgHandle) handle = open_svg(svg, error);
    if (handle == NULL)
        return NULL;
    if (!rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height)) {
        fail(error, "it has no size");
        return NULL;
    }
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    gboolean done = kind == APERTA_PICTURE_PNG ? draw_png(handle, width, height, bytes, error)
                                               : draw_pdf(handle, width, height, bytes, error);
    return done ? g_byte_array_free_to_bytes(g_steal_pointer(&bytes)) : NULL;
}
