/* Which gates are open: water comes out of the others' soil nowhere. */
#ifndef USI_SOLVE_ONE_WAY_H
#define USI_SOLVE_ONE_WAY_H

#include "solve/heads.h"

/* Opens and closes gates until head is at most the level at each closed one, and no water
 * enters by an open one: in finitely many steps, since heads only fall while gates close.
 * `heads` is made for the outcome, `*values` (the caller's) solves it. `*rounds` counts
 * solves. As usi_heads_make() and usi_heads_solve(); US_NOT_CONVERGED without a
 * diagnostic also when rounding keeps the gates from settling. */
us_status usi_one_way_solve(usi_supply *supply, usi_heads *heads, double **values, int *rounds);

/* Closes gates that let water in, opens those that hold it back, by a solution and what flows out
 * by terminals and gates; counts changes. */
size_t usi_one_way_change(usi_supply *supply, const usi_heads *heads, const double *values,
                          const double *outflows);

/* The whole way with heads that are made with gates, whichever are open to begin with. */
us_status usi_one_way_settle(usi_supply *supply, usi_heads *heads, double *values, double *outflows,
                             int *rounds);

#endif
