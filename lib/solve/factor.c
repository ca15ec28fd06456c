/* Sparse Cholesky: orders, factorises and solves by CHOLMOD. */
#include <cholmod.h>
#include <limits.h>
#include <math.h>

#include "base/context.h"
#include "base/memory.h"
#include "solve/problem.h"
#include "solve/threads.h"

/* Up to here minimum degree and the simplicial kernel are fastest. */
enum { SIMPLICIAL_LIMIT = 20000 };
/* Rounding leaves about 1e-15; far above that is a fault. */
static const double RESIDUAL_LIMIT = 1e-12;

static void configure(cholmod_common *common, size_t free_count)
{
    common->print = 0;
    common->nmethods = 1;
    common->method[0].ordering = CHOLMOD_AMD;
    common->postorder = 1;
    common->supernodal = free_count < SIMPLICIAL_LIMIT ? CHOLMOD_SIMPLICIAL : CHOLMOD_SUPERNODAL;
}

static us_status report_failure(us_context *context, const cholmod_common *common)
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

static void fill(const usi_problem *problem, cholmod_triplet *triplet, double *load)
{
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        int32_t ends[2] = {link->a, link->b};
        for (int e = 0; e < 2; e++) {
            if (ends[e] >= 0) {
                add_entry(triplet, ends[e], ends[e], link->conductance);
                if (ends[1 - e] == USI_PLACE_ONE) {
                    load[ends[e]] += link->conductance;
                }
            }
        }
        if (ends[0] >= 0 && ends[1] >= 0) {
            add_entry(triplet, ends[0], ends[1], -link->conductance);
        }
    }
}

static cholmod_sparse *assemble(const usi_problem *problem, double *load, cholmod_common *common)
{
    cholmod_triplet *triplet =
        cholmod_allocate_triplet(problem->free_count, problem->free_count, 3 * problem->link_count,
                                 -1, CHOLMOD_REAL, common);
    if (triplet == NULL) {
        return NULL;
    }
    fill(problem, triplet, load);
    cholmod_sparse *matrix = cholmod_triplet_to_sparse(triplet, triplet->nnz, common);
    cholmod_free_triplet(&triplet, common);
    return matrix;
}

static double largest(const double *x, size_t count)
{
    double most = 0.0;
    for (size_t i = 0; i < count; i++) {
        most = fabs(x[i]) > most || isnan(x[i]) ? fabs(x[i]) : most;
    }
    return most;
}

/* Largest |load - matrix * values| over the largest entry of the matrix: the
 * values themselves lie between 0 and 1. */
static double residual(cholmod_sparse *matrix, const cholmod_dense *load, cholmod_dense *values,
                       cholmod_common *common)
{
    double one[2] = {1.0, 0.0};
    double minus_one[2] = {-1.0, 0.0};
    cholmod_dense *rest = cholmod_copy_dense((cholmod_dense *)load, common);
    if (rest == NULL || !cholmod_sdmult(matrix, 0, minus_one, one, values, rest, common)) {
        cholmod_free_dense(&rest, common);
        return NAN;
    }
    double worst = largest(rest->x, load->nrow);
    cholmod_free_dense(&rest, common);
    return worst / largest(matrix->x, ((int *)matrix->p)[matrix->ncol]);
}

/* CHOLMOD cannot be stopped in the midst: the caller is heard before and after
 * each of its long calls. */
static us_status pulse(us_context *context, const cholmod_sparse *matrix, double fraction)
{
    return usi_context_pulse(context, "solving the equations", matrix->ncol, fraction);
}

static us_status factorise(us_context *context, cholmod_sparse *matrix, cholmod_factor **factor,
                           cholmod_common *common)
{
    us_status status = pulse(context, matrix, 0.0);
    if (status != US_OK) {
        return status;
    }
    *factor = cholmod_analyze(matrix, common);
    if (*factor == NULL) {
        return report_failure(context, common);
    }
    status = pulse(context, matrix, 0.2);
    if (status != US_OK) {
        return status;
    }
    if (!cholmod_factorize(matrix, *factor, common) || common->status != CHOLMOD_OK ||
        (*factor)->minor < (*factor)->n) {
        return report_failure(context, common);
    }
    return pulse(context, matrix, 0.9);
}

static us_status solve_matrix(us_context *context, cholmod_sparse *matrix, cholmod_dense *load,
                              double *values, cholmod_common *common)
{
    cholmod_factor *factor = NULL;
    us_status status = factorise(context, matrix, &factor, common);
    cholmod_dense *solution =
        status == US_OK ? cholmod_solve(CHOLMOD_A, factor, load, common) : NULL;
    if (status == US_OK && solution == NULL) {
        status = report_failure(context, common);
    }
    if (status == US_OK) {
        double rest = residual(matrix, load, solution, common);
        if (!(rest < RESIDUAL_LIMIT)) {
            usi_context_report(context, US_ERROR, NULL,
                               "look for conductivities or lengths many orders of magnitude apart",
                               "the equations were solved inaccurately: rounding has spoilt them");
            status = US_ERROR_NUMERICAL;
        }
        for (size_t i = 0; i < load->nrow; i++) {
            values[i] = ((double *)solution->x)[i];
        }
    }
    cholmod_free_dense(&solution, common);
    cholmod_free_factor(&factor, common);
    return status;
}

us_status usi_problem_solve(us_context *context, const usi_problem *problem, double *values)
{
    if (problem->free_count == 0) {
        return US_OK;
    }
    usi_threads threads = usi_threads_hold();
    cholmod_common common;
    (void)cholmod_start(&common);
    configure(&common, problem->free_count);
    us_status status = US_OK;
    cholmod_dense *load = cholmod_zeros(problem->free_count, 1, CHOLMOD_REAL, &common);
    cholmod_sparse *matrix = load != NULL ? assemble(problem, (double *)load->x, &common) : NULL;
    if (matrix == NULL) {
        status = report_failure(context, &common);
    } else {
        status = solve_matrix(context, matrix, load, values, &common);
    }
    cholmod_free_sparse(&matrix, &common);
    cholmod_free_dense(&load, &common);
    (void)cholmod_finish(&common);
    usi_threads_release(threads);
    return status;
}
