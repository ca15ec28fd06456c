/* The numbers of a factor whose pattern CHOLMOD has found: front by front. CHOLMOD's own
 * kernel for blocks spends most of its time around them where they are as small as those of
 * a plane grid. */
#ifndef USI_SOLVE_FRONTS_H
#define USI_SOLVE_FRONTS_H

#include <cholmod.h>

#include "undersill/context.h"

/* Fills a supernodal factor, symbolic as yet, with the numbers of `matrix`: its lower part
 * by columns, both in the order of elimination. US_NOT_CONVERGED, without a diagnostic,
 * where it is not positive definite; US_ERROR_MEMORY, US_CANCELLED. */
us_status usi_fronts_factorise(us_context *context, const cholmod_sparse *matrix,
                               cholmod_factor *factor, cholmod_common *common);

#endif
