/* A factorised problem from within: for factor.c and gated.c alone. */
#ifndef USI_SOLVE_FACTOR_H
#define USI_SOLVE_FACTOR_H

#include <cholmod.h>

#include "solve/blocks.h"
#include "solve/problem.h"

/* Corrections go on until no value would change by more than USI_FACTOR_SETTLED of the
 * largest one (or of 1, which is more for reduced heads), each being to the one before as that
 * was to its own; and have failed when the last still changes one by USI_FACTOR_UNSETTLED of it. */
#define USI_FACTOR_SETTLED 1e-14
#define USI_FACTOR_UNSETTLED 1e-7
enum { USI_FACTOR_CORRECTIONS = 12 };

/* Whether one more correction is worth it, after `round` of them: `change` is that of the
 * last, `before` that of the one before. */
bool usi_factor_goes_on(int round, double before, double change);

struct usi_factor {
    const usi_problem *problem;
    size_t rows;    /* of the matrix: free places, then gates */
    int32_t *order; /* the row that is eliminated k-th */
    cholmod_common common;
    cholmod_factor *cholmod; /* of small problems; NULL: it comes in blocks */
    usi_blocks blocks;
    /* Room that stays from one solution to the next. */
    cholmod_dense *load; /* what is solved for, the caller fills it */
    cholmod_dense *solution;
    cholmod_dense *work;
    cholmod_dense *ends;
};

/* Solves for `factor->load` with a part of the factor (CHOLMOD_A, CHOLMOD_L or CHOLMOD_Lt)
 * and gives the solution, which is there until the next; NULL with the status set when
 * memory is short. */
const double *usi_factor_substitute(usi_factor *factor, int part);

/* Net flow into each free place and each gate, link by link: what one unknown gains by
 * rounding its neighbour loses, so that stiff links between close lines cannot drown the
 * weak ones across them, as they do in the entries of the matrix. */
void usi_factor_net_inflow(const usi_problem *problem, const double *load, const double *values,
                           double *inflow);

us_status usi_factor_report(us_context *context, const cholmod_common *common);

double usi_factor_largest(const double *values, size_t count);

#endif
