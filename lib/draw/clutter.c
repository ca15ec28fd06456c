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

void usi_clutter_mark(usi_clutter *clutter, double x0, double y0, double x1, double y1)
{
    double width = cell * (double)clutter->columns;
    double height = cell * (double)clutter->rows;
    bool outside =
        fmax(x0, x1) < 0 || fmin(x0, x1) > width || fmax(y0, y1) < 0 || fmin(y0, y1) > height;
    double length = hypot(x1 - x0, y1 - y0);
    if (clutter->cells == NULL || outside || !(length < 1e5)) {
        return;
    }
    int steps = 1 + (int)(2 * length / cell);
    for (int i = 0; i <= steps; i++) {
        double x = x0 + (x1 - x0) * i / steps;
        double y = y0 + (y1 - y0) * i / steps;
        if (x >= 0 && x < width && y >= 0 && y < height) {
            clutter->cells[cell_of(y, clutter->rows) * clutter->columns +
                           cell_of(x, clutter->columns)] = 1;
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
