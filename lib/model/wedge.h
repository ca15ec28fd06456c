/* How the gradient grows towards an exit: from the angle of the soil there and
 * from what its two sides are. One of them is always bed under fixed head. */
#ifndef USI_MODEL_WEDGE_H
#define USI_MODEL_WEDGE_H

#include <stdbool.h>

typedef enum usi_wedge_side {
    USI_WEDGE_CLOSED, /* structure or tight wall: no flow */
    USI_WEDGE_LEAKY,  /* a wall that passes water in proportion to the heads on its faces */
    USI_WEDGE_BED     /* bed of the same head: a vertex of the bed */
} usi_wedge_side;

typedef struct usi_wedge {
    usi_wedge_side side; /* opposite the bed */
    /* Angle of the soil, in a plane where x is mapped by x sqrt(kv / kh): there the
     * soil is isotropic. */
    double angle_rad;
    double drawn_rad; /* the same as drawn */
} usi_wedge;

typedef enum usi_growth_kind {
    USI_GROWTH_NONE,   /* the gradient falls to zero towards the point */
    USI_GROWTH_FINITE, /* it has a value there */
    USI_GROWTH_LOG,    /* it grows like log(1/r), without bound */
    USI_GROWTH_POWER   /* it grows like r^power, without bound */
} usi_growth_kind;

typedef struct usi_growth {
    usi_growth_kind kind;
    double power; /* gradient ~ r^power: below 0 for USI_GROWTH_POWER; else 0 or above */
} usi_growth;

/* Leading terms of Laplace's equation in a wedge: between fixed head and no flow
 * the head varies as r^(pi/2w), between two of fixed head as r^(pi/w). A leaky side
 * adds a given flow through it, which at a right angle has no solution in powers of
 * r, only one in r log r (derived here; pi/2w in every text on corner flow). A
 * vertex of the bed that turns by under 20 degrees counts as part of a drawn curve:
 * finite. */
usi_growth usi_wedge_growth(const usi_wedge *wedge);

bool usi_growth_is_bounded(usi_growth growth);

/* The soil between the direction of a bed, pointing away from the exit, and that of
 * the other side, pointing away too; `right` when the bed leaves to the right.
 * `stretch` is sqrt(kv / kh). */
typedef struct usi_ray {
    double dx_m;
    double dz_m;
} usi_ray;
usi_wedge usi_wedge_between(usi_ray bed, usi_ray other, bool right, double stretch);

#endif
