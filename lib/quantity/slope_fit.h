/* Slope of scattered values. */
#ifndef USI_QUANTITY_SLOPE_FIT_H
#define USI_QUANTITY_SLOPE_FIT_H

#include <stddef.h>

enum { USI_SLOPE_POINTS = 12 }; /* at most */

/* Slope at `x` of the cubic that comes nearest to the values, by least squares; of a
 * lower degree where fewer places lie apart. `count` is 2 or more. */
double usi_slope_fit(const double *at, const double *values, size_t count, double x);

#endif
