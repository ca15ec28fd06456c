/* The matrices that methods are compared on: the head problem of a section, with the library's own
 * grid and links. */
#ifndef BENCHMARKS_MATRICES_H
#define BENCHMARKS_MATRICES_H

#include "solve/problem.h"

/* Where the unknowns lie: a lattice of places, row by row from below. A grid line that has a wall
 * somewhere has two columns, one for each face. An unknown lies at one place, or, on such a line
 * where no wall parts it, at two beside each other. */
typedef struct lattice {
    size_t columns;
    size_t rows;
    int32_t *left;  /* of each unknown: its place, or the left one of two */
    int32_t *right; /* the same place, or the right one of two */
} lattice;

typedef struct bench_matrix {
    usi_problem problem;
    lattice on;
} bench_matrix;

/* The matrix of the head problem of a section file, with about `unknowns` unknowns. False, after
 * a line on stderr, when there is none. */
bool bench_matrix_make(const char *section, double unknowns, bench_matrix *made);
void bench_matrix_free(bench_matrix *matrix);

#endif
