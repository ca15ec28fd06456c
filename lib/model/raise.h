/* Zones that lie on a bed raise the soil surface. */
#ifndef USI_MODEL_RAISE_H
#define USI_MODEL_RAISE_H

#include "model/section.h"

/* Replaces a bed, between two x that may be infinite, by the top of what lies on
 * it without a gap: zones on the bed, and zones on those. What hangs over a gap
 * does not count. `*raised` says whether anything does. US_ERROR_MEMORY;
 * US_ERROR_INPUT, without a message, when the outlines cross too often. */
us_status usi_bed_raise(us_context *context, const us_section *section, usi_line *bed,
                        const double range_m[2], bool *raised);

#endif
