#include "draw/clutter.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* Side of a cell in page units. */
static const double cell = 2;

bool usi_clutter_start(us_context *context, usi_clutter *clutter, double width, double height)
{
    clutter->columns = (size_t)ceil(width / cell);
    clutter->rows = (size_t)ceil(height / cell);
    size_t cells = clutter->columns * clutter->rows;
    clutter->weights = usi_memory_array(context, cells, 1);
    clutter->bars = usi_memory_array(context, cells, 1);
    if (clutter->weights == NULL || clutter->bars == NULL) {
        usi_clutter_clear(clutter);
        return false;
    }
    return true;
}

void usi_clutter_clear(usi_clutter *clutter)
{
    free(clutter->weights);
    free(clutter->bars);
    memset(clutter, 0, sizeof *clutter);
}

/* The cell that holds a coordinate, held inside the raster. */
static size_t cell_of(double place, size_t count)
{
    double index = floor(place / cell);
    if (!(index > 0) || count == 0) {
        return 0;
    }
    return index < (double)count ? (size_t)index : count - 1;
}

static bool misses(const usi_clutter *clutter, usi_stroke s)
{
    double width = cell * (double)clutter->columns;
    double height = cell * (double)clutter->rows;
    return fmax(s.x0, s.x1) < 0 || fmin(s.x0, s.x1) > width || fmax(s.y0, s.y1) < 0 ||
           fmin(s.y0, s.y1) > height;
}

/* Cells passed in steps of half a cell. */
static int steps_of(usi_stroke s)
{
    return 1 + (int)(2 * hypot(s.x1 - s.x0, s.y1 - s.y0) / cell);
}

/* Index of the cell at step `i` of `steps`; false outside the raster. */
static bool cell_at(const usi_clutter *clutter, usi_stroke s, double share, size_t *index)
{
    double column = floor((s.x0 + (s.x1 - s.x0) * share) / cell);
    double row = floor((s.y0 + (s.y1 - s.y0) * share) / cell);
    if (!(column >= 0 && column < (double)clutter->columns && row >= 0 &&
          row < (double)clutter->rows)) {
        return false;
    }
    *index = (size_t)row * clutter->columns + (size_t)column;
    return true;
}

/* Cuts the stroke to where it may meet the raster; what lies far outside would
 * take steps for nothing. */
static void cut(double limit, double *a, double *b, double *c, double *d)
{
    if (*a > *b) {
        cut(limit, b, a, d, c);
        return;
    }
    double span = *b - *a;
    double slope = span > 0 ? (*d - *c) / span : 0;
    if (*a < -cell) {
        *c += slope * (-cell - *a);
        *a = -cell;
    }
    if (*b > limit + cell) {
        *d += slope * (limit + cell - *b);
        *b = limit + cell;
    }
}

void usi_clutter_mark(usi_clutter *clutter, usi_stroke s)
{
    if (clutter->weights == NULL || misses(clutter, s)) {
        return;
    }
    cut(cell * (double)clutter->columns, &s.x0, &s.x1, &s.y0, &s.y1);
    cut(cell * (double)clutter->rows, &s.y0, &s.y1, &s.x0, &s.x1);
    int steps = steps_of(s);
    for (int i = 0; i <= steps; i++) {
        size_t at = 0;
        if (cell_at(clutter, s, (double)i / steps, &at)) {
            unsigned char *weight = &clutter->weights[at];
            *weight = *weight < s.weight ? s.weight : *weight;
            clutter->bars[at] |= s.bars;
        }
    }
}

void usi_clutter_bar(usi_clutter *clutter, usi_box box, unsigned char bars)
{
    if (clutter->weights == NULL) {
        return;
    }
    size_t last_row = cell_of(box.bottom, clutter->rows);
    size_t last_column = cell_of(box.right, clutter->columns);
    for (size_t row = cell_of(box.top, clutter->rows); row <= last_row; row++) {
        for (size_t i = cell_of(box.left, clutter->columns); i <= last_column; i++) {
            clutter->bars[row * clutter->columns + i] |= bars;
        }
    }
}

void usi_clutter_wipe(usi_clutter *clutter, usi_box box)
{
    if (clutter->weights == NULL) {
        return;
    }
    size_t first = cell_of(box.left, clutter->columns);
    size_t count = cell_of(box.right, clutter->columns) - first + 1;
    size_t last_row = cell_of(box.bottom, clutter->rows);
    for (size_t row = cell_of(box.top, clutter->rows); row <= last_row; row++) {
        memset(clutter->bars + row * clutter->columns + first, 0, count);
        memset(clutter->weights + row * clutter->columns + first, 0, count);
    }
}

bool usi_clutter_weigh(const usi_clutter *clutter, usi_box box, double *weight)
{
    *weight = 0;
    if (clutter->weights == NULL) {
        return true;
    }
    size_t sum = 0;
    size_t last_row = cell_of(box.bottom, clutter->rows);
    size_t last_column = cell_of(box.right, clutter->columns);
    for (size_t row = cell_of(box.top, clutter->rows); row <= last_row; row++) {
        for (size_t i = cell_of(box.left, clutter->columns); i <= last_column; i++) {
            size_t at = row * clutter->columns + i;
            if (clutter->bars[at] & USI_BARS_LABELS) {
                return false;
            }
            sum += clutter->weights[at];
        }
    }
    *weight = (double)sum;
    return true;
}

bool usi_clutter_cross(const usi_clutter *clutter, usi_stroke leader, double skip, int *crossed)
{
    *crossed = 0;
    if (clutter->weights == NULL) {
        return true;
    }
    double length = hypot(leader.x1 - leader.x0, leader.y1 - leader.y0);
    int steps = steps_of(leader);
    bool on = false;
    for (int i = 0; i <= steps; i++) {
        size_t at = 0;
        if (length * i < skip * steps || !cell_at(clutter, leader, (double)i / steps, &at)) {
            continue;
        }
        if (clutter->bars[at] & USI_BARS_LEADERS) {
            return false;
        }
        bool line = (clutter->bars[at] & USI_BARS_LABELS) != 0;
        *crossed += line && !on ? 1 : 0;
        on = line;
    }
    return true;
}
