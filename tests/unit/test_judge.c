/* What every check has in common: margin, verdict, texts of its own. */
#include "support/support.h"

#include "study/judge.h"
#include "study/results.h"

typedef struct bench {
    us_context *context;
    us_water_result water;
    usi_judge judge;
} bench;

static int enter(void **state)
{
    bench *made = calloc(1, sizeof *made);
    assert_non_null(made);
    made->context = us_context_create();
    made->judge = (usi_judge){.context = made->context, .result = &made->water};
    *state = made;
    return 0;
}

static int leave(void **state)
{
    bench *made = *state;
    usi_results_release(&made->water);
    us_context_free(made->context);
    free(made);
    return 0;
}

/* Adds one and gives it as it was kept. */
static const us_check_result *add(bench *made, us_check_result check)
{
    check.name = "heave";
    check.where = "here";
    check.basis = "by hand";
    assert_int_equal(usi_judge_add(&made->judge, &check), US_OK);
    return &made->water.checks[made->water.check_count - 1];
}

static void a_factor_has_to_reach_its_limit(void **state)
{
    us_check_result check = {.value = {3.0, 0.3, true}, .required = {2.0, 0.0, true}};
    const us_check_result *kept = add(*state, check);
    assert_int_equal(kept->verdict, US_PASS);
    assert_near(kept->margin.value, 1.5, 1e-15, 0.0);
    assert_near(kept->margin.error, 0.15, 1e-15, 0.0);
    check.value.value = 1.0;
    assert_int_equal(add(*state, check)->verdict, US_FAIL);
    check.value.value = 2.0;
    assert_int_equal(add(*state, check)->verdict, US_PASS);
}

static void a_share_may_not_exceed_its_limit(void **state)
{
    us_check_result check = {
        .value = {0.8, 0.0, true}, .required = {1.0, 0.0, true}, .at_most = true};
    const us_check_result *kept = add(*state, check);
    assert_int_equal(kept->verdict, US_PASS);
    assert_near(kept->margin.value, 1.25, 1e-15, 0.0);
    check.value.value = 1.01;
    assert_int_equal(add(*state, check)->verdict, US_FAIL);
}

static void nothing_is_judged_that_is_not_there(void **state)
{
    us_check_result check = {.required = {1.0, 0.0, true}};
    assert_int_equal(add(*state, check)->verdict, US_NOT_REQUIRED);
    assert_false(add(*state, check)->margin.present);
    check.verdict = US_NOT_CHECKED;
    assert_int_equal(add(*state, check)->verdict, US_NOT_CHECKED);
    check = (us_check_result){.value = {1.0, 0.0, true}};
    assert_int_equal(add(*state, check)->verdict, US_NOT_REQUIRED);
    assert_false(add(*state, check)->margin.present);
}

static void what_is_not_checked_stays_so_whatever_its_value(void **state)
{
    us_check_result check = {
        .value = {9.0, 0.0, true}, .required = {1.0, 0.0, true}, .verdict = US_NOT_CHECKED};
    assert_int_equal(add(*state, check)->verdict, US_NOT_CHECKED);
}

#define BENCH(test) cmocka_unit_test_setup_teardown(test, enter, leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        BENCH(a_factor_has_to_reach_its_limit),
        BENCH(a_share_may_not_exceed_its_limit),
        BENCH(nothing_is_judged_that_is_not_there),
        BENCH(what_is_not_checked_stays_so_whatever_its_value),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
