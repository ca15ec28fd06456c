/* The matrices of a solve, and bare CHOLMOD on them. */
#include <cholmod.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "solve/problem.h"
#include "undersill/undersill.h"

enum { KEPT_LIMIT = 64 };

static struct {
    size_t count;
    usi_problem problems[KEPT_LIMIT];
} kept;

/* Names that the linker's --wrap makes. */
us_status __wrap_usi_problem_solve(us_context *context, const usi_problem *problem, double *values);
us_status __real_usi_problem_solve(us_context *context, const usi_problem *problem, double *values);

us_status __wrap_usi_problem_solve(us_context *context, const usi_problem *problem, double *values)
{
    if (kept.count < KEPT_LIMIT && problem->free_count > 0) {
        usi_problem *copy = &kept.problems[kept.count];
        *copy = *problem;
        copy->links = malloc(problem->link_count * sizeof *copy->links);
        if (copy->links != NULL) {
            memcpy(copy->links, problem->links, problem->link_count * sizeof *copy->links);
            kept.count++;
        }
    }
    return __real_usi_problem_solve(context, problem, values);
}

size_t bench_gather(const char *path)
{
    us_context *context = us_context_create();
    us_section *section = NULL;
    us_solution *solution = NULL;
    if (context != NULL && us_section_read_file(context, path, &section) == US_OK) {
        (void)us_section_solve(context, section, NULL, &solution);
    }
    size_t found = solution != NULL ? kept.count : 0;
    us_solution_free(solution);
    us_section_free(section);
    us_context_free(context);
    return found;
}

size_t bench_unknowns(size_t index)
{
    return kept.problems[index].free_count;
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

static double bare_one(const usi_problem *problem)
{
    cholmod_common common;
    cholmod_start(&common);
    cholmod_dense *load = cholmod_zeros(problem->free_count, 1, CHOLMOD_REAL, &common);
    cholmod_sparse *matrix = load != NULL ? assemble(problem, load->x, &common) : NULL;
    double time_s = -1.0;
    if (matrix != NULL) {
        double start_s = bench_now_s();
        cholmod_factor *factor = cholmod_analyze(matrix, &common);
        int done = factor != NULL && cholmod_factorize(matrix, factor, &common);
        cholmod_dense *values = done ? cholmod_solve(CHOLMOD_A, factor, load, &common) : NULL;
        time_s = values != NULL ? bench_now_s() - start_s : -1.0;
        cholmod_free_dense(&values, &common);
        cholmod_free_factor(&factor, &common);
    }
    cholmod_free_sparse(&matrix, &common);
    cholmod_free_dense(&load, &common);
    cholmod_finish(&common);
    return time_s;
}

double bench_bare(void)
{
    double total_s = 0.0;
    for (size_t index = 0; index < kept.count; index++) {
        double time_s = bare_one(&kept.problems[index]);
        if (time_s < 0.0) {
            return -1.0;
        }
        total_s += time_s;
    }
    return total_s;
}

void bench_forget(void)
{
    for (size_t index = 0; index < kept.count; index++) {
        free(kept.problems[index].links);
    }
    kept.count = 0;
}
