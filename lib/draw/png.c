#include <math.h>
#include <setjmp.h>
#include <string.h>

#include <png.h>

#include "base/buffer.h"
#include "base/context.h"
#include "draw/paint.h"
#include "undersill/version.h"

static void write_bytes(png_structp png, png_bytep data, size_t length)
{
    usi_buffer_add(png_get_io_ptr(png), data, length);
}

static void flush_nothing(png_structp png)
{
    (void)png;
}

static void report_error(png_structp png, png_const_charp message)
{
    us_context *context = png_get_error_ptr(png);
    usi_context_report(context, US_ERROR, NULL, NULL, "the picture could not be encoded: %s",
                       message);
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

static void set_words(png_structp png, png_infop info, const usi_png_words *words)
{
    char title[] = "Title";
    char software[] = "Software";
    char digest[] = "Input SHA-256";
    png_text texts[3] = {make_word(title, words->title, PNG_ITXT_COMPRESSION_NONE),
                         make_word(software, "Undersill " US_VERSION, PNG_TEXT_COMPRESSION_NONE),
                         make_word(digest, words->digest, PNG_TEXT_COMPRESSION_NONE)};
    png_set_text(png, info, texts, 3);
    png_uint_32 dots = (png_uint_32)lround(words->dots_m);
    png_set_pHYs(png, info, dots, dots, PNG_RESOLUTION_METER);
}

/* libpng leaves by longjmp; nothing that this function owns is lost by it. */
static bool write_picture(png_structp png, png_infop info, const usi_pixels *pixels,
                          const usi_png_words *words)
{
    if (setjmp(png_jmpbuf(png)) != 0) {
        return false;
    }
    png_set_IHDR(png, info, (png_uint_32)pixels->width, (png_uint_32)pixels->height, 8,
                 PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                 PNG_FILTER_TYPE_DEFAULT);
    png_set_compression_level(png, 6);
    png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE | PNG_FILTER_UP);
    set_words(png, info, words);
    png_write_info(png, info);
    for (size_t row = 0; row < (size_t)pixels->height; row++) {
        png_write_row(png, pixels->bytes + 3 * row * (size_t)pixels->width);
    }
    png_write_end(png, info);
    return true;
}

us_status usi_png_encode(us_context *context, const usi_pixels *pixels, const usi_png_words *words,
                         us_buffer **result)
{
    png_structp png =
        png_create_write_struct(PNG_LIBPNG_VER_STRING, context, report_error, ignore_warning);
    png_infop info = png == NULL ? NULL : png_create_info_struct(png);
    us_buffer *built = info == NULL ? NULL : usi_buffer_create(context);
    if (built == NULL) {
        png_destroy_write_struct(&png, &info);
        usi_context_report(context, US_ERROR, NULL, NULL, "out of memory for the picture");
        return US_ERROR_MEMORY;
    }
    png_set_write_fn(png, built, write_bytes, flush_nothing);
    bool done = write_picture(png, info, pixels, words);
    png_destroy_write_struct(&png, &info);
    if (!done) {
        us_buffer_free(built);
        return US_ERROR_INTERNAL;
    }
    return usi_buffer_finish(built, result);
}
