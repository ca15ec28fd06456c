/* What the ratio of level to upright conductivity does to the results. */
#ifndef USI_STUDY_ANISOTROPY_H
#define USI_STUDY_ANISOTROPY_H

#include "study/solution.h"

/* Solves the case with the largest head difference twice more, coarsely, with kh / kv of 4 and of
 * 10 in every soil and sqrt(kh kv) as it is, and adds a note with both beside the results that
 * are there. Where that cannot be solved there is none. */
us_status usi_anisotropy_note(us_context *context, us_solution *solution);

#endif
