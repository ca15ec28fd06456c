/* Which corners of soil share an unknown. */
#ifndef USI_GRID_UNKNOWNS_H
#define USI_GRID_UNKNOWNS_H

#include "grid/grid.h"

/* Numbers the unknowns of a grid whose cells, walls and triangles are known: soil
 * around a node that hangs together without crossing a wall shares one. */
us_status usi_unknowns_number(us_context *context, usi_grid *grid);

#endif
