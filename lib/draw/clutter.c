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
    clutter->cells = usi_memory_array(context, clutter->columns * clutter->rows, 1);
    return clutter->cells != NULL;
}

void usi_clutter_clear(usi_clutter *clutter)
{
    free(clutter->cells);
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

void usi_clutter_mark(usi_clutter *clutter, usi_stroke s)
{
    double length = hypot(s.x1 - s.x0, s.y1 - s.y0);
    if (clutter->cells == NULL || misses(clutter, s) || !(length < 1e5)) {
        return;
    }
    int steps = 1 + (int)(2 * length / cell);
    for (int i = 0; i <= steps; i++) {
        double column = floor((s.x0 + (s.x1 - s.x0) * i / steps) / cell);
        double row = floor((s.y0 + (s.y1 - s.y0) * i / steps) / cell);
        if (column >= 0 && column < (double)clutter->columns && row >= 0 &&
            row < (double)clutter->rows) {
            unsigned char *at = &clutter->cells[(size_t)row * clutter->columns + (size_t)column];
            *at = *at < s.weight ? s.weight : *at;
        }
    }
}

size_t usi_clutter_count(const usi_clutter *clutter, usi_box box)
{
    if (clutter->cells == NULL) {
        return 0;
    }
    size_t marked = 0;
    size_t last_row = cell_of(box.bottom, clutter->rows);
    size_t last_column = cell_of(box.right, clutter->columns);
    for (size_t row = cell_of(box.top, clutter->rows); row <= last_row; row++) {
        for (size_t i = cell_of(box.left, clutter->columns); i <= last_column; i++) {
            marked += clutter->cells[row * clutter->columns + i];
        }
    }
    return marked;
}
