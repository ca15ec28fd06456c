/* Results against the user's own limits. */
#ifndef USI_STUDY_CHECKS_H
#define USI_STUDY_CHECKS_H

#include "study/solution.h"

/* Adds the checks to all water cases of a solution whose other results are there, and to their
 * variants. */
us_status usi_checks_fill(us_context *context, us_solution *solution);

#endif
