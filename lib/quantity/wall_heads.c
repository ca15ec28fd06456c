#include "quantity/wall_heads.h"

/* Highest head on one face: the wall's own rows from the top down. */
static usi_reduced face_top(const usi_field *field, size_t line, size_t tip, size_t top, bool right)
{
    ptrdiff_t i = right ? (ptrdiff_t)line : (ptrdiff_t)line - 1;
    for (size_t j = top; j > tip; j--) {
        if (usi_grid_soil(field->grid, i, (ptrdiff_t)j - 1) >= 0) {
            usi_corner corner = right ? USI_UPPER_LEFT : USI_UPPER_RIGHT;
            return (usi_reduced){true, usi_field_head(field, (size_t)i, j - 1, corner)};
        }
    }
    return (usi_reduced){false, 0.0};
}

static bool is_wall(const usi_grid *grid, size_t line, size_t row)
{
    return grid->wall_left[row * (grid->columns + 1) + line] != 0;
}

usi_wall_reading usi_wall_read(const usi_field *field, const usi_wall *wall)
{
    const usi_grid *grid = field->grid;
    usi_wall_reading reading = {0};
    if (wall->x_m < grid->x_m[0] || wall->x_m > grid->x_m[grid->columns]) {
        return reading;
    }
    size_t line = usi_grid_x_line(grid, wall->x_m);
    /* The grid knows whether an open contact was sealed; the tip follows it. */
    size_t tip = usi_grid_z_line(grid, wall->solved_tip_m);
    while (wall->open_contact && tip > 0 && is_wall(grid, line, tip - 1)) {
        tip--;
    }
    size_t top = usi_grid_z_line(grid, wall->top_m);
    reading.left_face_top = face_top(field, line, tip, top, false);
    reading.right_face_top = face_top(field, line, tip, top, true);
    if (tip > 0 && !is_wall(grid, line, tip - 1)) {
        ptrdiff_t j = (ptrdiff_t)tip - 1;
        if (usi_grid_soil(grid, (ptrdiff_t)line - 1, j) >= 0) {
            reading.tip =
                (usi_reduced){true, usi_field_head(field, line - 1, tip - 1, USI_UPPER_RIGHT)};
        } else if (usi_grid_soil(grid, (ptrdiff_t)line, j) >= 0) {
            reading.tip = (usi_reduced){true, usi_field_head(field, line, tip - 1, USI_UPPER_LEFT)};
        }
    }
    return reading;
}
