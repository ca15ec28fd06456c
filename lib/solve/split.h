/* Where dry bed begins to let water out. */
#ifndef USI_SOLVE_SPLIT_H
#define USI_SOLVE_SPLIT_H

#include "solve/supply.h"

/* Lengths of dry bed, and the points between the two kinds. */
typedef struct usi_splits {
    double open_m;
    double closed_m;
    double doubt_m; /* how far off both may be, by the lengths that the points are told by */
    size_t count;
    usi_point *points; /* free() */
} usi_splits;

/* Finds them from the gates as they are and from reduced heads, one an unknown. A distance
 * r beyond such a point head lies below the bed by r^1.5 (the smoothest that keeps below
 * it and lets no water in): that to the power of 2/3 is taken as straight through the
 * second and third node, which places the point between grid lines. US_ERROR_MEMORY. */
us_status usi_splits_find(const usi_supply *supply, const double *reduced, usi_splits *splits);

#endif
