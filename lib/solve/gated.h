/* A problem with gates, factorised once for any of them open. */
#ifndef USI_SOLVE_GATED_H
#define USI_SOLVE_GATED_H

#include "solve/problem.h"

/* What gates see of each other and of the given values, all free places left out. */
typedef struct usi_gated usi_gated;

/* As usi_factor_make(); the problem stays until usi_gated_free(). */
us_status usi_gated_make(us_context *context, const usi_problem *problem, usi_gated **made);
void usi_gated_free(usi_gated *gated);

/* `open` gates have the value that stands behind the free ones, others are free.
 * usi_gated_look() finds values of these and what flows out by the open ones (0 by the
 * others), quickly but to the rounding of one elimination; usi_gated_solve() finds all
 * values. As usi_factor_solve(). */
us_status usi_gated_look(us_context *context, usi_gated *gated, const bool *open, double *values,
                         double *outflows);
us_status usi_gated_solve(us_context *context, usi_gated *gated, const bool *open, double *values);

/* What `values` still lack for balance, too little to be added to them: what flows by them
 * and by `rest`, one a row, is known better than what flows by them alone. */
us_status usi_gated_rest(us_context *context, usi_gated *gated, const bool *open,
                         const double *values, double *rest);

#endif
