/* How far endless soil is followed before it is cut. */
#ifndef USI_GRID_REACH_H
#define USI_GRID_REACH_H

#include "model/section.h"

typedef struct usi_reach {
    double left_m; /* x of the left edge of the grid */
    double right_m;
    double floor_m;    /* lowest level of the grid: the base, or where depth is cut */
    double truncation; /* relative effect of the cuts on heads near the structure */
} usi_reach;

/* Smallest positive mu of (kv f')' + mu^2 kh f = 0 with f = 0 at `bed_m` and
 * kv f' = 0 at `floor_m`, through the layers of the left or right end: seepage into endless soil
 * dies out as exp(-mu x). */
double usi_reach_decay(const us_section *section, double bed_m, double floor_m, bool right);

/* `truncation` is what cutting may cost at most; the usual, for 0 and for more,
 * is about 1e-5. */
usi_reach usi_reach_find(const us_section *section, double truncation);

#endif
