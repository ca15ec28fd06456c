/* From a scene to the bytes of a file. No bytes depend on time, machine or what
 * the process drew before. `*result` is the caller's on US_OK. */
#ifndef USI_DRAW_PICTURE_H
#define USI_DRAW_PICTURE_H

#include "draw/scene.h"
#include "undersill/draw.h"

/* What a picture says about itself; UTF-8 without control codes. */
typedef struct usi_words {
    const char *title;
    const char *subject; /* what is drawn */
    const char *digest;  /* of the input, hexadecimal */
} usi_words;

/* In the format asked for; `width_px` is for a PNG only. */
us_status usi_picture_write(const usi_scene *scene, const usi_words *words, us_draw_format format,
                            int width_px, us_buffer **result);

/* A PNG, `width_px` pixels wide. */
us_status usi_png_write(const usi_scene *scene, const usi_words *words, int width_px,
                        us_buffer **result);

/* An SVG or a PDF of one page, each at the size of the page on paper. */
us_status usi_svg_write(const usi_scene *scene, const usi_words *words, us_buffer **result);
us_status usi_pdf_write(const usi_scene *scene, const usi_words *words, us_buffer **result);

/* Copies an SVG as Cairo wrote it, with title and description put in, and with
 * ids that no other picture in the same document has. */
us_status usi_svg_finish(const usi_scene *scene, const usi_words *words, const us_buffer *raw,
                         us_buffer **result);

#endif
