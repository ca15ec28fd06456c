/* Pictures: the section to scale, its flow net, and diagrams of uplift and exit gradient. */
#ifndef UNDERSILL_DRAW_H
#define UNDERSILL_DRAW_H

#include "undersill/solution.h"

#ifdef __cplusplus
extern "C" {
#endif

/** What to draw. */
typedef enum us_picture {
    US_PICTURE_NET,     /**< the section with equipotentials and flow lines */
    US_PICTURE_SECTION, /**< the section alone, as it was understood */
    US_PICTURE_UPLIFT,  /**< water pressure along the underside, uplift and weight */
    US_PICTURE_EXIT     /**< upward gradient along the downstream bed */
} us_picture;

/** What the bytes of a picture are. All show the same page, ten inches wide. */
typedef enum us_draw_format {
    US_DRAW_PNG, /**< pixels, `width_px` across */
    US_DRAW_SVG, /**< SVG 1.1; letters as outlines, no fonts, no scripts, nothing from outside */
    US_DRAW_PDF  /**< PDF 1.5, one page; letters as text, their fonts included */
} us_draw_format;

/** How to draw. Initialise with `US_DRAW_OPTIONS_INIT`, then set what is to be other
 * than the default. */
typedef struct us_draw_options {
    size_t size;           /**< sizeof(us_draw_options), set by the initialiser */
    us_picture what;       /**< by default the flow net */
    size_t water;          /**< index of the water case, from 0; by default 0 */
    int width_px;          /**< 900 to 6000, of a PNG; the other formats have no pixels */
    us_draw_format format; /**< by default PNG */
} us_draw_options;

/** The defaults of us_draw_options. */
#define US_DRAW_OPTIONS_INIT                                                                       \
    {                                                                                              \
        sizeof(us_draw_options), US_PICTURE_NET, 0, 1600, US_DRAW_PNG                              \
    }

/** Draws a section as PNG, SVG or PDF.
 *
 * `solution` (of the same section) supplies the numbers printed in the picture;
 * NULL is allowed for `US_PICTURE_SECTION`. `options` may be NULL
 * for defaults: the flow net of the first water case as PNG, 1600 pixels wide.
 * `*picture` is the caller's (us_buffer_free()). Same input, same bytes on one
 * machine: a picture holds title, program, release and the digest of the input,
 * but no date.
 *
 * Returns `US_OK`, `US_ERROR_ARGUMENT` (a diagnostic says which), `US_ERROR_INPUT`
 * (uplift of a section without a structure, exit gradients of one without a
 * downstream bed, a picture of more than 200 million pixels), `US_ERROR_NUMERICAL`,
 * `US_ERROR_MEMORY`, `US_ERROR_INTERNAL` or `US_CANCELLED`. Several threads may draw
 * at once, each with its own context.
 *
 * @code
 * us_draw_options options = US_DRAW_OPTIONS_INIT;
 * options.format = US_DRAW_SVG;
 * us_buffer *picture = NULL;
 * if (us_section_draw(context, section, solution, &options, &picture) == US_OK &&
 *     us_buffer_write_file(context, picture, "net.svg", NULL) == US_OK) {
 *     printf("wrote net.svg\n");
 * }
 * us_buffer_free(picture);
 * @endcode
 */
US_API us_status us_section_draw(us_context *context, const us_section *section,
                                 const us_solution *solution, const us_draw_options *options,
                                 us_buffer **picture);

#ifdef __cplusplus
}
#endif
#endif
