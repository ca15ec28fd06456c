/* Sparse Cholesky: orders, factorises and solves by CHOLMOD. */
#include "solve/factor.h"

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/context.h"
#include "base/memory.h"
#include "solve/descend.h"
#include "solve/dissection.h"
#include "solve/fronts.h"
#include "solve/matrix.h"
#include "solve/room.h"
#include "solve/substitute.h"

static void configure(cholmod_common *common, const usi_problem *problem)
{
    common->print = 0;
    common->nmethods = 1;
    common->method[0].ordering = CHOLMOD_NATURAL;
    common->postorder = 0;
    common->supernodal = CHOLMOD_SIMPLICIAL;
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

double usi_factor_largest(const double *values, size_t count)
{
    double most = 0.0;
    for (size_t i = 0; i < count; i++) {
        most = fabs(values[i]) > most || isnan(values[i]) ? fabs(values[i]) : most;
    }
    return most;
}

static bool has_row(int32_t place, size_t rows)
{
    return place >= 0 && (size_t)place < rows;
}

void usi_factor_net_inflow(const usi_problem *problem, const double *load, const double *values,
                           double *inflow)
{
    size_t rows = problem->free_count + problem->gate_count;
    for (size_t i = 0; i < rows; i++) {
        inflow[i] = load != NULL && i < problem->free_count ? load[i] : 0.0;
    }
    for (size_t k = 0; k < problem->link_count; k++) {
        const usi_link link = problem->links[k];
        if (has_row(link.a, rows) && has_row(link.b, rows)) { /* nearly all */
            double flow = link.conductance * (values[link.b] - values[link.a]);
            inflow[link.a] += flow;
            inflow[link.b] -= flow;
            continue;
        }
        double flow = link.conductance *
                      (usi_problem_value(values, link.b) - usi_problem_value(values, link.a));
        if (has_row(link.a, rows)) {
            inflow[link.a] += flow;
        }
        if (has_row(link.b, rows)) {
            inflow[link.b] -= flow;
        }
    }
}

/* CHOLMOD's own call for this takes two pieces of workspace, looks at the outcome of the
 * second only, and crashes when it was the first that could not be had: so both are got
 * here, once for all solutions. */
static us_status make_room(us_context *context, usi_factor *factor)
{
    cholmod_common *common = &factor->common;
    size_t rows = factor->rows;
    size_t ends = factor->cholmod != NULL ? factor->cholmod->maxesize : factor->blocks.most_rows;
    factor->load = cholmod_allocate_dense(rows, 1, rows, CHOLMOD_REAL, common);
    if (factor->load != NULL) {
        factor->solution = cholmod_allocate_dense(rows, 1, rows, CHOLMOD_REAL, common);
    }
    if (factor->solution != NULL) {
        factor->work = cholmod_allocate_dense(rows, 1, rows, CHOLMOD_REAL, common);
    }
    if (factor->work != NULL) {
        factor->ends = cholmod_allocate_dense(ends, 1, ends, CHOLMOD_REAL, common);
    }
    return factor->ends != NULL ? US_OK : usi_factor_report(context, common);
}

static void substitute_blocks(usi_factor *factor, int part)
{
    const usi_blocks *by = &factor->blocks;
    const int32_t *order = factor->order;
    const double *load = factor->load->x;
    double *solution = factor->solution->x;
    double *work = part == CHOLMOD_A ? factor->work->x : solution;
    for (size_t row = 0; row < factor->rows; row++) {
        work[row] = load[part == CHOLMOD_A ? (size_t)order[row] : row];
    }
    if (part != CHOLMOD_Lt) {
        usi_substitute_forward(by, work, factor->ends->x);
    }
    if (part != CHOLMOD_L) {
        usi_substitute_back(by, work, factor->ends->x);
    }
    for (size_t row = 0; part == CHOLMOD_A && row < factor->rows; row++) {
        solution[order[row]] = work[row];
    }
}

const double *usi_factor_substitute(usi_factor *factor, int part)
{
    if (factor->cholmod == NULL) {
        substitute_blocks(factor, part);
    } else if (!cholmod_solve2(part, factor->cholmod, factor->load, NULL, &factor->solution, NULL,
                               &factor->work, &factor->ends, &factor->common)) {
        return NULL;
    }
    return factor->solution->x;
}

/* Adds to `values` what balances the net inflow; gives the largest change over the largest
 * value, NaN when memory is short. */
static double correct(usi_factor *factor, const double *load, double *values)
{
    usi_factor_net_inflow(factor->problem, load, values, factor->load->x);
    const double *change = usi_factor_substitute(factor, CHOLMOD_A);
    if (change == NULL) {
        return NAN;
    }
    double most_change = 0.0;
    double most = 1.0;
    double sum = 0.0; /* is no number where a change is none, which comparing overlooks */
    for (size_t i = 0; i < factor->problem->free_count; i++) {
        values[i] += change[i];
        sum += change[i];
        most_change = fabs(change[i]) > most_change ? fabs(change[i]) : most_change;
        most = fabs(values[i]) > most ? fabs(values[i]) : most;
    }
    return isnan(sum) ? (double)NAN : most_change / most;
}

/* CHOLMOD cannot be stopped in the midst: the caller is heard before and after
 * each of its long calls. */
static us_status pulse(us_context *context, const usi_factor *factor, double fraction)
{
    return usi_context_pulse_equations(context, factor->rows,
                                       usi_room_expect(context, factor->rows), fraction);
}

/* Minimum degree, for problems that are taken from no grid; what is to come last does,
 * so that the end of the factor is what these rows see of each other. */
static us_status order_by_degree(us_context *context, usi_factor *factor, int32_t *order,
                                 bool *starts)
{
    const usi_problem *problem = factor->problem;
    cholmod_sparse *matrix = NULL;
    int *groups = usi_memory_array(context, factor->rows, sizeof *groups);
    for (size_t row = 0; groups != NULL && row < factor->rows; row++) {
        order[row] = (int32_t)row;
        starts[row] = true;
        groups[row] = row < problem->free_count ? 0 : 1;
    }
    for (size_t k = 0; groups != NULL && k < problem->last_count; k++) {
        groups[problem->last[k]] = 1;
    }
    us_status status = US_ERROR_MEMORY;
    if (groups != NULL) {
        status =
            usi_matrix_assemble(context, problem, order, USI_HALF_UPPER, &factor->common, &matrix);
    }
    if (status == US_OK && !cholmod_camd(matrix, NULL, 0, groups, order, &factor->common)) {
        status = usi_factor_report(context, &factor->common);
    }
    for (size_t k = 0; status == US_OK && k < problem->last_count; k++) {
        order[factor->rows - problem->last_count + k] = problem->last[k];
    }
    cholmod_free_sparse(&matrix, &factor->common);
    free(groups);
    return status;
}

/* The pattern of the factor, then its numbers: the matrix comes in the order of elimination,
 * so that CHOLMOD has none to find. */
static us_status factorise(us_context *context, usi_factor *factor, cholmod_sparse *matrix)
{
    cholmod_common *common = &factor->common;
    factor->cholmod = cholmod_analyze(matrix, common);
    if (factor->cholmod == NULL) {
        return usi_factor_report(context, common);
    }
    us_status status = pulse(context, factor, 0.25);
    if (status != US_OK) {
        return status;
    }
    bool done = cholmod_factorize(matrix, factor->cholmod, common) != 0;
    /* Every soil hangs on some water, so the matrix is positive definite but for
     * rounding. */
    if (common->status == CHOLMOD_NOT_POSDEF ||
        (done && factor->cholmod->minor < factor->cholmod->n)) {
        return US_NOT_CONVERGED;
    }
    if (!done || common->status != CHOLMOD_OK) {
        return usi_factor_report(context, common);
    }
    /* From here on CHOLMOD is to know where the rows stood. */
    memcpy(factor->cholmod->Perm, factor->order, factor->rows * sizeof *factor->order);
    factor->cholmod->ordering = CHOLMOD_GIVEN;
    return US_OK;
}

static us_status factorise_blocks(us_context *context, usi_factor *factor, const bool *starts,
                                  const cholmod_sparse *matrix)
{
    us_status status = usi_blocks_find(context, matrix, starts, &factor->blocks);
    if (status == US_OK) {
        status = pulse(context, factor, 0.25);
    }
    return status == US_OK ? usi_fronts_factorise(context, matrix, &factor->blocks) : status;
}

static us_status make(us_context *context, usi_factor *factor, bool *starts)
{
    const usi_problem *problem = factor->problem;
    us_status status = pulse(context, factor, 0.0);
    if (status == US_OK) {
        status = problem->placed ? usi_dissection_order(context, problem, factor->order, starts)
                                 : order_by_degree(context, factor, factor->order, starts);
    }
    if (status == US_OK) {
        status = pulse(context, factor, 0.1);
    }
    cholmod_sparse *matrix = NULL;
    bool dense = usi_problem_is_dense(problem);
    if (status == US_OK) {
        status =
            usi_matrix_assemble(context, problem, factor->order,
                                dense ? USI_HALF_LOWER : USI_HALF_UPPER, &factor->common, &matrix);
    }
    if (status == US_OK) {
        status = pulse(context, factor, 0.18);
    }
    if (status == US_OK) {
        status = dense ? factorise_blocks(context, factor, starts, matrix)
                       : factorise(context, factor, matrix);
    }
    cholmod_free_sparse(&matrix, &factor->common);
    if (status == US_OK) {
        status = make_room(context, factor);
    }
    if (status == US_OK) {
        status = pulse(context, factor, 0.9);
    }
    return status;
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
        configure(&made->common, problem);
        bool *starts = usi_memory_array(context, made->rows, sizeof *starts);
        made->order = usi_memory_array(context, made->rows, sizeof *made->order);
        status =
            starts != NULL && made->order != NULL ? make(context, made, starts) : US_ERROR_MEMORY;
        free(starts);
    }
    if (status == US_OK) {
        *factor = made;
    } else {
        usi_factor_free(made);
    }
    return status;
}

bool usi_factor_goes_on(int round, double before, double change)
{
    double next = round > 1 ? change * (change / before) : change;
    return round < USI_FACTOR_CORRECTIONS && next > USI_FACTOR_SETTLED && change < 0.5 * before;
}

/* Solves by corrections from zero: the first is the solution, the second mends
 * what rounding took from it. */
us_status usi_factor_solve(us_context *context, usi_factor *factor, const double *load,
                           double *values)
{
    if (factor->problem->free_count == 0) {
        return US_OK;
    }
    for (size_t i = 0; i < factor->problem->free_count; i++) {
        values[i] = 0.0;
    }
    us_status status = US_OK;
    double before = HUGE_VAL;
    double change = DBL_MAX;
    for (int round = 0; status == US_OK && usi_factor_goes_on(round, before, change); round++) {
        before = change;
        change = correct(factor, load, values);
        status = pulse(context, factor, 0.95);
    }
    if (status == US_OK && change >= USI_FACTOR_UNSETTLED) {
        status = usi_descend(context, factor, load, values, &change);
    }
    if (status != US_OK) {
        return status;
    }
    if (factor->common.status != CHOLMOD_OK) {
        return usi_factor_report(context, &factor->common);
    }
    return change < USI_FACTOR_UNSETTLED ? US_OK : US_NOT_CONVERGED;
}

us_status usi_factor_rest(us_context *context, usi_factor *factor, const double *values,
                          double *rest)
{
    if (factor->problem->free_count == 0) {
        return US_OK;
    }
    usi_factor_net_inflow(factor->problem, NULL, values, factor->load->x);
    const double *found = usi_factor_substitute(factor, CHOLMOD_A);
    if (found == NULL) {
        return usi_factor_report(context, &factor->common);
    }
    memcpy(rest, found, factor->problem->free_count * sizeof *rest);
    return US_OK;
}

void usi_factor_free(usi_factor *factor)
{
    if (factor != NULL) {
        usi_blocks_free(&factor->blocks);
        free(factor->order);
        cholmod_free_factor(&factor->cholmod, &factor->common);
        cholmod_free_dense(&factor->load, &factor->common);
        cholmod_free_dense(&factor->solution, &factor->common);
        cholmod_free_dense(&factor->work, &factor->common);
        cholmod_free_dense(&factor->ends, &factor->common);
        (void)cholmod_finish(&factor->common);
        free(factor);
    }
}

us_status usi_problem_solve_rest(us_context *context, const usi_problem *problem, double *values,
                                 double *rest)
{
    usi_factor *factor = NULL;
    us_status status = usi_factor_make(context, problem, &factor);
    if (status == US_OK) {
        status = usi_factor_solve(context, factor, NULL, values);
    }
    if (status == US_OK && rest != NULL) {
        status = usi_factor_rest(context, factor, values, rest);
    }
    usi_factor_free(factor);
    return status;
}

us_status usi_problem_solve(us_context *context, const usi_problem *problem, double *values)
{
    return usi_problem_solve_rest(context, problem, values, NULL);
}
