#include "quantity/edge.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

double usi_edge_length(const usi_edge_side *side)
{
    return hypot(side->ends[1].x_m - side->ends[0].x_m, side->ends[1].z_m - side->ends[0].z_m);
}

/* The highest cell of a column that is no void; false where there is none. */
static bool find_top(const usi_grid *grid, size_t column, size_t *row)
{
    for (size_t j = grid->rows; j > 0; j--) {
        if (grid->soil[(j - 1) * grid->columns + column] != -1) {
            *row = j - 1;
            return true;
        }
    }
    return false;
}

/* Dry bed is bed, and what touches a drain or a void is underside. */
static bool belongs(const us_section *section, usi_border border, usi_border to)
{
    if (usi_border_bed(to) != 0) {
        return usi_border_bed(border) == usi_border_bed(to);
    }
    return to == USI_BORDER_STRUCTURE ? usi_border_underside(section, border) : border == to;
}

/* The upper side of a whole cell; false where it is not of the kind. */
static bool whole_side(const usi_grid *grid, size_t i, size_t j, usi_border border,
                       usi_edge_side *side)
{
    int soil = usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j);
    if (soil < 0 || !belongs(grid->section, usi_grid_border(grid, i, j, USI_UP), border)) {
        return false;
    }
    int32_t place = (int32_t)((j + 1) * (grid->columns + 1) + i);
    *side = (usi_edge_side){
        .ends = {{grid->x_m[i], grid->z_m[j + 1]}, {grid->x_m[i + 1], grid->z_m[j + 1]}},
        .places = {place, place + 1},
        .unknowns = {usi_grid_unknown(grid, i, j, USI_UPPER_LEFT),
                     usi_grid_unknown(grid, i, j, USI_UPPER_RIGHT)},
        .soil = soil,
        .whole = true,
        .column = i,
        .row = j};
    return true;
}

/* A side of a triangle, counter-clockwise: soil below it lies on the left of a side
 * that runs to the left. */
static bool triangle_side(const usi_grid *grid, const usi_triangle *triangle, int from,
                          usi_border border, usi_edge_side *side)
{
    int to = (from + 1) % 3;
    usi_point right = usi_grid_place(grid, triangle->place[from]);
    usi_point left = usi_grid_place(grid, triangle->place[to]);
    if (!belongs(grid->section, (usi_border)triangle->border[from], border) ||
        left.x_m >= right.x_m) {
        return false;
    }
    *side = (usi_edge_side){.ends = {left, right},
                            .places = {triangle->place[to], triangle->place[from]},
                            .unknowns = {triangle->unknown[to], triangle->unknown[from]},
                            .soil = triangle->soil};
    return true;
}

static int by_x(const void *a, const void *b)
{
    double x = ((const usi_edge_side *)a)->ends[0].x_m;
    double y = ((const usi_edge_side *)b)->ends[0].x_m;
    return (x > y) - (x < y);
}

/* Fills `list`, which may be NULL; returns the number of sides. */
static size_t gather(const usi_grid *grid, usi_border border, usi_edge_side *list)
{
    usi_edge_side side;
    size_t count = 0;
    for (size_t i = 0; i < grid->columns; i++) {
        size_t j;
        if (find_top(grid, i, &j) && whole_side(grid, i, j, border, &side)) {
            if (list != NULL) {
                list[count] = side;
            }
            count++;
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        for (int k = 0; k < 3; k++) {
            if (triangle_side(grid, &grid->triangles[t], k, border, &side)) {
                if (list != NULL) {
                    list[count] = side;
                }
                count++;
            }
        }
    }
    return count;
}

us_status usi_edge_list(us_context *context, const usi_grid *grid, usi_border border,
                        usi_edge_sides *sides)
{
    size_t count = gather(grid, border, NULL);
    usi_edge_side *list = usi_memory_array(context, count, sizeof *list);
    if (list == NULL) {
        return US_ERROR_MEMORY;
    }
    (void)gather(grid, border, list);
    qsort(list, count, sizeof *list, by_x);
    *sides = (usi_edge_sides){count, list};
    return US_OK;
}

us_status usi_edge_begin(us_context *context, const usi_edge_sides *sides, usi_edge_course *course)
{
    usi_edge_point *points = usi_memory_array(context, 2 * sides->count, sizeof *points);
    if (points == NULL) {
        return US_ERROR_MEMORY;
    }
    *course = (usi_edge_course){0, points};
    return US_OK;
}

void usi_edge_add(usi_edge_course *course, const usi_edge_side *side, const double values[2])
{
    for (int end = 0; end < 2; end++) {
        usi_edge_point point = {side->ends[end].x_m, side->ends[end].z_m, values[end], side->soil};
        const usi_edge_point *last = course->count > 0 ? &course->points[course->count - 1] : NULL;
        if (last == NULL || last->x_m != point.x_m || last->level_m != point.level_m ||
            last->value != point.value || last->soil != point.soil) {
            course->points[course->count++] = point;
        }
    }
}

us_status usi_edge_underside(us_context *context, const usi_field *field, usi_edge_course *course)
{
    usi_edge_sides sides;
    us_status status = usi_edge_list(context, field->grid, USI_BORDER_STRUCTURE, &sides);
    if (status != US_OK) {
        return status;
    }
    status = usi_edge_begin(context, &sides, course);
    for (size_t k = 0; status == US_OK && k < sides.count; k++) {
        double values[2];
        for (int end = 0; end < 2; end++) {
            values[end] = field->reduced[sides.list[k].unknowns[end]];
        }
        usi_edge_add(course, &sides.list[k], values);
    }
    free(sides.list);
    return status;
}
