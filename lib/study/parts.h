/* A section in parts: water cases that one field serves are solved together, others one
 * by one. */
#ifndef USI_STUDY_PARTS_H
#define USI_STUDY_PARTS_H

#include "study/solution.h"

/* Fills a solution that has its section and accuracy. As us_section_solve(), but US_OK also
 * where a part has not converged: the grid says so. */
us_status usi_parts_solve(us_context *context, const us_section *section, us_solution *solution);

#endif
