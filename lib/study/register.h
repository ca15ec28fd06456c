/* The register of checks: of each kind, the water case nearest to its limit. */
#ifndef USI_STUDY_REGISTER_H
#define USI_STUDY_REGISTER_H

#include "study/solution.h"

/* Fills the register of a solution that has its checks. */
us_status usi_register_fill(us_context *context, us_solution *solution);

#endif
