/* Forward and back through a factor in blocks, in place: no memory is asked for. */
#ifndef USI_SOLVE_SUBSTITUTE_H
#define USI_SOLVE_SUBSTITUTE_H

#include "solve/blocks.h"

/* `values` are in the order of elimination; `room` is for factor->most_rows numbers. */
void usi_substitute_forward(const usi_blocks *factor, double *values, double *room);
/* The same where only some blocks have values that are not zero, or get some: no others count. */
void usi_substitute_reach(const usi_blocks *factor, const bool *reached, double *values,
                          double *room);
void usi_substitute_back(const usi_blocks *factor, double *values, double *room);

#endif
