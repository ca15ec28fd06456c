/* Corrections that help each other, for matrices that rounding leaves no good factor of. */
#ifndef USI_SOLVE_DESCEND_H
#define USI_SOLVE_DESCEND_H

#include "solve/factor.h"

/* Goes on from `values`, the best that plain corrections gave, by conjugate gradients with
 * the factor as preconditioner; net inflow is summed link by link. `*change` becomes that of
 * the last step, over the largest value. US_ERROR_MEMORY. */
us_status usi_descend(us_context *context, usi_factor *factor, const double *load, double *values,
                      double *change);

#endif
