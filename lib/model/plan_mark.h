/* What acts on the edges of a plan: a situation laid over it. */
#ifndef USI_MODEL_PLAN_MARK_H
#define USI_MODEL_PLAN_MARK_H

#include "model/plan.h"

/* Parts edges where the marks of the section's situation begin and end, and tells each
 * edge its mark. The plan is freed by the caller, also after an error: US_ERROR_MEMORY. */
us_status usi_plan_mark(us_context *context, const us_section *section, usi_plan *plan);

/* Order of the edges in a plan, for qsort(): by a, then b. */
int usi_plan_edge_order(const void *a, const void *b);

#endif
