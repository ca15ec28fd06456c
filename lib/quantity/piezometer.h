/* Head at a point in the soil. */
#ifndef USI_QUANTITY_PIEZOMETER_H
#define USI_QUANTITY_PIEZOMETER_H

#include "quantity/wall_heads.h"

/* Reduced head at a point, bilinear between the nodes of its cell; on a wall
 * from the soil on the given side. */
usi_reduced usi_head_at(const usi_field *field, usi_point at, usi_face side);

#endif
