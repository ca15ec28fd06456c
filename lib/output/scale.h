/* Results in the section file's own units. */
#ifndef USI_OUTPUT_SCALE_H
#define USI_OUTPUT_SCALE_H

#include "model/scale.h"
#include "undersill/solution.h"

/* A value given in SI as one in units of `unit` SI; absent stays absent. */
us_value usi_scale_value(us_value value, double unit);

#endif
