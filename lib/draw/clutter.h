/* Where a page is crowded with lines: a coarse raster that lets labels choose
 * the emptiest of their places. */
#ifndef USI_DRAW_CLUTTER_H
#define USI_DRAW_CLUTTER_H

#include <stddef.h>

#include "draw/font.h"

typedef struct usi_clutter {
    size_t columns;
    size_t rows;
    unsigned char *cells; /* row-major from the page's upper left: 1 where a line runs */
} usi_clutter;

/* Makes an empty raster for a page; false when memory is short. */
bool usi_clutter_start(us_context *context, usi_clutter *clutter, double width, double height);
void usi_clutter_clear(usi_clutter *clutter);

/* Marks the cells under the straight line from (x0, y0) to (x1, y1). */
void usi_clutter_mark(usi_clutter *clutter, double x0, double y0, double x1, double y1);

/* How many marked cells a box covers. */
size_t usi_clutter_count(const usi_clutter *clutter, usi_box box);

#endif
