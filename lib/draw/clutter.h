/* Where a page is crowded with lines: a coarse raster that lets labels choose
 * the emptiest of their places. */
#ifndef USI_DRAW_CLUTTER_H
#define USI_DRAW_CLUTTER_H

#include <stddef.h>

#include "draw/font.h"

typedef struct usi_clutter {
    size_t columns;
    size_t rows;
    unsigned char *cells; /* row-major from the page's upper left: weight of the line there */
} usi_clutter;

/* Makes an empty raster for a page; false when memory is short. */
bool usi_clutter_start(us_context *context, usi_clutter *clutter, double width, double height);
void usi_clutter_clear(usi_clutter *clutter);

typedef struct usi_stroke {
    double x0, y0, x1, y1;
    unsigned char weight; /* how much a text minds to cross it */
} usi_stroke;

/* Marks the cells under a straight line. */
void usi_clutter_mark(usi_clutter *clutter, usi_stroke stroke);

/* Sum of the weights of the cells that a box covers. */
size_t usi_clutter_count(const usi_clutter *clutter, usi_box box);

#endif
