/* The smooth runs of a bed. */
#ifndef USI_QUANTITY_BED_RUNS_H
#define USI_QUANTITY_BED_RUNS_H

#include "quantity/bed.h"

/* Splits the sides of `bed`, which are there already, into runs, and fills `along_m`.
 * US_ERROR_MEMORY. */
us_status usi_bed_split(us_context *context, const usi_exit *exits,
                        const usi_exit_reading *readings, size_t exit_count, usi_bed *bed);

/* Fills `passed`, unless all sides are of whole cells. US_ERROR_MEMORY. */
us_status usi_bed_pass(us_context *context, usi_bed *bed);

#endif
