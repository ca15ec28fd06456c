/* SVG and PDF: Cairo's own writers, into a buffer. */
#include <cairo-pdf.h>
#include <cairo-svg.h>

#include "base/buffer.h"
#include "base/context.h"
#include "draw/paint.h"
#include "draw/phrase.h"
#include "draw/picture.h"
#include "undersill/version.h"

static cairo_status_t take_bytes(void *to, const unsigned char *bytes, unsigned length)
{
    usi_buffer_add(to, bytes, length);
    return usi_buffer_is_sound(to) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

/* Paints on a surface that writes into `built`, and ends both. */
static us_status conclude(const usi_scene *scene, cairo_surface_t *surface, usi_letters letters,
                          us_buffer *built, us_buffer **result)
{
    us_status status = usi_scene_paint(scene, surface, USI_PAGE_UNIT_PT, letters);
    cairo_surface_finish(surface);
    if (status == US_OK) {
        status = usi_paint_outcome(scene->context, cairo_surface_status(surface));
    }
    cairo_surface_destroy(surface);
    if (status != US_OK) {
        us_buffer_free(built);
        return status;
    }
    return usi_buffer_finish(built, result);
}

us_status usi_svg_write(const usi_scene *scene, const usi_words *words, us_buffer **result)
{
    us_buffer *built = usi_buffer_create(scene->context);
    if (built == NULL) {
        return US_ERROR_MEMORY;
    }
    cairo_surface_t *surface =
        cairo_svg_surface_create_for_stream(take_bytes, built, USI_PAGE_WIDTH * USI_PAGE_UNIT_PT,
                                            scene->view.page_height * USI_PAGE_UNIT_PT);
    cairo_svg_surface_restrict_to_version(surface, CAIRO_SVG_VERSION_1_1);
    us_buffer *raw = NULL;
    us_status status = conclude(scene, surface, USI_LETTERS_TEXT, built, &raw);
    if (status == US_OK) {
        status = usi_svg_finish(scene, words, raw, result);
    }
    us_buffer_free(raw);
    return status;
}

/* The empty date keeps Cairo from writing the time of day. */
static void describe_pdf(cairo_surface_t *surface, const usi_words *words)
{
    usi_phrase keywords = usi_phrase_print("Input SHA-256 %s", words->digest);
    cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, words->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, words->subject);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Undersill " US_VERSION);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_KEYWORDS, keywords.text);
}

us_status usi_pdf_write(const usi_scene *scene, const usi_words *words, us_buffer **result)
{
    us_buffer *built = usi_buffer_create(scene->context);
    if (built == NULL) {
        return US_ERROR_MEMORY;
    }
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(take_bytes, built, USI_PAGE_WIDTH * USI_PAGE_UNIT_PT,
                                            scene->view.page_height * USI_PAGE_UNIT_PT);
    describe_pdf(surface, words);
    return conclude(scene, surface, USI_LETTERS_TEXT, built, result);
}
