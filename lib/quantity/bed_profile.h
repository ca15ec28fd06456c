/* How the exit gradient changes along the bed beside an exit. */
#ifndef USI_QUANTITY_BED_PROFILE_H
#define USI_QUANTITY_BED_PROFILE_H

#include "quantity/exit_gradient.h"

/* Fills the profile of `reading`, whose own gradient is there already. Between
 * nodes of the bed: the cubic through the four nearest of the gradients below them,
 * and again the slope of the cubic through the stream function there. */
void usi_bed_profile_read(const usi_field *field, const usi_exit *exit, usi_exit_reading *reading);

#endif
