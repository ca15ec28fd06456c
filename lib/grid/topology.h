/* From lines to cells: soil, walls and unknowns. */
#ifndef USI_GRID_TOPOLOGY_H
#define USI_GRID_TOPOLOGY_H

#include "grid/grid.h"
#include "model/plan.h"

/* Lines of a grid, growing. */
typedef struct usi_lines {
    double *x_m;
    size_t x_count;
    double *z_m;
    size_t z_count;
} usi_lines;

/* A grid on the given lines (at least two each way), which it takes over, also
 * on failure. The lines must include every vertex of the plan. */
us_status usi_topology_build(us_context *context, const us_section *section, const usi_plan *plan,
                             bool sealed, usi_lines *lines, usi_grid **grid);

#endif
