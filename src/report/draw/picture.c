/* picture.c - an SVG of ours as a PNG (twice its size in pixels, for sharp screens) or a PDF (text stays text). */
#include <aperta/report.h>

#include <cairo-pdf.h>
#include <cairo.h>
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

static cairo_status_t collect(void *closure, const unsigned char *data, unsigned int length)
{
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

static gboolean check(cairo_status_t status, GError **error)
{
    if (status == CAIRO_STATUS_SUCCESS)
        return TRUE;
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "the picture cannot be drawn: %s",
                cairo_status_to_string(status));
    return FALSE;
}

static gboolean render(RsvgHandle *handle, cairo_surface_t *surface, double width, double height, GError **error)
{
    RsvgRectangle viewport = {0.0, 0.0, width, height};
    cairo_t *cairo = cairo_create(surface);
    GError *cause = NULL;

    gboolean done = rsvg_handle_render_document(handle, cairo, &viewport, &cause);
    if (!done)
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "the picture cannot be drawn: %s", cause->message);
    g_clear_error(&cause);
    done = done && check(cairo_status(cairo), error);
    cairo_destroy(cairo);
    return done;
}

static gboolean draw_png(RsvgHandle *handle, double width, double height, GByteArray *bytes, GError **error)
{
    width *= PNG_SCALE;
    height *= PNG_SCALE;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(width + 0.5), (int)(height + 0.5));
    gboolean done = render(handle, surface, width, height, error) &&
                    check(cairo_surface_write_to_png_stream(surface, collect, bytes), error);

    cairo_surface_destroy(surface);
    return done;
}

static gboolean draw_pdf(RsvgHandle *handle, double width, double height, GByteArray *bytes, GError **error)
{
    width *= PDF_SCALE;
    height *= PDF_SCALE;
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(collect, bytes, width, height);
    gboolean done = render(handle, surface, width, height, error);

    cairo_surface_finish(surface);
    done = done && check(cairo_surface_status(surface), error);
    cairo_surface_destroy(surface);
    return done;
}

GBytes *aperta_report_picture(const char *svg, aperta_picture kind, GError **error)
{
    gsize length = strlen(svg);
    double width, height;
    GError *cause = NULL;

    if (kind == APERTA_PICTURE_SVG)
        return g_bytes_new(svg, length);
    g_autoptr(RsvgHandle) handle = rsvg_handle_new_from_data((const guint8 *)svg, length, &cause);
    if (handle == NULL || !rsvg_handle_get_intrinsic_size_in_pixels(handle, &width, &height)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "the picture cannot be drawn: %s",
                    cause != NULL ? cause->message : "it has no size");
        g_clear_error(&cause);
        return NULL;
    }
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    gboolean done = kind == APERTA_PICTURE_PNG ? draw_png(handle, width, height, bytes, error)
                                               : draw_pdf(handle, width, height, bytes, error);
    return done ? g_byte_array_free_to_bytes(g_steal_pointer(&bytes)) : NULL;
}
