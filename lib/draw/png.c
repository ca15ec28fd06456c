/* PNG: Cairo's pixels through libpng. */
#include <math.h>
#include <setjmp.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <png.h>

#include "base/buffer.h"
#include "base/context.h"
#include "base/memory.h"
#include "draw/paint.h"
#include "draw/picture.h"
#include "undersill/version.h"

/* Rows of pixels as Cairo holds them, from the top, and room for one as libpng
 * wants it. */
typedef struct pixels {
    int width;
    int height;
    size_t stride;
    const unsigned char *rows;
    unsigned char *row;
} pixels;

static void write_bytes(png_structp png, png_bytep data, size_t length)
{
    usi_buffer_add(png_get_io_ptr(png), data, length);
}

static void flush_nothing(png_structp png)
{
    (void)png;
}

/* Where libpng reports to: a shortage of memory is reported where it arises. */
typedef struct outlet {
    us_context *context;
    bool short_of_memory;
} outlet;

static png_voidp allocate(png_structp png, png_alloc_size_t size)
{
    outlet *to = png_get_mem_ptr(png);
    void *block = to->short_of_memory ? NULL : usi_memory_array(to->context, 1, size);
    to->short_of_memory = block == NULL;
    return block;
}

static void release(png_structp png, png_voidp block)
{
    (void)png;
    free(block);
}

static void report_error(png_structp png, png_const_charp message)
{
    outlet *to = png_get_error_ptr(png);
    if (!to->short_of_memory) {
        usi_context_report(to->context, US_ERROR, NULL, NULL,
                           "the picture could not be encoded: %s", message);
    }
    longjmp(png_jmpbuf(png), 1);
}

static void ignore_warning(png_structp png, png_const_charp message)
{
    (void)png;
    (void)message;
}

static png_text make_word(char *key, const char *words, int compression)
{
    png_text text;
    memset(&text, 0, sizeof text);
    text.compression = compression;
    text.key = key;
    /* libpng copies the text; it only lacks the const. */
    text.text = (char *)words;
    text.text_length = strlen(words);
    return text;
}

static void set_words(png_structp png, png_infop info, const usi_words *words, int width_px)
{
    char title[] = "Title";
    char subject[] = "Description";
    char software[] = "Software";
    char digest[] = "Input SHA-256";
    png_text texts[4] = {make_word(title, words->title, PNG_ITXT_COMPRESSION_NONE),
                         make_word(subject, words->subject, PNG_ITXT_COMPRESSION_NONE),
                         make_word(software, "Undersill " US_VERSION, PNG_TEXT_COMPRESSION_NONE),
                         make_word(digest, words->digest, PNG_TEXT_COMPRESSION_NONE)};
    png_set_text(png, info, texts, 4);
    png_uint_32 dots_m = (png_uint_32)lround(width_px / USI_PAGE_WIDTH_M);
    png_set_pHYs(png, info, dots_m, dots_m, PNG_RESOLUTION_METER);
}

static void copy_row(const pixels *from, size_t index)
{
    const uint32_t *colours = (const uint32_t *)(const void *)(from->rows + index * from->stride);
    unsigned char *to = from->row;
    for (size_t i = 0; i < (size_t)from->width; i++) {
        *to++ = (unsigned char)(colours[i] >> 16 & 0xff);
        *to++ = (unsigned char)(colours[i] >> 8 & 0xff);
        *to++ = (unsigned char)(colours[i] & 0xff);
    }
}

/* libpng leaves by longjmp; nothing that this function owns is lost by it. */
static bool write_picture(png_structp png, png_infop info, const pixels *from,
                          const usi_words *words)
{
    if (setjmp(png_jmpbuf(png)) != 0) {
        return false;
    }
    png_set_IHDR(png, info, (png_uint_32)from->width, (png_uint_32)from->height, 8,
                 PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    png_set_compression_level(png, 3); /* twice as quick as 6, and 4 % more bytes */
    png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
    set_words(png, info, words, from->width);
    png_write_info(png, info);
    for (size_t row = 0; row < (size_t)from->height; row++) {
        copy_row(from, row);
        png_write_row(png, from->row);
    }
    png_write_end(png, info);
    return true;
}

static us_status encode(us_context *context, const pixels *from, const usi_words *words,
                        us_buffer **result)
{
    outlet to = {context, false};
    png_structp png = png_create_write_struct_2(PNG_LIBPNG_VER_STRING, &to, report_error,
                                                ignore_warning, &to, allocate, release);
    png_infop info = png == NULL ? NULL : png_create_info_struct(png);
    us_buffer *built = info == NULL ? NULL : usi_buffer_create(context);
    if (built == NULL) {
        png_destroy_write_struct(&png, &info);
        return US_ERROR_MEMORY;
    }
    png_set_write_fn(png, built, write_bytes, flush_nothing);
    bool done = write_picture(png, info, from, words);
    png_destroy_write_struct(&png, &info);
    if (!done) {
        us_buffer_free(built);
        return to.short_of_memory ? US_ERROR_MEMORY : US_ERROR_INTERNAL;
    }
    return usi_buffer_finish(built, result);
}

static us_status encode_surface(us_context *context, cairo_surface_t *surface,
                                const usi_words *words, us_buffer **result)
{
    cairo_surface_flush(surface);
    pixels from = {.width = cairo_image_surface_get_width(surface),
                   .height = cairo_image_surface_get_height(surface),
                   .stride = (size_t)cairo_image_surface_get_stride(surface),
                   .rows = cairo_image_surface_get_data(surface)};
    from.row = usi_memory_array(context, (size_t)from.width, 3);
    us_status status = from.row == NULL ? US_ERROR_MEMORY : encode(context, &from, words, result);
    free(from.row);
    return status;
}

/* Asked before anything of that size is. */
static us_status check_pixels(us_context *context, int width_px, double height_px)
{
    static const double most = 200e6;
    if (width_px * height_px <= most) {
        return US_OK;
    }
    usi_context_report(context, US_ERROR, NULL, "ask for a smaller width, or for SVG or PDF",
                       "the picture would be %d by %.0f pixels, and 200 million are the most",
                       width_px, height_px);
    return US_ERROR_INPUT;
}

us_status usi_png_write(const usi_scene *scene, const usi_words *words, int width_px,
                        us_buffer **result)
{
    double scale = (double)width_px / USI_PAGE_WIDTH;
    double rows = ceil(scale * scene->view.page_height);
    us_status status = check_pixels(scene->context, width_px, rows);
    if (status != US_OK) {
        return status;
    }
    int height_px = (int)rows;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px);
    status = usi_scene_paint(scene, surface, scale, USI_LETTERS_FILLED);
    if (status == US_OK) {
        status = usi_context_pulse(scene->context, "painting", 0, 0.6);
    }
    if (status == US_OK) {
        status = encode_surface(scene->context, surface, words, result);
    }
    cairo_surface_destroy(surface);
    return status;
}
