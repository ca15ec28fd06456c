/* The range of the conductivities of a section, by which problems are scaled. */
#ifndef USI_SOLVE_CONDUCTIVITY_RANGE_H
#define USI_SOLVE_CONDUCTIVITY_RANGE_H

#include "model/section.h"

/* Over layers, kh and kv. */
double usi_conductivity_largest(const us_section *section);
double usi_conductivity_smallest(const us_section *section);

#endif
