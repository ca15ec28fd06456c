#include "quantity/exit_gradient.h"

#include <math.h>

#include "grid/exponent.h"
#include "quantity/bed_profile.h"

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

usi_exit_reading usi_exit_read(const usi_field *field, const usi_exit *exit)
{
    const usi_grid *grid = field->grid;
    bool right = exit->bed == USI_FACE_RIGHT;
    size_t line = usi_grid_x_line(grid, exit->at.x_m);
    size_t i = right ? line : line - 1;
    size_t j = usi_grid_z_line(grid, exit->at.z_m) - 1;
    usi_corner corner = right ? USI_UPPER_LEFT : USI_UPPER_RIGHT;
    usi_exit_reading reading = {.bounded = usi_growth_is_bounded(exit->growth) &&
                                           usi_exponent_at(grid, i, j, corner) > 0.999};
    if (reading.bounded) {
        reading.gradient_1_m = usi_exit_below(field, i, j, corner);
        reading.second_1_m =
            field->stream != NULL ? gradient_along(field, i, j, right) : reading.gradient_1_m;
    }
    size_t deep = usi_grid_z_line(grid, exit->at.z_m - exit->mean_depth_m);
    double head = usi_field_head(field, i, deep, right ? USI_LOWER_LEFT : USI_LOWER_RIGHT);
    reading.mean_1_m = head / exit->mean_depth_m;
    usi_bed_profile_read(field, exit, &reading);
    return reading;
}

static bool near_unbounded(double x_m, const usi_exit *exits, const usi_exit_reading *readings,
                           size_t count)
{
    for (size_t e = 0; e < count; e++) {
        if (!readings[e].bounded && fabs(x_m - exits[e].at.x_m) < exits[e].mean_depth_m) {
            return true;
        }
    }
    return false;
}

usi_bed_peak usi_bed_peak_find(const usi_field *field, const usi_exit *exits,
                               const usi_exit_reading *readings, size_t count)
{
    const usi_grid *grid = field->grid;
    usi_border bed = grid->section->flows_left ? USI_BORDER_LEFT_BED : USI_BORDER_RIGHT_BED;
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
            if (near_unbounded(x_m, exits, readings, count)) {
                continue;
            }
            double gradient =
                usi_exit_below(field, i, j - 1, side == 0 ? USI_UPPER_LEFT : USI_UPPER_RIGHT);
            if (!peak.found || gradient > peak.gradient_1_m) {
                peak = (usi_bed_peak){true, gradient, x_m, grid->z_m[j]};
            }
        }
    }
    return peak;
}
