/* The end of a Cholesky factor: what the places eliminated last see of each other. */
#ifndef USI_SOLVE_TAIL_H
#define USI_SOLVE_TAIL_H

#include "solve/factor.h"

/* `rank` has one number for each row of the factor: its row in `lower`, or -1. Ranks grow with
 * the rows. `lower` is `count` by `count`, by rows, and zero before. */
void usi_tail_take(const usi_factor *factor, const int *rank, double *lower, size_t count);

#endif
