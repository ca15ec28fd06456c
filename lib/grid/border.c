/* What the sides of a soil cell border on. */
#include <math.h>

#include "grid/grid.h"

/* A side that looks up or sideways at the structure, the bed or a bed step. */
static usi_border surface_border(const usi_grid *grid, double x_m)
{
    const us_section *section = grid->section;
    double tolerance_m = usi_section_tolerance(section);
    if (x_m < section->left_end_m - tolerance_m) {
        return USI_BORDER_LEFT_BED;
    }
    if (x_m > section->right_end_m + tolerance_m) {
        return USI_BORDER_RIGHT_BED;
    }
    return USI_BORDER_STRUCTURE;
}

static usi_border end_border(const usi_grid *grid, bool right)
{
    const us_section *section = grid->section;
    const usi_side *side = right ? &section->right : &section->left;
    switch (side->kind) {
    case USI_SIDE_CLOSED:
        return USI_BORDER_CLOSED;
    case USI_SIDE_FIXED_HEAD:
        return right ? USI_BORDER_RIGHT_FIXED : USI_BORDER_LEFT_FIXED;
    case USI_SIDE_ENDLESS:
        break;
    }
    return right ? USI_BORDER_RIGHT_END : USI_BORDER_LEFT_END;
}

static usi_border sideways(const usi_grid *grid, size_t i, size_t j, bool right)
{
    size_t line = right ? i + 1 : i;
    ptrdiff_t beyond = right ? (ptrdiff_t)i + 1 : (ptrdiff_t)i - 1;
    if (usi_grid_soil(grid, beyond, (ptrdiff_t)j) >= 0) {
        bool wall = grid->wall_left[j * (grid->columns + 1) + line] != 0;
        return wall ? USI_BORDER_WALL : USI_BORDER_NONE;
    }
    if (beyond < 0 || beyond >= (ptrdiff_t)grid->columns) {
        return end_border(grid, right);
    }
    double z_m = 0.5 * (grid->z_m[j] + grid->z_m[j + 1]);
    double x_m = grid->x_m[line];
    if (grid->section->has_base && z_m < usi_section_base(grid->section, x_m, right)) {
        return USI_BORDER_BASE;
    }
    usi_border border = surface_border(grid, x_m);
    bool wall = grid->wall_left[j * (grid->columns + 1) + line] != 0;
    return wall && border != USI_BORDER_STRUCTURE ? USI_BORDER_WALL : border;
}

usi_border usi_grid_border(const usi_grid *grid, size_t i, size_t j, usi_direction direction)
{
    switch (direction) {
    case USI_LEFT:
        return sideways(grid, i, j, false);
    case USI_RIGHT:
        return sideways(grid, i, j, true);
    case USI_UP:
        if (usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j + 1) >= 0) {
            return USI_BORDER_NONE;
        }
        return surface_border(grid, 0.5 * (grid->x_m[i] + grid->x_m[i + 1]));
    case USI_DOWN:
        break;
    }
    if (usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j - 1) >= 0) {
        return USI_BORDER_NONE;
    }
    return USI_BORDER_BASE;
}
