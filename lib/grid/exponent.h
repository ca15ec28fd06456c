/* How smooth the head is at a node: the exponent of its local solution. */
#ifndef USI_GRID_EXPONENT_H
#define USI_GRID_EXPONENT_H

#include "grid/grid.h"

/* Near the node at `corner` of soil cell (i, j), inside the soil that hangs
 * together with that cell there, head varies as r^lambda. Returns the smallest
 * lambda in (0, 1), or 1 where the head is as smooth as the soil allows: then
 * gradients are finite. Leading term of the local eigenproblem of the Laplace
 * equation in quadrants of different conductivity, each mapped by
 * x -> x sqrt(kv/kh) (derived here; for a wall tip on an interface it is
 * (2/pi) atan sqrt(k_below / k_above)). */
double usi_exponent_at(const usi_grid *grid, size_t i, size_t j, usi_corner corner);

#endif
