/* The reference that a direct method has to stand beside: conjugate gradients, preconditioned by
 * one multigrid cycle on the lattice of the grid.
 *
 * Coarse lattices have every second line. A coarse link is two fine ones in a row, and those of
 * the line left out beside it in parallel; values between are interpolated by the links round them.
 * So walls, voids and jumps of conductivity are seen on every level, and every level is a network
 * of links of one sign. Graded lines make links strong along either direction, so whole lines are
 * relaxed, in both directions, every second one at a time. What lies at two places is held together
 * by a stiff link between them, in the preconditioner alone. (Textbook parts; put together for this
 * comparison.)
 *
 * Beside a tip cells are a millionth as wide as high, and links differ by a million million: what
 * is weak would drown in a diagonal, so none is kept, and nothing is found as the difference of
 * large numbers. Coarse matrices of nine points, as exact interpolation gives them, were tried
 * first: they need such differences, and took ever more iterations from 1e5 unknowns on. */
#ifndef BENCHMARKS_MULTIGRID_H
#define BENCHMARKS_MULTIGRID_H

#include "matrices.h"

enum { LEVELS_MOST = 16 };

/* One lattice. */
typedef struct mg_level {
    size_t columns;
    size_t rows;
    double *hold;    /* links with what is fixed, 0 or more */
    double *east;    /* the link with the place on the right */
    double *north;   /* with that above */
    double *along;   /* reciprocals of the pivots of level lines */
    double *up;      /* and of upright ones */
    double *weights; /* 4 a place: of its parents on the coarser level */
    double *load;
    double *value;
    double *rest;
} mg_level;

typedef struct multigrid {
    int count;
    mg_level levels[LEVELS_MOST]; /* from the finest */
    double *band;                 /* Cholesky factor of the coarsest, row by row */
} multigrid;

/* False when memory is short. Free it in any case. */
bool mg_make(const bench_matrix *matrix, multigrid *made);
void mg_free(multigrid *made);

/* One cycle from zero: levels[0].load in, levels[0].value out. */
void mg_cycle(const multigrid *by);

/* The coarsest level, directly. */
bool mg_band_make(multigrid *of);
void mg_band_solve(const multigrid *of);

typedef struct mg_outcome {
    double set_up_s;
    double solve_s;
    int iterations;
    double residual; /* relative */
} mg_outcome;

/* Solves to a relative residual of 1e-10; `values` has room for all unknowns. */
bool mg_solve(const bench_matrix *matrix, double *values, mg_outcome *outcome);

#endif
