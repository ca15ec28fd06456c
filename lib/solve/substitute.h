/* Forward and back through a supernodal factor, in place: no memory is asked for. */
#ifndef USI_SOLVE_SUBSTITUTE_H
#define USI_SOLVE_SUBSTITUTE_H

#include <cholmod.h>

/* `values` are in the order of elimination; `room` is for factor->maxesize numbers. */
void usi_substitute_forward(const cholmod_factor *factor, double *values, double *room);
void usi_substitute_back(const cholmod_factor *factor, double *values, double *room);

#endif
