#include "quantity/wall_heads.h"

#include "quantity/piezometer.h"

/* The highest contact of a cut cell with the wall on its left or right side. */
static bool cut_top(const usi_field *field, size_t cell, size_t line, double *head)
{
    const usi_grid *grid = field->grid;
    size_t count;
    const usi_triangle *triangles = usi_grid_triangles(grid, cell, &count);
    bool found = false;
    double highest_m = 0.0;
    for (size_t t = 0; t < count; t++) {
        for (int k = 0; k < 3; k++) {
            usi_point a = usi_grid_place(grid, triangles[t].place[k]);
            usi_point b = usi_grid_place(grid, triangles[t].place[(k + 1) % 3]);
            bool on_wall = a.x_m == grid->x_m[line] && b.x_m == grid->x_m[line];
            int top = a.z_m > b.z_m ? k : (k + 1) % 3;
            double level_m = a.z_m > b.z_m ? a.z_m : b.z_m;
            if (on_wall && (!found || level_m > highest_m)) {
                found = true;
                highest_m = level_m;
                *head = field->reduced[triangles[t].unknown[top]];
            }
        }
    }
    return found;
}

/* Highest head on one face: the wall's own rows from the top down. */
static usi_reduced face_top(const usi_field *field, size_t line, size_t tip, size_t top, bool right)
{
    const usi_grid *grid = field->grid;
    ptrdiff_t i = right ? (ptrdiff_t)line : (ptrdiff_t)line - 1;
    if (i < 0 || i >= (ptrdiff_t)grid->columns) {
        return (usi_reduced){false, 0.0};
    }
    for (size_t j = top; j > tip; j--) {
        size_t cell = (j - 1) * grid->columns + (size_t)i;
        double head = 0.0;
        if (grid->soil[cell] >= 0) {
            usi_corner corner = right ? USI_UPPER_LEFT : USI_UPPER_RIGHT;
            return (usi_reduced){true, usi_field_head(field, (size_t)i, j - 1, corner)};
        }
        if (grid->soil[cell] == USI_CELL_CUT && cut_top(field, cell, line, &head)) {
            return (usi_reduced){true, head};
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
        usi_point at = {grid->x_m[line], grid->z_m[tip]};
        reading.tip = usi_head_at(field, at, USI_FACE_NONE);
    }
    return reading;
}
