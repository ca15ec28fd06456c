/* Solutions that rounding would spoil. */
#include <math.h>

#include "solve/problem.h"
#include "support/support.h"

enum { CHAIN = 20 };

/* Places held together so stiffly that rounding takes a third of what holds them to their
 * surroundings out of the matrix: what is left over is solved for again, by corrections that
 * help each other. By symmetry all are at one half. */
static void test_a_factor_that_rounding_spoils(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    usi_problem problem;
    assert_int_equal(usi_problem_begin(context, &problem, CHAIN, CHAIN + 2), US_OK);
    for (int32_t k = 0; k + 1 < CHAIN; k++) {
        usi_problem_link(&problem, k, k + 1, 4.5e15);
    }
    usi_problem_link(&problem, 0, USI_PLACE_ONE, 0.74);
    usi_problem_link(&problem, CHAIN - 1, USI_PLACE_ZERO, 0.74);
    double values[CHAIN];
    assert_int_equal(usi_problem_solve(context, &problem, values), US_OK);
    for (int k = 0; k < CHAIN; k++) {
        assert_near(values[k], 0.5, 1e-12, 0.0);
    }
    usi_problem_free(&problem);
    us_context_free(context);
}

/* Beside a stiff link the last digit of a value is a thousandth of what flows; with the rest
 * the flow is that of three links in a row. */
static void test_the_rest_carries_the_flow(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    usi_problem problem;
    assert_int_equal(usi_problem_begin(context, &problem, 2, 3), US_OK);
    const double stiff = 3e12;
    usi_problem_link(&problem, 0, USI_PLACE_ONE, stiff);
    usi_problem_link(&problem, 0, 1, 0.3);
    usi_problem_link(&problem, 1, USI_PLACE_ZERO, 0.7);
    double values[2];
    double rest[2];
    assert_int_equal(usi_problem_solve_rest(context, &problem, values, rest), US_OK);
    double flow = stiff * ((1.0 - values[0]) - rest[0]);
    assert_near(flow, 1.0 / (1.0 / stiff + 1.0 / 0.3 + 1.0 / 0.7), 1e-12, 0.0);
    assert_true(fabs(stiff * (1.0 - values[0]) - flow) > 1e-6);
    usi_problem_free(&problem);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_factor_that_rounding_spoils),
        cmocka_unit_test(test_the_rest_carries_the_flow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
