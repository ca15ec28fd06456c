/* The library's factorisation, timed from within by the calls it makes, and CHOLMOD alone. */
#include "direct.h"

#include <string.h>

#include "bench.h"
#include "solve/dissection.h"
#include "solve/factor.h"

/* What the library's calls have taken since the last reset. */
static struct {
    double order_s;
    double numeric_s;
} within;

/* Names that the linker's --wrap makes. */
us_status __wrap_usi_dissection_order(us_context *context, const usi_problem *problem,
                                      int32_t *order, bool *starts);
us_status __real_usi_dissection_order(us_context *context, const usi_problem *problem,
                                      int32_t *order, bool *starts);
us_status __wrap_usi_blocks_find(us_context *context, const cholmod_sparse *matrix,
                                 const bool *starts, usi_blocks *blocks);
us_status __real_usi_blocks_find(us_context *context, const cholmod_sparse *matrix,
                                 const bool *starts, usi_blocks *blocks);
us_status __wrap_usi_fronts_factorise(us_context *context, const cholmod_sparse *matrix,
                                      usi_blocks *blocks);
us_status __real_usi_fronts_factorise(us_context *context, const cholmod_sparse *matrix,
                                      usi_blocks *blocks);

us_status __wrap_usi_dissection_order(us_context *context, const usi_problem *problem,
                                      int32_t *order, bool *starts)
{
    double start_s = bench_now_s();
    us_status status = __real_usi_dissection_order(context, problem, order, starts);
    within.order_s += bench_now_s() - start_s;
    return status;
}

us_status __wrap_usi_blocks_find(us_context *context, const cholmod_sparse *matrix,
                                 const bool *starts, usi_blocks *blocks)
{
    double start_s = bench_now_s();
    us_status status = __real_usi_blocks_find(context, matrix, starts, blocks);
    within.order_s += bench_now_s() - start_s;
    return status;
}

us_status __wrap_usi_fronts_factorise(us_context *context, const cholmod_sparse *matrix,
                                      usi_blocks *blocks)
{
    double start_s = bench_now_s();
    us_status status = __real_usi_fronts_factorise(context, matrix, blocks);
    within.numeric_s += bench_now_s() - start_s;
    return status;
}

double run_total(const run_figures *figures)
{
    return figures->order_s + figures->numeric_s + figures->solve_s;
}

bool direct_ours(const bench_matrix *matrix, double *values, run_figures *figures)
{
    us_context *context = us_context_create();
    usi_factor *factor = NULL;
    if (context == NULL) {
        return false;
    }
    within.order_s = 0.0;
    within.numeric_s = 0.0;
    double start_s = bench_now_s();
    us_status status = usi_factor_make(context, &matrix->problem, &factor);
    double made_s = bench_now_s();
    if (status == US_OK) {
        status = usi_factor_solve(context, factor, NULL, values);
        double end_s = bench_now_s();
        *figures = (run_figures){.assembly_s = made_s - start_s - within.order_s - within.numeric_s,
                                 .order_s = within.order_s,
                                 .numeric_s = within.numeric_s,
                                 .solve_s = end_s - made_s,
                                 .entries = (double)factor->blocks.begin[factor->blocks.count],
                                 .operations = usi_blocks_operations(&factor->blocks)};
    }
    usi_factor_free(factor);
    us_context_free(context);
    return status == US_OK;
}

static void add(cholmod_triplet *triplet, int32_t a, int32_t b, double value)
{
    size_t k = triplet->nnz++;
    ((int *)triplet->i)[k] = a > b ? a : b;
    ((int *)triplet->j)[k] = a > b ? b : a;
    ((double *)triplet->x)[k] = value;
}

static cholmod_sparse *assemble(const usi_problem *problem, double *load, cholmod_common *common)
{
    cholmod_triplet *triplet =
        cholmod_allocate_triplet(problem->free_count, problem->free_count, 3 * problem->link_count,
                                 -1, CHOLMOD_REAL, common);
    for (size_t k = 0; triplet != NULL && k < problem->link_count; k++) {
        const usi_link *link = &problem->links[k];
        const int32_t ends[2] = {link->a, link->b};
        for (int e = 0; e < 2; e++) {
            if (ends[e] >= 0) {
                add(triplet, ends[e], ends[e], link->conductance);
                load[ends[e]] += ends[1 - e] == USI_PLACE_ONE ? link->conductance : 0.0;
            }
        }
        if (link->a >= 0 && link->b >= 0) {
            add(triplet, link->a, link->b, -link->conductance);
        }
    }
    cholmod_sparse *matrix =
        triplet != NULL ? cholmod_triplet_to_sparse(triplet, triplet->nnz, common) : NULL;
    cholmod_free_triplet(&triplet, common);
    return matrix;
}

static bool factorise(cholmod_sparse *by, cholmod_dense *load, double *values, run_figures *figures,
                      cholmod_common *common)
{
    double start_s = bench_now_s();
    cholmod_factor *factor = cholmod_analyze(by, common);
    double analysed_s = bench_now_s();
    bool done = factor != NULL && cholmod_factorize(by, factor, common) != 0;
    double factorised_s = bench_now_s();
    cholmod_dense *found = done ? cholmod_solve(CHOLMOD_A, factor, load, common) : NULL;
    double end_s = bench_now_s();
    if (found != NULL) {
        memcpy(values, found->x, by->nrow * sizeof *values);
        figures->order_s = analysed_s - start_s;
        figures->numeric_s = factorised_s - analysed_s;
        figures->solve_s = end_s - factorised_s;
        figures->entries = common->lnz;
        figures->operations = common->fl;
    }
    done = found != NULL;
    cholmod_free_dense(&found, common);
    cholmod_free_factor(&factor, common);
    return done;
}

static bool run(const bench_matrix *matrix, double *values, run_figures *figures,
                cholmod_common *common)
{
    *figures = (run_figures){0};
    common->print = 0;
    double start_s = bench_now_s();
    cholmod_dense *load = cholmod_zeros(matrix->problem.free_count, 1, CHOLMOD_REAL, common);
    cholmod_sparse *by = load != NULL ? assemble(&matrix->problem, load->x, common) : NULL;
    figures->assembly_s = bench_now_s() - start_s;
    bool done = by != NULL && factorise(by, load, values, figures, common);
    cholmod_free_sparse(&by, common);
    cholmod_free_dense(&load, common);
    cholmod_finish(common);
    return done;
}

bool direct_shipped(const bench_matrix *matrix, double *values, run_figures *figures)
{
    cholmod_common common;
    cholmod_start(&common);
    return run(matrix, values, figures, &common);
}

extern void omp_set_num_threads(int threads) __attribute__((weak));
extern int omp_get_max_threads(void) __attribute__((weak));
extern void openblas_set_num_threads(int threads) __attribute__((weak));
extern int openblas_get_num_threads(void) __attribute__((weak));

typedef struct threads {
    int omp;
    int blas;
} threads;

/* What CHOLMOD's kernels may use from now on; gives what they could. */
static threads set_threads(threads to)
{
    threads before = {1, 1};
    if (omp_set_num_threads != NULL && omp_get_max_threads != NULL) {
        before.omp = omp_get_max_threads();
        omp_set_num_threads(to.omp);
    }
    if (openblas_set_num_threads != NULL && openblas_get_num_threads != NULL) {
        before.blas = openblas_get_num_threads();
        openblas_set_num_threads(to.blas);
    }
    return before;
}

bool direct_ordered(const bench_matrix *matrix, int ordering, int kernel, double *values,
                    run_figures *figures)
{
    cholmod_common common;
    cholmod_start(&common);
    common.nmethods = 1;
    common.method[0].ordering = ordering;
    common.supernodal = kernel;
    threads before = set_threads((threads){1, 1});
    bool done = run(matrix, values, figures, &common);
    (void)set_threads(before);
    return done;
}
