#include "quantity/edge.h"

#include "quantity/exit_gradient.h"

typedef double value_at(const usi_field *field, size_t i, size_t j, usi_corner corner);

/* Appends a point, unless it is the last one over again. */
static size_t add(usi_edge_point *points, size_t count, usi_edge_point point)
{
    if (count > 0) {
        const usi_edge_point *last = &points[count - 1];
        if (last->x_m == point.x_m && last->level_m == point.level_m &&
            last->value == point.value && last->soil == point.soil) {
            return count;
        }
    }
    points[count] = point;
    return count + 1;
}

/* Highest soil cell of each column whose upper side is of the kind. */
static size_t follow(const usi_field *field, usi_border border, value_at *value,
                     usi_edge_point *points)
{
    const usi_grid *grid = field->grid;
    size_t count = 0;
    for (size_t i = 0; i < grid->columns; i++) {
        size_t j = grid->rows;
        while (j > 0 && usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j - 1) < 0) {
            j--;
        }
        if (j == 0 || usi_grid_border(grid, i, j - 1, USI_UP) != border) {
            continue;
        }
        usi_edge_point point = {.level_m = grid->z_m[j],
                                .soil = usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j - 1)};
        point.x_m = grid->x_m[i];
        point.value = value(field, i, j - 1, USI_UPPER_LEFT);
        count = add(points, count, point);
        point.x_m = grid->x_m[i + 1];
        point.value = value(field, i, j - 1, USI_UPPER_RIGHT);
        count = add(points, count, point);
    }
    return count;
}

size_t usi_edge_bed(const usi_field *field, usi_edge_point *points)
{
    bool left = field->grid->section->flows_left;
    return follow(field, left ? USI_BORDER_LEFT_BED : USI_BORDER_RIGHT_BED, usi_exit_below, points);
}

size_t usi_edge_underside(const usi_field *field, usi_edge_point *points)
{
    return follow(field, USI_BORDER_STRUCTURE, usi_field_head, points);
}
