/* What would bound an exit gradient that is unbounded. */
#ifndef USI_STUDY_ADVICE_H
#define USI_STUDY_ADVICE_H

#include "study/nest.h"
#include "study/solution.h"

/* Where the governing exit is unbounded: solves the section once more with a
 * cut-off there, as deep as the mean is taken over, and puts the largest gradient
 * then into the results. At a step in the bed the cut-off holds the step as well.
 * Where that has no bounded answer either, the results say nothing.
 *
 * No formula would do: those in print hold for one soil without a base. */
us_status usi_advice_fill(us_context *context, const usi_nest *nest, us_solution *solution);

#endif
