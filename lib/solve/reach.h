/* Soil that no water reaches. */
#ifndef USI_SOLVE_REACH_H
#define USI_SOLVE_REACH_H

#include "solve/passages.h"

/* US_ERROR_INPUT, reported, where soil hangs together with no water: its head would be
 * anything. `places` has USI_PLACE_NONE for each unknown that water does not hold. */
us_status usi_reach_check(us_context *context, const usi_grid *grid, const usi_passages *passages,
                          const int32_t *places);

#endif
