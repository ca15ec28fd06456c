#include "quantity/exit_gradient.h"

#include <math.h>

#include "grid/exponent.h"
#include "quantity/bed_profile.h"
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
    double g1 = fabs(psi[first] - psi[line]) / x1_m;
    double g2 = fabs(psi[second] - psi[line]) / x2_m;
    double slope = (g1 * x2_m * x2_m - g2 * x1_m * x1_m) / (x2_m * x2_m - x1_m * x1_m);
    int soil = usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j);
    return usi_exit_stream_flow(field) * slope / grid->section->soils[soil].kv_m_s;
}

double usi_exit_stream_flow(const usi_field *field)
{
    /* Soil without a base is cut closed here and open in the head problem: two
     * different total flows, so this field goes with its own. */
    return field->grid->section->has_base ? field->flow_m_s : field->lower_m_s;
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
        double depth_m = fabs((c.x_m - a.x_m) * nx + (c.z_m - a.z_m) * nz);
        return (field->reduced[triangle->unknown[(k + 2) % 3]] -
                field->reduced[triangle->unknown[k]]) /
               depth_m;
    }
    double share =
        fabs(field->stream[triangle->place[(k + 1) % 3]] - field->stream[triangle->place[k]]);
    double across_m_s = soil->kh_m_s * nx * nx + soil->kv_m_s * nz * nz;
    return usi_exit_stream_flow(field) * share / (length_m * across_m_s);
}

static usi_border downstream_bed(const usi_grid *grid)
{
    return grid->section->flows_left ? USI_BORDER_LEFT_BED : USI_BORDER_RIGHT_BED;
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
            if (here && triangles[t].border[k] == downstream_bed(grid)) {
                reading->gradient_1_m = side_gradient(field, &triangles[t], k);
                reading->second_1_m = reading->gradient_1_m;
                return true;
            }
        }
    }
    return false;
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
    usi_point deep = {exit->at.x_m, exit->at.z_m - exit->mean_depth_m};
    reading.mean_1_m = usi_head_at(field, deep, exit->bed).value / exit->mean_depth_m;
    usi_bed_profile_read(field, exit, &reading);
    return reading;
}

/* True beside a closed side that a falling bed meets: at more than a right angle, so
 * that the gradient is unbounded there, where the section only ends. */
static bool near_side(const us_section *section, double x_m, const usi_exit *toe)
{
    bool right = !section->flows_left;
    const usi_side *side = right ? &section->right : &section->left;
    if (side->kind != USI_SIDE_CLOSED || fabs(side->x_m - x_m) >= toe->mean_depth_m) {
        return false;
    }
    const usi_line *bed = usi_section_downstream_bed(section);
    return usi_line_level(bed, side->x_m, !right) <
           usi_line_level(bed, x_m, !right) - usi_section_tolerance(section);
}

/* Slope of the piece of bed that ends, or begins, at a vertex, and its length; level
 * and endless beyond the ends. False for an upright one. */
static bool piece_beside(const usi_line *bed, size_t vertex, bool after, double *slope,
                         double *length_m)
{
    *slope = 0.0;
    *length_m = HUGE_VAL;
    if (after ? vertex + 1 == bed->count : vertex == 0) {
        return true;
    }
    usi_point a = bed->points[after ? vertex : vertex - 1];
    usi_point b = bed->points[after ? vertex + 1 : vertex];
    *length_m = b.x_m - a.x_m;
    *slope = (b.z_m - a.z_m) / *length_m;
    return b.x_m > a.x_m;
}

/* True beside a hollow vertex of the bed, by a share of the shorter piece there. A
 * vertex that turns little stands for a curve: its own gradient, which a grid would
 * follow without end, is none of the curve's. */
static bool near_hollow(const us_section *section, double x_m)
{
    static const double curve_share = 0.1;
    const usi_line *bed = usi_section_downstream_bed(section);
    for (size_t k = 0; k < bed->count && bed->count > 1; k++) {
        double before;
        double after;
        double before_m;
        double after_m;
        if (piece_beside(bed, k, false, &before, &before_m) &&
            piece_beside(bed, k, true, &after, &after_m) && after > before &&
            fabs(x_m - bed->points[k].x_m) < curve_share * fmin(before_m, after_m)) {
            return true;
        }
    }
    return false;
}

static bool near_unbounded(const us_section *section, double x_m, const usi_exit *exits,
                           const usi_exit_reading *readings, size_t count)
{
    if (count > 0 && (near_side(section, x_m, &exits[0]) || near_hollow(section, x_m))) {
        return true;
    }
    for (size_t e = 0; e < count; e++) {
        if (!readings[e].bounded && fabs(x_m - exits[e].at.x_m) < exits[e].mean_depth_m) {
            return true;
        }
    }
    return false;
}

/* The steepest of the sides of triangles that lie on the bed. */
static void find_on_slopes(const usi_field *field, const usi_exit *exits,
                           const usi_exit_reading *readings, size_t count, usi_bed_peak *peak)
{
    const usi_grid *grid = field->grid;
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const usi_triangle *triangle = &grid->triangles[t];
        for (int k = 0; k < 3; k++) {
            if (triangle->border[k] != downstream_bed(grid)) {
                continue;
            }
            usi_point a = usi_grid_place(grid, triangle->place[k]);
            usi_point b = usi_grid_place(grid, triangle->place[(k + 1) % 3]);
            usi_point middle = {0.5 * (a.x_m + b.x_m), 0.5 * (a.z_m + b.z_m)};
            double gradient = side_gradient(field, triangle, k);
            if (!near_unbounded(grid->section, middle.x_m, exits, readings, count) &&
                (!peak->found || gradient > peak->gradient_1_m)) {
                *peak = (usi_bed_peak){true, gradient, middle.x_m, middle.z_m, false, 0.0};
            }
        }
    }
}

usi_bed_peak usi_bed_peak_find(const usi_field *field, const usi_exit *exits,
                               const usi_exit_reading *readings, size_t count)
{
    const usi_grid *grid = field->grid;
    usi_border bed = downstream_bed(grid);
    usi_bed_peak peak = {.found = false};
    for (size_t i = 0; i < grid->columns; i++) {
        size_t j = grid->rows;
        while (j > 0 && usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j - 1) < 0) {
            j--;
        }
        if (j == 0 || usi_grid_border(grid, i, j - 1, USI_UP) != bed) {
            continue;
        }
        for (size_t side = 0; side < 2; side++) {
            double x_m = grid->x_m[i + side];
            if (near_unbounded(grid->section, x_m, exits, readings, count)) {
                continue;
            }
            double gradient =
                usi_exit_below(field, i, j - 1, side == 0 ? USI_UPPER_LEFT : USI_UPPER_RIGHT);
            if (!peak.found || gradient > peak.gradient_1_m) {
                peak = (usi_bed_peak){true, gradient, x_m, grid->z_m[j], false, 0.0};
            }
        }
    }
    find_on_slopes(field, exits, readings, count, &peak);
    if (peak.found && count > 0) {
        usi_point deep = {peak.x_m, peak.level_m - exits[0].mean_depth_m};
        usi_reduced head = usi_head_at(field, deep, exits[0].bed);
        peak.has_mean = head.present;
        peak.mean_1_m = head.value / exits[0].mean_depth_m;
    }
    return peak;
}
