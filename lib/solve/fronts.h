/* The numbers of a factor in blocks: front by front. CHOLMOD's own kernel for blocks spends
 * most of its time around them where they are as small as those of a plane grid. */
#ifndef USI_SOLVE_FRONTS_H
#define USI_SOLVE_FRONTS_H

#include "solve/blocks.h"

/* Fills blocks with the numbers of the factor of `matrix`, from which they were found.
 * US_NOT_CONVERGED, without a diagnostic, where it is not positive definite; US_ERROR_MEMORY,
 * US_CANCELLED. */
us_status usi_fronts_factorise(us_context *context, const cholmod_sparse *matrix,
                               usi_blocks *blocks);

#endif
