/* States of one wall or two from what the stitches of a seam see of each other. */
#ifndef BENCH_WALL_SWEEP_H
#define BENCH_WALL_SWEEP_H

#include <stdio.h>
#include <stdlib.h>

#include "solve/seam.h"

enum { SUMS_MOST = 16, STATES = 10000, DEFECTS_MOST = 40, LEAKS = 4 };

/* Ends the program where something went wrong: it is no test. */
#define need(condition)                                                                            \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            (void)fprintf(stderr, "line %d: %s\n", __LINE__, #condition);                          \
            exit(1);                                                                               \
        }                                                                                          \
    } while (false)

/* Zeros, at least one. */
void *wall_room(size_t count, size_t size);

/* One problem's seam, and sums of its values as the stitches see them, column by column. */
typedef struct side {
    usi_seam *seam;
    size_t count;
    double *gaps;
    size_t sum_count;
    double *seen; /* sum_count rows of `count` */
    double at_first[SUMS_MOST];
    size_t prism_count; /* sums of which each counts in one state alone: that of as many stitches */
    double *prisms;
    double *prisms_at_first;
} side;

/* Energy growth and sums for every leading set of stitches: `out` has 1 + sum_count rows of
 * count + 1. Prisms follow, one each, where there are any; `order` is as they lie then. */
void wall_sweep(const side *of, const size_t *order, double *out);

/* The same for every pair of leading sets of two walls: stitches [0, one) and [one, count) in
 * `order`. Gives a sum over all that was found, so that nothing is left out. */
double wall_sweep_pairs(const side *of, const size_t *order, size_t one);

/* Random states: from 1 to DEFECTS_MOST links anywhere along the wall without wall or leaky, in one
 * that is tight else or leaks evenly, by one of LEAKS conductances. */
double wall_try_defects(const side *of);

#endif
