/* Where dry bed begins to let water out. */
#ifndef USI_SOLVE_SPLIT_H
#define USI_SOLVE_SPLIT_H

#include "solve/supply.h"

/* Lengths of dry bed, and the points between the two kinds. */
typedef struct usi_splits {
    double open_m;
    double closed_m;
    double doubt_m; /* how far off both may be, by the sides that the points lie on */
    size_t count;
    usi_point *points; /* free() */
} usi_splits;

/* Finds them from the gates as they are and from what flows out at each. Towards such a
 * point, a distance r away, the outflow falls like the root of r (with heads that go as
 * r^1.5, the smoothest that keep below the bed and pass no water in): its square is taken
 * as straight through the last two nodes whose whole share is open, which places the point
 * between grid lines. US_ERROR_MEMORY. */
us_status usi_splits_find(const usi_supply *supply, const double *gate_outflows,
                          usi_splits *splits);

#endif
