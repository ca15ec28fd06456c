#include "solve/reach.h"

#include <stdlib.h>

#include "base/context.h"
#include "base/number.h"
#include "model/scale.h"
#include "solve/problem.h"
#include "solve/ties.h"

enum { PLACE_DIGITS = 4 };

/* Ties all unknowns under water together, and those of each cell; returns one
 * unknown under water, or -1. */
static int32_t tie_soil(const usi_grid *grid, const int32_t *places, int32_t *ties)
{
    int32_t water = -1;
    for (size_t u = 0; u < grid->unknowns; u++) {
        if (places[u] != USI_PLACE_NONE) {
            water = water < 0 ? (int32_t)u : water;
            usi_ties_join(ties, water, (int32_t)u);
        }
    }
    for (size_t j = 0; j < grid->rows; j++) {
        for (size_t i = 0; i < grid->columns; i++) {
            if (usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j) < 0) {
                continue;
            }
            int32_t first = usi_grid_unknown(grid, i, j, USI_LOWER_LEFT);
            for (int c = 1; c < 4; c++) {
                usi_ties_join(ties, first, usi_grid_unknown(grid, i, j, (usi_corner)c));
            }
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        const int32_t *corners = grid->triangles[t].unknown;
        usi_ties_join(ties, corners[0], corners[1]);
        usi_ties_join(ties, corners[0], corners[2]);
    }
    return water;
}

static void tie_passages(const usi_passages *passages, int32_t *ties)
{
    for (size_t k = 0; k < passages->crossing_count; k++) {
        const usi_crossing *crossing = &passages->crossings[k];
        usi_ties_join(ties, crossing->left[0], crossing->right[0]);
    }
    int32_t first = -1;
    for (int32_t strip = 0; strip < (int32_t)passages->strip_count; strip++) {
        for (size_t u = 0; u < passages->unknowns; u++) {
            if (passages->face[u] / 2 == strip && passages->face[u] >= 0) {
                first = first < 0 ? (int32_t)u : first;
                usi_ties_join(ties, first, (int32_t)u);
            }
        }
        first = -1;
    }
}

static us_status report_dry(us_context *context, const usi_grid *grid, size_t cell)
{
    size_t i = cell % grid->columns;
    size_t j = cell / grid->columns;
    char x[USI_NUMBER_ROOM];
    char z[USI_NUMBER_ROOM];
    usi_scale scale = usi_scale_of(grid->section);
    double x_m = 0.5 * (grid->x_m[i] + grid->x_m[i + 1]);
    double z_m = 0.5 * (grid->z_m[j] + grid->z_m[j + 1]);
    usi_context_report(context, US_ERROR, NULL,
                       "leave one of the walls around it unsealed (no `keyed`), or take that soil "
                       "out of the section",
                       "the soil near x = %s %s, level %s %s is sealed off from all water: no head "
                       "can be found there",
                       usi_number_write(x, x_m / scale.length_m, PLACE_DIGITS), scale.length,
                       usi_number_write(z, z_m / scale.length_m, PLACE_DIGITS), scale.length);
    return US_ERROR_INPUT;
}

static bool is_wet(int32_t *ties, int32_t water, int32_t unknown)
{
    return water >= 0 && usi_ties_find(ties, unknown) == usi_ties_find(ties, water);
}

/* Refuses soil that no water reaches: its head would be anything. */
us_status usi_reach_check(us_context *context, const usi_grid *grid, const usi_passages *passages,
                          const int32_t *places)
{
    int32_t *ties = usi_ties_begin(context, grid->unknowns);
    if (ties == NULL) {
        return US_ERROR_MEMORY;
    }
    int32_t water = tie_soil(grid, places, ties);
    tie_passages(passages, ties);
    us_status status = US_OK;
    for (size_t cell = 0; status == US_OK && cell < grid->rows * grid->columns; cell++) {
        if (grid->soil[cell] >= 0) {
            int32_t first =
                usi_grid_unknown(grid, cell % grid->columns, cell / grid->columns, USI_LOWER_LEFT);
            status = is_wet(ties, water, first) ? US_OK : report_dry(context, grid, cell);
        }
    }
    for (size_t t = 0; status == US_OK && t < grid->triangle_count; t++) {
        const usi_triangle *triangle = &grid->triangles[t];
        status = is_wet(ties, water, triangle->unknown[0])
                     ? US_OK
                     : report_dry(context, grid, triangle->cell);
    }
    free(ties);
    return status;
}
