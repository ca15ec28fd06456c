#include "quantity/exit_gradient.h"

#include <math.h>

#include "grid/exponent.h"
#include "quantity/piezometer.h"

double usi_exit_below(const usi_field *field, size_t i, size_t j, usi_corner corner)
{
    const usi_grid *grid = field->grid;
    usi_corner lower = corner == USI_UPPER_LEFT ? USI_LOWER_LEFT : USI_LOWER_RIGHT;
    double bed = usi_field_head(field, i, j, corner);
    double y1_m = grid->z_m[j + 1] - grid->z_m[j];
    double g1 = (usi_field_head(field, i, j, lower) - bed) / y1_m;
    int soil = usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j);
    if (j == 0 || usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j - 1) != soil) {
        return g1;
    }
    double y2_m = grid->z_m[j + 1] - grid->z_m[j - 1];
    double g2 = (usi_field_head(field, i, j - 1, lower) - bed) / y2_m;
    return (g1 * y2_m * y2_m - g2 * y1_m * y1_m) / (y2_m * y2_m - y1_m * y1_m);
}

/* The same gradient from the stream function along the bed: q (dpsi/dx) / kv. By
 * reflection in the impervious face psi is odd in the distance from it, so the
 * two-node fit serves again. */
static double gradient_along(const usi_field *field, size_t i, size_t j, bool right)
{
    const usi_grid *grid = field->grid;
    const double *psi = field->stream + (j + 1) * (grid->columns + 1);
    size_t line = right ? i : i + 1;
    size_t first = right ? line + 1 : line - 1;
    size_t second = right ? line + 2 : line - 2;
    double x1_m = fabs(grid->x_m[first] - grid->x_m[line]);
    double x2_m = fabs(grid->x_m[second] - grid->x_m[line]);
    double outward = right != grid->section->flows_left ? 1.0 : -1.0;
    double g1 = outward * (psi[first] - psi[line]) / x1_m;
    double g2 = outward * (psi[second] - psi[line]) / x2_m;
    double slope = (g1 * x2_m * x2_m - g2 * x1_m * x1_m) / (x2_m * x2_m - x1_m * x1_m);
    int soil = usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j);
    return field->stream_unit_m_s * slope / grid->section->soils[soil].kv_m_s;
}

/* Gradient at the middle of a side of a triangle that lies on the bed: the flow that
 * comes out there over the conductivity across it. */
static double side_gradient(const usi_field *field, const usi_triangle *triangle, int k)
{
    const usi_grid *grid = field->grid;
    const usi_soil *soil = &grid->section->soils[triangle->soil];
    usi_point a = usi_grid_place(grid, triangle->place[k]);
    usi_point b = usi_grid_place(grid, triangle->place[(k + 1) % 3]);
    usi_point c = usi_grid_place(grid, triangle->place[(k + 2) % 3]);
    double length_m = hypot(b.x_m - a.x_m, b.z_m - a.z_m);
    double nx = (b.z_m - a.z_m) / length_m;
    double nz = (a.x_m - b.x_m) / length_m;
    if (field->stream == NULL) {
        /* From the heads at the corners to the foot of the third on the side. */
        double along = ((c.x_m - a.x_m) * (b.x_m - a.x_m) + (c.z_m - a.z_m) * (b.z_m - a.z_m)) /
                       (length_m * length_m);
        double depth_m = fabs((c.x_m - a.x_m) * nx + (c.z_m - a.z_m) * nz);
        double head_a = field->reduced[triangle->unknown[k]];
        double head_b = field->reduced[triangle->unknown[(k + 1) % 3]];
        return (field->reduced[triangle->unknown[(k + 2) % 3]] - head_a -
                along * (head_b - head_a)) /
               depth_m;
    }
    /* Bed is walked to the left, with the soil below it on the left hand. */
    double share = field->stream[triangle->place[k]] - field->stream[triangle->place[(k + 1) % 3]];
    share = grid->section->flows_left ? -share : share;
    double across_m_s = soil->kh_m_s * nx * nx + soil->kv_m_s * nz * nz;
    return field->stream_unit_m_s * share / (length_m * across_m_s);
}

static bool is_downstream_bed(const usi_grid *grid, usi_border border)
{
    return usi_border_bed(border) == (grid->section->flows_left ? -1 : 1);
}

/* On a bed that slopes away from the exit: nothing where it falls to zero, else what
 * the first side of bed has; false where there is none. */
static bool read_slope(const usi_field *field, const usi_exit *exit, size_t cell,
                       usi_exit_reading *reading)
{
    const usi_grid *grid = field->grid;
    if (exit->growth.kind == USI_GROWTH_NONE) {
        return true;
    }
    size_t count;
    const usi_triangle *triangles = usi_grid_triangles(grid, cell, &count);
    for (size_t t = 0; t < count; t++) {
        for (int k = 0; k < 3; k++) {
            usi_point a = usi_grid_place(grid, triangles[t].place[k]);
            usi_point b = usi_grid_place(grid, triangles[t].place[(k + 1) % 3]);
            bool here = (a.x_m == exit->at.x_m && a.z_m == exit->at.z_m) ||
                        (b.x_m == exit->at.x_m && b.z_m == exit->at.z_m);
            if (here && is_downstream_bed(grid, (usi_border)triangles[t].border[k])) {
                reading->gradient_1_m = side_gradient(field, &triangles[t], k);
                reading->second_1_m = reading->gradient_1_m;
                return true;
            }
        }
    }
    return false;
}

usi_reduced usi_exit_mean(const usi_field *field, usi_point at, usi_face bed, double depth_m)
{
    usi_point deep = {at.x_m, at.z_m - depth_m};
    usi_reduced head = usi_head_at(field, deep, bed);
    if (field->grid->section->situation != NULL) {
        head.value -= usi_head_at(field, at, bed).value; /* 0 under the downstream water */
    }
    head.value /= depth_m;
    return head;
}

usi_exit_reading usi_exit_read(const usi_field *field, const usi_exit *exit)
{
    const usi_grid *grid = field->grid;
    bool right = exit->bed == USI_FACE_RIGHT;
    size_t line = usi_grid_x_line(grid, exit->at.x_m);
    size_t i = right ? line : line - 1;
    size_t j = usi_grid_z_line(grid, exit->at.z_m) - 1;
    usi_corner corner = right ? USI_UPPER_LEFT : USI_UPPER_RIGHT;
    bool whole = usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) >= 0;
    usi_exit_reading reading = {.bounded = usi_growth_is_bounded(exit->growth) &&
                                           (!whole || usi_exponent_at(grid, i, j, corner) > 0.999)};
    if (reading.bounded && !whole) {
        reading.bounded = read_slope(field, exit, j * grid->columns + i, &reading);
    } else if (reading.bounded) {
        reading.gradient_1_m = usi_exit_below(field, i, j, corner);
        reading.second_1_m =
            field->stream != NULL ? gradient_along(field, i, j, right) : reading.gradient_1_m;
    }
    reading.mean_1_m = usi_exit_mean(field, exit->at, exit->bed, exit->mean_depth_m).value;
    return reading;
}
