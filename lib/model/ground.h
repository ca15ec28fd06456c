/* Water cases with beds of their own. */
#ifndef USI_MODEL_GROUND_H
#define USI_MODEL_GROUND_H

#include "model/raw.h"

/* Gives each water case of `whole` that has beds of its own its ground, or what is
 * undermined in it. US_ERROR_INPUT after reporting what is wrong with such beds;
 * US_ERROR_MEMORY. */
us_status usi_ground_lay(us_context *context, const usi_raw_section *raw, us_section *whole);

#endif
