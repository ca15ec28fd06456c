/* Sparse Cholesky: orders, factorises and solves by CHOLMOD. */
#include "solve/factor.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

#include "base/context.h"
#include "base/memory.h"
#include "solve/dissection.h"
#include "solve/threads.h"

static void configure(cholmod_common *common, const usi_problem *problem)
{
    bool dense = problem->free_count + problem->gate_count >= problem->dense_from;
    common->print = 0;
    common->nmethods = 1;
    common->supernodal = dense ? CHOLMOD_SUPERNODAL : CHOLMOD_SIMPLICIAL;
    common->final_ll = problem->gate_count + problem->last_count > 0 ? 1 : 0; /* for tail.c */
}

us_status usi_factor_report(us_context *context, const cholmod_common *common)
{
    if (common->status == CHOLMOD_OUT_OF_MEMORY || common->status == CHOLMOD_TOO_LARGE) {
        usi_context_report(context, US_ERROR, NULL, "ask for less accuracy (--accuracy)",
                           "out of memory while solving the equations");
        return US_ERROR_MEMORY;
    }
    usi_context_report(context, US_ERROR, NULL,
                       "please report the section file: the reader should have refused it",
                       "the equations have no unique solution (CHOLMOD status %d)", common->status);
    return US_ERROR_NUMERICAL;
}

static void add_entry(cholmod_triplet *triplet, int32_t row, int32_t column, double value)
{
    size_t k = triplet->nnz++;
    ((int *)triplet->i)[k] = row > column ? row : column;
    ((int *)triplet->j)[k] = row > column ? column : row;
    ((double *)triplet->x)[k] = value;
}

static bool has_row(const usi_problem *problem, int32_t place)
{
    return place >= 0 && (size_t)place < problem->free_count + problem->gate_count;
}

/* Gates hang on nothing but themselves once more as much as on their neighbours: soil that
 * gates alone hold heads in is no singular matrix then. */
static void fill(const usi_problem *problem, double *diagonal, cholmod_triplet *triplet)
{
    size_t rows = problem->free_count + problem->gate_count;
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        int32_t ends[2] = {link->a, link->b};
        for (int e = 0; e < 2; e++) {
            if (has_row(problem, ends[e])) {
                diagonal[ends[e]] += link->conductance;
            }
        }
        if (has_row(problem, ends[0]) && has_row(problem, ends[1])) {
            add_entry(triplet, ends[0], ends[1], -link->conductance);
        }
    }
    for (size_t i = 0; i < rows; i++) {
        add_entry(triplet, (int32_t)i, (int32_t)i,
                  i < problem->free_count ? diagonal[i] : 2.0 * diagonal[i]);
    }
}

static cholmod_sparse *assemble(const usi_problem *problem, double *diagonal,
                                cholmod_common *common)
{
    size_t rows = problem->free_count + problem->gate_count;
    cholmod_triplet *triplet =
        cholmod_allocate_triplet(rows, rows, rows + problem->link_count, -1, CHOLMOD_REAL, common);
    if (triplet == NULL) {
        return NULL;
    }
    fill(problem, diagonal, triplet);
    cholmod_sparse *matrix = cholmod_triplet_to_sparse(triplet, triplet->nnz, common);
    cholmod_free_triplet(&triplet, common);
    return matrix;
}

double usi_factor_largest(const double *values, size_t count)
{
    double most = 0.0;
    for (size_t i = 0; i < count; i++) {
        most = fabs(values[i]) > most || isnan(values[i]) ? fabs(values[i]) : most;
    }
    return most;
}

void usi_factor_net_inflow(const usi_problem *problem, const double *load, const double *values,
                           double *inflow)
{
    for (size_t i = 0; i < problem->free_count + problem->gate_count; i++) {
        inflow[i] = load != NULL && i < problem->free_count ? load[i] : 0.0;
    }
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        double flow = link->conductance *
                      (usi_problem_value(values, link->b) - usi_problem_value(values, link->a));
        if (has_row(problem, link->a)) {
            inflow[link->a] += flow;
        }
        if (has_row(problem, link->b)) {
            inflow[link->b] -= flow;
        }
    }
}

/* The solution, or NULL with the status set. CHOLMOD's own call for this takes two
 * pieces of workspace, looks at the outcome of the second only, and crashes when
 * it was the first that could not be had: so both are got here. */
cholmod_dense *usi_factor_substitute(usi_factor *factor, int part, cholmod_dense *load)
{
    cholmod_common *common = &factor->common;
    cholmod_factor *by = factor->cholmod;
    cholmod_dense *solution = NULL;
    cholmod_dense *ends = NULL;
    cholmod_dense *work = cholmod_allocate_dense(by->n, 1, by->n, CHOLMOD_REAL, common);
    if (work != NULL) {
        ends = cholmod_allocate_dense(by->maxesize, 1, by->maxesize, CHOLMOD_REAL, common);
    }
    if (ends != NULL &&
        !cholmod_solve2(part, by, load, NULL, &solution, NULL, &work, &ends, common)) {
        cholmod_free_dense(&solution, common);
    }
    cholmod_free_dense(&ends, common);
    cholmod_free_dense(&work, common);
    return solution;
}

/* Adds to `values` what balances the net inflow; gives the largest change, NaN
 * when memory is short. */
static double correct(usi_factor *factor, const double *load, double *values)
{
    size_t count = factor->problem->free_count;
    cholmod_dense *rest = cholmod_allocate_dense(count, 1, count, CHOLMOD_REAL, &factor->common);
    if (rest == NULL) {
        return NAN;
    }
    usi_factor_net_inflow(factor->problem, load, values, rest->x);
    cholmod_dense *change = usi_factor_substitute(factor, CHOLMOD_A, rest);
    cholmod_free_dense(&rest, &factor->common);
    if (change == NULL) {
        return NAN;
    }
    for (size_t i = 0; i < count; i++) {
        values[i] += ((double *)change->x)[i];
    }
    double most = usi_factor_largest(change->x, count);
    cholmod_free_dense(&change, &factor->common);
    return most;
}

/* CHOLMOD cannot be stopped in the midst: the caller is heard before and after
 * each of its long calls. */
static us_status pulse(us_context *context, const cholmod_sparse *matrix, double fraction)
{
    return usi_context_pulse(context, "solving the equations", matrix->ncol, fraction);
}

/* OpenBLAS, called with large blocks only, wants a buffer of 128 MiB; as long as it
 * cannot have it, it tries again and never returns. */
static us_status check_blas_memory(us_context *context, const cholmod_factor *factor)
{
    enum { BUFFER = 136 << 20 };
    size_t bytes = BUFFER + factor->xsize * sizeof(double);
    return factor->is_super ? usi_memory_afford(context, bytes) : US_OK;
}

/* Minimum degree, for problems that are taken from no grid; what is to come last does,
 * so that the end of the factor is what these rows see of each other. */
static us_status order_by_degree(us_context *context, const usi_problem *problem,
                                 cholmod_sparse *matrix, int *order, cholmod_common *common)
{
    int *groups = usi_memory_array(context, matrix->nrow, sizeof *groups);
    if (groups == NULL) {
        return US_ERROR_MEMORY;
    }
    for (size_t g = 0; g < problem->gate_count; g++) {
        groups[problem->free_count + g] = 1;
    }
    for (size_t k = 0; k < problem->last_count; k++) {
        groups[problem->last[k]] = 1;
    }
    bool done = cholmod_camd(matrix, NULL, 0, groups, order, common) != 0;
    free(groups);
    size_t first = matrix->nrow - problem->last_count;
    for (size_t k = 0; done && k < problem->last_count; k++) {
        order[first + k] = problem->last[k];
    }
    return done ? US_OK : usi_factor_report(context, common);
}

/* CHOLMOD may go through subtrees in another order, but not where an order is given for
 * the rows that come last. */
static us_status analyse(us_context *context, const usi_problem *problem, cholmod_sparse *matrix,
                         cholmod_factor **factor, cholmod_common *common)
{
    int *order = usi_memory_array(context, matrix->nrow, sizeof *order);
    if (order == NULL) {
        return US_ERROR_MEMORY;
    }
    us_status status = problem->placed ? usi_dissection_order(context, problem, order)
                                       : order_by_degree(context, problem, matrix, order, common);
    if (status == US_OK) {
        common->postorder = problem->last_count > 0 ? 0 : 1;
        common->method[0].ordering = CHOLMOD_GIVEN;
        *factor = cholmod_analyze_p(matrix, order, NULL, 0, common);
        status = *factor != NULL ? US_OK : usi_factor_report(context, common);
    }
    free(order);
    return status;
}

static us_status factorise(us_context *context, const usi_problem *problem, cholmod_sparse *matrix,
                           cholmod_factor **factor, cholmod_common *common)
{
    us_status status = pulse(context, matrix, 0.0);
    if (status != US_OK) {
        return status;
    }
    status = analyse(context, problem, matrix, factor, common);
    if (status == US_OK) {
        status = pulse(context, matrix, 0.2);
    }
    if (status != US_OK) {
        return status;
    }
    status = check_blas_memory(context, *factor);
    if (status != US_OK) {
        return status;
    }
    bool done = cholmod_factorize(matrix, *factor, common) != 0;
    /* Every soil hangs on some water, so the matrix is positive definite but for
     * rounding. */
    if (common->status == CHOLMOD_NOT_POSDEF || (done && (*factor)->minor < (*factor)->n)) {
        return US_NOT_CONVERGED;
    }
    if (!done || common->status != CHOLMOD_OK) {
        return usi_factor_report(context, common);
    }
    return pulse(context, matrix, 0.9);
}

us_status usi_factor_make(us_context *context, const usi_problem *problem, usi_factor **factor)
{
    usi_factor *made = usi_memory_array(context, 1, sizeof *made);
    if (made == NULL) {
        return US_ERROR_MEMORY;
    }
    made->problem = problem;
    made->rows = problem->free_count + problem->gate_count;
    (void)cholmod_start(&made->common);
    us_status status = US_OK;
    if (made->rows > 0) {
        usi_threads threads = usi_threads_hold();
        configure(&made->common, problem);
        double *diagonal = usi_memory_array(context, made->rows, sizeof *diagonal);
        cholmod_sparse *matrix =
            diagonal != NULL ? assemble(problem, diagonal, &made->common) : NULL;
        if (matrix != NULL) {
            status = factorise(context, problem, matrix, &made->cholmod, &made->common);
        } else {
            status = diagonal != NULL ? usi_factor_report(context, &made->common) : US_ERROR_MEMORY;
        }
        cholmod_free_sparse(&matrix, &made->common);
        free(diagonal);
        usi_threads_release(threads);
    }
    if (status == US_OK) {
        *factor = made;
    } else {
        usi_factor_free(made);
    }
    return status;
}

/* Solves by corrections from zero: the first is the solution, the second mends
 * what rounding took from it. */
us_status usi_factor_solve(us_context *context, usi_factor *factor, const double *load,
                           double *values)
{
    if (factor->problem->free_count == 0) {
        return US_OK;
    }
    usi_threads threads = usi_threads_hold();
    for (size_t i = 0; i < factor->problem->free_count; i++) {
        values[i] = 0.0;
    }
    double change = HUGE_VAL;
    for (int round = 0; round < USI_FACTOR_CORRECTIONS && change > USI_FACTOR_SETTLED; round++) {
        change = correct(factor, load, values) /
                 fmax(1.0, usi_factor_largest(values, factor->problem->free_count));
    }
    usi_threads_release(threads);
    if (factor->common.status != CHOLMOD_OK) {
        return usi_factor_report(context, &factor->common);
    }
    return change < USI_FACTOR_UNSETTLED ? US_OK : US_NOT_CONVERGED;
}

void usi_factor_free(usi_factor *factor)
{
    if (factor != NULL) {
        cholmod_free_factor(&factor->cholmod, &factor->common);
        (void)cholmod_finish(&factor->common);
        free(factor);
    }
}

us_status usi_problem_solve(us_context *context, const usi_problem *problem, double *values)
{
    usi_factor *factor = NULL;
    us_status status = usi_factor_make(context, problem, &factor);
    if (status == US_OK) {
        status = usi_factor_solve(context, factor, NULL, values);
    }
    usi_factor_free(factor);
    return status;
}
