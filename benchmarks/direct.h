/* Direct methods on one matrix. */
#ifndef BENCHMARKS_DIRECT_H
#define BENCHMARKS_DIRECT_H

#include <cholmod.h>

#include "matrices.h"

/* What one run took. Times in seconds; of what a method does not have, 0. */
typedef struct run_figures {
    double assembly_s; /* from the list of links to a sparse matrix: no part of the total */
    double order_s;    /* and symbolic analysis */
    double numeric_s;
    double solve_s;
    double work_s;     /* of the processors, assembly included */
    double entries;    /* of the factor */
    double operations; /* of the factorisation */
    int iterations;
} run_figures;

double run_total(const run_figures *figures);

/* The library's own way. `values` has room for all unknowns. */
bool direct_ours(const bench_matrix *matrix, double *values, run_figures *figures);

/* CHOLMOD as it comes: its default ordering methods and threads. */
bool direct_shipped(const bench_matrix *matrix, double *values, run_figures *figures);

/* One ordering (CHOLMOD_AMD, CHOLMOD_METIS) and one kernel (CHOLMOD_SIMPLICIAL,
 * CHOLMOD_SUPERNODAL), on one thread as ours is. */
bool direct_ordered(const bench_matrix *matrix, int ordering, int kernel, double *values,
                    run_figures *figures);

#endif
