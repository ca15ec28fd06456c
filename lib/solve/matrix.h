/* The matrix of a problem, in the order of elimination from the first. */
#ifndef USI_SOLVE_MATRIX_H
#define USI_SOLVE_MATRIX_H

#include <cholmod.h>

#include "solve/problem.h"

/* Which half of the matrix is kept, by columns. */
typedef enum usi_half { USI_HALF_LOWER = -1, USI_HALF_UPPER = 1 } usi_half;

/* Puts the matrix together: row k is the one that `order` has k-th. Columns have room for
 * more entries than they have, each of which is there once. US_OK, or as
 * usi_factor_report() says. Free with cholmod_free_sparse(). */
us_status usi_matrix_assemble(us_context *context, const usi_problem *problem, const int32_t *order,
                              usi_half half, cholmod_common *common, cholmod_sparse **made);

#endif
