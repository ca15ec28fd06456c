#include "quantity/piezometer.h"

#include <math.h>

/* Cell index along one axis that holds `value`; beside a line, the cell before
 * it when `before`. */
static ptrdiff_t cell_of(const double *lines_m, size_t cells, double value, double tolerance_m,
                         bool before)
{
    size_t low = 0;
    size_t high = cells;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (lines_m[middle] <= value) {
            low = middle;
        } else {
            high = middle;
        }
    }
    if (before && low > 0 && fabs(value - lines_m[low]) <= tolerance_m) {
        return (ptrdiff_t)low - 1;
    }
    if (!before && low + 1 < cells && fabs(value - lines_m[low + 1]) <= tolerance_m) {
        return (ptrdiff_t)low + 1;
    }
    return (ptrdiff_t)low;
}

static double share(double value, double low, double high)
{
    return fmin(fmax((value - low) / (high - low), 0.0), 1.0);
}

static double bilinear(const usi_field *field, size_t i, size_t j, usi_point at)
{
    const usi_grid *grid = field->grid;
    double s = share(at.x_m, grid->x_m[i], grid->x_m[i + 1]);
    double t = share(at.z_m, grid->z_m[j], grid->z_m[j + 1]);
    double lower = (1.0 - s) * usi_field_head(field, i, j, USI_LOWER_LEFT) +
                   s * usi_field_head(field, i, j, USI_LOWER_RIGHT);
    double upper = (1.0 - s) * usi_field_head(field, i, j, USI_UPPER_LEFT) +
                   s * usi_field_head(field, i, j, USI_UPPER_RIGHT);
    return (1.0 - t) * lower + t * upper;
}

usi_reduced usi_head_at(const usi_field *field, usi_point at, usi_face side)
{
    const usi_grid *grid = field->grid;
    double tolerance_m = usi_section_tolerance(grid->section);
    /* On a line, the cell on the asked side comes first, then its neighbours. */
    for (int attempt = 0; attempt < 4; attempt++) {
        bool left = (side != USI_FACE_RIGHT) != ((attempt & 1) != 0);
        bool below = (attempt & 2) == 0;
        ptrdiff_t i = cell_of(grid->x_m, grid->columns, at.x_m, tolerance_m, left);
        ptrdiff_t j = cell_of(grid->z_m, grid->rows, at.z_m, tolerance_m, below);
        if (usi_grid_soil(grid, i, j) >= 0) {
            return (usi_reduced){true, bilinear(field, (size_t)i, (size_t)j, at)};
        }
    }
    return (usi_reduced){false, 0.0};
}
