/* What a page is crowded with: a coarse raster that lets labels find the
 * emptiest of their places and stay off what they may not cover. */
#ifndef USI_DRAW_CLUTTER_H
#define USI_DRAW_CLUTTER_H

#include <stddef.h>

#include "draw/font.h"

/* What a cell keeps out; bits. */
enum { USI_BARS_LABELS = 1, USI_BARS_LEADERS = 2 };

typedef struct usi_clutter {
    size_t columns;
    size_t rows;
    unsigned char *weights; /* row-major from the page's upper left: of the line there */
    unsigned char *bars;    /* the same, of what is kept out */
} usi_clutter;

/* Makes an empty raster for a page; false when memory is short. */
bool usi_clutter_start(us_context *context, usi_clutter *clutter, double width, double height);
void usi_clutter_clear(usi_clutter *clutter);

typedef struct usi_stroke {
    double x0, y0, x1, y1;
    unsigned char weight; /* how much a label minds to cover it */
    unsigned char bars;
} usi_stroke;

/* Marks the cells under a straight line. */
void usi_clutter_mark(usi_clutter *clutter, usi_stroke stroke);

/* Bars every cell that a box meets. */
void usi_clutter_bar(usi_clutter *clutter, usi_box box, unsigned char bars);

/* Empties every cell that a box meets. */
void usi_clutter_wipe(usi_clutter *clutter, usi_box box);

/* Sum of the weights of the cells that a box covers; false, and no sum, where
 * one of them bars labels. */
bool usi_clutter_weigh(const usi_clutter *clutter, usi_box box, double *weight);

/* How many lines that bar labels a leader crosses, not counting what lies within
 * `skip` of its start; false where a cell bars leaders. */
bool usi_clutter_cross(const usi_clutter *clutter, usi_stroke leader, double skip, int *crossed);

#endif
