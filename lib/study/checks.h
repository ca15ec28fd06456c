/* Results against the user's own limits. */
#ifndef USI_STUDY_CHECKS_H
#define USI_STUDY_CHECKS_H

#include "model/section.h"
#include "undersill/solution.h"

/* Fills the checks of a water case whose other results are there. */
us_status usi_checks_fill(us_context *context, const us_section *section, us_water_result *result);

#endif
