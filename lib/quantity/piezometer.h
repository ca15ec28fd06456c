/* Head at a point in the soil. */
#ifndef USI_QUANTITY_PIEZOMETER_H
#define USI_QUANTITY_PIEZOMETER_H

#include "quantity/wall_heads.h"

/* Reduced head at a point, bilinear between the nodes of its cell; on a wall
 * from the soil on the given side. */
usi_reduced usi_head_at(const usi_field *field, usi_point at, usi_face side);

/* Mean reduced head along a level piece of the whole cell (i, j), from span[0] to span[1] of its
 * width, at the share `t` of its height. */
double usi_head_along(const usi_field *field, size_t i, size_t j, const double span[2], double t);

#endif
