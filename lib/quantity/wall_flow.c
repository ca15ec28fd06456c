#include "quantity/wall_flow.h"

#include <math.h>

bool usi_wall_passes(const usi_wall *wall)
{
    return wall->interlock.given || wall->opening_count > 0 || wall->cap_gap.given;
}

usi_reduced usi_wall_flow(const usi_field *field, const usi_wall *wall)
{
    const usi_grid *grid = field->grid;
    if (!usi_wall_passes(wall) || wall->x_m < grid->x_m[0] ||
        wall->x_m > grid->x_m[grid->columns]) {
        return (usi_reduced){false, 0.0};
    }
    if (field->stream == NULL) {
        return (usi_reduced){field->sealed, 0.0};
    }
    double surface_m = fmin(usi_section_surface(grid->section, wall->x_m, false),
                            usi_section_surface(grid->section, wall->x_m, true));
    double top_m = wall->cap_gap.given ? wall->cap_level_m : wall->top_m;
    size_t line = usi_grid_x_line(grid, wall->x_m);
    size_t top = usi_grid_z_line(grid, fmin(top_m, surface_m));
    size_t tip = usi_grid_z_line(grid, wall->solved_tip_m);
    size_t across = grid->columns + 1;
    double share = field->stream[tip * across + line] - field->stream[top * across + line];
    return (usi_reduced){true, share * field->stream_unit_m_s};
}
