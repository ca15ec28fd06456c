#include "quantity/uplift.h"

#include <math.h>

#include "model/situation.h"

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

/* How to read one water case. */
typedef struct uplift_case {
    const usi_field *field;
    double downstream_m;
    double head_difference_m;
} uplift_case;

/* Reduced head that presses on the structure: below a clogged drain, that in the drain. */
static double pressing(const uplift_case *of, usi_border border, int32_t unknown)
{
    const usi_situation *situation = of->field->grid->section->situation;
    int terminal = usi_border_terminal(border);
    if (terminal > 1 && situation->terminals[terminal].resistance_s > 0.0) {
        return (situation->terminals[terminal].head_m - situation->datum_m) / situation->scale_m;
    }
    return of->field->reduced[unknown];
}

/* The underside between two places, whose unknowns are given. */
static void add_side(const uplift_case *of, usi_border border, const usi_point ends[2],
                     const int32_t unknowns[2], usi_uplift_reading *reading)
{
    usi_point a = ends[0];
    usi_point b = ends[1];
    double pa_m =
        of->downstream_m + of->head_difference_m * pressing(of, border, unknowns[0]) - a.z_m;
    double pb_m =
        of->downstream_m + of->head_difference_m * pressing(of, border, unknowns[1]) - b.z_m;
    if (a.x_m < b.x_m) {
        add_clipped(reading, a.x_m, b.x_m, pa_m, pb_m);
    } else if (a.x_m > b.x_m) {
        add_clipped(reading, b.x_m, a.x_m, pb_m, pa_m);
    }
}

static void add_cells(const uplift_case *of, usi_uplift_reading *reading)
{
    const usi_grid *grid = of->field->grid;
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        size_t i = cell % grid->columns;
        size_t j = cell / grid->columns;
        if (grid->soil[cell] < 0) {
            continue;
        }
        usi_border border = usi_grid_border(grid, i, j, USI_UP);
        if (usi_border_underside(grid->section, border)) {
            usi_point ends[2] = {{grid->x_m[i], grid->z_m[j + 1]},
                                 {grid->x_m[i + 1], grid->z_m[j + 1]}};
            int32_t unknowns[2] = {usi_grid_unknown(grid, i, j, USI_UPPER_LEFT),
                                   usi_grid_unknown(grid, i, j, USI_UPPER_RIGHT)};
            add_side(of, border, ends, unknowns, reading);
        }
    }
}

usi_uplift_reading usi_uplift_read(const usi_field *field, double downstream_m,
                                   double head_difference_m)
{
    const usi_grid *grid = field->grid;
    uplift_case of = {field, downstream_m, head_difference_m};
    usi_uplift_reading reading = {0};
    add_cells(&of, &reading);
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const usi_triangle *triangle = &grid->triangles[t];
        for (int k = 0; k < 3; k++) {
            int next = (k + 1) % 3;
            usi_border border = (usi_border)triangle->border[k];
            if (usi_border_underside(grid->section, border)) {
                usi_point ends[2] = {usi_grid_place(grid, triangle->place[k]),
                                     usi_grid_place(grid, triangle->place[next])};
                int32_t unknowns[2] = {triangle->unknown[k], triangle->unknown[next]};
                add_side(&of, border, ends, unknowns, &reading);
            }
        }
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
        double at_a_m = usi_line_level(&section->structure_top, a_m, true) -
                        usi_line_level(&section->underside, a_m, true);
        double at_b_m = usi_line_level(&section->structure_top, b_m, false) -
                        usi_line_level(&section->underside, b_m, false);
        area_m2 += 0.5 * (b_m - a_m) * (at_a_m + at_b_m);
        *moment_m3 += (b_m - a_m) * (at_a_m * (2.0 * a_m + b_m) + at_b_m * (a_m + 2.0 * b_m)) / 6.0;
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
