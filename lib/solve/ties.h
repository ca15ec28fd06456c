/* Sets of things that hang together (disjoint sets with path halving). */
#ifndef USI_SOLVE_TIES_H
#define USI_SOLVE_TIES_H

#include <stdint.h>

#include "undersill/context.h"

/* `count` sets of one; the caller's, freed with free(). NULL when memory is short. */
int32_t *usi_ties_begin(us_context *context, size_t count);

/* The set that `item` belongs to, named by one of its members. */
int32_t usi_ties_find(int32_t *ties, int32_t item);

void usi_ties_join(int32_t *ties, int32_t a, int32_t b);

#endif
