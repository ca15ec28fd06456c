/* How the exit gradient changes along the bed beside an exit. */
#ifndef USI_QUANTITY_BED_PROFILE_H
#define USI_QUANTITY_BED_PROFILE_H

#include "quantity/bed.h"

/* Fills the profiles of all exits, whose own gradients are read already. A point that
 * lies near an unbounded gradient, other than its exit's own, is not known. */
void usi_bed_profile_read(const usi_bed *bed, const usi_exit *exits, usi_exit_reading *readings,
                          size_t count);

#endif
