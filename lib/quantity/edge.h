/* Values node by node along an edge of the soil: the downstream bed, the underside. */
#ifndef USI_QUANTITY_EDGE_H
#define USI_QUANTITY_EDGE_H

#include "solve/field.h"

typedef struct usi_edge_point {
    double x_m;
    double level_m;
    double value;
    int soil; /* right below */
} usi_edge_point;

/* Each fills `points`, which has room for two a column of the grid, from left to
 * right, and gives their number. Where value, level or soil jump (at a wall, at
 * a step) two points lie at one x. */

/* Upward gradient along the downstream bed per unit head difference. Close to an
 * unbounded exit the values say more of the grid than of the soil. */
size_t usi_edge_bed(const usi_field *field, usi_edge_point *points);

/* Reduced head along the underside. */
size_t usi_edge_underside(const usi_field *field, usi_edge_point *points);

#endif
