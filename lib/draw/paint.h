/* From scene to pixels to PNG. */
#ifndef USI_DRAW_PAINT_H
#define USI_DRAW_PAINT_H

#include "draw/scene.h"
#include "undersill/buffer.h"

/* Pixels of a picture, three bytes each, rows from the top. */
typedef struct usi_pixels {
    int width;
    int height;
    unsigned char *bytes;
} usi_pixels;

/* What a PNG says about itself. */
typedef struct usi_png_words {
    const char *title;  /* UTF-8 */
    const char *digest; /* of the input, hexadecimal */
    double dots_m;      /* pixels a metre */
} usi_png_words;

/* Paints a scene `width` pixels wide; `pixels->bytes` is the caller's on US_OK.
 * US_ERROR_MEMORY, or US_ERROR_INTERNAL when Cairo refuses. */
us_status usi_scene_paint(const usi_scene *scene, int width, usi_pixels *pixels);

/* Encodes pixels as PNG; `*result` is the caller's on US_OK. */
us_status usi_png_encode(us_context *context, const usi_pixels *pixels, const usi_png_words *words,
                         us_buffer **result);

#endif
