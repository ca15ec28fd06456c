/* Values and errors from nested grids, on sequences whose limit is known. */
#include "study/estimate.h"

#include <math.h>

#include "support/support.h"

/* limit + c n^-order on three grids, each twice as fine as the one before. */
static void make_sequence(double limit, double order, double *values)
{
    for (int k = 0; k < 3; k++) {
        values[k] = limit + 0.1 * pow(2.0, -order * k);
    }
}

static void two_values_state_their_whole_difference(void **state)
{
    (void)state;
    const double values[] = {1.04, 1.01};
    usi_estimate found = usi_estimate_nested(values, 2);
    assert_near(found.value, 1.01, 1e-15, 0.0);
    assert_near(found.error, 0.03, 1e-12, 0.0);
    assert_false(found.extrapolated);
}

static void second_order_is_extrapolated(void **state)
{
    (void)state;
    double values[3];
    make_sequence(2.0, 2.0, values);
    usi_estimate found = usi_estimate_nested(values, 3);
    assert_true(found.extrapolated);
    assert_near(found.value, 2.0, 1e-14, 0.0);
    /* The bar does not vanish though both extrapolations agree. */
    assert_true(found.error > 1e-4);
    /* The next term, of third order, is covered. */
    for (int k = 0; k < 3; k++) {
        values[k] += 0.02 * pow(2.0, -3.0 * k);
    }
    found = usi_estimate_nested(values, 3);
    assert_true(found.extrapolated);
    assert_true(fabs(found.value - 2.0) <= found.error);
}

static void slow_convergence_is_covered_and_not_extrapolated(void **state)
{
    (void)state;
    static const double orders[] = {1.3, 1.0, 0.7, 0.5, 0.3, 0.2};
    for (size_t k = 0; k < sizeof orders / sizeof orders[0]; k++) {
        double values[3];
        make_sequence(2.0, orders[k], values);
        usi_estimate found = usi_estimate_nested(values, 3);
        assert_false(found.extrapolated);
        assert_near(found.value, values[2], 1e-15, 0.0);
        assert_true(fabs(found.value - 2.0) <= found.error);
    }
}

static void chance_agreement_is_not_believed(void **state)
{
    (void)state;
    const double crossing[] = {1.04, 1.0, 1.0 + 1e-9};
    usi_estimate found = usi_estimate_nested(crossing, 3);
    assert_false(found.extrapolated);
    assert_near(found.error, 0.01, 1e-6, 0.0);
    const double fading[] = {1.04, 1.0, 1.0 - 1e-9};
    found = usi_estimate_nested(fading, 3);
    assert_false(found.extrapolated);
    assert_near(found.error, 0.01, 1e-6, 0.0);
}

static void equal_values_have_no_error(void **state)
{
    (void)state;
    const double values[] = {0.5, 0.5, 0.5};
    usi_estimate found = usi_estimate_nested(values, 3);
    assert_near(found.value, 0.5, 1e-15, 0.0);
    assert_near(found.error, 0.0, 0.0, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_values_state_their_whole_difference),
        cmocka_unit_test(second_order_is_extrapolated),
        cmocka_unit_test(slow_convergence_is_covered_and_not_extrapolated),
        cmocka_unit_test(chance_agreement_is_not_believed),
        cmocka_unit_test(equal_values_have_no_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
