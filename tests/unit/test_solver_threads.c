/* Solves in several threads at once: the same bytes as alone, whatever number of threads
 * others in the process have asked for, and that number left as it was. */
#include <pthread.h>

#include "support/support.h"

#include "solve/problem.h"

extern void omp_set_num_threads(int threads) __attribute__((weak));
extern int omp_get_max_threads(void) __attribute__((weak));
extern void openblas_set_num_threads(int threads) __attribute__((weak));
extern int openblas_get_num_threads(void) __attribute__((weak));

/* Of three sizes, so that the threads meet at ever other points of their solves. */
enum { SIDE = 150, STEP = 6, THREADS = 3, ROUNDS = 6, OTHERS = 2, MORE = 5 };

/* A square of soil between two waters, its conductivity uneven. */
static usi_problem make_lattice(us_context *context, int side)
{
    usi_problem problem;
    size_t room = (size_t)side * side * 2 + 2 * (size_t)side;
    assert_int_equal(usi_problem_begin(context, &problem, (size_t)side * side, room), US_OK);
    problem.dense_from = 0; /* by blocks */
    for (int32_t row = 0; row < side; row++) {
        for (int32_t column = 0; column < side; column++) {
            int32_t here = row * side + column;
            double conductance = 1.0 + 0.01 * (here % 17);
            if (column + 1 < side) {
                usi_problem_link(&problem, here, here + 1, conductance);
            }
            if (row + 1 < side) {
                usi_problem_link(&problem, here, here + side, conductance);
            }
        }
        usi_problem_link(&problem, row * side, USI_PLACE_ONE, 1.0);
        usi_problem_link(&problem, row * side + side - 1, USI_PLACE_ZERO, 1.0);
    }
    return problem;
}

typedef struct job {
    int side;
    double *alone;
    int differing; /* rounds whose bytes were others than alone */
    bool failed;
} job;

static us_status solve_lattice(int side, double *values)
{
    us_context *context = us_context_create();
    usi_problem problem = make_lattice(context, side);
    us_status status = usi_problem_solve(context, &problem, values);
    usi_problem_free(&problem);
    us_context_free(context);
    return status;
}

static void *work(void *argument)
{
    job *mine = argument;
    size_t bytes = (size_t)mine->side * mine->side * sizeof(double);
    double *values = malloc(bytes);
    mine->failed = values == NULL;
    for (int round = 0; round < ROUNDS && !mine->failed; round++) {
        mine->failed = solve_lattice(mine->side, values) != US_OK;
        mine->differing += memcmp(values, mine->alone, bytes) != 0;
    }
    free(values);
    return NULL;
}

static void run_together(job *jobs)
{
    pthread_t threads[THREADS];
    for (int i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_create(&threads[i], NULL, work, &jobs[i]), 0);
    }
    for (int i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_join(threads[i], NULL), 0);
    }
}

static void threads_give_the_bytes_of_one_alone(void **state)
{
    (void)state;
    job jobs[THREADS];
    for (int i = 0; i < THREADS; i++) {
        int side = SIDE + STEP * i;
        jobs[i] = (job){side, malloc((size_t)side * side * sizeof(double)), 0, false};
        assert_non_null(jobs[i].alone);
        assert_int_equal(solve_lattice(side, jobs[i].alone), US_OK);
    }
    run_together(jobs);
    for (int i = 0; i < THREADS; i++) {
        assert_false(jobs[i].failed);
        assert_int_equal(jobs[i].differing, 0);
        free(jobs[i].alone);
    }
}

/* CHOLMOD brings OpenMP along, and a BLAS, which may be OpenBLAS; nothing of ours calls them. */
static void threads_of_others_do_not_matter(void **state)
{
    (void)state;
    size_t bytes = (size_t)SIDE * SIDE * sizeof(double);
    double *before = malloc(bytes);
    double *after = malloc(bytes);
    assert_true(before != NULL && after != NULL);
    assert_int_equal(solve_lattice(SIDE, before), US_OK);
    if (omp_set_num_threads != NULL) {
        omp_set_num_threads(MORE);
    }
    if (openblas_set_num_threads != NULL) {
        openblas_set_num_threads(OTHERS);
    }
    assert_int_equal(solve_lattice(SIDE, after), US_OK);
    assert_memory_equal(before, after, bytes);
    assert_true(omp_get_max_threads == NULL || omp_get_max_threads() == MORE);
    assert_true(openblas_get_num_threads == NULL || openblas_get_num_threads() == OTHERS);
    free(before);
    free(after);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(threads_give_the_bytes_of_one_alone),
        cmocka_unit_test(threads_of_others_do_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
