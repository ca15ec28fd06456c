/* A state of the walls solved afresh on the same grid lines. */
#ifndef TESTS_AFRESH_H
#define TESTS_AFRESH_H

#include "support/support.h"

#include "wall/engine.h"

/* A copy of `grid` with the walls of a state, its unknowns numbered anew. Leaky pieces are
 * walls to it where `tight`, else no wall. Free it with usi_grid_free(). */
usi_grid *afresh_grid(us_context *context, const usi_grid *grid, const usi_segments *segments,
                      const double *pass_m_s, bool tight);

/* The field of a state: on `tight`, made by the function above. */
us_status afresh_solve(us_context *context, const usi_grid *tight, const usi_grid *loose,
                       const usi_segments *segments, const double *pass_m_s, usi_field **field);

/* How many gates were found closed, over all states so far. */
size_t afresh_gates_closed(void);

#endif
