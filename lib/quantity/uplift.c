#include "quantity/uplift.h"

#include <math.h>

/* Adds a pressure (as head) that runs linearly from pa at a to pb at b, both
 * zero or more. */
static void add_strip(usi_uplift_reading *reading, double a_m, double b_m, double pa_m, double pb_m)
{
    double width_m = b_m - a_m;
    reading->force_n_m += 0.5 * width_m * (pa_m + pb_m);
    reading->moment_n += width_m * (pa_m * (2.0 * a_m + b_m) + pb_m * (a_m + 2.0 * b_m)) / 6.0;
}

static void add_clipped(usi_uplift_reading *reading, double a_m, double b_m, double pa_m,
                        double pb_m)
{
    if (pa_m >= 0.0 && pb_m >= 0.0) {
        add_strip(reading, a_m, b_m, pa_m, pb_m);
        return;
    }
    reading->suction = true;
    if (pa_m <= 0.0 && pb_m <= 0.0) {
        return;
    }
    double zero_m = a_m + (b_m - a_m) * pa_m / (pa_m - pb_m);
    if (pa_m > 0.0) {
        add_strip(reading, a_m, zero_m, pa_m, 0.0);
    } else {
        add_strip(reading, zero_m, b_m, 0.0, pb_m);
    }
}

usi_uplift_reading usi_uplift_read(const usi_field *field, double downstream_m,
                                   double head_difference_m)
{
    const usi_grid *grid = field->grid;
    usi_uplift_reading reading = {0};
    for (size_t i = 0; i < grid->columns; i++) {
        size_t j = grid->rows;
        while (j > 0 && usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j - 1) < 0) {
            j--;
        }
        if (j == 0 || usi_grid_border(grid, i, j - 1, USI_UP) != USI_BORDER_STRUCTURE) {
            continue;
        }
        double excess_a = usi_field_head(field, i, j - 1, USI_UPPER_LEFT);
        double excess_b = usi_field_head(field, i, j - 1, USI_UPPER_RIGHT);
        add_clipped(&reading, grid->x_m[i], grid->x_m[i + 1],
                    downstream_m + head_difference_m * excess_a - grid->z_m[j],
                    downstream_m + head_difference_m * excess_b - grid->z_m[j]);
    }
    reading.force_n_m *= grid->section->water_unit_weight_n_m3;
    reading.moment_n *= grid->section->water_unit_weight_n_m3;
    return reading;
}

/* Next vertex of a line right of x, no further than `to_m`. */
static double next_vertex(const usi_line *line, double x_m, double to_m)
{
    for (size_t k = 0; k < line->count; k++) {
        if (line->points[k].x_m > x_m) {
            return fmin(line->points[k].x_m, to_m);
        }
    }
    return to_m;
}

/* Area between top and underside, and its moment about x = 0. */
static double structure_area(const us_section *section, double *moment_m3)
{
    double area_m2 = 0.0;
    double a_m = section->left_end_m;
    *moment_m3 = 0.0;
    while (a_m < section->right_end_m) {
        double b_m = fmin(next_vertex(&section->underside, a_m, section->right_end_m),
                          next_vertex(&section->structure_top, a_m, section->right_end_m));
        double middle_m = 0.5 * (a_m + b_m);
        double piece_m2 = (b_m - a_m) * (usi_line_level(&section->structure_top, middle_m, true) -
                                         usi_line_level(&section->underside, middle_m, true));
        area_m2 += piece_m2;
        *moment_m3 += piece_m2 * middle_m;
        a_m = b_m;
    }
    return area_m2;
}

double usi_structure_weight(const us_section *section)
{
    double moment_m3 = 0.0;
    return structure_area(section, &moment_m3) * section->structure_unit_weight_n_m3;
}

double usi_structure_centroid_x(const us_section *section)
{
    double moment_m3 = 0.0;
    double area_m2 = structure_area(section, &moment_m3);
    return area_m2 > 0.0 ? moment_m3 / area_m2 : 0.5 * (section->left_end_m + section->right_end_m);
}
