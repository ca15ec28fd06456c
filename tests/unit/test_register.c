/* The register of checks: which case stands there, and which check governs. */
#include "support/support.h"

#include "study/register.h"

enum { CASES = 3, KINDS = 2 };

typedef struct bench {
    us_context *context;
    us_check_result checks[CASES][KINDS];
    us_water_result water[CASES];
    us_solution solution;
} bench;

static int enter(void **state)
{
    static const char *const cases[] = {"one", "two", "three"};
    static const char *const kinds[] = {"piping", "uplift"};
    bench *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    for (size_t w = 0; w < CASES; w++) {
        for (size_t k = 0; k < KINDS; k++) {
            made->checks[w][k] =
                (us_check_result){.name = kinds[k], .value = {(double)(3 + w), 0.0, true}};
        }
        made->water[w] =
            (us_water_result){.name = cases[w], .check_count = KINDS, .checks = made->checks[w]};
    }
    made->solution = (us_solution){.water_count = CASES, .water = made->water};
    *state = made;
    return 0;
}

static int leave(void **state)
{
    bench *made = *state;
    us_context_free(made->context);
    free(made->solution.entries);
    free(made);
    return 0;
}

static void limit(bench *made, size_t kind, double required)
{
    for (size_t w = 0; w < CASES; w++) {
        us_check_result *check = &made->checks[w][kind];
        check->required = (us_value){required, 0.0, true};
        check->margin = (us_value){check->value.value / required, 0.0, true};
        check->verdict = check->value.value >= required ? US_PASS : US_FAIL;
    }
}

static const us_register_entry *entry(bench *made, size_t index)
{
    return us_solution_register(&made->solution, index);
}

static void without_limits_the_least_value_stands_and_none_governs(void **state)
{
    bench *made = *state;
    made->checks[1][0].value.value = 2.0;
    made->checks[2][1].value.present = false;
    assert_int_equal(usi_register_fill(made->context, &made->solution), US_OK);
    assert_int_equal(us_solution_register_count(&made->solution), KINDS);
    assert_string_equal(entry(made, 0)->water, "two");
    assert_string_equal(entry(made, 1)->water, "one");
    assert_false(entry(made, 0)->governs || entry(made, 1)->governs);
    assert_null(entry(made, KINDS));
}

static void of_what_may_be_at_most_a_limit_the_largest_stands(void **state)
{
    bench *made = *state;
    for (size_t w = 0; w < CASES; w++) {
        made->checks[w][1].at_most = true;
    }
    assert_int_equal(usi_register_fill(made->context, &made->solution), US_OK);
    assert_string_equal(entry(made, 1)->water, "three");
}

static void the_smallest_margin_governs(void **state)
{
    bench *made = *state;
    limit(made, 0, 2.0);
    limit(made, 1, 2.5);
    assert_int_equal(usi_register_fill(made->context, &made->solution), US_OK);
    assert_false(entry(made, 0)->governs);
    assert_true(entry(made, 1)->governs);
}

static void what_fails_or_was_not_checked_comes_before_what_passes(void **state)
{
    bench *made = *state;
    limit(made, 0, 2.9);
    limit(made, 1, 1.0);
    made->checks[2][1].verdict = US_NOT_CHECKED;
    made->checks[2][1].margin.present = false;
    assert_int_equal(usi_register_fill(made->context, &made->solution), US_OK);
    assert_string_equal(entry(made, 1)->water, "three");
    assert_true(entry(made, 1)->governs);
    free(made->solution.entries);
    made->solution.entries = NULL;
    made->solution.register_count = 0;
    made->checks[1][0].verdict = US_FAIL;
    assert_int_equal(usi_register_fill(made->context, &made->solution), US_OK);
    assert_string_equal(entry(made, 0)->water, "two");
    assert_true(entry(made, 0)->governs);
}

#define BENCH(test) cmocka_unit_test_setup_teardown(test, enter, leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH(without_limits_the_least_value_stands_and_none_governs),
        BENCH(of_what_may_be_at_most_a_limit_the_largest_stands),
        BENCH(the_smallest_margin_governs),
        BENCH(what_fails_or_was_not_checked_comes_before_what_passes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
