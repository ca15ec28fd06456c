/* A discrete problem: links between places, some of fixed value. */
#ifndef USI_SOLVE_PROBLEM_H
#define USI_SOLVE_PROBLEM_H

#include <stdbool.h>
#include <stdint.h>

#include "undersill/context.h"

/* What a place stands for when it is no free unknown. */
enum { USI_PLACE_ZERO = -1, USI_PLACE_ONE = -2, USI_PLACE_NONE = -3 };

typedef struct usi_link {
    int32_t a; /* free unknown, or USI_PLACE_ZERO or USI_PLACE_ONE, or one given: see below */
    int32_t b;
    double conductance;
} usi_link;

/* Where an unknown lies: the cells of soil that touch it, from first to end, which is not
 * one of them. An end of 0 says that none does. */
typedef struct usi_spot {
    int32_t first_column;
    int32_t end_column;
    int32_t first_row;
    int32_t end_row;
} usi_spot;

/* Minimise sum over links of conductance * (value at a - value at b)^2. Places from
 * `free_count` on are of given value: it stands behind the free ones. The first of them
 * are gates: each is of given value, or free, as solve/gated.h is told. */
typedef struct usi_problem {
    size_t free_count;
    size_t gate_count;
    size_t dense_from; /* unknowns from which on dense blocks are the faster */
    size_t link_count;
    size_t link_room;
    usi_link *links;
    usi_spot *spots; /* one a free place */
    bool placed;     /* spots are known: the order of elimination comes from them */
    /* Rows that are to come last in the factor, in this order: the caller's, none for NULL.
     * With gates, which are rows from free_count on, all of those have to be among them;
     * without a list the gates come last as they are numbered. */
    const int32_t *last;
    size_t last_count;
    bool leaky; /* links near a hard point could not be made exact */
} usi_problem;

/* Room for `room` links; free with usi_problem_free(). */
us_status usi_problem_begin(us_context *context, usi_problem *problem, size_t free_count,
                            size_t room);
void usi_problem_free(usi_problem *problem);

/* Adds a link; one between equal places has no effect. */
void usi_problem_link(usi_problem *problem, int32_t a, int32_t b, double conductance);

/* Notes that a cell of soil touches a place; no effect where that is not free. */
void usi_problem_touch(usi_problem *problem, int32_t place, size_t column, size_t row);

/* Solves; `values` has room for `free_count` numbers. US_NOT_CONVERGED,
 * without a diagnostic, when rounding spoils the matrix or the solution;
 * US_ERROR_NUMERICAL when CHOLMOD fails otherwise. */
us_status usi_problem_solve(us_context *context, const usi_problem *problem, double *values);

/* The same, and what the values lack for balance still, too little to be added to them: what
 * flows by both is known better. */
us_status usi_problem_solve_rest(us_context *context, const usi_problem *problem, double *values,
                                 double *rest);

/* The same in steps, for several solutions of one matrix. The problem stays until the
 * factor is freed. `load` is what flows into each free place from elsewhere, NULL for
 * none: then half the sum above less load * value is least. Behind the free ones `values`
 * has those that are given. */
typedef struct usi_factor usi_factor;
us_status usi_factor_make(us_context *context, const usi_problem *problem, usi_factor **factor);
us_status usi_factor_solve(us_context *context, usi_factor *factor, const double *load,
                           double *values);
us_status usi_factor_rest(us_context *context, usi_factor *factor, const double *values,
                          double *rest);
void usi_factor_free(usi_factor *factor);

/* The minimum, term by term: no cancellation. */
double usi_problem_energy(const usi_problem *problem, const double *values);

/* Of the links from `first` on. */
double usi_problem_energy_from(const usi_problem *problem, size_t first, const double *values);

static inline bool usi_problem_is_dense(const usi_problem *problem)
{
    return problem->free_count + problem->gate_count >= problem->dense_from;
}

/* Value of a place. */
static inline double usi_problem_value(const double *values, int32_t place)
{
    if (place >= 0) {
        return values[place];
    }
    return place == USI_PLACE_ONE ? 1.0 : 0.0;
}

#endif
