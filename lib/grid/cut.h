/* Cells that sloping edges of the section cut: pieces of them, as triangles. */
#ifndef USI_GRID_CUT_H
#define USI_GRID_CUT_H

#include "grid/grid.h"
#include "model/plan.h"

/* What an edge of the plan is to the soil beside it. */
usi_border usi_cut_border(const us_section *section, const usi_plan *plan, const usi_edge *edge);

/* Cuts the cells of a grid whose lines pass through every vertex of the plan: fills
 * its extra places and its triangles, and marks the cells. Corners have no unknowns
 * yet. US_ERROR_MEMORY. */
us_status usi_cut_cells(us_context *context, const usi_plan *plan, usi_grid *grid);

#endif
