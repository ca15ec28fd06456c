/* What a trend says of values whose order is known beforehand, and what it keeps
 * to itself. */
#include "support/support.h"

#include "study/trend.h"

enum { RUNGS = 6 };

typedef struct made_trend {
    us_trend_step steps[RUNGS];
    us_trend trend;
} made_trend;

/* limit + size * fall^-k on grid k. */
static void fill(made_trend *made, size_t count, double limit, double size, double fall)
{
    memset(made, 0, sizeof *made);
    made->trend.step_count = count;
    made->trend.steps = made->steps;
    for (size_t k = 0; k < count; k++) {
        made->steps[k].value = limit + size * pow(fall, -(double)k);
    }
}

static void test_order_two_is_seen(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, RUNGS, 3.0, 0.1, 4.0);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    assert_false(made.steps[0].difference.present);
    assert_false(made.steps[1].order.present);
    assert_false(made.steps[1].extrapolated.present);
    for (size_t k = 2; k < RUNGS; k++) {
        assert_true(made.steps[k].order.present);
        assert_near(made.steps[k].order.value, 2.0, 1e-9, 0.0);
        assert_true(made.steps[k].extrapolated.present);
        assert_near(made.steps[k].extrapolated.value, 3.0, 1e-12, 0.0);
    }
    assert_near(made.trend.best.value, 3.0, 1e-12, 0.0);
    assert_near(made.trend.scale, 3.0, 1e-12, 0.0);
    assert_near(made.steps[1].error.value, 0.025 / 3.0, 1e-9, 0.0);
}

static void test_order_one_is_seen_and_not_extrapolated(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, RUNGS, 3.0, 0.1, 2.0);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    for (size_t k = 2; k < RUNGS; k++) {
        assert_near(made.steps[k].order.value, 1.0, 1e-9, 0.0);
        assert_false(made.steps[k].extrapolated.present);
        assert_false(made.steps[k].error.present);
    }
    double last = made.steps[RUNGS - 1].value;
    assert_near(made.trend.best.value, last, 0.0, 0.0);
    assert_true(fabs(last - 3.0) <= made.trend.best.error);
}

static void test_two_grids_have_no_order(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 2, 3.0, 0.1, 4.0);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    assert_true(made.steps[1].difference.present);
    assert_false(made.steps[1].order.present);
    assert_false(made.steps[1].extrapolated.present);
    assert_true(made.trend.best.present);
    assert_near(made.trend.best.error, 0.075, 1e-9, 0.0);
}

static void test_one_grid_has_a_value_only(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 1, 3.0, 0.1, 4.0);
    usi_trend_settle(&made.trend, made.steps, 1e-3);
    assert_false(made.trend.best.present);
    assert_near(made.trend.best.error, 0.0, 0.0, 0.0);
    assert_false(made.steps[0].error.present);
}

static void test_changing_signs_have_no_order(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 4, 3.0, 0.1, -4.0);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    assert_false(made.steps[2].order.present);
    assert_false(made.steps[3].order.present);
    assert_false(made.steps[3].extrapolated.present);
}

static void test_growing_differences_have_no_order(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 4, 3.0, 0.1, 0.5);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    assert_false(made.steps[2].order.present);
    assert_false(made.steps[3].extrapolated.present);
}

/* Differences that fall fourfold by chance, far below what a solve can tell. */
static void test_rounding_has_no_order(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 4, 3.0, 1e-10, 4.0);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    assert_false(made.steps[2].order.present);
    assert_false(made.steps[3].order.present);
    assert_false(made.steps[3].extrapolated.present);
}

static void test_constant_values_say_nothing(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 4, 0.0, 0.0, 4.0);
    usi_trend_settle(&made.trend, made.steps, 0.0);
    for (size_t k = 0; k < 4; k++) {
        assert_false(made.steps[k].order.present);
        assert_false(made.steps[k].error.present);
    }
    assert_near(made.trend.scale, 0.0, 0.0, 0.0);
}

/* Close to the best value, itself not known so well: no error is told. */
static void test_no_error_below_that_of_the_best(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 3, 3.0, 0.0, 4.0);
    made.steps[1].value += 0.065;
    made.steps[2].value += 0.075; /* the differences fall 6.5-fold */
    usi_trend_settle(&made.trend, made.steps, 0.0);
    assert_true(made.steps[2].extrapolated.present);
    assert_true(made.steps[0].error.present);
    assert_false(made.steps[2].error.present);
}

static void test_cut_soil_counts_by_the_scale(void **state)
{
    (void)state;
    made_trend plain;
    made_trend cut;
    fill(&plain, RUNGS, 100.0, 0.1, 4.0);
    fill(&cut, RUNGS, 100.0, 0.1, 4.0);
    plain.trend.scale = 2.0;
    cut.trend.scale = 2.0;
    usi_trend_settle(&plain.trend, plain.steps, 0.0);
    usi_trend_settle(&cut.trend, cut.steps, 1e-3);
    assert_near(cut.trend.best.error - plain.trend.best.error, 2e-3, 1e-9, 0.0);
}

static void test_a_bracket_shows_its_order_from_two_grids(void **state)
{
    (void)state;
    made_trend made;
    fill(&made, 3, 0.0, 0.1, 4.0);
    usi_trend_vanish(&made.trend, made.steps);
    assert_false(made.steps[0].order.present);
    assert_near(made.steps[1].order.value, 2.0, 1e-9, 0.0);
    assert_near(made.steps[2].error.value, 0.1 / 16.0, 1e-9, 0.0);
    assert_false(made.trend.best.present);
    assert_false(made.steps[2].difference.present);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_order_two_is_seen),
        cmocka_unit_test(test_order_one_is_seen_and_not_extrapolated),
        cmocka_unit_test(test_two_grids_have_no_order),
        cmocka_unit_test(test_one_grid_has_a_value_only),
        cmocka_unit_test(test_changing_signs_have_no_order),
        cmocka_unit_test(test_growing_differences_have_no_order),
        cmocka_unit_test(test_rounding_has_no_order),
        cmocka_unit_test(test_constant_values_say_nothing),
        cmocka_unit_test(test_no_error_below_that_of_the_best),
        cmocka_unit_test(test_cut_soil_counts_by_the_scale),
        cmocka_unit_test(test_a_bracket_shows_its_order_from_two_grids),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
