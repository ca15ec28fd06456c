/* Graded grids of a given size, and uniform ones. */
#include <math.h>
#include <stdlib.h>

#include "grid/reach.h"
#include "grid/topology.h"
#include "ladder.h"
#include "solve/field.h"

/* So far out that cuts cost nothing beside the errors that are looked at. */
static const double TRUNCATION = 1e-8;

static size_t unknowns_of(us_context *context, const us_section *section, double cells,
                          int halvings)
{
    usi_grid_options options = {.cells = cells, .halvings = halvings, .truncation = TRUNCATION};
    usi_grid *grid = NULL;
    size_t unknowns = SIZE_MAX;
    if (usi_grid_build(context, section, &options, &grid) == US_OK) {
        unknowns = grid->unknowns;
    }
    usi_grid_free(grid);
    return unknowns;
}

us_status ladder_read(us_context *context, const us_section *section, size_t most, int halvings,
                      usi_reading *readings)
{
    double low = 1.0;
    double high = 400.0;
    for (int i = 0; i < 30; i++) {
        double middle = sqrt(low * high);
        if (unknowns_of(context, section, middle, halvings) <= most) {
            low = middle;
        } else {
            high = middle;
        }
    }
    usi_places places = {0};
    us_status status = usi_exits_list(context, section, &places.exits, &places.exit_count);
    for (int h = 0; status == US_OK && h <= halvings; h++) {
        usi_grid_options options = {.cells = low, .halvings = h, .truncation = TRUNCATION};
        status = usi_reading_take(context, section, &options, &places, &readings[h]);
    }
    free(places.exits);
    return status;
}

double ladder_graded(us_context *context, const us_section *section, double cells, size_t *unknowns)
{
    usi_places places = {0};
    usi_reading reading = {0};
    double gradient_1_m = -1.0;
    usi_grid_options options = {.cells = cells};
    if (usi_exits_list(context, section, &places.exits, &places.exit_count) == US_OK &&
        usi_reading_take(context, section, &options, &places, &reading) == US_OK) {
        gradient_1_m = reading.exits[0].gradient_1_m;
        *unknowns = reading.unknowns;
    }
    usi_reading_free(&reading);
    free(places.exits);
    return gradient_1_m;
}

static double *spread(double from_m, double to_m, double step_m, size_t *count)
{
    *count = (size_t)lround((to_m - from_m) / step_m) + 1;
    double *lines_m = malloc(*count * sizeof *lines_m);
    for (size_t i = 0; lines_m != NULL && i < *count; i++) {
        lines_m[i] = from_m + (to_m - from_m) * (double)i / (double)(*count - 1);
    }
    return lines_m;
}

double ladder_uniform(us_context *context, const us_section *section, double step_m,
                      size_t *unknowns)
{
    double base_m = section->base.points[0].z_m;
    double bed_m = section->right_bed.points[0].z_m;
    usi_reach reach = usi_reach_find(section, 0.0);
    double left_m = step_m * floor(reach.left_m / step_m);
    double right_m = step_m * ceil(reach.right_m / step_m);
    usi_lines lines = {0};
    lines.x_m = spread(left_m, right_m, step_m, &lines.x_count);
    lines.z_m = spread(base_m, bed_m, step_m, &lines.z_count);
    usi_plan_window window = {left_m, right_m, base_m};
    usi_plan plan = {0};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    usi_exit *exits = NULL;
    size_t count = 0;
    double gradient_1_m = -1.0;
    if (lines.x_m != NULL && lines.z_m != NULL &&
        usi_plan_build(context, section, &window, &plan) == US_OK &&
        usi_topology_build(context, section, &plan, false, &lines, &grid) == US_OK &&
        usi_field_solve(context, grid, &field) == US_OK &&
        usi_exits_list(context, section, &exits, &count) == US_OK) {
        gradient_1_m = usi_exit_read(field, &exits[0]).gradient_1_m;
        *unknowns = grid->unknowns;
    }
    free(exits);
    usi_plan_free(&plan);
    usi_field_free(field);
    usi_grid_free(grid);
    return gradient_1_m;
}
